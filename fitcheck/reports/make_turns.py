"""How each bend lies to the one before, seen along the tube from end A: in words and as a small dial."""

from collections.abc import Iterator
from math import cos, radians, sin
from typing import Final

from fitcheck.making.sheet import Sheet, SheetBend
from fitcheck.reports import svg_parts as svg
from fitcheck.reports.make_curve import NO_TURN_DEG, Spot
from fitcheck.reports.make_words import degrees

_ACROSS: Final = 4
"""Dials in a row."""
_CELL: Final = (svg.PAGE_MM - 2.0 * svg.MARGIN_MM) / _ACROSS
_TALL: Final = 40.0
_ROUND: Final = 11.0
_TUBE: Final = 1.8
_ARC: Final = 7.0
_FULL: Final = svg.PAGE_MM - 2.0 * svg.MARGIN_MM
_HOW: Final = (
    "Turns between bends, clockwise seen along the tube from end A towards end B. Round dot: the tube, seen from its"
    " end. Dashed bar, always up: where the tube comes from, the bend before. Arrow: where the bend goes."
)


def turn_words(bend: SheetBend, before: int) -> str:
    """Return how a bend lies to that of number `before`, seen along the tube from end A."""
    turned = bend.rotation_deg
    if turned is None:
        return "not given"
    if abs(turned) < NO_TURN_DEG:
        return f"the way of bend {before}"
    if abs(turned) > 180.0 - NO_TURN_DEG:
        return f"opposite to bend {before}"
    return f"{degrees(abs(turned))} {'clockwise' if turned > 0.0 else 'anticlockwise'}"


def turns(made: Sheet, y: float) -> tuple[list[str], float]:
    """Return a dial for each rotation beginning at `y`, and where they end; nothing if there is no second bend."""
    if len(made.bends) < 2:
        return [], y
    body, y = svg.block(svg.MARGIN_MM, y + 4.0, 3.2, _FULL, _HOW)
    for index in range(1, len(made.bends)):
        row, column = divmod(index - 1, _ACROSS)
        body += _dial(made.bends[index], index, svg.MARGIN_MM + column * _CELL, y + row * _TALL)
    rows = -(-(len(made.bends) - 1) // _ACROSS)
    return body, y + rows * _TALL


def _dial(bend: SheetBend, before: int, x: float, y: float) -> Iterator[str]:
    middle = x + _CELL / 2.0, y + 6.0 + _ROUND
    yield svg.text(middle[0], y + 3.0, 3.6, f"Bend {before + 1}", anchor="middle", bold=True)
    place = f'cx="{svg.n(middle[0])}" cy="{svg.n(middle[1])}"'
    yield f'<circle {place} r="{svg.n(_ROUND)}" fill="#fff" stroke="#000" stroke-width="0.2"/>'
    yield from _clock(middle)
    yield svg.line([middle, _at(middle, 0.0, _ROUND - 1.0)], width=_TUBE, dash="1.6 0.9")
    if bend.rotation_deg is None:
        yield svg.text(middle[0], middle[1] + 8.0, 7.0, "?", anchor="middle", bold=True)
    else:
        yield from _goes(middle, bend.rotation_deg)
    yield f'<circle {place} r="{svg.n(_TUBE)}" fill="#000"/>'
    yield svg.text(middle[0], y + 2.0 * _ROUND + 11.0, 3.4, turn_words(bend, before), anchor="middle", bold=True)
    if bend.rotation_deg is None:
        yield svg.text(middle[0], y + 2.0 * _ROUND + 15.0, 2.8, "take it from the car", anchor="middle")


def _clock(middle: Spot) -> Iterator[str]:
    """Yield ticks each 30 degrees."""
    for hour in range(12):
        yield svg.line([_at(middle, hour * 30.0, _ROUND - 0.8), _at(middle, hour * 30.0, _ROUND)], width=0.2)


def _goes(middle: Spot, turned: float) -> Iterator[str]:
    """Yield the arrow of a bend, and an arc with a head from straight up to it."""
    aside = 0.0 if abs(turned) >= NO_TURN_DEG else 2.4
    foot = (middle[0] + aside, middle[1])
    shown = turned if not aside else 0.0
    yield f'<g class="goes">{svg.line([foot, _at(foot, shown, _ROUND - 2.6)], width=_TUBE / 2.0)}</g>'
    yield _head(_at(foot, shown, _ROUND - 0.3), shown)
    if abs(turned) < 20.0:
        return
    ends = _at(middle, 0.0, _ARC), _at(middle, turned, _ARC)
    way = 1 if turned > 0.0 else 0
    d = f"M{svg.n(ends[0][0])} {svg.n(ends[0][1])} A{svg.n(_ARC)} {svg.n(_ARC)} 0 0 {way} "
    yield f'<path d="{d}{svg.n(ends[1][0])} {svg.n(ends[1][1])}" fill="none" stroke="#000" stroke-width="0.3"/>'
    yield _head(ends[1], turned + (90.0 if way else -90.0), 2.0)


def _at(middle: Spot, turned_deg: float, far: float) -> Spot:
    """Return a spot on a dial: 0 is up, clockwise positive."""
    turned = radians(turned_deg)
    return middle[0] + far * sin(turned), middle[1] - far * cos(turned)


def _head(tip: Spot, turned_deg: float, long: float = 3.0) -> str:
    """Return an arrow's head that points the way of `turned_deg`."""
    base = _at(tip, turned_deg, -long)
    side = _at((0.0, 0.0), turned_deg + 90.0, long * 0.42)
    corners = [tip, (base[0] + side[0], base[1] + side[1]), (base[0] - side[0], base[1] - side[1])]
    return f'<path d="{svg.path_data(corners, closed=True)}" fill="#000"/>'
