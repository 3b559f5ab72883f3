"""Bent lines straight from their corners, and what a tube holds above a height."""

from collections.abc import Sequence
from math import pi

from fitcheck.build.curves import Curve, along
from fitcheck.build.humps import length_above, slopes
from fitcheck.build.routes import Point, through_points


def centre_line(points: Sequence[Point], radii_mm: Sequence[float]) -> Curve:
    """Return the centre-line through `points`, ends included, with a radius for each inner point."""
    return along(points, through_points(points, radii_mm))


def volume_above(curve: Curve, level_mm: float, bore_mm: float) -> float:
    """Return how much a tube of a bore holds above a height [mm3], a cut through it being square to its line."""
    return pi / 4.0 * bore_mm**2 * sum(length_above(piece, level_mm) for piece in slopes(curve))
