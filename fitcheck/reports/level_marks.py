"""The mark of a finding on a drawing: its number in a shape that says its level without colour."""

from math import cos, pi, sin
from typing import Final

from fitcheck.checks.findings import Level
from fitcheck.reports.drawing import Spot, text
from fitcheck.reports.svg_parts import n

SHAPES: Final[dict[Level, str]] = {"error": "octagon", "warning": "triangle", "note": "circle"}
"""What each level's mark is: a level is read from its shape, with its number in it."""
_HIGH: Final = 4.6
_NUMBER: Final = 2.4
_DIGIT: Final = 1.5
_IN_TRIANGLE: Final = 2.2, 1.8
"""Size of a number of one digit in a triangle, and of more: they have to stay within its sides."""


def mark_size(number: int) -> Spot:
    """Return how wide and high the mark of a number is [mm]."""
    more = max(0, len(str(number)) - 2) * _DIGIT
    return _HIGH + 1.0 + more, _HIGH


def level_mark(x: float, y: float, number: int, level: Level) -> str:
    """Return the mark of a finding around its middle: number and shape, in a group that has both as data."""
    wide, high = mark_size(number)
    shape = _shape(x, y, wide / 2.0, high / 2.0, level)
    size, low = (_NUMBER, 0.85) if level != "warning" else (_IN_TRIANGLE[number > 9], 1.35)
    words = text(x, y + low, size, str(number), anchor="middle", bold=True)
    return f'<g data-finding="{number}" data-level="{level}">{shape}{words}</g>'


def _shape(x: float, y: float, half: float, tall: float, level: Level) -> str:
    look = f'class="s-{level} f-paper" stroke-width="0.6"'
    if level == "note":
        return f'<ellipse cx="{n(x)}" cy="{n(y)}" rx="{n(half - 0.3)}" ry="{n(tall - 0.3)}" {look}/>'
    if level == "warning":
        corners = [(x, y - tall + 0.3), (x + half - 0.1, y + tall - 0.3), (x - half + 0.1, y + tall - 0.3)]
    else:
        turns = [(2 * step + 1) * pi / 8.0 for step in range(8)]
        corners = [(x + (half - 0.1) * cos(turn), y + (tall - 0.1) * sin(turn)) for turn in turns]
    points = " ".join(f"{n(a)},{n(b)}" for a, b in corners)
    return f'<polygon points="{points}" {look} stroke-linejoin="round"/>'
