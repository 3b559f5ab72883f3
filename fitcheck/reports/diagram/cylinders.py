"""Symbols of pedals, cylinders and brakes.

Source: ISO 1219-1:2012, from memory, in its general words: a cylinder is a box with a piston across it and its rod out
of one end; single-acting has one fluid port, and a spring where one brings it back; a mechanical connection is a
double line. Pedal, disc and shoes: their shape, common practice, no source.
"""

from typing import Final

from fitcheck.reports.diagram.record import Node, PlacedPin
from fitcheck.reports.diagram.strokes import Frame, box, circle, inked, line, solid, spring, wire
from fitcheck.reports.drawing import Spot

_ROD_MM: Final = 4.0


def pedal(frame: Frame, node: Node) -> list[str] | None:
    """Return a pedal that hangs from its pivot, and the rods that it pushes."""
    if frame.left:
        return None
    x, y, cy = frame.x + 3.0, frame.y + 1.5, frame.cy
    rows = [pin.y for pin in frame.right] or [cy]
    arm = (frame.x + 7.0, max(cy + 3.0, rows[-1] + 2.0))
    parts = [inked([(x + 2.4, y), arm]), circle(x + 2.4, y, 0.8)]
    parts.append(line([(arm[0] - 2.2, arm[1] + 0.6), (arm[0] + 1.4, arm[1] - 0.6)], False, "ink"))
    parts.append(line([(frame.end - 1.0, min(rows[0], cy) - 2.0), (frame.end - 1.0, rows[-1] + 2.0)], True, "ink"))
    parts.append(line([(x + 3.2, cy), (frame.end - 1.0, cy)], True, "ink"))
    return [*parts, *(wire([(frame.end - 1.0, pin.y), (frame.end, pin.y)], pin) for pin in frame.right)]


def master(frame: Frame, node: Node) -> list[str] | None:
    """Return a master cylinder: the rod pushes a piston, two in line where there are two outlets."""
    rods = [pin for pin in frame.left if pin.pin.mechanical]
    if len(rods) > 1 or any(pin.pin.mechanical for pin in frame.right):
        return None
    start, top, foot = frame.x + _ROD_MM, frame.y + 1.0, frame.foot - 1.0
    wide = frame.end - start
    parts = [box(start, top, wide, foot - top)]
    fed = [pin for pin in frame.left if pin not in rods]
    rod_y = rods[0].y if rods else frame.cy
    outlets = len(node.part.outlets) if node.part is not None else 1
    pistons = [start + 2.0] if outlets < 2 else [start + 1.6, start + wide * 0.55]
    for piston in pistons:
        parts.append(solid(piston, top, 1.0, foot - top))
        parts.append(spring(piston + 1.0, frame.cy, 3.6, 0.9))
    rod_x = start - 1.8 if fed and not rods else frame.x
    parts.append(line([(rod_x, rod_y), (pistons[0], rod_y)], True, "ink"))
    parts += _feeds(frame, fed, rod_y, pistons[0] + 2.5)
    for pin in frame.top:
        foot_x = pin.foot if pin.foot is not None else pin.x
        way: list[Spot] = [(pin.x, pin.y), (pin.x, frame.y - 0.8), (foot_x, frame.y - 0.8), (foot_x, top)]
        parts.append(wire(way, pin))
    return parts


def _feeds(frame: Frame, fed: list[PlacedPin], rod_y: float, x: float) -> list[str]:
    """Return wires that feed a cylinder from the rod's side: the lowest goes round it, past the piston."""
    lowest = max(fed, key=lambda pin: pin.y, default=None)
    parts = [wire([(frame.x, pin.y), (frame.x + _ROD_MM, pin.y)], pin) for pin in fed if pin is not lowest]
    if lowest is None:
        return parts
    if lowest.y < rod_y:
        return [*parts, wire([(frame.x, lowest.y), (frame.x + _ROD_MM, lowest.y)], lowest)]
    down, under = frame.x + 0.8, frame.foot - 0.3
    way: list[Spot] = [(frame.x, lowest.y), (down, lowest.y), (down, under), (x, under), (x, frame.foot - 1.0)]
    return [*parts, wire(way, lowest)]


def slave(frame: Frame, node: Node) -> list[str] | None:
    """Return a single-acting cylinder, its rod out of the far end."""
    if any(pin.pin.joint is not None for pin in frame.right) or any(pin.pin.mechanical for pin in frame.left):
        return None
    end, top, foot = frame.end - _ROD_MM, frame.y + 1.5, frame.foot - 1.5
    piston = frame.x + 3.5
    parts = [box(frame.x, top, end - frame.x, foot - top), solid(piston, top, 1.0, foot - top)]
    rod = line([(piston + 1.0, frame.cy), (frame.end, frame.cy)], True, "ink")
    return [*parts, rod, *(wire([(end, pin.y), (frame.end, pin.y)], pin) for pin in frame.right)]


