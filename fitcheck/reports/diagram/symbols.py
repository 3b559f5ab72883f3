"""The symbol of each kind, drawn by us after what ISO 1219-1:2012 says in words of the symbols of fluid power.

Source: ISO 1219-1:2012, basic symbols and application rules, from memory; proportions are ours. What the standard has
no symbol for (a pedal box, a disc, a nutted union) is drawn after its shape. A symbol whose wires do not come from
where it expects them, and a kind without a symbol, is a plain box with the name of its kind.
"""

from collections.abc import Callable
from typing import Final

from fitcheck.reports.diagram import cylinders, instruments, passing
from fitcheck.reports.diagram.boxes import symbol_mm
from fitcheck.reports.diagram.gather import HUB
from fitcheck.reports.diagram.record import Node, Placed
from fitcheck.reports.diagram.strokes import Frame, box, wire
from fitcheck.reports.diagram.words import SMALL_MM
from fitcheck.reports.drawing import text, words_mm
from fitcheck.reports.svg_parts import n

INSET_MM: Final = 0.5
"""From the frame to the border of a plain box."""
_LEAST_MM: Final = 1.5
"""Type that is smaller is not read."""
Symbol = Callable[[Frame, Node], list[str] | None]
SYMBOLS: Final[dict[str, Symbol]] = {
    "pedal box": cylinders.pedal,
    "reservoir": passing.reservoir,
    "master cylinder": cylinders.master,
    "slave cylinder": cylinders.slave,
    "wheel cylinder": cylinders.wheel,
    "caliper": cylinders.caliper,
    "union": passing.union,
    "bulkhead union": passing.bulkhead,
    "tee": passing.tee,
    "elbow": passing.elbow,
    "adapter": passing.adapter,
    "plug": passing.plug,
    "cap": passing.plug,
    "pressure switch": instruments.switch,
    "gauge": instruments.gauge,
    "proportioning valve": instruments.proportioning,
    "residual valve": instruments.residual,
    "shut-off valve": instruments.shut_off,
    "tube": passing.tube,
    "hose": passing.hose,
    HUB: passing.hub,
}


def symbol(placed: Placed) -> list[str]:
    """Return the symbol of a placed node, inside its frame."""
    if placed.upright:
        return _upright(placed)
    frame = Frame(*placed.body, placed.left, placed.right, placed.top)
    return drawn(frame, placed.node)


def drawn(frame: Frame, node: Node) -> list[str]:
    """Return the symbol of a node in a frame, a plain box if its kind has none or does not fit."""
    found = _own(frame, node)
    return found if found is not None else plain(frame, node)


def is_plain(placed: Placed) -> bool:
    """Return whether a placed node, which is in no tower, is drawn as a plain box."""
    return _own(Frame(*placed.body, placed.left, placed.right, placed.top), placed.node) is None


def _own(frame: Frame, node: Node) -> list[str] | None:
    kind = {"lines": "tube", "hoses": "hose"}.get(node.room, node.kind)
    return SYMBOLS[kind](frame, node) if kind in SYMBOLS else None


def plain(frame: Frame, node: Node) -> list[str]:
    """Return a box with the name of the kind in it."""
    parts = [box(frame.x + INSET_MM, frame.y + INSET_MM, frame.w - 2.0 * INSET_MM, frame.h - 2.0 * INSET_MM)]
    parts += [wire([(frame.x, pin.y), (frame.x + INSET_MM, pin.y)], pin) for pin in frame.left]
    parts += [wire([(frame.end - INSET_MM, pin.y), (frame.end, pin.y)], pin) for pin in frame.right]
    parts += _named(frame, node.kind)
    return parts


def _named(frame: Frame, kind: str) -> list[str]:
    """Return the name of a kind inside its box, upwards where it is too narrow to be read across."""
    room = frame.w - 1.5
    lines = kind.split(" ") if words_mm(kind, SMALL_MM) > frame.w - 1.0 else [kind]
    size = min(SMALL_MM, *(SMALL_MM * room / words_mm(line, SMALL_MM) for line in lines if line))
    if size >= _LEAST_MM:
        top = frame.cy + size * (0.35 - (len(lines) - 1) / 2.0)
        return [text(frame.cx, top + size * row, size, line, anchor="middle") for row, line in enumerate(lines)]
    size = min(SMALL_MM, SMALL_MM * (frame.h - 1.5) / words_mm(kind, SMALL_MM))
    words = text(frame.cx, frame.cy + 0.35 * size, size, kind, anchor="middle")
    return [f'<g transform="rotate(-90 {n(frame.cx)} {n(frame.cy)})">', words, "</g>"]


def _upright(placed: Placed) -> list[str]:
    """Return the symbol of a storey of a tower, turned so that its left is above; its line fills the rest."""
    x, y, w, h = placed.body
    node, middle = placed.node, y + h / 2.0
    line = placed.right[0]
    if node.kind == "reservoir":
        return passing.tank(Frame(x, y, w, h, placed.left, placed.right))
    long = symbol_mm(node)
    half = long / 2.0
    cx = x + w / 2.0
    left = placed.left[0]._replace(x=cx - half, y=middle)
    right = line._replace(x=cx + half, y=middle)
    frame = Frame(cx - half, middle - w / 2.0, long, w, (left,), (right,))
    turned = [f'<g transform="rotate(90 {n(cx)} {n(middle)})">', *drawn(frame, node), "</g>"]
    rest = [wire([(cx, y), (cx, middle - half)], left), wire([(cx, middle + half), (cx, y + h)], right)]
    return [*turned, *rest]
