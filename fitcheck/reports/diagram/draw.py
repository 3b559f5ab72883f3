"""A layout as parts of a drawing: joints, symbols, words, marks."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from fitcheck.catalog.part import CONSUMERS
from fitcheck.checks.findings import Level
from fitcheck.reports.diagram.boxes import BLEED_MM, MARK_MM, PLAIN_BLEED_MM, marks_mm, words_over
from fitcheck.reports.diagram.cylinders import bleed_way
from fitcheck.reports.diagram.record import Layout, Placed, PlacedPin, Scheme
from fitcheck.reports.diagram.strokes import cross, inked, line, wire
from fitcheck.reports.diagram.symbols import INSET_MM, is_plain, symbol
from fitcheck.reports.diagram.towers import BESIDE_MM, half_mm, pin_words
from fitcheck.reports.diagram.words import SMALL_MM
from fitcheck.reports.drawing import Spot, safe, text
from fitcheck.reports.level_marks import level_mark
from fitcheck.reports.svg_parts import n

_ASIDE_MM: Final = 0.7
_OVER_MM: Final = 0.9
_UNDER_MM: Final = 2.5
Levels = Mapping[int, Level]
"""The level of each finding by its number."""


def drawn(layout: Layout, scheme: Scheme, levels: Levels) -> list[str]:
    """Return all joints, then all symbols. Groups of the classes `joint` and `component`, `line` or `hose` hold them.

    A joint names its ends in `data-at`, a symbol its tag in `data-tag` and its part in `data-part`.
    """
    return [*_joints(layout, scheme), *(part for placed in layout.placed for part in _symbol(placed, levels))]


def _joints(layout: Layout, scheme: Scheme) -> Iterator[str]:
    for run in layout.runs:
        refs = " ".join(scheme.joints[run.joint])
        yield f'<g class="joint" data-at="{safe(refs)}"><title>{safe(scheme.told[run.joint])}</title>'
        for way in run.ways:
            yield line(list(way), run.mechanical, run.colour)
        if len(run.ways) == 1:
            yield _tick(*run.ways[0][-2:])
        yield "</g>"


def _tick(before: Spot, end: Spot) -> str:
    """Return the short stroke across the end of a joint's way: here two parts meet."""
    (_, y), (x, end_y) = before, end
    half = 1.1
    return inked([(x, y - half), (x, y + half)] if y == end_y else [(x - half, end_y), (x + half, end_y)])


_CLASSES: Final = {"components": "component", "lines": "line", "hoses": "hose"}


def _symbol(placed: Placed, levels: Levels) -> Iterator[str]:
    node = placed.node
    if node.room == "joints":
        yield from ['<g class="meeting">', *_stubs(placed), *symbol(placed), *_pins(placed, levels), "</g>"]
        return
    part_id = node.part.id if node.part is not None else ""
    yield f'<g class="{_CLASSES[node.room]}" data-tag="{safe(node.tag)}" data-part="{safe(part_id)}">'
    yield f"<title>{safe(_told(node.told, placed))}</title>"
    yield from _stubs(placed)
    yield from symbol(placed)
    yield from _bleed(placed)
    yield from _words(placed, levels)
    yield from _pins(placed, levels)
    yield "</g>"


def _told(told: str, placed: Placed) -> str:
    pins = [pin.pin.told for pin in (*placed.top, *placed.left, *placed.right) if pin.pin.told]
    return "; ".join([told, *pins])


def _stubs(placed: Placed) -> Iterator[str]:
    """Yield the wires between the edge of the box and the symbol, and a ring at each open port."""
    x, _, wide, _ = placed.body
    pins = [*placed.left, *placed.right]
    if placed.upright:
        yield from _upright_stubs(placed)
        pins = [pin for pin in placed.left if pin.pin.joint is None]
    for pin in pins:
        edge = x if pin.x < x + wide / 2.0 else x + wide
        if pin.x != edge:
            yield wire([(pin.x, pin.y), (edge, pin.y)], pin)
        if pin.pin.joint is None:
            yield _ring(pin)
    for pin in placed.top:
        if pin.pin.joint is None:
            yield _ring(pin)


def _upright_stubs(placed: Placed) -> Iterator[str]:
    _, y, _, tall = placed.body
    yield from (wire([(pin.x, pin.y), (pin.x, y)], pin) for pin in placed.left if pin.pin.joint is not None)
    yield from (wire([(pin.x, y + tall), (pin.x, pin.y)], pin) for pin in placed.right)


