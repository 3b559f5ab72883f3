"""From the text of a standards table to plain numbers: the one place where printed units are converted.

The tables keep each figure in the unit it was printed in, so that nobody types in a converted column. Working
units are coherent on the millimetre: mm, N, MPa, N mm, mm3, s, degC.
"""

from functools import lru_cache
from typing import Final

from fitcheck.errors import FitcheckError

INCH_MM: Final = 25.4
_POUND_FORCE_N: Final = 4.4482216152605
_PSI_MPA: Final = _POUND_FORCE_N / INCH_MM**2
_FOOT_MM: Final = 12 * INCH_MM

FACTORS: Final = {
    "mm": 1.0,
    "m": 1000.0,
    "in": INCH_MM,
    "MPa": 1.0,
    "GPa": 1000.0,
    "psi": _PSI_MPA,
    "ksi": 1000 * _PSI_MPA,
    "N m": 1000.0,
    "lb ft": _POUND_FORCE_N * _FOOT_MM,
    "cc/ft": 1000 / _FOOT_MM,
    "degC": 1.0,
    "mm2/s": 1.0,
    "deg": 1.0,
    "min": 60.0,
    "s": 1.0,
    "N": 1.0,
    "m/s2": 1000.0,
    "km/h": 1e6 / 3600,
    "m/min": 1000 / 60,
    "ft/min": _FOOT_MM / 60,
}
"""Working units in one printed unit, exact by definition. `cc/ft` becomes mm3 for each mm of length, speeds mm/s."""

_PLACES: Final = 9
"""Decimals kept: 0.028 in is 0.7112 mm, not 0.7111999999999999."""


class FigureError(FitcheckError, ValueError):
    """A text of a standards table that is not the figure it should be.

    Attributes:
        text: what stands in the table.
        expected: what should stand there, in words.
    """

    def __init__(self, text: str, expected: str) -> None:
        super().__init__(text, expected)
        self.text = text
        self.expected = expected

    def __str__(self) -> str:
        return f"expected {self.expected}, got {self.text!r}"


def number(text: str) -> float:
    """Return the number that `text` prints: `0.028`, `3/16`, `1 1/4`.

    Raises:
        FigureError: `text` is none of these.
    """
    try:
        parts = [_ratio(word) for word in text.split()]
    except (ValueError, ZeroDivisionError):
        parts = []
    if not parts:
        raise FigureError(text, "a number or a fraction")
    return sum(parts)


def _ratio(word: str) -> float:
    top, slash, bottom = word.partition("/")
    return float(top) / float(bottom) if slash else float(word)


@lru_cache(maxsize=4096)
def measure(text: str, unit: str | None = None) -> float:
    """Return the figure `text` in working units.

    Args:
        text: a number with its unit, `3/16 in`; or a number alone, meant in `unit`.
        unit: the table's unit, for numbers printed without one.

    Raises:
        FigureError: `text` is no number, or its unit is none of `FACTORS`.
    """
    figure, own_unit = _split(text)
    factor = FACTORS.get(own_unit or unit or "")
    if factor is None:
        raise FigureError(text, f"a number and one of the units {', '.join(FACTORS)}")
    return round(number(figure) * factor, _PLACES)


def _split(text: str) -> tuple[str, str]:
    for position, letter in enumerate(text):
        if letter.isalpha():
            return text[:position].strip(), text[position:].strip()
    return text.strip(), ""


def measure_if(text: str | None, unit: str | None = None) -> float | None:
    """Return `measure(text, unit)`, or None where the table leaves the figure out."""
    return None if text is None else measure(text, unit)


def interval(text: str, unit: str | None = None) -> tuple[float, float]:
    """Return both ends of `4.4 to 4.6 mm` in working units; of a single figure, that figure twice.

    Raises:
        FigureError: as `measure`.
    """
    low, word, high = text.partition(" to ")
    if not word:
        value = measure(text, unit)
        return value, value
    own_unit = _split(high)[1] or unit
    return measure(low, own_unit), measure(high, own_unit)


def flag(text: str) -> bool:
    """Return True for `yes`, False for `no`.

    Raises:
        FigureError: `text` is neither.
    """
    if text not in ("yes", "no"):
        raise FigureError(text, "yes or no")
    return text == "yes"
