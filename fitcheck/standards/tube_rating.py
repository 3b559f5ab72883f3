"""From strength and wall to pressure: burst and working pressure of tube, by the formula of rated tables.

Strengths, stresses and pressures in one unit, MPa or another, and diameters and walls in one unit, mm or another. The
formula gives burst when `strength` is the tensile strength, and a working pressure when it is the stress allowed.
At one strength Barlow gives least, Lame more, the thin wall on the bore most. Which one a table is made by moves its
figures by nearly a half for brake tube, so an answer names its formula.

Limits: straight, round tube of even wall, steady pressure. Bends, flares, dents and shock are not in the formula; the
design factor has to carry them.
"""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Literal, NamedTuple

from fitcheck.standards.figures import measure, number


class DesignFactor(NamedTuple):
    """Burst over working pressure, and where that comes from."""

    factor: float
    mark: str


class Planned(NamedTuple):
    """A pressure [MPa] to plan with, or a share of one, and where that comes from."""

    value: float
    mark: str


def barlow(strength: float, outside: float, wall: float) -> float:
    """Return the pressure by Barlow's formula on the outside diameter: 2 S t / D. The careful one of the formulas.

    >>> round(barlow(290.0, 4.7625, 0.7112), 1)
    86.6
    """
    return 2.0 * strength * wall / outside


def bend_thinning(outside: float, radius: float) -> float:
    """Return the share by which the outer wall thins in a bend of centre-line `radius`: (D/2) / (R + D/2).

    Source: a trade page on formulas of tube bending. Limits: a rule of thumb, for a bender that does not push.

    >>> round(bend_thinning(1.0, 3.0), 3)
    0.143
    """
    return outside / 2.0 / (radius + outside / 2.0)


def _table() -> Mapping[str, Any]:
    from fitcheck.standards.tables import load

    return load("tube_rating")


@lru_cache(maxsize=2)
def design_factor(of: Literal["tube", "hose"]) -> DesignFactor:
    """Return burst over working pressure of tube or hose: 4 on the least tensile strength, by SAE J1065 for tube."""
    row = _table()["factors"][of]
    return DesignFactor(number(row["factor"]), row["mark"])


@lru_cache(maxsize=1)
def near_share() -> Planned:
    """Return the share of its rating from which on a part is told to be near it."""
    row = _table()["near"]
    return Planned(number(row["share"]), row["mark"])


@lru_cache(maxsize=1)
def panic_pressure() -> Planned:
    """Return the pressure [MPa] that a driver in fright can make where nobody has measured it."""
    row = _table()["panic"]
    return Planned(measure(row["pressure"]), row["mark"])
