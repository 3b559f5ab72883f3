"""Taking out small steps: what already stands in line is moved together, where there is room and it helps."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

_ROUNDS: Final = 4


class Stand(NamedTuple):
    """What a place wants of another: `offset` is how far below the other's top its own top should be."""

    other: int
    offset: int
    weight: int


Wants = Sequence[tuple[list[Stand], list[Stand]]]
"""What each place would be in line with, on its left and on its right."""


def straightened(tops: list[int], order: Sequence[Sequence[int]], rooms: Sequence[int], wants: Wants) -> list[int]:
    """Return the tops with steps taken out that can be; `rooms` is what each place needs to the next below it.

    For each step the places in line with either end are tried as one block, moved by the step. A move is kept if no two
    places come too close and the weighted sum of all steps grows less.
    """
    moving = _Moving(list(tops), order, rooms, wants)
    for _ in range(_ROUNDS):
        if not moving.helped():
            break
    return moving.tops


class _Moving:
    def __init__(self, tops: list[int], order: Sequence[Sequence[int]], rooms: Sequence[int], wants: Wants) -> None:
        self.tops = tops
        self.rooms = rooms
        self.wants = wants
        self.over: dict[int, int] = {}
        self.under: dict[int, int] = {}
        for column in order:
            for above, below in pairwise(column):
                self.under[above] = below
                self.over[below] = above

    def helped(self) -> bool:
        """Go over all steps once; return whether any was taken out."""
        found = False
        for place, (left, _) in enumerate(self.wants):
            for want in left:
                step = self._step(place, want)
                if step:
                    found |= self._moved(place, -step) or self._moved(want.other, step)
        return found

    def _step(self, place: int, want: Stand) -> int:
        return self.tops[place] - self.tops[want.other] - want.offset

    def _moved(self, start: int, by: int) -> bool:
        """Move what stands in line with a place, if that may be and helps."""
        block = self._in_line(start)
        if not self._fits(block, by) or self._gain(block, by) <= 0:
            return False
        for place in block:
            self.tops[place] += by
        return True

    def _in_line(self, start: int) -> set[int]:
        block, todo = {start}, [start]
        while todo:
            here = todo.pop()
            for want in self._all(here):
                if want.other not in block and not self._step(here, want):
                    block.add(want.other)
                    todo.append(want.other)
        return block

    def _all(self, place: int) -> Iterator[Stand]:
        for side in self.wants[place]:
            yield from side

    def _fits(self, block: set[int], by: int) -> bool:
        for place in block:
            over, under = self.over.get(place), self.under.get(place)
            if over is not None and over not in block and self.tops[place] + by < self.tops[over] + self.rooms[over]:
                return False
            low = self.tops[place] + by + self.rooms[place]
            if under is not None and under not in block and self.tops[under] < low:
                return False
        return True

    def _gain(self, block: set[int], by: int) -> int:
        gain = 0
        for place in block:
            for want in self._all(place):
                if want.other not in block:
                    step = self._step(place, want)
                    gain += want.weight * (abs(step) - abs(step + by))
        return gain
