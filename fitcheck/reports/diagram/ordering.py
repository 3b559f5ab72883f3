"""In which order symbols stand in their columns, so that wires cross as little as can be.

A wire over several columns passes each one between at a place of its own. The first order walks the wires from the
pedals, circuit by circuit: a system that branches only, and only to the right, comes out without a crossing. Where
that is not enough, columns are put in order by the middle of their neighbours, to and fro, and neighbours in a column
change places while that helps (Sugiyama, Tagawa and Toda, IEEE SMC-11, 1981). The best order seen is kept.
"""

from bisect import bisect_right, insort
from collections.abc import Iterable, Sequence
from typing import Final, NamedTuple

from fitcheck.reports.diagram.layers import PEDALS, Columns
from fitcheck.reports.diagram.record import Scheme

_SWEEPS: Final = 16
_MOST_SWAPPED: Final = 600
"""Places in all columns up to which neighbours are tried in each other's place."""
_MOST_RETRIED: Final = 3000
"""Places up to which other first orders are tried."""


class Link(NamedTuple):
    """A piece of a wire between two columns: its places, and the pins there, -1 where it passes a column."""

    wire: int
    a: int
    a_pin: int
    b: int
    b_pin: int


class Levels(NamedTuple):
    """Columns of places: nodes keep their numbers, places where a wire passes have numbers behind them."""

    column: tuple[int, ...]
    links: tuple[Link, ...]
    left: tuple[tuple[int, ...], ...]
    right: tuple[tuple[int, ...], ...]


def levels(columns: Columns) -> Levels:
    """Return the places that all wires take on their way, column by column."""
    column = list(columns.of)
    links: list[Link] = []
    for wire, (a, a_pin, b, b_pin) in enumerate(columns.wires):
        here, pin = a, a_pin
        for between in range(columns.of[a] + 1, columns.of[b]):
            links.append(Link(wire, here, pin, len(column), -1))
            here, pin = len(column), -1
            column.append(between)
        links.append(Link(wire, here, pin, b, b_pin))
    left: list[list[int]] = [[] for _ in column]
    right: list[list[int]] = [[] for _ in column]
    for link in sorted(links, key=lambda link: (link.a_pin, link.b_pin)):
        left[link.b].append(link.a)
        right[link.a].append(link.b)
    return Levels(tuple(column), tuple(links), tuple(map(tuple, left)), tuple(map(tuple, right)))


def ordered(scheme: Scheme, found: Levels) -> list[list[int]]:
    """Return the places of each column from top to bottom.

    Walks that put what feeds above or below, and branches in the file's order or turned round, are tried until one has
    no crossing.
    """
    best: list[list[int]] = []
    least = None
    for above, turned in ((True, False), (False, False), (True, True), (False, True)):
        order = _improved(found, _walked(scheme, found, above, turned))
        count = crossings(found, order)
        if least is None or count < least:
            best, least = order, count
        if not least or len(found.column) > _MOST_RETRIED:
            break
    return best


def _improved(found: Levels, order: list[list[int]]) -> list[list[int]]:
    """Return the best order that sweeps come by from a first one."""
    best, least = order, crossings(found, order)
    for sweep in range(_SWEEPS if least else 0):
        order = _swept(found, order, to_right=sweep % 2 == 0)
        if len(found.column) <= _MOST_SWAPPED:
            order = _swapped(found, order)
        count = crossings(found, order)
        if count < least:
            best, least = order, count
        if not least:
            break
    return best


def crossings(found: Levels, order: Sequence[Sequence[int]]) -> int:
    """Return how often wires cross between the columns in this order."""
    rank = _ranks(found, order)
    return sum(
        _inversions([sorted(rank[b] for b in found.right[a]) for a in column if found.right[a]]) for column in order
    )


def _inversions(rows: Iterable[list[int]]) -> int:
    """Return how many pairs of numbers in two rows stand the wrong way round."""
    seen: list[int] = []
    count = 0
    for row in rows:
        count += sum(len(seen) - bisect_right(seen, number) for number in row)
        for number in row:
            insort(seen, number)
    return count