def wheel(frame: Frame, node: Node) -> list[str] | None:
    """Return a wheel cylinder: two pistons pushed apart, and the shoes that they push."""
    if not _from_left(frame) or _chambers(frame, node) > 1:
        return None
    x, cy = frame.x + 3.0, frame.cy
    parts = [_collected(frame, x, cy), box(x, cy - 3.6, 4.6, 7.2)]
    for way in (-1.0, 1.0):
        face = cy + way * 1.6
        parts.append(solid(x, min(face, face + way * 0.8), 4.6, 0.8))
        parts.append(line([(x + 2.3, face + way * 0.8), (x + 2.3, cy + way * 4.6)], True, "ink"))
        ends = [
            (x - 0.9, cy + way * 4.2),
            (x + 0.4, cy + way * 4.8),
            (x + 4.2, cy + way * 4.8),
            (x + 5.5, cy + way * 4.2),
        ]
        parts.append(line(ends, False, "ink"))
    return parts


def caliper(frame: Frame, node: Node) -> list[str] | None:
    """Return a caliper on its disc: cylinders on both sides, or one and the far pad where there are none opposite."""
    if not _from_left(frame) or _chambers(frame, node) > 1:
        return None
    x, cy = frame.x + 3.0, frame.cy
    opposed = node.part is not None and node.part.style != "floating" and len(node.part.pistons) != 1
    parts = [solid(x + 0.8, cy - 0.5, frame.w - 4.0, 1.0)]
    parts.append(_collected(frame, x, cy - 3.8, cy + 3.8) if opposed else _collected(frame, x, cy - 3.8))
    for way in (-1.0, 1.0):
        pad = cy + way * 1.1
        parts.append(solid(x + 1.2, min(pad, pad + way * 0.7), 3.6, 0.7))
        if way < 0.0 or opposed:
            parts += _pusher(x, cy, way)
        else:
            parts.append(inked([(x + 6.0, cy - 3.8), (x + 7.2, cy - 3.8), (x + 7.2, cy + 2.6), (x + 3.0, cy + 2.6)]))
            parts.append(inked([(x + 3.0, cy + 2.6), (x + 3.0, cy + 1.8)]))
    return parts


def _pusher(x: float, cy: float, way: float) -> list[str]:
    """Return one cylinder of a caliper with its piston towards the disc."""
    back, front = cy + way * 5.6, cy + way * 2.6
    body = box(x, min(back, front), 6.0, 3.0)
    face = cy + way * 3.2
    rod = line([(x + 3.0, face), (x + 3.0, cy + way * 1.8)], True, "ink")
    return [body, solid(x, min(face, face + way * 0.7), 6.0, 0.7), rod]


def _from_left(frame: Frame) -> bool:
    """Return whether all wires of a brake come from the left, with at least one."""
    return bool(frame.left) and not frame.right and not any(pin.pin.mechanical for pin in frame.left)


def _chambers(frame: Frame, node: Node) -> int:
    """Return how many spaces the wires of a brake lead to that share no fluid: they must not be led together."""
    names = {pin.pin.ref.rpartition(".")[2] for pin in frame.left}
    return sum(not names.isdisjoint(group) for group in node.part.passages) if node.part is not None else 1


def _collected(frame: Frame, x: float, *to: float) -> str:
    """Return the wires of a brake led together, and to each of its cylinders at the heights `to`."""
    first = frame.left[0]
    bus = frame.x + 1.4
    rows = [*(pin.y for pin in frame.left), *to]
    parts = [wire([(frame.x, pin.y), (bus, pin.y)], pin) for pin in frame.left]
    if min(rows) < max(rows):
        parts.append(wire([(bus, min(rows)), (bus, max(rows))], first))
    return "".join([*parts, *(wire([(bus, y), (x, y)], first) for y in to)])


def bleed_way(kind: str, x: float, y: float, wide: float, tall: float) -> tuple[list[Spot], float]:
    """Return where the line to the bleed point of a brake or slave begins, and the height at which it goes on right."""
    cy = y + tall / 2.0
    if kind == "slave cylinder":
        return [(x + 1.6, y + 1.5), (x + 1.6, y + 1.0)], y + 1.0
    if kind == "wheel cylinder":
        return [(x + 7.6, cy)], cy
    return [(x + 9.0, cy - 4.1)], cy - 4.1
