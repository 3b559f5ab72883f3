"""The frame that a symbol is drawn in, and pieces that several symbols share."""

from typing import Final, NamedTuple

from fitcheck.reports.diagram.record import PlacedPin
from fitcheck.reports.drawing import Spot, path, stroke
from fitcheck.reports.svg_parts import n

THIN: Final = 0.3
_ROUND: Final = 'stroke-linejoin="round" stroke-linecap="round"'
PRESSED_MM: Final = 0.6
FED_MM: Final = 0.35
"""Widths of wires: with pressure and without, so that they are told apart without colour."""


class Frame(NamedTuple):
    """Where a symbol is drawn: left, top, width, height, and its wires on both sides, which end at the frame."""

    x: float
    y: float
    w: float
    h: float
    left: tuple[PlacedPin, ...]
    right: tuple[PlacedPin, ...]
    top: tuple[PlacedPin, ...] = ()

    @property
    def cx(self) -> float:
        """The middle from left to right."""
        return self.x + self.w / 2.0

    @property
    def cy(self) -> float:
        """The middle from top to bottom."""
        return self.y + self.h / 2.0

    @property
    def end(self) -> float:
        """The right edge."""
        return self.x + self.w

    @property
    def foot(self) -> float:
        """The lower edge."""
        return self.y + self.h


def wire(points: list[Spot], pin: PlacedPin) -> str:
    """Return a piece of wire of the kind that a pin carries: fluid, or force as a double line."""
    return line(points, pin.pin.mechanical, pin.pin.colour)


def line(points: list[Spot], mechanical: bool, colour: str) -> str:
    """Return a wire: force as a double line, fluid thick with pressure and thin without."""
    if mechanical:
        return path(points, "ink", 1.2) + path(points, "paper", 0.6)
    return path(points, colour, FED_MM if colour == "ink" else PRESSED_MM, _ROUND)


def box(x: float, y: float, w: float, h: float) -> str:
    """Return the outline of a box, with paper inside."""
    place = f'x="{n(x)}" y="{n(y)}" width="{n(w)}" height="{n(h)}"'
    return f'<rect {place} class="s-ink f-paper" stroke-width="{n(THIN)}"/>'


def solid(x: float, y: float, w: float, h: float) -> str:
    """Return a box full of ink."""
    return f'<rect x="{n(x)}" y="{n(y)}" width="{n(w)}" height="{n(h)}" class="f-ink"/>'


def circle(x: float, y: float, r: float, fill: str = "paper") -> str:
    """Return a circle."""
    return f'<circle cx="{n(x)}" cy="{n(y)}" r="{n(r)}" class="s-ink f-{fill}" stroke-width="{n(THIN)}"/>'


def dot(x: float, y: float, colour: str) -> str:
    """Return the dot that says that lines join here."""
    return f'<circle cx="{n(x)}" cy="{n(y)}" r="0.9" class="f-{colour}"/>'


def inked(points: list[Spot]) -> str:
    """Return a thin line of ink."""
    return path(points, "ink", THIN)


def cross(x: float, y: float, half: float = 1.2) -> str:
    """Return the cross that says that a line is closed here."""
    data = f"M{n(x - half)} {n(y - half)} L{n(x + half)} {n(y + half)} M{n(x - half)} {n(y + half)}"
    return stroke(f"{data} L{n(x + half)} {n(y - half)}", "ink", 0.45)


def spring(x: float, y: float, length: float, half: float = 1.0, upright: bool = False) -> str:
    """Return a spring as a zigzag from a point to the right, or downwards."""
    steps = [(length * index / 5.0, (0.0 if index in (0, 5) else half * (-1) ** index)) for index in range(6)]
    return inked([(x + b, y + a) if upright else (x + a, y + b) for a, b in steps])


def arrow(x: float, y: float, to_x: float, to_y: float) -> str:
    """Return a thin arrow."""
    long = ((to_x - x) ** 2 + (to_y - y) ** 2) ** 0.5
    ux, uy = (to_x - x) / long, (to_y - y) / long
    left = (to_x - 1.6 * ux - 0.6 * uy, to_y - 1.6 * uy + 0.6 * ux)
    right = (to_x - 1.6 * ux + 0.6 * uy, to_y - 1.6 * uy - 0.6 * ux)
    head = " ".join(f"{n(a)} {n(b)} L" for a, b in (left, (to_x, to_y), right))[:-2]
    return inked([(x, y), (to_x, to_y)]) + stroke(f"M{head} Z", "ink", THIN, fill="ink")
