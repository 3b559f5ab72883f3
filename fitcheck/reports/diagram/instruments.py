"""Symbols of instruments and valves.

Source: ISO 1219-1:2012, from memory, in its general words: a gauge is a circle with a pointer; a pressure switch a box
with a contact and a spring that can be set; a valve that shuts by itself a ball in its seat, with a spring where one
holds it; a pressure valve a box with an arrow, its spring, and a broken line from the pressure that it heeds; a
shut-off valve two triangles tip to tip.
"""

from fitcheck.reports.diagram.record import Node
from fitcheck.reports.diagram.strokes import THIN, Frame, arrow, box, circle, inked, spring, wire
from fitcheck.reports.drawing import path, stroke
from fitcheck.reports.svg_parts import n


def switch(frame: Frame, node: Node) -> list[str] | None:
    """Return a pressure switch: a contact that a spring keeps open."""
    if not _one_left(frame):
        return None
    pin, y = frame.left[0], frame.cy
    x = frame.x + 1.5
    contact = [inked([(x + 1.2, y + 2.2), (x + 2.6, y + 2.2)]), inked([(x + 2.6, y + 2.2), (x + 6.0, y - 0.2)])]
    contact += [
        inked([(x + 5.8, y + 2.2), (x + 7.4, y + 2.2)]),
        circle(x + 2.6, y + 2.2, 0.4),
        circle(x + 5.8, y + 2.2, 0.4),
    ]
    coil = [spring(x + 1.4, y - 2.0, 5.4, 0.8), arrow(x + 2.2, y - 0.4, x + 6.4, y - 3.4)]
    return [wire([(frame.x, pin.y), (x, pin.y)], pin), box(x, y - 4.2, 8.8, 8.4), *contact, *coil]


def gauge(frame: Frame, node: Node) -> list[str] | None:
    """Return a gauge: a circle with a pointer."""
    if not _one_left(frame):
        return None
    pin, y = frame.left[0], frame.cy
    x = frame.x + 5.4
    return [
        wire([(frame.x, pin.y), (x - 4.0, pin.y)], pin),
        circle(x, y, 4.0),
        arrow(x - 2.0, y + 2.0, x + 2.0, y - 2.0),
    ]


def proportioning(frame: Frame, node: Node) -> list[str] | None:
    """Return a valve that holds back a share of the pressure: arrow, spring, and the line from what it heeds."""
    if not _through(frame):
        return None
    left, right = frame.left[0], frame.right[0]
    y, x = left.y, frame.cx - 3.2
    parts = [wire([(frame.x, y), (x, y)], left), wire([(x + 6.4, y), (frame.end, y)], right), box(x, y - 3.2, 6.4, 6.4)]
    flow = arrow(x + 0.6, y, x + 5.8, y) if _enters_left(frame, node) else arrow(x + 5.8, y, x + 0.6, y)
    heeds = x + 7.6 if _enters_left(frame, node) else x - 1.2
    pilot = path([(heeds, y), (heeds, y + 4.6), (frame.cx, y + 4.6), (frame.cx, y + 3.2)], "ink", THIN, _BROKEN)
    return [*parts, flow, pilot, spring(frame.cx, y - 5.8, 2.6, 1.2, upright=True)]


_BROKEN = 'stroke-dasharray="0.9 0.6"'


def residual(frame: Frame, node: Node) -> list[str] | None:
    """Return a valve that shuts by itself: a ball that its spring holds in the seat, opened from the tip's side."""
    if not _through(frame):
        return None
    left, right = frame.left[0], frame.right[0]
    y, way = left.y, 1.0 if _enters_left(frame, node) else -1.0
    tip, ball, wide, end = (frame.cx + way * step for step in (-2.4, 0.1, 0.9, 5.2))
    parts = [wire([(frame.x, y), (min(tip, end), y)], left), wire([(max(tip, end), y), (frame.end, y)], right)]
    seat = inked([(wide, y - 2.6), (tip, y), (wide, y + 2.6)])
    coil = spring(min(ball + way * 1.3, end), y, abs(end - ball) - 1.3, 1.1)
    return [*parts, seat, circle(ball, y, 1.3), coil, inked([(end, y - 1.4), (end, y + 1.4)])]


def shut_off(frame: Frame, node: Node) -> list[str] | None:
    """Return a valve that is shut by hand: two triangles tip to tip, and its handle."""
    if not _through(frame):
        return None
    left, right = frame.left[0], frame.right[0]
    y, cx = left.y, frame.cx
    data = f"M{n(cx - 3)} {n(y - 1.8)} L{n(cx + 3)} {n(y + 1.8)} L{n(cx + 3)} {n(y - 1.8)} L{n(cx - 3)} {n(y + 1.8)} Z"
    parts = [wire([(frame.x, y), (cx - 3.0, y)], left), wire([(cx + 3.0, y), (frame.end, y)], right)]
    return [
        *parts,
        stroke(data, "ink", THIN, fill="paper"),
        inked([(cx, y), (cx, y - 2.8)]),
        inked([(cx - 1.5, y - 2.8), (cx + 1.5, y - 2.8)]),
    ]


def _one_left(frame: Frame) -> bool:
    return len(frame.left) == 1 and not frame.right


def _through(frame: Frame) -> bool:
    """Return whether one wire comes from either side."""
    return len(frame.left) == 1 == len(frame.right)


def _enters_left(frame: Frame, node: Node) -> bool:
    """Return whether the way that the part lets through leads from left to right."""
    one_way = node.part.one_way if node.part is not None else None
    names = one_way or ("in", "out")
    return frame.right[0].pin.ref.rpartition(".")[2] != names[0]
