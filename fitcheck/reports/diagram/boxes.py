"""How large each symbol is with its words and marks, and where its wires meet it.

Heights are in steps of the grid of 0.5 mm.
"""

from collections.abc import Sequence
from math import ceil
from typing import Final, NamedTuple

from fitcheck.catalog.part import CONSUMERS
from fitcheck.reports.diagram.gather import HUB
from fitcheck.reports.diagram.record import GRID_MM, Node, Pin
from fitcheck.reports.diagram.words import SMALL_MM, TAG_MM, folded
from fitcheck.reports.drawing import words_mm
from fitcheck.reports.level_marks import mark_size

ROW: Final = 14
"""From wire to wire at a symbol: room for the words over and under each."""
MARK_MM: Final = 5.0
"""Room that the mark of a finding takes in height."""
MARK_GAP_MM: Final = 0.3
BLEED_MM: Final = 3.5
PLAIN_BLEED_MM: Final = 2.0
"""From the top of a plain box to the bleed point on its right, which is above all wires there."""
_BLEED_ROWS: Final = 8
_TAG_ROW, _SMALL_ROW, _MARK_ROW = 7, 5, 11
_AIR_MM: Final = 1.6
_WIDTHS: Final = {
    "pedal box": 11.0,
    "reservoir": 10.0,
    "master cylinder": 16.0,
    "slave cylinder": 15.0,
    "wheel cylinder": 10.0,
    "caliper": 12.0,
    "union": 5.0,
    "bulkhead union": 7.0,
    "tee": 4.0,
    "elbow": 5.0,
    "adapter": 6.0,
    "plug": 4.0,
    "cap": 4.0,
    "pressure switch": 12.0,
    "gauge": 10.0,
    "proportioning valve": 12.0,
    "residual valve": 12.0,
    "shut-off valve": 10.0,
    "hose": 13.0,
    "feed hose": 13.0,
    "tube": 3.0,
    HUB: 2.0,
}
"""Width of each symbol [mm]; what has none is a box with the name of its kind in it."""
_HEIGHTS: Final = {
    "caliper": 26,
    "wheel cylinder": 26,
    "gauge": 20,
    "pressure switch": 20,
    "proportioning valve": 24,
    "pedal box": 20,
    HUB: 4,
}
_FED: Final = CONSUMERS | {"gauge", "pressure switch", "plug", "cap"}
"""Kinds whose symbols are entered from the left."""
TOP: Final = {"reservoir": 14}
"""What a symbol takes above its wires."""


class Line(NamedTuple):
    """One line of words over a symbol."""

    words: str
    size: float
    bold: bool
    rows: int


class Box(NamedTuple):
    """A node's size. `left` and `right` are its pins on either side, not in order yet.

    `left_mm`, `body_mm` and `right_mm` are widths, `wide_mm` that of the whole; `head`, `body` and `high` heights in
    steps; `top` is what the symbol takes above its wires. With a `roof`, room for towers, the words stand under the
    symbol, and `middle_mm` is how far its middle is from the left.
    """

    lines: tuple[Line, ...]
    left: tuple[int, ...]
    right: tuple[int, ...]
    left_mm: float
    body_mm: float
    right_mm: float
    wide_mm: float
    head: int
    body: int
    high: int
    middle_mm: float
    top: int

    def pin_row(self, side: Sequence[int], index: int) -> int:
        """Return how far below the top the wire of the pin at a place of a side meets the node."""
        return self.head + self.top + (self.body - self.top) // 2 + index * ROW - (len(side) - 1) * ROW // 2


class Roof(NamedTuple):
    """The room for the towers of a cylinder [mm]: height, how far left and right of its middle; the pins there."""

    high_mm: float
    left_mm: float
    right_mm: float
    pins: tuple[int, ...]


