"""Heads of spanners, and the room that they need beside a nut. Lengths in mm."""

from functools import lru_cache
from itertools import pairwise
from math import sqrt
from typing import Final, NamedTuple

from fitcheck.standards.figures import measure

CORNERS: Final = 2.0 / sqrt(3.0)
"""Across corners over across flats of a hexagon (derived)."""
_SAME_MM: Final = 0.05


class Ring(NamedTuple):
    """The ring head of a spanner: across flats and outside diameter [mm], and where the figure comes from."""

    flats_mm: float
    head_mm: float
    mark: str


@lru_cache(maxsize=1)
def rings() -> tuple[Ring, ...]:
    """Return every ring head that the table holds, the smallest first."""
    from fitcheck.standards.tables import load

    table = load("spanners")
    unit = table["unit"]
    return tuple(Ring(measure(row["flats"], unit), measure(row["head"], unit), row["mark"]) for row in table["rings"])


def ring_head(flats_mm: float) -> Ring:
    """Return the largest ring head of a spanner for a hexagon [mm]: as printed, else on the line through two of them.

    Limits: made for 8 to 30 mm; the table has 7/16 to 3/4 in, beyond which its first and last line go on (derived).

    >>> [round(ring_head(flats).head_mm, 1) for flats in (10.0, 11.1125, 12.0, 19.05)]
    [16.2, 17.7, 18.8, 28.6]
    """
    printed = next((ring for ring in rings() if abs(ring.flats_mm - flats_mm) <= _SAME_MM), None)
    if printed is not None:
        return printed
    below, above = next((pair for pair in pairwise(rings()) if flats_mm < pair[1].flats_mm), rings()[-2:])
    slope = (above.head_mm - below.head_mm) / (above.flats_mm - below.flats_mm)
    mark = f"derived (on the line through {below.flats_mm:.4g} and {above.flats_mm:.4g} mm); {below.mark}"
    return Ring(flats_mm, below.head_mm + slope * (flats_mm - below.flats_mm), mark)


def room_beside(flats_mm: float, other_mm: float) -> float:
    """Return how far from the middle of a nut [mm] the middle of something round must be for a ring to turn on it.

    Half the head and half of `other_mm`, the diameter of what stands beside it. Source: derived.

    >>> round(room_beside(11.1125, 11.1125 * CORNERS), 1)
    15.2
    """
    return (ring_head(flats_mm).head_mm + other_mm) / 2.0
