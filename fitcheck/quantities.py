"""Quantities at the edge: text with a unit in, plain numbers in working units inside.

User text never reaches pint's parser, which reads more than is meant: a grammar of our own takes a sign,
a decimal number, a fraction or a mixed number, and one unit word of our table. pint is asked only to explain
a word that is not in the table.
"""

import re
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Final

from fitcheck.errors import FitcheckError
from fitcheck.naming import hint
from fitcheck.units import DIMENSIONS, UNITS

if TYPE_CHECKING:
    from pint import UnitRegistry

MOST: Final = 1e12
"""Largest magnitude taken, in working units."""
_LONGEST: Final = 60
_VULGAR: Final = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8),
    "⅞": (7, 8),
}  # fmt: skip
_NUMBER: Final = re.compile(
    r"(?P<sign>[-+\u2212]?) ?"
    r"(?:(?:(?P<whole>[0-9]++)(?: ++|-))??(?P<top>[0-9]++)[/\u2044](?P<bottom>[0-9]++)"
    r"|(?P<before>[0-9]++)? *+(?P<vulgar>[½⅓⅔¼¾⅛⅜⅝⅞])"
    r"|(?P<decimal>[0-9]++\.?[0-9]*+|\.[0-9]++))"
)
_CLOSE: Final = frozenset("\"'″”\u2032\u2019°")
"""Unit signs that stand close to the number."""
_THOUSANDS: Final = re.compile(r"[-+]? ?[0-9.]*[0-9][,_ ][0-9]")
_EXPONENT: Final = re.compile(r"[eE][-+]?[0-9]")
_PINT_BASES: Final = {
    "length": "meter", "pressure": "pascal", "force": "newton", "angle": "radian", "volume": "liter",
    "time": "second", "mass": "gram", "temperature": "kelvin",
}  # fmt: skip  # torque is left out: pint cannot tell it from energy
_SENTENCES: Final = {
    "wrong kind": "expected {phrase} such as {examples}, got {unit}",
    "no number": "expected {phrase} such as {examples}, got {text!r}",
    "bare": "a bare number where {phrase} is needed: write {examples}",
    "thousands": "{text!r}: write the number with a '.' for decimals and nothing between thousands",
    "exponent": "{text!r}: exponents are not taken; write the number out",
    "zero": "{text!r} divides by zero",
    "large": "{text!r} is too large: at most 1000000000000 {working}",
    "long": "expected {phrase} such as {examples}, got a text of {unit} characters",
    "other": "{text!r} is {other} where {phrase} is needed",
    "rare": "{unit!r} is {phrase}, but not one taken here; use {common}",
    "unknown": "{unit!r} is no unit of {dimension}{hint}; use {common}",
    "unit": "{text!r} is more than a number; a plain number is needed here",
}


class Quantity(float):
    """A value in working units that remembers, in `text`, how the user wrote it. Otherwise a plain float."""

    __slots__ = ("text",)
    text: str

    def __new__(cls, value: float, text: str) -> "Quantity":
        """Make a quantity of `value`, in working units, that was written as `text`."""
        self = super().__new__(cls, value)
        self.text = text
        return self

    def __getnewargs__(self) -> tuple[float, str]:  # type: ignore[override]  # float's own takes no text
        return float(self), self.text


class QuantityError(FitcheckError, ValueError):
    """A text that is not the quantity needed: text, dimension, kind of fault, and the word at fault."""

    def __init__(self, text: str, dimension: str, fault: str, unit: str = "") -> None:
        super().__init__(text, dimension, fault, unit)
        self.text = text
        self.dimension = dimension
        self.fault = fault
        self.unit = unit

    def __str__(self) -> str:
        return _sentence(self.text, self.dimension, self.fault, self.unit)


@lru_cache(maxsize=4096)
def parse(text: str, dimension: str) -> Quantity:
    """Return the quantity that `text` states, in the working unit of `dimension` (a key of `DIMENSIONS`).

    ``parse("3/16 in", "length")`` is 4.7625.

    Raises:
        QuantityError: the text is no number with a unit of that dimension, or larger than `MOST`.
    """
    top, bottom, word = _split(text, dimension)
    unit = UNITS.get(word)
    if unit is None:
        raise QuantityError(text, dimension, "unknown" if word else "bare", word)
    if unit.dimension != dimension:
        raise QuantityError(text, dimension, "other", word)
    up, up_10 = _decimal(unit.numerator)
    down, down_10 = _decimal(unit.denominator)
    shift, shift_10 = _decimal(unit.offset)
    top, bottom = top * shift_10 + shift * bottom, bottom * shift_10
    return Quantity(_bounded(top * up * down_10, bottom * up_10 * down, text, dimension), text.strip())


