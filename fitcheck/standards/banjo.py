"""Banjo bolts and their soft washers."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from fitcheck.standards.figures import interval, measure

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
    hexes: tuple[str, ...]
    hexes_mm: tuple[float, ...]
    mark: str


class Washer(NamedTuple):
    """One soft washer for a bolt of nominal diameter `nominal_mm`; lengths in mm."""

    nominal_mm: float
    material: str
    inside_mm: float
    outside_mm: float
    thickness_mm: float
    mark: str


@lru_cache(maxsize=1)
def banjo_bolts() -> tuple[BanjoBolt, ...]:
    """Return every banjo bolt that the table holds."""
    from fitcheck.standards.tables import load

    table = load("banjo")
    return tuple(_bolt(row, table["unit"]) for row in table["bolts"])


def _bolt(row: Mapping[str, Any], unit: str) -> BanjoBolt:
    eye, bore = interval(row["eye"], unit), interval(row["bore"], unit)
    hexes = tuple(row.get("hex", ()))
    return BanjoBolt(
        thread=row["thread"],
        nominal_mm=measure(row["nominal"], unit),
        eye_min_mm=eye[0],
        eye_max_mm=eye[1],
        bore_min_mm=bore[0],
        bore_max_mm=bore[1],
        hexes=hexes,
        hexes_mm=tuple(measure(text, unit) for text in hexes),
        mark=row["mark"],
    )


@lru_cache(maxsize=1)
def banjo_washers() -> tuple[Washer, ...]:
    """Return every soft washer that the table holds, by bolt."""
    from fitcheck.standards.tables import load

    table = load("banjo")
    return tuple(_washer(row, table["unit"]) for row in table["washers"])


def _washer(row: Mapping[str, Any], unit: str) -> Washer:
    return Washer(
        nominal_mm=measure(row["nominal"], unit),
        material=row["material"],
        inside_mm=measure(row["inside"], unit),
        outside_mm=measure(row["outside"], unit),
        thickness_mm=measure(row["thickness"], unit),
        mark=row["mark"],
    )


def washers_for(nominal_mm: float) -> tuple[Washer, ...]:
    """Return the soft washers for a bolt or stud of nominal diameter `nominal_mm`, the usual one first."""
    return tuple(washer for washer in banjo_washers() if abs(washer.nominal_mm - nominal_mm) <= _SAME_BOLT_MM)


def washers_needed(eyes: int) -> int:
    """Return how many washers a banjo bolt with so many eyes needs: one on each side of every eye.

    >>> washers_needed(1), washers_needed(2)
    (2, 3)

    Raises:
        ValueError: `eyes` is less than one.
    """
    if eyes < 1:
        raise ValueError(f"a banjo joint has at least one eye, got {eyes}")
    return eyes + 1
