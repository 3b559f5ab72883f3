"""Room for words on a drawing: near what they name, over no mark and no other words, with a line to it if need be.

Lengths in mm on paper, y downwards. Paper is taken in small squares; what is taken is taken whole, so that two things
that share no square do not touch. Of all places the cheapest is chosen: how far off it is, what it covers or crosses.
"""

from collections.abc import Iterable, Iterator, Sequence
from math import cos, floor, hypot, inf, pi, sin
from typing import Final, NamedTuple

from fitcheck.reports.drawing import Spot

Cell = tuple[int, int]
"""A square of paper: column and row."""
Block = tuple[int, int, int, int]
"""Squares from the left to the right one and from the top to the bottom one, these included."""
_CELL: Final = 0.8
"""Side of a square [mm]."""
_ORDER: Final = (0, 8, 14, 10, 2, 6, 12, 4, 15, 9, 1, 7, 13, 11, 3, 5)
_WAYS: Final = tuple((cos(index * pi / 8.0), sin(index * pi / 8.0)) for index in _ORDER)
"""Directions, those first that words are read in: right, left, above and below on either side."""
_FIRST: Final = 0.9
_STEP: Final = 1.5
_GROWTH: Final = 1.15
MOST_COST: Final = 100.0
_MOST_TRIES: Final = 60_000
"""Places that are looked at on one drawing; sixty labels take about a sixth of this."""
_WAY_OFF: Final = 1000.0
_FAR: Final = 60.0
_PACE: Final = 0.6
"""From point to point along a leader: less than a square."""
_OWN: Final = 2.0
"""So near to what it names a leader is not looked at."""
_LED: Final = 3.0
"""Words further off than this get a leader."""
_PER_LINE: Final = 1.0
_PER_MARK: Final = 1.5
_PER_WORDS: Final = 3.0
_PER_LEADER: Final = 1.0
_LEADER: Final = 2.0
_LATER: Final = 0.06
"""What it costs [mm] to cover a square of a line; that a leader crosses one of a mark, of words, of another leader; to
need a leader; to be a direction later."""


class Box(NamedTuple):
    """A rectangle on paper."""

    left: float
    top: float
    right: float
    bottom: float


class Label(NamedTuple):
    """Where words stand, and the line from them to what they name; None where they stand beside it.

    `anchor` is how words that are narrower than the box stand near what they name: `start`, `middle` or `end`.
    """

    box: Box
    leader: tuple[Spot, Spot] | None
    anchor: str = "start"


class _Squares:
    """A set of squares, each row of them the bits of one number."""

    def __init__(self, first: int) -> None:
        self._first = first
        self._rows: dict[int, int] = {}

    def add(self, cells: Iterable[Cell]) -> None:
        """Add squares by column and row."""
        for column, row in cells:
            self._rows[row] = self._rows.get(row, 0) | 1 << (column - self._first)

    def fill(self, block: Block) -> None:
        """Add a block of squares."""
        left, top, right, bottom = block
        bits = ((1 << (right - left + 1)) - 1) << (left - self._first)
        for row in range(top, bottom + 1):
            self._rows[row] = self._rows.get(row, 0) | bits

    def count(self, block: Block) -> int:
        """Return how many squares of a block are in the set."""
        left, top, right, bottom = block
        bits, shift = (1 << (right - left + 1)) - 1, left - self._first
        return sum((self._rows.get(row, 0) >> shift & bits).bit_count() for row in range(top, bottom + 1))

    def among(self, cells: Iterable[Cell]) -> int:
        """Return how many of these squares are in the set."""
        return sum(self._rows.get(row, 0) >> (column - self._first) & 1 for column, row in cells)


class Room:
    """The paper of one drawing: marks and words, which nothing may cover, and lines, which are better kept clear.

    `left` is about where the drawing begins: everything lies within a metre to the left of it, or to the right.
    """

    def __init__(self, left: float) -> None:
        first = floor((left - _WAY_OFF) / _CELL)
        self._words, self._marks, self._lines, self._leaders = (_Squares(first) for _ in range(4))
        self._tries = _MOST_TRIES

    def mark(self, box: Box) -> None:
        """Take a rectangle for a mark: no words come there."""
        self._marks.fill(_block(box))

    def line(self, spots: Iterable[Spot]) -> None:
        """Say that a line passes these points, no two of them further apart than a square is wide."""
        self._lines.add((floor(x / _CELL), floor(y / _CELL)) for x, y in spots)

    def allow(self, tries: int) -> None:
        """Let so many more places be looked at, on a drawing that was too crowded."""
        self._tries = max(self._tries, 0) + tries

    def place(self, anchors: Sequence[Spot], width: float, height: float, most: float = MOST_COST) -> Label | None:
        """Return the best room for words of a size beside one of several points, and take it.

        Each later point costs a little more than the one before. None if no room costs less than `most`, if words are
        wider than any drawing, or if so many places were looked at on this one that it is too crowded for more words.
        """
        if width > _WAY_OFF / 2.0:
            return None
        best, least, far = None, most, _FIRST
        while far <= least:
            if self._tries < 0:
                return None
            for late, at in enumerate(anchors):
                for index, way in enumerate(_WAYS):
                    label = _beside(at, way, far, width, height)
                    cost = far + (index + 8.0 * late) * _LATER
                    cost += self._cost(label, least - cost)
                    if cost < least:
                        best, least = label, cost
            self._tries -= len(anchors) * len(_WAYS)
            far = far + _STEP if far < _FAR else far * _GROWTH
        if best is not None:
            self._words.fill(_block(best.box))
            self._leaders.add(_passed(best.leader))
        return best

    def _cost(self, label: Label, most: float) -> float:
        """Return what a place costs besides its distance; infinite if it is taken or costs more anyway."""
        cost = _LEADER if label.leader is not None else 0.0
        if cost >= most:
            return inf
        block = _block(label.box)
        if self._words.count(block) or self._marks.count(block) or self._leaders.count(block):
            return inf
        cost += _PER_LINE * self._lines.count(block)
        if label.leader is not None and cost < most:
            passed = set(_passed(label.leader))
            for crossed, each in ((self._marks, _PER_MARK), (self._words, _PER_WORDS), (self._leaders, _PER_LEADER)):
                cost += each * crossed.among(passed)
        return cost


def _beside(at: Spot, way: Spot, far: float, width: float, height: float) -> Label:
    """Return words of a size in a direction from a point, so far off."""
    x, y = at[0] + way[0] * (far + width / 2.0), at[1] + way[1] * (far + height / 2.0)
    box = Box(x - width / 2.0, y - height / 2.0, x + width / 2.0, y + height / 2.0)
    edge = min(max(at[0], box.left), box.right), min(max(at[1], box.top), box.bottom)
    anchor = "end" if at[0] >= box.right else "middle" if at[0] > box.left else "start"
    return Label(box, (at, edge) if hypot(edge[0] - at[0], edge[1] - at[1]) > _LED else None, anchor)


def _block(box: Box) -> Block:
    return floor(box.left / _CELL), floor(box.top / _CELL), floor(box.right / _CELL), floor(box.bottom / _CELL)


def _passed(leader: tuple[Spot, Spot] | None) -> Iterator[Cell]:
    """Yield the squares that a leader passes, from a little off what it names."""
    if leader is None:
        return
    (x, y), (to_x, to_y) = leader
    length = hypot(to_x - x, to_y - y)
    for step in range(int((length - _OWN) / _PACE)):
        share = (_OWN + step * _PACE) / length
        yield floor((x + (to_x - x) * share) / _CELL), floor((y + (to_y - y) * share) / _CELL)
