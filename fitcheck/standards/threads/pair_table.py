"""What happens when any thread of the trade meets any other: every external into every internal."""

from typing import NamedTuple

from fitcheck.standards.threads.every import has_member
from fitcheck.standards.threads.fit import ENGAGEMENT_MM, Fit, fit
from fitcheck.standards.threads.known import known_threads
from fitcheck.standards.threads.thread import Thread


class Pair(NamedTuple):
    """One external thread, one internal thread, and how they meet."""

    external: Thread
    internal: Thread
    fit: Fit


def pair_table(engagement_mm: float = ENGAGEMENT_MM) -> tuple[tuple[Pair, ...], ...]:
    """Return one row for each external thread of the trade's list, with one pair for each internal thread.

    R names an external thread only, Rp and Rc internal ones only; every other thread is in rows and columns.
    `engagement_mm` is the length of engagement of every pair [mm]. Source: derived.

    Raises EngagementError if the engagement is not above zero.
    """
    externals = [thread for thread in known_threads() if has_member(thread, internal=False)]
    internals = [thread for thread in known_threads() if has_member(thread, internal=True)]
    return tuple(
        tuple(Pair(external, internal, fit(external, internal, engagement_mm)) for internal in internals)
        for external in externals
    )
