"""Rows of the tables that only the generic catalog is made from, read as figures: a second reading of its text."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from fitcheck.standards.figures import interval, measure
from fitcheck.standards.hoses import Kind
from fitcheck.standards.sizes import same_tube
from fitcheck.standards.tables import load

_SAME_BOLT_MM = 0.2
"""Nominal diameters this near are one: 3/8 in (9.525 mm) and 10 mm are not."""


class BanjoBolt(NamedTuple):
    """One hollow bolt. Lengths in mm: `eye` is the banjo's hole, `bore` the passage along the bolt."""

    thread: str
    nominal_mm: float
    eye_min_mm: float
    eye_max_mm: float
    bore_min_mm: float
    bore_max_mm: float
    hexes_mm: tuple[float, ...]


class Washer(NamedTuple):
    """One soft washer for a bolt of nominal diameter `nominal_mm`; lengths in mm."""

    nominal_mm: float
    material: str
    inside_mm: float
    outside_mm: float
    thickness_mm: float
    mark: str


class Hose(NamedTuple):
    """One hose construction. Lengths in mm; `bend_radius_mm` is to plan with, the other the least of any source."""

    bore_mm: float
    bend_radius_mm: float
    least_bend_radius_mm: float
    expansion: Kind


class BendFigure(NamedTuple):
    """One printed smallest centre-line radius [mm] for one tube size, and where it comes from."""

    od_mm: float
    radius_mm: float
    material: str
    mark: str


@lru_cache(maxsize=1)
def banjo_bolts() -> tuple[BanjoBolt, ...]:
    """Return every banjo bolt that the table holds."""
    table = load("banjo")
    return tuple(_bolt(row, table["unit"]) for row in table["bolts"])


def _bolt(row: Mapping[str, Any], unit: str) -> BanjoBolt:
    hexes = tuple(measure(text, unit) for text in row.get("hex", ()))
    eye, bore = interval(row["eye"], unit), interval(row["bore"], unit)
    return BanjoBolt(row["thread"], measure(row["nominal"], unit), *eye, *bore, hexes)


@lru_cache(maxsize=1)
def banjo_washers() -> tuple[Washer, ...]:
    """Return every soft washer that the table holds, by bolt."""
    table = load("banjo")
    return tuple(_washer(row, table["unit"]) for row in table["washers"])


def _washer(row: Mapping[str, Any], unit: str) -> Washer:
    inside, outside, thickness = (measure(row[key], unit) for key in ("inside", "outside", "thickness"))
    return Washer(measure(row["nominal"], unit), row["material"], inside, outside, thickness, row["mark"])


def washers_for(nominal_mm: float) -> tuple[Washer, ...]:
    """Return the soft washers for a bolt or stud of a nominal diameter, the usual one first."""
    return tuple(washer for washer in banjo_washers() if abs(washer.nominal_mm - nominal_mm) <= _SAME_BOLT_MM)


@lru_cache(maxsize=1)
def hoses() -> dict[str, Hose]:
    """Return every hose construction by name."""
    table = load("hoses")
    return {name: _hose(row, table["unit"]) for name, row in table["constructions"].items()}


def _hose(row: Mapping[str, Any], unit: str) -> Hose:
    return Hose(*(measure(row[key], unit) for key in ("bore", "bend", "bend_least")), row["expansion"])


@lru_cache(maxsize=1)
def bend_figures() -> tuple[BendFigure, ...]:
    """Return every printed smallest bend radius of tube."""
    table = load("tubes")
    unit = table["unit"]
    return tuple(
        BendFigure(measure(row["od"], unit), measure(row["radius"], unit), row["material"], row["mark"])
        for row in table["bend_figures"]
    )


def bend_figures_for(od_mm: float) -> tuple[BendFigure, ...]:
    """Return the printed smallest bend radii of tubes that count as outside diameter `od_mm`."""
    return tuple(figure for figure in bend_figures() if same_tube(figure.od_mm, od_mm))
