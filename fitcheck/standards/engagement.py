"""How much thread a joint needs: enough not to strip when it is tightened, nor under pressure.

A tightened seat holds more than the fluid pushes: pressure unloads the seat before it loads the thread, so that the
greater of the two loads counts, not their sum. Each has its own design factor. Figures are in the data file.
"""

from functools import lru_cache
from math import pi
from typing import Any, NamedTuple

from fitcheck.standards.figures import measure, number
from fitcheck.standards.threads import Thread, limits
from fitcheck.standards.threads.strength import engagement_for_load


class Metal(NamedTuple):
    """Least tensile strength [MPa] of a fitting, where it comes from, and whether it is only assumed."""

    tensile_mpa: float
    mark: str
    assumed: bool = False


class Load(NamedTuple):
    """One load on a thread [N], its design factor, and what it is in words: `to stand 16 N m of tightening`."""

    newton: float
    factor: float
    words: str


class Needed(NamedTuple):
    """The length of thread that a joint needs [mm], the reason in words, and the load behind it, if one governs."""

    length_mm: float
    why: str
    load: Load | None


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    from fitcheck.standards.tables import load

    return load("engagement")


def _value(name: str) -> float:
    return number(_table()[name]["value"])


@lru_cache(maxsize=64)
def metal(material: str | None) -> Metal:
    """Return what a fitting of a material stands; one that is unknown is taken for the weakest casting.

    Args:
        material: the catalog's word, or None.
    """
    table = _table()
    row = table["metals"].get(material or "")
    found = row or table["assumed"]
    return Metal(measure(found["tensile"], table["unit"]), found["mark"], row is None)


def steel() -> Metal:
    """Return what soft steel stands: what nearly all fittings are made of, or better."""
    return metal("steel")


def planned_pressure() -> tuple[float, str]:
    """Return the pressure [MPa] to plan for where no part is rated, and its source."""
    return _value("pressure"), _table()["pressure"]["mark"]


def outside_seal_mm(nominal_mm: float) -> float:
    """Return the diameter [mm] that a washer or ring seals at, by the thread's nominal diameter [mm]."""
    return _value("outside_seal") * nominal_mm


def tightening(torque_n_mm: float, nominal_mm: float) -> Load:
    """Return the load of tightening to a torque [N mm]: torque over nut factor and nominal diameter [mm].

    16 N m on M10x1 is 8000 N.

    >>> tightening(16_000, 10.0).newton
    8000.0
    """
    newton = torque_n_mm / (_value("nut_factor") * nominal_mm)
    return Load(newton, _value("factor_of_tightening"), f"to stand {torque_n_mm / 1000:g} N m of tightening")


def pressure_load(pressure_mpa: float, sealing_mm: float) -> Load:
    """Return the load of a pressure [MPa] on everything inside the sealing diameter [mm].

    20 MPa inside 7.1 mm is 792 N.

    >>> round(pressure_load(20.0, 7.1).newton)
    792
    """
    newton = pressure_mpa * pi / 4.0 * sealing_mm**2
    return Load(newton, _value("factor_of_pressure"), f"to hold {pressure_mpa:g} MPa")


def needed(
    external: Thread, internal: Thread, loads: tuple[Load, ...], external_metal: Metal, internal_metal: Metal
) -> Needed:
    """Return the length of thread [mm] that two threads of one pitch need to carry the greatest of `loads`.

    Both members at minimum material, shear strength half the tensile strength. Never less than five pitches: for
    fewer the limits of size, from which the shear areas follow, are not made. An M10x1 nut of steel tightened to
    16 N m needs 5.4 mm in a steel port.

    >>> from fitcheck.standards.threads import parse
    >>> thread = parse("M10x1")
    >>> round(needed(thread, thread, (tightening(16_000, 10.0),), steel(), steel()).length_mm, 1)
    5.4

    Source: FED-STD-H28/2B (1991) table II.B.1 and para 50.4; loads and factors as the data file marks them.

    Raises ThreadLimitsError if a thread has no limits in the tables.
    """
    bolt, nut = limits(external).external, limits(internal).internal
    pitches = _value("least_pitches")
    best = Needed(pitches * external.pitch_mm, f"for {pitches:g} pitches, the least that limits of size hold for", None)
    for load in loads:
        length = engagement_for_load(
            bolt, nut, load.newton * load.factor, external_metal.tensile_mpa, internal_metal.tensile_mpa
        )
        if length > best.length_mm:
            best = Needed(length, load.words, load)
    return best