def _ring(pin: PlacedPin) -> str:
    return f'<circle cx="{n(pin.x)}" cy="{n(pin.y)}" r="0.6" class="s-ink f-paper" stroke-width="0.3"/>'


def _words(placed: Placed, levels: Levels) -> Iterator[str]:
    """Yield tag, part and marks: over the symbol, under it where towers stand on it, beside it in a tower."""
    lines = words_over(placed.node)
    high = sum(each.rows for each in lines) / 2.0
    x, y, wide, tall = placed.body
    marks = placed.node.marks
    if placed.upright:
        at = x + wide / 2.0 + half_mm(placed.node) + BESIDE_MM
        top = y + (tall - high) / 2.0
        yield from _row_of_marks(x - marks_mm(marks), y + tall / 2.0, marks, levels)
    else:
        at, top = x + wide / 2.0, y + tall if placed.top else placed.y
        row = top + MARK_MM / 2.0 + (high if placed.top else 0.0)
        top += MARK_MM + 0.5 if marks and not placed.top else 0.0
        yield from _row_of_marks(at - marks_mm(marks) / 2.0, row, marks, levels)
    for each in lines:
        top += each.rows / 2.0
        anchor = "start" if placed.upright else "middle"
        yield text(at, top - 0.8, each.size, each.words, anchor=anchor, bold=each.bold)


def _pins(placed: Placed, levels: Levels) -> Iterator[str]:
    for pin in placed.left:
        upright = placed.upright and pin.pin.joint is not None
        yield from _upright_pin(pin, levels, down=True) if upright else _level_pin(pin, levels, 1.0)
    for pin in placed.right:
        yield from _upright_pin(pin, levels, down=False) if placed.upright else _level_pin(pin, levels, -1.0)
    for pin in placed.top:
        yield from _upright_pin(pin, levels, down=True)


def _level_pin(pin: PlacedPin, levels: Levels, way: float) -> Iterator[str]:
    """Yield marks and words at a wire that enters a box from the side; `way` is 1 from the left, -1 from the right."""
    marks = pin.pin.marks
    wide = marks_mm(marks)
    yield from _row_of_marks(pin.x if way > 0.0 else pin.x - wide, pin.y, marks, levels)
    x = pin.x + way * (wide + _ASIDE_MM)
    anchor = "start" if way > 0.0 else "end"
    for words, y in ((pin.pin.above, pin.y - _OVER_MM), (pin.pin.below, pin.y + _UNDER_MM)):
        if words:
            yield text(x, y, SMALL_MM, words, anchor=anchor)


def _upright_pin(pin: PlacedPin, levels: Levels, down: bool) -> Iterator[str]:
    """Yield marks and words at a wire that goes down from the place of a pin, or comes down to it."""
    way = 1.0 if down else -1.0
    marks = pin.pin.marks
    for step, number in enumerate(marks):
        yield level_mark(pin.x, pin.y + way * MARK_MM * (step + 0.5), number, levels[number])
    words = pin_words(pin.pin)
    y = pin.y + way * MARK_MM * len(marks)
    if words:
        yield text(pin.x + BESIDE_MM, y + (2.2 if down else -0.8), SMALL_MM, words)


def _row_of_marks(x: float, y: float, numbers: Sequence[int], levels: Levels) -> Iterator[str]:
    """Yield marks in a row that begins at `x`."""
    for number in numbers:
        wide = marks_mm((number,))
        yield level_mark(x + wide / 2.0, y, number, levels[number])
        x += wide


def _bleed(placed: Placed) -> Iterator[str]:
    """Yield the bleed point of a brake or slave, and its thread: a closed line out of its top right, or its border."""
    part = placed.node.part
    if part is None or not part.bleeder or placed.node.kind not in CONSUMERS:
        return
    x, y, wide, tall = placed.body
    edge = x + wide
    if is_plain(placed):
        row = y + PLAIN_BLEED_MM
        way = [(edge - INSET_MM, row)]
    else:
        way, row = bleed_way(placed.node.kind, x, y, wide, tall)
    yield line([*way, (edge + 0.8, row)], False, "ink")
    yield cross(edge + 1.4, row, 0.7)
    yield text(edge + BLEED_MM - 0.7, row + 0.7, SMALL_MM, part.bleeder)
