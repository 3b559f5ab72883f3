"""Rigid tube: sizes by standard, and how tightly each may be bent."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from fitcheck.standards.figures import measure, measure_if, number
from fitcheck.standards.sizes import same_tube, size_name


class Tube(NamedTuple):
    """One tube of one standard. Lengths in mm; tolerances are plus or minus, None where not known."""

    standard: str
    material: str
    od_mm: float
    wall_mm: float
    od_tolerance_mm: float | None
    wall_tolerance_mm: float | None
    mark: str

    @property
    def size(self) -> str:
        """What the size is called: `3/16 in`."""
        return size_name(self.od_mm)

    @property
    def bore_mm(self) -> float:
        """Nominal bore [mm]."""
        return self.od_mm - 2 * self.wall_mm

    @property
    def least_wall_mm(self) -> float:
        """Thinnest wall [mm] that the standard lets pass; the nominal wall where it gives no tolerance."""
        return self.wall_mm - (self.wall_tolerance_mm or 0)


class BendLimits(NamedTuple):
    """Centre-line radii [mm] for one tube size, and where they come from.

    `default_mm` is used where a route names none; under `warn_below_mm` look by hand; under `refuse_below_mm`
    only a bender made for it will do.
    """

    default_mm: float
    warn_below_mm: float
    refuse_below_mm: float
    mark: str


def _table() -> Mapping[str, Any]:
    from fitcheck.standards.tables import load

    return load("tubes")


@lru_cache(maxsize=1)
def tubes() -> tuple[Tube, ...]:
    """Return every tube that the table holds, by standard, then by size."""
    table = _table()
    return tuple(_tube(row, row.get("unit", table["unit"])) for row in table["tubes"])


def _tube(row: Mapping[str, Any], unit: str) -> Tube:
    return Tube(
        standard=row["standard"],
        material=row["material"],
        od_mm=measure(row["od"], unit),
        wall_mm=measure(row["wall"], unit),
        od_tolerance_mm=measure_if(row.get("od_tolerance"), unit),
        wall_tolerance_mm=measure_if(row.get("wall_tolerance"), unit),
        mark=row["mark"],
    )


def tubes_of(od_mm: float, material: str | None = None) -> tuple[Tube, ...]:
    """Return the tubes that count as outside diameter `od_mm` [mm], of `material` if one is given."""
    return tuple(tube for tube in tubes() if same_tube(tube.od_mm, od_mm) and material in (None, tube.material))


def bend_limits(od_mm: float) -> BendLimits:
    """Return the centre-line radii [mm] for a tube of outside diameter `od_mm` [mm].

    Multiples of the outside diameter: 3 as default and as warning limit, 1.5 as refusal; `mark` says why.
    """
    row = _table()["bending"]
    default, warn, refuse = (round(number(row[key]) * od_mm, 6) for key in ("default", "warn_below", "refuse_below"))
    return BendLimits(default, warn, refuse, row["mark"])


def bend_radius_mm(od_mm: float) -> float:
    """Return the centre-line radius [mm] used where a route names none: three outside diameters.

    >>> bend_radius_mm(4.75)
    14.25
    """
    return bend_limits(od_mm).default_mm
