"""A diagram that would be much wider than high goes on below itself, like lines of writing.

Where it is folded, each wire leaves on the right, goes back between the bands and comes in on the left. The topmost
wire goes round outside on the right and inside on the left, so that wires in order do not cross.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate
from typing import Final, NamedTuple

from fitcheck.reports.drawing import Spot

MOST_MM: Final = 620.0
"""A diagram is not folded below this width: it still prints on A3."""
_LEAST_RATIO: Final = 2.5
_APART_MM: Final = 6.0


class Fold(NamedTuple):
    """Where wires go round: tracks to the right of `right`, below `gutter`, to the right of `left`, so far apart [mm].

    `leaves` and `enters` are the ranks of each wire from top to bottom in front of the fold and behind it.
    """

    right: float
    gutter: float
    left: float
    apart: float
    leaves: Mapping[int, int]
    enters: Mapping[int, int]

    def way(self, wire: int, start: float, end: float) -> Iterator[Spot]:
        """Yield the corners of a wire from its height in front of the fold to that behind it."""
        count = len(self.leaves)
        out = self.right + (count - self.leaves[wire]) * self.apart
        low = self.gutter + (count - self.leaves[wire]) * self.apart
        back = self.left + (count - self.enters[wire]) * self.apart
        yield from ((out, start), (out, low), (back, low), (back, end))


def band_of(widths: Sequence[float], height: float) -> list[int]:
    """Return in which band each column stands, from the widths of the columns with their channels.

    >>> band_of([300.0, 300.0, 300.0], 30.0)
    [0, 0, 1]
    >>> band_of([300.0, 300.0, 300.0], 500.0)
    [0, 0, 0]
    """
    total = sum(widths)
    if total <= max(MOST_MM, _LEAST_RATIO * height):
        return [0] * len(widths)
    most = max(MOST_MM, (total * height * 2.0) ** 0.5)
    count = -(-total // most)
    return [min(int(start * count / total), int(count) - 1) for start in accumulate(widths[:-1], initial=0.0)]


def ranks(heights: Mapping[int, float]) -> dict[int, int]:
    """Return the rank of each wire by its height."""
    return {wire: rank for rank, wire in enumerate(sorted(heights, key=lambda wire: (heights[wire], wire)))}


def next_top(bottom: float, wires: int, apart: float) -> float:
    """Return where the band below one that ends at `bottom` begins, with room for the wires between [mm]."""
    return bottom + _APART_MM * 2.0 + (wires + 1) * apart


def gutter(bottom: float) -> float:
    """Return below which height the wires between two bands run [mm]."""
    return bottom + _APART_MM
