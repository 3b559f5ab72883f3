"""From strength and wall to pressure: burst and working pressure of tube, by the formulas of rated tables.

Strengths, stresses and pressures in one unit, MPa or another, and diameters and walls in one unit, mm or another. Every
formula gives burst when `strength` is the tensile strength, and a working pressure when it is the stress allowed.
At one strength Barlow gives least and the thin wall most: `barlow < lame < thin_wall`. Which one a table is made by
moves its figures by nearly a half for brake tube, so an answer names its formula.

Limits: straight, round tube of even wall, steady pressure. Bends, flares, dents and shock are not in the formulas; the
design factor has to carry them.
"""

from collections.abc import Mapping
from functools import lru_cache
from math import sqrt
from typing import Any, Literal, NamedTuple

from fitcheck.standards.figures import measure, number

_THICK = 6.0
"""B31.3 takes a wall of a sixth of the outside diameter and more as thick; from memory."""


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


def thin_wall(strength: float, bore: float, wall: float) -> float:
    """Return the pressure by the thin-wall formula on the bore: 2 S t / d. It promises more than a thick wall holds.

    >>> round(thin_wall(55_000.0 / 8.0, 1.06, 0.095))
    1232
    """
    return 2.0 * strength * wall / bore


def lame(strength: float, outside: float, bore: float) -> float:
    """Return the pressure at which the hoop stress at the bore is `strength`, by Lame: S (D2 - d2) / (D2 + d2).

    >>> round(lame(12_500.0, 0.1875, 0.1875 - 2 * 0.028))
    4258
    """
    return strength * (outside**2 - bore**2) / (outside**2 + bore**2)


def piping_y(outside: float, wall: float) -> float:
    """Return the coefficient Y of ASME B31.3: 0.4 for walls of less than a sixth of the outside, else d / (d + D).

    Source: ASME B31.3, 304.1.2, from memory.
    """
    bore = outside - 2.0 * wall
    return 0.4 if wall < outside / _THICK else bore / (bore + outside)


def piping(strength: float, outside: float, wall: float, y: float | None = None) -> float:
    """Return the pressure by the form of ASME B31.3: 2 S t / (D - 2 t Y). With Y = d / (d + D) it is Lame's.

    Source: ASME B31.3, 304.1.2, from memory.
    """
    return 2.0 * strength * wall / (outside - 2.0 * wall * (piping_y(outside, wall) if y is None else y))


def lame_wall(pressure: float, bore: float, stress: float) -> float:
    """Return the wall that keeps the hoop stress at the bore at `stress`, by Lame.

    >>> round(lame_wall(40.0, 160.0, 120.0), 2)
    33.14

    Raises:
        ValueError: no wall is thick enough: the pressure is as high as the stress.
    """
    return _wall(bore, stress + pressure, stress - pressure)


def clavarino_wall(pressure: float, bore: float, stress: float, poisson: float) -> float:
    """Return the wall by Clavarino: closed ends, ductile metal, by the greatest strain.

    >>> round(clavarino_wall(15.0, 250.0, 340.0 / 5.0, 0.27), 1)
    29.6

    Raises:
        ValueError: no wall is thick enough.
    """
    return _wall(bore, stress + (1.0 - 2.0 * poisson) * pressure, stress - (1.0 + poisson) * pressure)


def birnie_wall(pressure: float, bore: float, stress: float, poisson: float) -> float:
    """Return the wall by Birnie: open ends, ductile metal, by the greatest strain.

    >>> round(birnie_wall(12.0, 100.0, 230.0 / 2.5, 0.27), 5)
    7.28575

    Raises:
        ValueError: no wall is thick enough.
    """
    return _wall(bore, stress + (1.0 - poisson) * pressure, stress - (1.0 + poisson) * pressure)


def _wall(bore: float, above: float, below: float) -> float:
    if below <= 0:
        raise ValueError("no wall is thick enough for this pressure and stress")
    return bore / 2.0 * (sqrt(above / below) - 1.0)


def ring_stress(inside: float, outside: float, bore: float, diameter: float, at: float) -> tuple[float, float]:
    """Return radial and hoop stress at the diameter `at` of a ring under pressure `inside` and `outside`, by Lame.

    >>> radial, hoop = ring_stress(300.0, 0.0, 20.0, 100.0, 50.0)
    >>> round(radial, 6), round(hoop, 6)
    (-37.5, 62.5)
    """
    ring = diameter**2 - bore**2
    even = (inside * bore**2 - outside * diameter**2) / ring
    uneven = (inside - outside) * bore**2 * diameter**2 / (ring * at**2)
    return even - uneven, even + uneven


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
