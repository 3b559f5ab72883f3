"""Residual valves: what they hold for discs and for drums, and how high a column of fluid that carries."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Literal, NamedTuple

from fitcheck.standards.figures import interval, measure, number
from fitcheck.standards.fluids import Family

_GRAVITY = 9.80665
"""Standard gravity [m/s2], exact by definition (CGPM 1901)."""


class Held(NamedTuple):
    """What a residual valve holds [MPa]: the usual setting and the range of what is sold, and where that comes from."""

    setting_mpa: float
    low_mpa: float
    high_mpa: float
    mark: str


class Density(NamedTuple):
    """What a cubic metre of fluid weighs [kg/m3], the range of that, and where it comes from."""

    kg_m3: float
    low: float
    high: float
    mark: str


def _table() -> Mapping[str, Any]:
    from fitcheck.standards.tables import load

    return load("residual_valves")


@lru_cache(maxsize=2)
def residual_setting(brake: Literal["disc", "drum"]) -> Held:
    """Return what a residual valve for discs or drums holds [MPa]."""
    row = _table()["settings"][brake]
    return Held(measure(row["setting"]), *interval(row["range"]), row["mark"])


@lru_cache(maxsize=3)
def fluid_density(family: Family) -> Density:
    """Return the density of fluids of a family [kg/m3], at 20 degC."""
    row = _table()["density"][family]
    return Density(number(row["value"]), number(row["low"]), number(row["high"]), row["mark"])


def head_mpa(height_mm: float, density_kg_m3: float) -> float:
    """Return the pressure of a column of fluid [MPa]: density x gravity x height.

    >>> round(head_mpa(1327.0, 1060.0), 4)
    0.0138
    """
    return density_kg_m3 * _GRAVITY * height_mm * 1e-9
