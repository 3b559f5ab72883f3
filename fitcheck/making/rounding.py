"""How finely a tape is read: to the nearest half millimetre, or 1/32 in."""

from fractions import Fraction
from math import floor
from typing import Final

INCH_MM: Final = 25.4
HALF_MM: Final = 0.5
FINEST_INCH: Final = 32
"""Parts of an inch that a workshop rule shows."""


def nearest_half_mm(mm: float) -> float:
    """Return a length to the nearest half millimetre; what lies in the middle goes up.

    >>> nearest_half_mm(105.7), nearest_half_mm(105.75)
    (105.5, 106.0)
    """
    return floor(mm / HALF_MM + 0.5) * HALF_MM


def nearest_32nd(mm: float) -> Fraction:
    """Return a length [mm] in inches, to the nearest 1/32; what lies in the middle goes up.

    >>> nearest_32nd(13.5033 * 25.4)
    Fraction(27, 2)
    """
    return Fraction(floor(mm / INCH_MM * FINEST_INCH + 0.5), FINEST_INCH)


def rounded_mm(mm: float, unit: str) -> float:
    """Return a length [mm] as it is read off a tape in `unit`, `mm` or `in`."""
    return float(nearest_32nd(mm)) * INCH_MM if unit == "in" else nearest_half_mm(mm)
