"""Limits of size of any thread, by the standard of its series."""

from functools import lru_cache

from fitcheck.standards.threads import metric, pipe, unified
from fitcheck.standards.threads.member import Limits
from fitcheck.standards.threads.thread import Thread

_STANDARDS = {"UN": unified, "UNJ": unified, "M": metric, "MJ": metric}


@lru_cache(maxsize=1024)
def limits(thread: Thread) -> Limits:
    """Return the limits of size [mm] of both members of a thread, in the classes that its designation means.

    Unified threads are computed and rounded in inches (ASME B1.1-2003), metric ones read from the tables of
    ISO 965-1:1998, pipe threads follow ASME B1.20.1, ISO 228-1:1994 and ISO 7-1:1994. The `source` of the
    answer says which, and at which plane the diameters of a taper thread lie. A limit that a standard
    leaves open, such as the root of a plain thread, is None.

    Raises ThreadLimitsError if the tables hold no figure for the thread's size, pitch or tolerance class.
    """
    standard = _STANDARDS.get(thread.family, pipe)
    external, internal, source = standard.members(thread)
    return Limits(thread, external, internal, source)
