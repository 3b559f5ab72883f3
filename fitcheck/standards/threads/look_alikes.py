"""Threads of the trade that can be taken for another one, found by geometry."""

from functools import lru_cache

from fitcheck.standards.threads.fit import Fit, fit
from fitcheck.standards.threads.known import known_threads
from fitcheck.standards.threads.thread import Thread

NEAR_MM = 1.0
"""Two major diameters closer than this look alike beside each other (common practice, no source)."""

_STARTS_TURNS = 0.5
"""A pair whose flanks let it in this far on top of its lead-in seems to start (common practice, no source)."""

_APART = ("will-not-start", "drops-through")


def look_alikes(thread: Thread) -> list[Thread]:
    """Return the threads of the trade's list that can be taken for `thread`, the likeliest mistake first.

    A look-alike is another thread, within 1 mm of major diameter, that goes together with this one or seems to
    start, for half a turn or more beyond the lead-in, whichever of the two is external. Order: by difference of
    diameter plus difference of pitch.
    Source: derived.
    """
    return list(_look_alikes(thread))


@lru_cache(maxsize=256)
def _look_alikes(thread: Thread) -> tuple[Thread, ...]:
    near = [other for other in known_threads() if other.key != thread.key and _near(thread, other)]
    return tuple(sorted(near, key=lambda other: (round(_distance(thread, other), 6), other.designation)))


def _near(thread: Thread, other: Thread) -> bool:
    if abs(thread.nominal_mm - other.nominal_mm) > NEAR_MM:
        return False
    ways: tuple[Fit, Fit] = (fit(thread, other), fit(other, thread))
    return any(way.verdict not in _APART or seems_to_start(way) for way in ways)


def seems_to_start(way: Fit) -> bool:
    """Return whether a pair that will not start lets itself in for half a turn or more beyond the lead-in."""
    return way.verdict == "will-not-start" and way.free_turns[1] >= _STARTS_TURNS


def _distance(thread: Thread, other: Thread) -> float:
    return abs(thread.nominal_mm - other.nominal_mm) + abs(thread.pitch_mm - other.pitch_mm)