def _ranks(found: Levels, order: Sequence[Sequence[int]]) -> list[int]:
    rank = [0] * len(found.column)
    for column in order:
        for index, place in enumerate(column):
            rank[place] = index
    return rank


def _walked(scheme: Scheme, found: Levels, above: bool, turned: bool) -> list[list[int]]:
    """Return the order in which a walk along the wires comes by.

    What feeds a cylinder is put `above` its rod, or below; branches are taken in the order of the file, or `turned`.
    """
    walk = _Walk(found, above, turned)
    kinds = [node.kind for node in scheme.nodes]
    masters = [bool(node.part is not None and node.part.outlets) for node in scheme.nodes]
    rank = [0 if kind == PEDALS else 1 if master else 2 for kind, master in zip(kinds, masters, strict=True)]
    for place in sorted(range(len(kinds)), key=lambda place: (rank[place], place)):
        walk.from_(place)
    return walk.order


class _Walk:
    """A walk over all places. `parent` is where each was come to from."""

    def __init__(self, found: Levels, above: bool, turned: bool) -> None:
        self.found = found
        self.above = above
        self.step = -1 if turned else 1
        self.order: list[list[int]] = [[] for _ in range(max(found.column, default=-1) + 1)]
        self.parent: dict[int, int | None] = {}

    def from_(self, start: int) -> None:
        """Walk to all that is joined to a place."""
        todo: list[tuple[int, int | None, int | None]] = [(start, None, None)]
        while todo:
            place, parent, above = todo.pop()
            if place in self.parent:
                continue
            self.parent[place] = parent
            self._put(place, above)
            anchor = place if self.above and above is None else above
            later = [(other, place, above) for other in self.found.right[place]]
            sooner = [(other, place, anchor) for other in self.found.left[place]]
            later, sooner = later[:: self.step], sooner[:: self.step]
            back = parent is not None and self.found.column[parent] > self.found.column[place]
            todo += reversed([*sooner, *later] if self.above or back else [*later, *sooner])

    def _put(self, place: int, above: int | None) -> None:
        """Put a place below all others of its column, or above the way that led to `above`."""
        column = self.order[self.found.column[place]]
        here = above
        while here is not None and self.found.column[here] != self.found.column[place]:
            here = self.parent[here]
        if here is None:
            column.append(place)
        else:
            column.insert(column.index(here), place)


def _swept(found: Levels, order: list[list[int]], to_right: bool) -> list[list[int]]:
    """Return an order in which each column follows the middle of its neighbours on one side."""
    order = [list(column) for column in order]
    rank = _ranks(found, order)
    near = found.left if to_right else found.right
    for index in range(len(order)) if to_right else reversed(range(len(order))):
        middle = {
            place: sum(rank[other] for other in near[place]) / len(near[place]) if near[place] else float(rank[place])
            for place in order[index]
        }
        order[index].sort(key=middle.__getitem__)
        for row, place in enumerate(order[index]):
            rank[place] = row
    return order


def _swapped(found: Levels, order: list[list[int]]) -> list[list[int]]:
    """Return an order in which no two neighbours of a column would cross less the other way round."""
    order = [list(column) for column in order]
    rank = _ranks(found, order)
    for column in order:
        helped = True
        while helped:
            helped = False
            for row in range(len(column) - 1):
                a, b = column[row], column[row + 1]
                if _between(found, rank, b, a) < _between(found, rank, a, b):
                    column[row], column[row + 1] = b, a
                    rank[a], rank[b] = row + 1, row
                    helped = True
    return order


def _between(found: Levels, rank: list[int], a: int, b: int) -> int:
    """Return how often the wires of two places cross if `a` is above `b`."""
    return sum(rank[x] > rank[y] for side in (found.left, found.right) for x in side[a] for y in side[b])
