"""Numbers and letters beside a drawing, where there is room for them. Lengths in mm on paper."""

from collections.abc import Iterable, Iterator
from itertools import chain
from math import atan2, cos, hypot, pi, sin
from typing import Final

from fitcheck.reports import svg_parts as svg

Spot = tuple[float, float]
RADIUS_MM: Final = 2.5
_SIZE: Final = 3.4
_DISTANCES: Final = (4.0, 6.0, 8.5, 11.5, 15.0)
_WAYS: Final = 16


class Labels:
    """Labels of one drawing: each is put where it covers neither the tube nor another label, if there is such a place.

    `inside` is the frame that labels keep to: left, top, right, bottom.
    """

    def __init__(self, tube: Iterable[Spot], half_mm: float, inside: tuple[float, float, float, float]) -> None:
        self._tube = list(tube)
        self._half = half_mm
        self._inside = inside
        self._placed: list[Spot] = []

    def add(self, name: str, at: Spot, away: Spot, boxed: bool = False) -> list[str]:
        """Return a label for `at`, with a line to it, on the side of `away` if there is room. Ends are boxed."""
        spots = self._spots(at, atan2(away[1], away[0]))
        first = next(spots)
        x, y = next(filter(self._free, chain((first,), spots)), first)
        self._placed.append((x, y))
        far = hypot(x - at[0], y - at[1])
        edge = (x + (at[0] - x) * RADIUS_MM / far, y + (at[1] - y) * RADIUS_MM / far)
        return [
            svg.line([at, edge], width=0.15),
            shape(x, y, name if boxed else ""),
            svg.text(x, y + 1.2, _SIZE, name, anchor="middle"),
        ]

    def _spots(self, at: Spot, first: float) -> Iterator[Spot]:
        left, top, right, bottom = self._inside
        for far in _DISTANCES:
            for way in range(_WAYS):
                turned = first + (way + 1) // 2 * (1 if way % 2 else -1) * 2.0 * pi / _WAYS
                reach = self._half + far
                x, y = at[0] + reach * cos(turned), at[1] + reach * sin(turned)
                yield min(max(x, left), right), min(max(y, top), bottom)

    def _free(self, spot: Spot) -> bool:
        off_tube = RADIUS_MM + self._half + 0.3
        return all(hypot(spot[0] - x, spot[1] - y) > off_tube for x, y in self._tube) and all(
            hypot(spot[0] - x, spot[1] - y) > 2.0 * RADIUS_MM + 0.8 for x, y in self._placed
        )


def shape(x: float, y: float, boxed: str) -> str:
    """Return what a label stands in: a circle for a bend, a box that holds the words for an end."""
    look = 'fill="#fff" stroke="#000" stroke-width="0.3"'
    if boxed:
        wide = max(2.0 * RADIUS_MM, len(boxed) * _SIZE * 0.6 + 1.6)
        corner = f'x="{svg.n(x - wide / 2.0)}" y="{svg.n(y - RADIUS_MM)}"'
        return f'<rect {corner} width="{svg.n(wide)}" height="{svg.n(2.0 * RADIUS_MM)}" {look}/>'
    return f'<circle cx="{svg.n(x)}" cy="{svg.n(y)}" r="{svg.n(RADIUS_MM)}" {look}/>'
