"""At what height each place of a column stands: in order, apart, and as near in line with its neighbours as can be.

Columns are gone over to and fro. Each is put where the sum of its wires' steps in height is least, which is exact for
one column at a time: weighted medians, pooled where places would come too close (isotonic regression in the first norm;
Ahuja and Orlin, Operations Research 49, 2001). Wires between two symbols with nothing else on those sides weigh most,
so that they run straight. All in steps of the grid.
"""

from collections.abc import Sequence
from itertools import accumulate
from typing import Final, NamedTuple

from fitcheck.reports.diagram.boxes import Box
from fitcheck.reports.diagram.ordering import Levels
from fitcheck.reports.diagram.straighten import Wants, straightened

_ROUNDS: Final = 6
STRAIGHT: Final = 6
"""What a wire weighs between two symbols with nothing else on those sides."""
Target = tuple[int, int]
"""Where the top of a place should be, and how much that weighs."""


class _Block(NamedTuple):
    """Places as close as they may be: `targets` of all, where the first stands best, how many."""

    targets: tuple[Target, ...]
    top: int
    size: int


def heights(found: Levels, order: Sequence[Sequence[int]], boxes: Sequence[Box], wants: Wants) -> list[int]:
    """Return the top of each place, the least of them 0; `wants` names what each would be in line with."""
    gaps = [_gaps(column, boxes) for column in order]
    tops = [0] * len(found.column)
    for column, gap in zip(order, gaps, strict=True):
        for place, top in zip(column, gap, strict=True):
            tops[place] = top
    best, least = list(tops), _steps(tops, wants)
    for sides in ((0,), (1,)) * 3 + ((0, 1),) * _ROUNDS:
        backwards = sides == (1,)
        for index in reversed(range(len(order))) if backwards else range(len(order)):
            _settle(order[index], gaps[index], tops, wants, sides)
        steps = _steps(tops, wants)
        if steps < least:
            best, least = list(tops), steps
    best = straightened(best, order, [room(place, boxes) for place in range(len(best))], wants)
    lift = min(best, default=0)
    return [top - lift for top in best]


def _gaps(column: Sequence[int], boxes: Sequence[Box]) -> list[int]:
    """Return how far below the first of a column each place is at least."""
    return list(accumulate((room(place, boxes) for place in column[:-1]), initial=0)) if column else []


def room(place: int, boxes: Sequence[Box]) -> int:
    """Return the height of a place with the gap under it; a wire that passes takes little."""
    return boxes[place].high + 6 if place < len(boxes) else 8


def _steps(tops: Sequence[int], wants: Wants) -> int:
    return sum(
        want.weight * abs(tops[place] - tops[want.other] - want.offset)
        for place, (left, _) in enumerate(wants)
        for want in left
    )


def _settle(
    column: Sequence[int],
    gaps: Sequence[int],
    tops: list[int],
    wants: Wants,
    sides: tuple[int, ...],
) -> None:
    """Put the places of a column where they stand best, their neighbours as they are."""
    blocks: list[_Block] = []
    for place, gap in zip(column, gaps, strict=True):
        found = [want for side in sides for want in wants[place][side]]
        found = found or [want for side in (0, 1) for want in wants[place][side]]
        targets = [(tops[want.other] + want.offset - gap, want.weight) for want in found]
        block = _block(tuple(targets or [(tops[place] - gap, 1)]), 1)
        while blocks and blocks[-1].top > block.top:
            last = blocks.pop()
            block = _block(last.targets + block.targets, last.size + block.size)
        blocks.append(block)
    index = 0
    for block in blocks:
        for _ in range(block.size):
            tops[column[index]] = block.top + gaps[index]
            index += 1


def _block(targets: tuple[Target, ...], size: int) -> _Block:
    targets = tuple(sorted(targets))
    half = sum(weight for _, weight in targets) / 2.0
    seen = 0
    for top, weight in targets:
        seen += weight
        if seen >= half:
            return _Block(targets, top, size)
    raise AssertionError("a median lies between the first and the last")  # pragma: no cover
