"""The geometry of a bent tube: legs from corner to corner, bends, and the length of tube they take.

Plain values only: lengths in mm, angles in degrees, points as three mm. A bend's angle is how far the tube
turns: 0 is straight on, 180 is a U. All radii are those of the tube's centre line.

The sides of a U do not meet: it has no corner. Legs in front of it and behind it are measured to where its centre
line reaches farthest, so that it takes one radius from each, and among points it stands as two square corners.

Source: derived, from vectors and circles. The figures of the worked examples are those of a tube fitting
installation brochure's layout method (1/4 in tube, centre-line radius 9/16 in).
"""

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, degrees, hypot, radians, tan
from typing import Final, NamedTuple

from fitcheck.errors import FitcheckError
from fitcheck.measures import tenths

Point = tuple[float, float, float]
STRAIGHT_DEG: Final = 0.1
"""A corner that turns less is no bend: its plane is not defined well enough to bend in (derived)."""
_U_DEG: Final = 180.0
_BACK_DEG: Final = _U_DEG - 1e-6
_ROUNDING_MM: Final = 1e-6


class RouteError(FitcheckError, ValueError):
    """A route that no tube can follow. `leg` counts from 1; `reason` says what is wrong with it, in mm.

    Where `reason` has lengths, they come apart [mm], so that it can be told in the user's own unit.
    """

    def __init__(self, leg: int, reason: str, *lengths_mm: float) -> None:
        super().__init__(leg, reason, *lengths_mm)
        self.leg = leg
        self._words, self._lengths_mm = reason, lengths_mm
        self.reason = self.told("mm")

    def told(self, unit: str) -> str:
        """Return what is wrong with the leg, its lengths in `unit`, `mm` or `in`."""
        return self._words.format(*(tenths(mm, unit) for mm in self._lengths_mm)) if self._lengths_mm else self._words

    def __str__(self) -> str:
        return f"leg {self.leg} {self.reason}"


class Bend(NamedTuple):
    """One bend: how far it turns [deg] and its centre-line radius [mm].

    `rotation_deg` is how far the plane of bend is turned from that of the bend before, clockwise positive
    seen along the tube; None for the first bend, whose plane is the datum, and where nobody has said.
    `corner` is the index of the corner it belongs to, of those given.
    """

    angle_deg: float
    radius_mm: float
    rotation_deg: float | None = None
    corner: int = 0

    @property
    def is_u(self) -> bool:
        """Whether it turns straight back."""
        return turns_back(self.angle_deg)

    @property
    def taken_mm(self) -> float:
        """How much of each of its legs it takes."""
        return tangent_length(self.angle_deg, self.radius_mm)


class Route(NamedTuple):
    """Legs from corner to corner [mm], and the bends between them: one fewer than legs."""

    legs_mm: tuple[float, ...]
    bends: tuple[Bend, ...]


def turns_back(angle_deg: float) -> bool:
    """Return whether a bend of this angle is a U: 180 deg, to a millionth."""
    return abs(angle_deg - _U_DEG) <= _U_DEG - _BACK_DEG


def tangent_length(angle_deg: float, radius_mm: float) -> float:
    """Return how much of each leg a bend takes [mm]: T = R tan(A / 2); R of a U, whose legs reach to its outermost.

    Limits: 0 to 180 deg; from there it grows beyond all measure, and 180 deg stands by itself. Source: derived.

    >>> round(tangent_length(90.0, 14.3), 4), tangent_length(180.0, 14.3)
    (14.3, 14.3)
    """
    return radius_mm if turns_back(angle_deg) else radius_mm * tan(radians(angle_deg) / 2.0)


def bend_gain(angle_deg: float, radius_mm: float) -> float:
    """Return how much shorter a bend is than what it takes of its legs [mm]: G = 2 T - R A; negative for a U.

    Limits: as `tangent_length`. Source: derived. Published for 90 deg and R 9/16 in: 1/4 in, rounded from
    0.2414 in.

    >>> round(bend_gain(90.0, 9 / 16), 4)
    0.2414
    """
    return 2.0 * tangent_length(angle_deg, radius_mm) - radius_mm * radians(angle_deg)


def straights(route: Route) -> tuple[float, ...]:
    """Return the straight part of each leg [mm]: S = L - T of the bend before - T of the bend after.

    >>> straights(Route((100.0, 30.0, 100.0), (Bend(90.0, 15.0), Bend(90.0, 15.0))))
    (85.0, 0.0, 85.0)

    Raises RouteError if a leg is shorter than its bends take, or a bend does not turn by 0 to 180 degrees.
    """
    taken = [0.0] * (len(route.legs_mm) + 1)
    for index, bend in enumerate(route.bends, start=1):
        if not (0.0 <= bend.angle_deg < _U_DEG or bend.is_u):
            raise RouteError(index, f"ends in a bend of {bend.angle_deg:g} deg; give from 0 to 180")
        taken[index] = bend.taken_mm
    found = []
    for index, leg in enumerate(route.legs_mm):
        used = taken[index] + taken[index + 1]
        if leg - used < -_ROUNDING_MM:
            raise RouteError(index + 1, "is {} long, its bends take {}", leg, used)
        # Tangents that just meet leave rounding errors, not tube.
        found.append(leg - used if leg - used > _ROUNDING_MM else 0.0)
    return tuple(found)