def box(node: Node, left: Sequence[int], right: Sequence[int], roof: Roof | None = None) -> Box:
    """Return the size of a node whose wires leave from these pins to the left and to the right."""
    left, right = _with_open_pins(node, left, right, roof.pins if roof is not None else ())
    lines = tuple(words_over(node))
    words_high = sum(line.rows for line in lines) + (_MARK_ROW if node.marks else 0)
    head = steps(roof.high_mm) if roof is not None else words_high
    foot = words_high if roof is not None else 0
    top = TOP.get(node.kind, 0) or (_BLEED_ROWS if right and _bleed(node) else 0)
    body = top + max(_HEIGHTS.get(node.kind, 0), ROW * max(len(left), len(right), 1) if node.kind != HUB else 0)
    if node.kind == HUB:
        body = max(body, ROW // 2 * max(len(left), len(right)))
    body += body % 2
    left_mm, right_mm = _side(node, left), max(_side(node, right), _bleed(node))
    body_mm = symbol_mm(node)
    words = max((words_mm(line.words, line.size, line.bold) for line in lines), default=0.0)
    half = max(words, marks_mm(node.marks)) / 2.0
    to_left = max(left_mm + body_mm / 2.0, half, roof.left_mm if roof is not None else 0.0)
    to_right = max(right_mm + body_mm / 2.0, half, roof.right_mm if roof is not None else 0.0)
    sides, wide, high = (tuple(left), tuple(right)), to_left + to_right, head + body + foot
    return Box(lines, *sides, left_mm, body_mm, right_mm, wide, head, body, high, to_left, top)


def symbol_mm(node: Node) -> float:
    """Return how wide the symbol of a node is [mm]."""
    if node.room == "lines":
        return _WIDTHS["tube"]
    if node.room == "hoses":
        return _WIDTHS["hose"]
    return _WIDTHS.get(node.kind) or words_mm(node.kind, SMALL_MM) + 3.0


def mm(count: int) -> float:
    """Return steps of the grid in mm."""
    return count * GRID_MM


def steps(length_mm: float) -> int:
    """Return the steps of the grid that a length needs."""
    return ceil(length_mm / GRID_MM)


def marks_mm(numbers: Sequence[int]) -> float:
    """Return the room that marks in a row take in width [mm]."""
    return sum(mark_size(number)[0] + MARK_GAP_MM for number in numbers)


def pin_mm(pin: Pin) -> float:
    """Return the room that a pin takes between the symbol and the edge of its box [mm]."""
    words = max(words_mm(pin.above, SMALL_MM), words_mm(pin.below, SMALL_MM))
    return (words + _AIR_MM if words else 2.0) + marks_mm(pin.marks)


def _side(node: Node, pins: Sequence[int]) -> float:
    if node.kind == HUB:
        return max((marks_mm(node.pins[pin].marks) for pin in pins), default=0.0)
    return max((pin_mm(node.pins[pin]) for pin in pins), default=0.0)


def _bleed(node: Node) -> float:
    """Return the room for the bleed point of a consumer [mm]."""
    bleeder = node.part.bleeder if node.part is not None and node.kind in CONSUMERS else None
    return words_mm(bleeder, SMALL_MM) + BLEED_MM if bleeder else 0.0


def _with_open_pins(
    node: Node, left: Sequence[int], right: Sequence[int], above: Sequence[int]
) -> tuple[list[int], list[int]]:
    """Return the pins of both sides with those that nothing is joined to, which stand below the others."""
    lefts, rights = list(left), list(right)
    feeds = node.part.feeds if node.part is not None else ()
    for index, pin in enumerate(node.pins):
        if index in left or index in right or index in above:
            continue
        name = pin.ref.rpartition(".")[2]
        from_left = name in feeds or name == "from" or (pin.mechanical and node.kind != "pedal box")
        from_left = from_left or (node.kind in _FED and not right)
        (lefts if from_left else rights).append(index)
    return lefts, rights


def words_over(node: Node) -> list[Line]:
    """Return the lines of words of a symbol, folded to a width."""
    found = []
    for index, words in enumerate(node.words):
        size, rows = (TAG_MM, _TAG_ROW) if not index else (SMALL_MM, _SMALL_ROW)
        found += [Line(line, size, not index, rows) for line in folded(words, size, not index)]
    return found