@lru_cache(maxsize=4096)
def plain_number(text: str) -> float:
    """Return the number that `text` states: a decimal, fraction or mixed number without unit.

    Raises:
        QuantityError: it is no such number, or larger than `MOST`.
    """
    top, bottom, word = _split(text, "number")
    if word:
        raise QuantityError(text, "number", "unit", word)
    return _bounded(top, bottom, text, "number")


def render(value: float, dimension: str, like: str | None = None) -> str:
    """Return `value`, in working units, as text in the unit of the quantity text `like`, or the usual one.

    ``render(4.7625, "length", "1/4 in")`` is ``0.1875 in``. As many decimals as the unit deserves,
    three figures at least, and no trailing zeros.
    """
    word = _word_of(like, dimension) or DIMENSIONS[dimension].shown
    unit = UNITS[word]
    shown = value * float(unit.denominator) / float(unit.numerator) - float(unit.offset)
    return f"{_figures(shown, unit.decimals)}{'' if word in _CLOSE else ' '}{word}"


def _word_of(like: str | None, dimension: str) -> str | None:
    try:
        word = _split(like or "", dimension)[2]
    except QuantityError:
        return None
    return word if word in UNITS and UNITS[word].dimension == dimension else None


def _figures(value: float, decimals: int) -> str:
    size = abs(value)
    if size < 1e-9:
        return "0"
    while decimals < 12 and size < 10.0 ** (2 - decimals) and round(value, decimals) != value:
        decimals += 1
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _split(text: str, dimension: str) -> tuple[int, int, str]:
    """Return the number in `text` as numerator and denominator, and the unit word after it."""
    if len(text) > _LONGEST:
        raise QuantityError("", dimension, "long", str(len(text)))
    stripped = text.strip()
    found = _NUMBER.match(stripped)
    if found is None:
        raise QuantityError(stripped, dimension, "no number")
    top, bottom = _ratio(found)
    if bottom == 0:
        raise QuantityError(stripped, dimension, "zero")
    rest = stripped[found.end() :]
    if _THOUSANDS.match(stripped) and not (found["whole"] or found["before"]):
        raise QuantityError(stripped, dimension, "thousands")
    if _EXPONENT.match(rest):
        raise QuantityError(stripped, dimension, "exponent")
    return top, bottom, " ".join(rest.split())


def _ratio(found: re.Match[str]) -> tuple[int, int]:
    if found["decimal"]:
        top, bottom = _decimal(found["decimal"])
    elif found["vulgar"]:
        top, bottom = _VULGAR[found["vulgar"]]
        top += int(found["before"] or 0) * bottom
    else:
        bottom = int(found["bottom"])
        top = int(found["top"]) + int(found["whole"] or 0) * bottom
    return (top, bottom) if found["sign"] in ("", "+") else (-top, bottom)


def _decimal(text: str) -> tuple[int, int]:
    before, _, after = text.partition(".")
    return int(before + after), 10 ** len(after)


def _bounded(top: int, bottom: int, text: str, dimension: str) -> float:
    value = top / bottom  # of whole numbers: rounded once, correctly
    if abs(value) > MOST:
        raise QuantityError(text.strip(), dimension, "large")
    return value


@lru_cache(maxsize=1024)
def _sentence(text: str, dimension: str, fault: str, unit: str) -> str:
    if dimension == "number":
        phrase, working, examples, common = "a plain number", "", "25 or 0.5", ""
    else:
        phrase, working, _, (first, second), common = DIMENSIONS[dimension]
        examples = f"{first!r} or {second!r}"
    other = ""
    if fault == "other":
        other = DIMENSIONS[UNITS[unit].dimension].phrase
    elif fault == "unknown":
        known = _dimension_by_pint(unit)
        if known is not None:
            fault, other = ("rare" if known == dimension else "other"), DIMENSIONS[known].phrase
    near = hint(unit, [word for word, its in UNITS.items() if its.dimension == dimension])
    return _SENTENCES[fault].format(
        text=text, dimension=dimension, phrase=phrase, working=working, examples=examples, common=common,
        unit=unit, other=other, hint=near,
    ).rstrip()  # fmt: skip


def _dimension_by_pint(word: str) -> str | None:
    """Return the dimension of a unit that we do not take but pint knows, or None."""
    if not (word.isascii() and word.isalpha() and 3 <= len(word) <= 20):
        return None
    registry = _registry()
    names = registry.parse_unit_name(word)
    if not names:
        return None
    _, root = registry.get_root_units("".join(names[0][:2]))
    for dimension, base in _PINT_BASES.items():
        if root == registry.get_root_units(base)[1]:
            return dimension
    return None


@cache
def _registry() -> "UnitRegistry[float]":
    from pint import UnitRegistry  # 120 ms, only for a message about an unknown unit

    return UnitRegistry()
