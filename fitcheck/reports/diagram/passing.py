"""Symbols of what fluid stands in or passes through without being changed.

Source: ISO 1219-1:2012, from memory, in its general words: lines that join have a dot, lines that cross have none; a
flexible line is an arc between two dots; a closed port is a cross; a reservoir is a box open at the top, its line
ending below the surface. Fittings: their shape, common practice, no source.
"""

from fitcheck.reports.diagram.record import Node, PlacedPin
from fitcheck.reports.diagram.strokes import Frame, box, cross, dot, inked, solid, wire
from fitcheck.reports.drawing import stroke
from fitcheck.reports.svg_parts import n

_DOT_FROM = 3


def tube(frame: Frame, node: Node) -> list[str]:
    """Return a rigid line."""
    return _joined(frame, node)


def tee(frame: Frame, node: Node) -> list[str] | None:
    """Return the dot at which lines join."""
    return _joined(frame, node) if _one_passage(node) else None


def hub(frame: Frame, node: Node) -> list[str]:
    """Return a joint of several ends: a dot."""
    return _joined(frame, node)


def union(frame: Frame, node: Node) -> list[str] | None:
    """Return a line through a sleeve with two nuts."""
    if not _one_passage(node):
        return None
    y = _middle(frame)
    return [
        *_joined(frame, node),
        box(frame.cx - 1.9, y - 1.3, 3.8, 2.6),
        inked([(frame.cx, y - 1.3), (frame.cx, y + 1.3)]),
    ]


def bulkhead(frame: Frame, node: Node) -> list[str] | None:
    """Return a union in a panel, which is a thick line across."""
    made = union(frame, node)
    if made is None:
        return None
    y = _middle(frame)
    return [*made, solid(frame.cx - 0.4, y - 3.4, 0.8, 2.1), solid(frame.cx - 0.4, y + 1.3, 0.8, 2.1)]


def elbow(frame: Frame, node: Node) -> list[str] | None:
    """Return a line through a body with a corner."""
    if not _one_passage(node):
        return None
    y = _middle(frame)
    corner = inked([(frame.cx - 1.1, y + 0.6), (frame.cx + 0.6, y + 0.6), (frame.cx + 0.6, y - 1.1)])
    return [*_joined(frame, node), box(frame.cx - 1.6, y - 1.6, 3.2, 3.2), corner]


def adapter(frame: Frame, node: Node) -> list[str] | None:
    """Return a line through a body of two sizes."""
    if not _one_passage(node):
        return None
    y = _middle(frame)
    return [*_joined(frame, node), box(frame.cx - 2.4, y - 1.7, 2.4, 3.4), box(frame.cx, y - 1.1, 2.4, 2.2)]


def plug(frame: Frame, node: Node) -> list[str] | None:
    """Return the cross that closes a line."""
    pins = [*frame.left, *frame.right]
    if len(pins) != 1:
        return None
    edge = frame.x if frame.left else frame.end
    return [wire([(edge, pins[0].y), (frame.cx, pins[0].y)], pins[0]), cross(frame.cx, pins[0].y)]


def hose(frame: Frame, node: Node) -> list[str] | None:
    """Return a flexible line: an arc between two dots."""
    if len(frame.left) != 1 or len(frame.right) != 1:
        return _joined(frame, node)
    left, right = frame.left[0], frame.right[0]
    a, b, y = frame.x + 1.5, frame.end - 1.5, left.y
    colour = left.pin.colour
    width = 0.6 if left.pin.pressed else 0.35
    data = f"M{n(a)} {n(y)} C{n(a + 1.5)} {n(y + 4.2)} {n(b - 1.5)} {n(y + 4.2)} {n(b)} {n(y)}"
    ends = [wire([(frame.x, y), (a, y)], left), wire([(b, y), (frame.end, y)], right)]
    return [*ends, stroke(data, colour, width), dot(a, y, colour), dot(b, y, colour)]


def reservoir(frame: Frame, node: Node) -> list[str]:
    """Return a reservoir in a row: an open box over its lines, which come from below."""
    low, bottom = frame.y + 3.4, frame.y + 6.0
    inset = frame.x + 0.8, frame.end - 0.8
    parts = [_open_box(inset[0], frame.y + 0.8, inset[1], bottom)]
    for side, edge, inner, step in (
        (frame.right, frame.end, inset[1] - 1.4, -1.4),
        (frame.left, frame.x, inset[0] + 1.4, 1.4),
    ):
        parts += [
            wire([(edge, pin.y), (x, pin.y), (x, low)], pin)
            for index, pin in enumerate(side)
            for x in (inner + step * min(index, 2),)
        ]
    return parts


def tank(frame: Frame) -> list[str]:
    """Return a reservoir on top of a tower: its line leaves below, what is open on the left."""
    low, bottom = frame.foot - 3.4, frame.foot - 1.6
    cx, down = frame.cx, frame.right[0]
    parts = [
        _open_box(frame.x + 0.6, frame.y + 0.6, frame.end - 0.6, bottom),
        wire([(cx, low), (cx, frame.foot)], down),
    ]
    return [*parts, *(wire([(frame.x, pin.y), (frame.x + 0.6, pin.y)], pin) for pin in frame.left)]


def _open_box(x: float, y: float, end: float, bottom: float) -> str:
    return inked([(x, y), (x, bottom), (end, bottom), (end, y)])


def _joined(frame: Frame, node: Node) -> list[str]:
    """Return all wires of a symbol led to one upright line in its middle, with a dot where three or more meet."""
    pins: list[tuple[PlacedPin, float]] = [
        *((pin, frame.x) for pin in frame.left),
        *((pin, frame.end) for pin in frame.right),
    ]
    cx = frame.cx
    parts = [wire([(edge, pin.y), (cx, pin.y)], pin) for pin, edge in pins]
    rows = sorted({pin.y for pin, _ in pins})
    if len(rows) > 1:
        first = next((pin for pin, _ in pins if pin.pin.pressed), pins[0][0])
        parts.append(wire([(cx, rows[0]), (cx, rows[-1])], first))
    if len(pins) >= _DOT_FROM:
        inner = rows[1:-1] or rows
        parts += [dot(cx, y, pins[0][0].pin.colour) for y in inner]
    return parts


def _one_passage(node: Node) -> bool:
    """Return whether all that enters a part meets inside it."""
    return node.part is not None and len(node.part.passages) == 1


def _middle(frame: Frame) -> float:
    rows = [pin.y for pin in (*frame.left, *frame.right)]
    return (min(rows) + max(rows)) / 2.0 if rows else frame.cy
