"""From bend data back to corner points: what a sheet's numbers make, in a frame of their own.

The tube starts at the origin along x and its first bend goes towards y. Lengths in mm, angles in degrees.
"""

from collections.abc import Sequence
from math import cos, hypot, radians, sin

from fitcheck.build.routes import Bend, Point, Route, tangent_length


def corners_of(route: Route) -> tuple[Point, ...] | None:
    """Return the corners of a route with both ends [mm], two for a U; None if a rotation is not known.

    >>> from fitcheck.build.routes import Bend
    >>> corners = corners_of(Route((100.0, 50.0), (Bend(90.0, 15.0),)))
    >>> [tuple(round(value, 6) + 0.0 for value in corner) for corner in corners]
    [(0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (100.0, 50.0, 0.0)]
    """
    here: Point = (0.0, 0.0, 0.0)
    along: Point = (1.0, 0.0, 0.0)
    aside: Point = (0.0, 1.0, 0.0)
    found = [here]
    for index, leg in enumerate(route.legs_mm):
        here = plus(here, along, leg)
        found.append(here)
        if index == len(route.bends):
            break
        bend = route.bends[index]
        if index:
            if bend.rotation_deg is None:
                return None
            aside = turned(aside, cross(along, aside), bend.rotation_deg)
        if bend.is_u:
            here = plus(here, aside, 2.0 * bend.radius_mm)
            found.append(here)
        back = plus((0.0, 0.0, 0.0), along, -1.0)
        along, aside = turned(along, aside, bend.angle_deg), turned(aside, back, bend.angle_deg)
    return tuple(found)


def rebuilt(
    straights_mm: Sequence[float],
    angles_deg: Sequence[float],
    rotations_deg: Sequence[float | None],
    radii_mm: Sequence[float],
) -> tuple[Point, ...] | None:
    """Return the corners that straights and bends make, ends included [mm]; None if a rotation is not known."""
    taken = [tangent_length(angle, radius) for angle, radius in zip(angles_deg, radii_mm, strict=True)]
    legs = [
        straight + before + after
        for straight, before, after in zip(straights_mm, [0.0, *taken], [*taken, 0.0], strict=True)
    ]
    bends = [Bend(*row) for row in zip(angles_deg, radii_mm, rotations_deg, strict=True)]
    return corners_of(Route(tuple(legs), tuple(bends)))


def turned(first: Point, second: Point, angle_deg: float) -> Point:
    """Return the direction at an angle from `first` towards `second`, both of length 1 and square to each other."""
    return plus(plus((0.0, 0.0, 0.0), first, cos(radians(angle_deg))), second, sin(radians(angle_deg)))


def plus(a: Point, b: Point, times: float = 1.0) -> Point:
    """Return a + times b."""
    return a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]


def cross(a: Point, b: Point) -> Point:
    """Return the vector square to both, right-handed."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def dot(a: Point, b: Point) -> float:
    """Return the inner product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def unit(a: Point, b: Point) -> Point:
    """Return the direction from a to b."""
    length = distance(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length, (b[2] - a[2]) / length


def distance(a: Point, b: Point) -> float:
    """Return how far apart two points are."""
    return hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2])