def developed_length(route: Route) -> float:
    """Return the centre-line length of a bent tube [mm]: the sum of its legs less the gain of each bend.

    Limits: centre-line radii as bent; springback that is bent out changes nothing. Source: derived. The
    brochure's example, legs 4, 2, 4, 2, 2 in with bends of 90, 30, 30 and 90 deg, R 9/16 in, is published
    as 13-1/2 in with gains rounded to 1/4 and 0 in; exact 13.5033 in.

    >>> bends = tuple(Bend(angle, 9 / 16) for angle in (90.0, 30.0, 30.0, 90.0))
    >>> round(developed_length(Route((4.0, 2.0, 4.0, 2.0, 2.0), bends)), 4)
    13.5033

    Raises RouteError as `straights` does.
    """
    straights(route)
    return sum(route.legs_mm) - sum(bend_gain(bend.angle_deg, bend.radius_mm) for bend in route.bends)


def through_points(points: Sequence[Point], radii_mm: Sequence[float]) -> Route:
    """Return the route through `points` [mm], ends included, with a radius [mm] for each inner point.

    Points that repeat the one before, and corners that turn by less than 0.1 deg, are left out. The angle of
    a bend is atan2(|u x v|, u . v) of the directions before and behind it. Source: derived.

    >>> route = through_points([(0, 0, 0), (100, 0, 0), (100, 100, 0)], [15.0])
    >>> round(developed_length(route), 6)
    193.561945

    Raises RouteError if there are fewer than two different points, or the route turns straight back.
    """
    kept = [0]
    for index in range(1, len(points)):
        if _distance(points[kept[-1]], points[index]) > _ROUNDING_MM:
            kept.append(index)
    if len(kept) < 2:
        raise RouteError(1, "has no length: its ends are one point")
    corners = [kept[0]]
    for before, here, after in zip(kept, kept[1:], kept[2:], strict=False):
        del before  # the corner before may itself have been left out
        if _turn(_unit(points[corners[-1]], points[here]), _unit(points[here], points[after])) >= STRAIGHT_DEG:
            corners.append(here)
    corners.append(kept[-1])
    path = [points[index] for index in corners]
    units = [_unit(a, b) for a, b in pairwise(path)]
    legs = tuple(_distance(a, b) for a, b in pairwise(path))
    return Route(legs, tuple(_bends(units, corners[1:-1], radii_mm)))


def leg_ends(points: Sequence[Point], bends: Sequence[Bend]) -> list[tuple[Point, Point]]:
    """Return where each leg starts and ends [mm], of corners with both ends: one corner for a bend, two for a U.

    >>> leg_ends([(0, 0, 0), (9, 0, 0), (9, 2, 0), (0, 2, 0)], [Bend(180.0, 1.0)])
    [((0, 0, 0), (9, 0, 0)), ((9, 2, 0), (0, 2, 0))]
    """
    found = []
    at = 0
    for bend in bends:
        found.append((points[at], points[at + 1]))
        at += 2 if bend.is_u else 1
    return [*found, (points[at], points[at + 1])]


def rotation_between(before: Point, here: Point, along: Point) -> float:
    """Return the angle [deg] from one plane of bend to the next, right-handed about the straight between.

    `before` and `here` are square to the planes, `along` is of length 1; the answer is above -180, at most 180.
    """
    turned = degrees(atan2(_dot(_cross(before, here), along), _dot(before, here)))
    return 180.0 if turned <= -_BACK_DEG else turned


def _bends(units: list[Point], corners: list[int], radii_mm: Sequence[float]) -> list[Bend]:
    normals = [_cross(u, v) for u, v in pairwise(units)]
    bends = []
    for index, corner in enumerate(corners):
        angle = _turn(units[index], units[index + 1])
        if angle >= _BACK_DEG:
            raise RouteError(index + 1, "ends in a corner that turns straight back on itself")
        rotation = rotation_between(normals[index - 1], normals[index], units[index]) if index else None
        bends.append(Bend(angle, radii_mm[corner - 1], rotation, corner))
    return bends


def _turn(u: Point, v: Point) -> float:
    return degrees(atan2(hypot(*_cross(u, v)), _dot(u, v)))


def _unit(a: Point, b: Point) -> Point:
    length = _distance(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length, (b[2] - a[2]) / length


def _distance(a: Point, b: Point) -> float:
    return hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2])


def _cross(u: Point, v: Point) -> Point:
    return u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]


def _dot(u: Point, v: Point) -> float:
    return u[0] * v[0] + u[1] * v[1] + u[2] * v[2]
