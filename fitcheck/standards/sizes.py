"""Tube sizes by outside diameter: which count as one, and what each is called.

An inch tube and its metric twin differ by less than the tolerance of either, so one flare and one nut serve
both: 3/16 in and 4.75 mm, 5/16 in and 8 mm. 1/4 in and 6 mm, 3/8 in and 10 mm differ by more than a flaring
die or a nut's bore forgives, whatever the counter says.
"""

from functools import lru_cache
from typing import Final

from fitcheck.standards.figures import INCH_MM

SAME_WITHIN_MM: Final = 0.1
"""Common practice, no source; SAE J526 lets 3/16 to 3/8 in tube vary by 0.003 in (0.076 mm) either way."""

_DUST_MM: Final = 1e-9
_NAMED_WITHIN_MM: Final = 0.005
"""A size is called by its name this near to it: 4.76 mm is 3/16 in, 4.75 mm is not."""

TUBE_SIZES: Final = {
    "1/8 in": round(1 / 8 * INCH_MM, 4),
    "3/16 in": round(3 / 16 * INCH_MM, 4),
    "1/4 in": round(1 / 4 * INCH_MM, 4),
    "5/16 in": round(5 / 16 * INCH_MM, 4),
    "3/8 in": round(3 / 8 * INCH_MM, 4),
    "7/16 in": round(7 / 16 * INCH_MM, 4),
    "1/2 in": round(1 / 2 * INCH_MM, 4),
    "4.75 mm": 4.75,
    "5 mm": 5.0,
    "6 mm": 6.0,
    "8 mm": 8.0,
    "10 mm": 10.0,
}
"""Outside diameter [mm] of each tube size that brake and clutch lines are made in, by its name."""


def same_tube(a_mm: float, b_mm: float) -> bool:
    """Return whether tubes of these outside diameters [mm] count as one size.

    They do within 0.1 mm, that limit included. The comparison forgives the last digits of binary fractions.

    >>> same_tube(3 / 16 * 25.4, 4.75), same_tube(5 / 16 * 25.4, 8), same_tube(1 / 4 * 25.4, 6)
    (True, True, False)
    """
    return abs(a_mm - b_mm) <= SAME_WITHIN_MM + _DUST_MM


@lru_cache(maxsize=1024)
def size_name(mm: float) -> str:
    """Return what a tube of this outside diameter [mm] is called: `3/16 in`, or plainly `4.9 mm`.

    Bores of hoses and eyes come in the same sizes.

    >>> size_name(4.7625), size_name(4.75), size_name(4.9)
    ('3/16 in', '4.75 mm', '4.9 mm')
    """
    name = min(TUBE_SIZES, key=lambda size: abs(TUBE_SIZES[size] - mm))
    return name if abs(TUBE_SIZES[name] - mm) <= _NAMED_WITHIN_MM else f"{mm:.2f}".rstrip("0").rstrip(".") + " mm"
