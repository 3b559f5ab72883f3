"""Counting where wires cross, from the finished drawing."""

from bisect import bisect_left, bisect_right, insort
from collections.abc import Iterable

from fitcheck.reports.drawing import Spot

Segment = tuple[int, Spot, Spot]
"""A straight piece of a joint's wire: number of the joint, both ends [mm]."""


def count_crossings(segments: Iterable[Segment]) -> int:
    """Return how many pairs of an upright and a level piece of two joints cross inside both.

    A sweep from left to right over the level pieces that are open there: n log n for n pieces and few crossings. All
    pieces must be level or upright.

    >>> count_crossings([(0, (0.0, 1.0), (4.0, 1.0)), (1, (2.0, 0.0), (2.0, 3.0))])
    1
    """
    events: list[tuple[float, int, float, float, int]] = []
    for joint, (ax, ay), (bx, by) in segments:
        if ax == bx:
            events.append((ax, 1, min(ay, by), max(ay, by), joint))
        else:
            events.append((min(ax, bx), 2, ay, ay, joint))
            events.append((max(ax, bx), 0, ay, ay, joint))
    events.sort()
    open_: list[tuple[float, int]] = []
    count = 0
    for _, what, low, high, joint in events:
        if what == 2:
            insort(open_, (low, joint))
        elif what == 0:
            del open_[bisect_left(open_, (low, joint))]
        else:
            inside = open_[bisect_right(open_, (low, 1 << 60)) : bisect_left(open_, (high, -1))]
            count += sum(other != joint for _, other in inside)
    return count
