"""How large a nut and a formed end are: what has to lie on the straight, and what has to pass a hole. Lengths in mm.

A figure is certain where a part or a standard states it; else the usual one is taken, and marked as taken.
"""

from functools import lru_cache
from math import sqrt
from typing import Final, NamedTuple

from fitcheck.catalog.part import Part, Port
from fitcheck.standards.flares import flare_size
from fitcheck.standards.nuts import Nut, nuts
from fitcheck.standards.sizes import same_tube

NUT_DIAMETERS: Final = 4.0
"""Length of a tube nut in outside diameters of its tube where the catalog does not say: common practice, no source."""
_CORNERS: Final = 2.0 / sqrt(3.0)
"""Across corners over across flats of a hexagon."""


class NutSize(NamedTuple):
    """Length of a nut [mm], whether it is the usual one, and the least it can be: its thread's length or diameter."""

    mm: float
    assumed: bool
    least_mm: float


class Across(NamedTuple):
    """The largest diameter that has to pass a hole [mm].

    Attributes:
        mm: the usual one; 0 counts for what is not known.
        least_mm: it is no smaller than this, by part and standard.
        known: whether nut and formed end are both known, if only by usual sizes.
        what: what is so large: the nut's id, or the flare's name.
    """

    mm: float
    least_mm: float
    known: bool
    what: str


def port_of(part: Part) -> Port | None:
    """Return the one port of a nut or sleeve, None if it has none."""
    return next(iter(part.ports.values()), None)


def nut_size(nut: Part | None, od_mm: float) -> NutSize:
    """Return how long a nut is on a tube of outside diameter `od_mm` [mm]."""
    port = port_of(nut) if nut is not None else None
    least = port.thread.nominal_mm if port is not None and port.thread is not None else 0.0
    if port is not None and port.length is not None:
        least = max(least, float(port.length))
    if nut is not None and nut.length is not None:
        return NutSize(float(nut.length), False, float(nut.length))
    return NutSize(max(NUT_DIAMETERS * od_mm, least), True, least)


def nut_bore(nut: Part | None, od_mm: float) -> float | None:
    """Return the hole of a nut for its tube [mm]: its own, else that of the tables; None if neither says."""
    if nut is None:
        return None
    if nut.inside is not None:
        return float(nut.inside)
    return next((row.bore_mm for row in _rows(nut, od_mm) if row.bore_mm is not None), None)


def nut_across(nut: Part | None, od_mm: float) -> float | None:
    """Return the largest diameter of a nut [mm]: its own, else across the corners of the largest usual hexagon."""
    if nut is None:
        return None
    if nut.outside is not None:
        return float(nut.outside)
    flats = [max(row.hexes_mm) for row in _rows(nut, od_mm) if row.hexes_mm]
    return max(flats) * _CORNERS if flats else None


def across(
    nut: Part | None, sleeve: Part | None, flare: str | None, od_mm: float, measured_mm: float | None = None
) -> Across:
    """Return how large an end is with all that sits on it [mm]: as measured, else by its parts.

    Certain are what is measured, a part's own `outside`, the flare's smallest diameter in the standard, and an external
    thread, through which nothing smaller than its core goes: nine tenths of its diameter is less than any core
    (derived).
    """
    flared = flare_size(flare, od_mm) if flare is not None else None
    usual = nut_across(nut, od_mm)
    name = nut.id if nut is not None else "the nut"
    if measured_mm is not None:
        return Across(measured_mm, measured_mm, True, name)
    sizes = [(usual or 0.0, name)]
    certain = [_least_across(nut)]
    if flared is not None and flare is not None:
        sizes.append((flared.diameter_max_mm, f"the {flare} flare"))
        certain.append(flared.diameter_min_mm)
    if sleeve is not None and sleeve.outside is not None:
        sizes.append((float(sleeve.outside), sleeve.id))
        certain.append(float(sleeve.outside))
    mm, what = max(sizes)
    return Across(mm, max(certain), flared is not None and usual is not None, what)


def _least_across(nut: Part | None) -> float:
    if nut is None:
        return 0.0
    if nut.outside is not None:
        return float(nut.outside)
    port = port_of(nut)
    return 0.9 * port.thread.nominal_mm if port is not None and port.thread is not None else 0.0


def _rows(nut: Part, od_mm: float) -> tuple[Nut, ...]:
    port = port_of(nut)
    if port is None or port.thread is None:
        return ()
    return _of_table(port.seat, port.thread.designation, od_mm)


@lru_cache(maxsize=1024)
def _of_table(seat: str | None, thread: str, od_mm: float) -> tuple[Nut, ...]:
    return tuple(row for row in nuts() if row.seat == seat and row.thread == thread and same_tube(row.od_mm, od_mm))
