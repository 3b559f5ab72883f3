"""Boxes round pieces of curves, and a tree of boxes that says which of them come near a given one.

A box is the least and the greatest x, y and z [mm] of what is in it. The tree halves its boxes again and again along
the longest side: it is made in n log n, and a question costs log n and what it finds, as long as boxes are small
against the whole. So long straights are boxed in parts.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil
from typing import Final, NamedTuple

from fitcheck.build.curves import Curve, Piece, length_of, point_at, sagitta
from fitcheck.build.routes import Point

Box = tuple[float, float, float, float, float, float]
"""Least x, y, z, then greatest x, y, z [mm]."""
PART_MM: Final = 200.0
"""A piece is boxed in parts of at most this length."""
_LEAF: Final = 8


class Boxed(NamedTuple):
    """A box, and the piece of a curve that is in it or passes through it."""

    box: Box
    curve: int
    piece: int


def boxed(curve: Curve, number: int, more_mm: float) -> Iterator[Boxed]:
    """Yield boxes that together hold everything within `more_mm` of a curve; `number` is the curve's own."""
    for index, piece in enumerate(curve):
        for box in _parts(piece, more_mm):
            yield Boxed(box, number, index)


def _parts(piece: Piece, more: float) -> Iterator[Box]:
    many = max(1, ceil(length_of(piece) / PART_MM))
    margin = more + sagitta(piece, 1.0 / many)
    points = [point_at(piece, share / many) for share in range(many + 1)]
    for a, b in pairwise(points):
        yield _round(a, b, margin)


def _round(a: Point, b: Point, margin: float) -> Box:
    (ax, ay, az), (bx, by, bz) = a, b
    return (
        min(ax, bx) - margin,
        min(ay, by) - margin,
        min(az, bz) - margin,
        max(ax, bx) + margin,
        max(ay, by) + margin,
        max(az, bz) + margin,
    )


class Tree:
    """Boxes by where they are. `near` yields those that meet a given one."""

    def __init__(self, items: Sequence[Boxed]) -> None:
        self._root = _node(list(items)) if items else None

    def near(self, box: Box) -> Iterator[Boxed]:
        """Yield everything whose box meets `box`, in an order that depends on the boxes alone."""
        left = [self._root] if self._root is not None else []
        while left:
            node = left.pop()
            if not _meet(node.box, box):
                continue
            for item in node.items:
                if _meet(item.box, box):
                    yield item
            left.extend(node.below)


class _Node(NamedTuple):
    box: Box
    items: Sequence[Boxed]
    below: tuple["_Node", ...]


def _node(items: list[Boxed]) -> _Node:
    whole = _hull(items)
    if len(items) <= _LEAF:
        return _Node(whole, items, ())
    axis = max(range(3), key=lambda k: whole[k + 3] - whole[k])
    items.sort(key=lambda item: item.box[axis] + item.box[axis + 3])
    middle = len(items) // 2
    return _Node(whole, (), (_node(items[:middle]), _node(items[middle:])))


def _hull(items: Sequence[Boxed]) -> Box:
    low = [min(item.box[k] for item in items) for k in range(3)]
    high = [max(item.box[k] for item in items) for k in range(3, 6)]
    return low[0], low[1], low[2], high[0], high[1], high[2]


def _meet(a: Box, b: Box) -> bool:
    return a[0] <= b[3] and b[0] <= a[3] and a[1] <= b[4] and b[1] <= a[4] and a[2] <= b[5] and b[2] <= a[5]
