"""Flares: how a tube's end is formed, how large it comes out, and how much tube that uses up."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Final, NamedTuple

from fitcheck.standards.figures import interval, measure, measure_if
from fitcheck.standards.sizes import same_tube
from fitcheck.standards.unknown import UnknownNameError

FLARE_NAMES: Final = ("double-45", "bubble", "single-37", "single-45")
"""Every flare, in the table's order. Kept here too, so that checking a word does not read the table."""


class UnknownFlareError(UnknownNameError):
    """A flare that the table does not hold."""

    what = "flare"


class Flare(NamedTuple):
    """One way of forming a tube's end. Lengths in mm, angles in degrees to the tube's axis.

    `allowance_mm` give or take `tolerance_mm` is the tube that one flare uses up where its size has no figure
    of its own. Before the first bend a bar-and-yoke tool needs `straight_mm`, a hand tool `straight_hand_mm`.
    `strokes` names what forms it, stroke by stroke: two for a flare that is folded back into itself.
    """

    name: str
    description: str
    angle_deg: float | None
    seats: tuple[str, ...]
    allowance_mm: float
    tolerance_mm: float
    straight_mm: float
    straight_hand_mm: float
    clamping: str
    strokes: tuple[str, ...]
    standard: str
    mark: str


class FlareSize(NamedTuple):
    """One flare on one tube size. Lengths in mm; None where the sources are silent."""

    flare: str
    od_mm: float
    diameter_min_mm: float
    diameter_max_mm: float
    max_wall_mm: float | None
    allowance_mm: float | None
    mark: str


class Allowance(NamedTuple):
    """The tube that one flare uses up beyond the finished length [mm], and where the figure comes from."""

    mm: float
    mark: str


@lru_cache(maxsize=1)
def flares() -> dict[str, Flare]:
    """Return every flare by name, in the table's order."""
    from fitcheck.standards.tables import load

    table = load("flares")
    return {name: _flare(name, row, table["unit"]) for name, row in table["flares"].items()}


def _flare(name: str, row: Mapping[str, Any], unit: str) -> Flare:
    return Flare(
        name=name,
        description=row["description"],
        angle_deg=measure_if(row["angle"]),
        seats=tuple(row["seats"]),
        allowance_mm=measure(row["allowance"], unit),
        tolerance_mm=measure(row["tolerance"], unit),
        straight_mm=measure(row["straight"], unit),
        straight_hand_mm=measure(row["straight_hand"], unit),
        clamping=row["clamping"],
        strokes=tuple(row["strokes"]),
        standard=row["standard"],
        mark=row["mark"],
    )


def flare(name: str) -> Flare:
    """Return the flare that users call `name`.

    Raises:
        UnknownFlareError: the table holds no such flare; the message gives the nearest.
    """
    found = flares().get(name)
    if found is None:
        raise UnknownFlareError(name, FLARE_NAMES)
    return found


@lru_cache(maxsize=1)
def flare_sizes() -> tuple[FlareSize, ...]:
    """Return every flare on every tube size that the table holds."""
    from fitcheck.standards.tables import load

    table = load("flares")
    return tuple(_size(row, table["unit"]) for row in table["sizes"])


def _size(row: Mapping[str, Any], unit: str) -> FlareSize:
    low, high = interval(row["diameter"], unit)
    return FlareSize(
        flare=row["flare"],
        od_mm=measure(row["od"], unit),
        diameter_min_mm=low,
        diameter_max_mm=high,
        max_wall_mm=measure_if(row.get("max_wall"), unit),
        allowance_mm=measure_if(row.get("allowance"), unit),
        mark=row["mark"],
    )


@lru_cache(maxsize=1024)
def flare_size(name: str, od_mm: float) -> FlareSize | None:
    """Return the flare `name` on a tube of outside diameter `od_mm` [mm], None if the table lacks that size.

    Raises:
        UnknownFlareError: `name` is no flare.
    """
    flare(name)
    fitting = (size for size in flare_sizes() if size.flare == name and same_tube(size.od_mm, od_mm))
    return next(fitting, None)


def allowance_mm(name: str, tube_od_mm: float) -> Allowance:
    """Return how much tube [mm] one flare uses up, and where that figure comes from.

    The size's own figure if the table has one, else the flare's usual one; either is good to the flare's
    `tolerance_mm`, and one measured test flare is better.

    Raises:
        UnknownFlareError: `name` is no flare.
    """
    size = flare_size(name, tube_od_mm)
    if size is not None and size.allowance_mm is not None:
        return Allowance(size.allowance_mm, size.mark)
    return Allowance(flare(name).allowance_mm, flare(name).mark)


def max_wall_mm(name: str, od_mm: float) -> float | None:
    """Return the thickest wall [mm] that the standard lets be formed so; None where it is silent.

    Source: SAE J533 (2024), by a secondary summary, sizes 1/8 to 5/16 in of the 45 degree forms.

    Raises:
        UnknownFlareError: `name` is no flare.
    """
    size = flare_size(name, od_mm)
    return size.max_wall_mm if size is not None else None
