"""Figures of filling, bleeding and leak-testing, and what is assumed of wear and of how hot fluid gets."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Final, NamedTuple

from fitcheck.standards.figures import measure, number
from fitcheck.standards.unknown import UnknownNameError

_POUND_FORCE_N: Final = 4.4482216152605
_PSI_MPA: Final = _POUND_FORCE_N / 25.4**2
_FACTORS: Final = {
    "": 1.0,
    "strokes": 1.0,
    "turns": 1.0,
    "psi": _PSI_MPA,
    "bar": 0.1,
    "lbf": _POUND_FORCE_N,
    "s": 1.0,
    "min": 60.0,
    "h": 3600.0,
}
"""Working units (MPa, N, s, plain numbers) in one printed unit, exact by definition."""


class UnknownBleedFigureError(UnknownNameError):
    """A figure that the table does not hold."""

    what = "figure of bleeding"


class BleedFigure(NamedTuple):
    """One figure as it is printed, from `low` to `high` in `unit`, what to take of it, and where it comes from.

    `value`, `least` and `most` are in working units: MPa, N, s, or plain numbers.
    """

    name: str
    unit: str
    low: float
    high: float
    value: float
    mark: str

    @property
    def factor(self) -> float:
        """Working units in one of its printed units."""
        return _FACTORS[self.unit]

    @property
    def least(self) -> float:
        """Its lower end in working units."""
        return self.low * self.factor

    @property
    def most(self) -> float:
        """Its upper end in working units."""
        return self.high * self.factor


class Wear(NamedTuple):
    """How far each piston of a kind of brake follows its linings until they are worn out [mm]; an assumption."""

    mm: float
    mark: str


class Duty(NamedTuple):
    """How hot fluid gets on a duty [degC], and how far below its boiling point it has to stay [K]."""

    hottest_degc: float
    margin_k: float
    mark: str


def _table() -> Mapping[str, Any]:
    from fitcheck.standards.tables import load

    return load("bleeding")


@lru_cache(maxsize=1)
def bleed_figures() -> dict[str, BleedFigure]:
    """Return every figure by its name, in the table's order."""
    return {name: _figure(name, row) for name, row in _table()["figures"].items()}


def _figure(name: str, row: Mapping[str, str]) -> BleedFigure:
    low = number(row["low"] if "low" in row else row["value"])
    high = number(row["high"] if "high" in row else row["value"])
    value = number(row["value"]) if "value" in row else (low + high) / 2.0
    return BleedFigure(name, row["unit"], low, high, value * _FACTORS[row["unit"]], row["mark"])


def bleed_figure(name: str) -> BleedFigure:
    """Return one figure.

    >>> bleed_figure("high_test").least, round(bleed_figure("pedal_test").value, 1)
    (10.0, 556.0)

    Raises:
        UnknownBleedFigureError: there is none of that name; the message gives the nearest.
    """
    found = bleed_figures().get(name)
    if found is None:
        raise UnknownBleedFigureError(name, bleed_figures())
    return found


def lining_wear(kind: str) -> Wear | None:
    """Return how far pistons follow the linings of a kind of brake; None for what has none."""
    row = _table()["wear"].get(kind)
    return Wear(measure(row["wear"]), row["mark"]) if row is not None else None


def duty(name: str) -> Duty | None:
    """Return how hot fluid gets on a duty; None for one that no figure is known for.

    >>> duty("track").hottest_degc, duty("road")
    (200.0, None)
    """
    row = _table()["duty"].get(name)
    return Duty(number(row["hottest"]), number(row["margin"]), row["mark"]) if row is not None else None
