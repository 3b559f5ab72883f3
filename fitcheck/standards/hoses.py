"""Brake hose: constructions, what an assembly must stand, and how much it may swell.

Source: 49 CFR 571.106 (FMVSS 106), read through letters, tests and memory as each row's mark says; bend radii of
wire-braided hose from AC 43.13-1B.
"""

from collections.abc import Mapping
from typing import Any, Literal, NamedTuple

from fitcheck.standards.figures import interval, measure, measure_if
from fitcheck.standards.sizes import SAME_WITHIN_MM

Kind = Literal["regular", "low"]
_SMALL_MM = 25.4 / 8
_LARGE_MM = 6.0


class WireBraid(NamedTuple):
    """A size of rubber hose with a single wire braid (MIL-H-8794). Lengths in mm, the radius to the centre line."""

    size: str
    bore_mm: float
    bend_radius_mm: float
    mark: str


class HosePressure(NamedTuple):
    """A pressure [MPa] that an assembly stands in a test: `hold` (for `seconds`), `burst` or `proof`."""

    test: str
    low_mpa: float
    high_mpa: float
    seconds: float | None
    mark: str


class Expansion(NamedTuple):
    """Swelling [mm3 for each mm of free length] at one pressure [MPa], and where it comes from."""

    pressure_mpa: float
    mm3_per_mm: float
    mark: str


def _table() -> Mapping[str, Any]:
    from fitcheck.standards.tables import load

    return load("hoses")


def wire_braid(bore_mm: float) -> WireBraid | None:
    """Return the size of single-wire hose with this bore [mm], within 0.1 mm; None if the table has none."""
    table = _table()
    for row in table["wire_braid"]:
        bore = measure(row["bore"], table["unit"])
        if abs(bore - bore_mm) <= SAME_WITHIN_MM:
            return WireBraid(row["size"], bore, measure(row["bend"], table["unit"]), row["mark"])
    return None


def bore_class(bore_mm: float) -> Literal["small", "middle", "large"]:
    """Return the class of FMVSS 106 for a bore [mm]: 1/8 in or less, all between, 6 mm (1/4 in) or more.

    A bore within 0.1 mm of a limit is taken as the limit, since bores are nominal: 3.2 mm is 1/8 in.
    """
    if bore_mm <= _SMALL_MM + SAME_WITHIN_MM:
        return "small"
    return "large" if bore_mm >= _LARGE_MM - SAME_WITHIN_MM else "middle"


def hose_pressures(bore_mm: float) -> tuple[HosePressure, ...]:
    """Return the pressures [MPa] that a new assembly of this bore [mm] stands in test."""
    size = bore_class(bore_mm)
    return tuple(_pressure(row) for row in _table()["pressures"] if size in row["classes"])


def _pressure(row: Mapping[str, Any]) -> HosePressure:
    low, high = interval(row["pressure"])
    return HosePressure(row["test"], low, high, measure_if(row.get("time")), row["mark"])


def burst_pressure(bore_mm: float) -> HosePressure:
    """Return the least burst pressure [MPa] of an assembly of this bore [mm]."""
    return next(pressure for pressure in hose_pressures(bore_mm) if pressure.test == "burst")


def expansion_limits(bore_mm: float, kind: Kind) -> tuple[Expansion, ...]:
    """Return how much a hose of this bore [mm] may swell, at each test pressure, lowest first.

    Large bores have no figure at 2,900 psi: the table lacks it, and the caller must say so, not extrapolate.
    """
    size = bore_class(bore_mm)
    return tuple(
        Expansion(measure(row["pressure"]), measure(row[kind]), row["mark"])
        for row in _table()["expansion"]
        if row["class"] == size
    )
