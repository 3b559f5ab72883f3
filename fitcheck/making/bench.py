"""Room at the bench: does the loose rest of the tube sweep through what is bent already, does that foul the bench.

The tool is taken to stand still with end A clamped; the loose rest turns about it in the plane of bend, which is
parallel to the bench, anticlockwise seen from above. Lengths in mm. Limits: the tail is sampled, the tool's own body
and its height over the bench are not known, and springing a thin tube aside is not looked at. Source: derived.
"""

from collections.abc import Iterator, Sequence
from math import asin, atan2, hypot, pi, radians, sqrt
from typing import Final, NamedTuple

from fitcheck.build.routes import Bend, Point, Route, leg_ends, straights
from fitcheck.making.shape import cross, distance, dot, plus, unit

_MOST_SAMPLES: Final = 48
"""Points looked at along one straight of the tail: of one that is longer, wider apart than the tube is thick."""


_Leg = tuple[Point, Point]


class Room(NamedTuple):
    """One bend at the bench: how far the tail reaches below its plane [mm], and whether the sweep runs into it."""

    below_mm: float
    clash: bool


class _Frame(NamedTuple):
    """Where a bend starts, along the tube, towards its inside, and square to its plane."""

    origin: Point
    along: Point
    inward: Point
    up: Point


def rooms(points: Sequence[Point], route: Route, od_mm: float, spare_mm: float = 0.0) -> tuple[Room, ...]:
    """Return the room of each bend of a route with these corners and ends [mm], two for a U, from its first end.

    `spare_mm` is tube behind the last end while it is not yet flared.

    Raises:
        RouteError: a leg is shorter than its bends take.
    """
    kept = straights(route)
    rest = sum(kept) + sum(bend.radius_mm * radians(bend.angle_deg) for bend in route.bends) + spare_mm
    legs = leg_ends(points, route.bends)
    found = []
    for index, bend in enumerate(route.bends):
        arc = bend.radius_mm * radians(bend.angle_deg)
        rest -= kept[index]
        frame = _frame(legs, index, bend)
        made = [*(corner for leg in legs[:index] for corner in leg), legs[index][0]]
        below = max(0.0, *(-_local(frame, corner)[2] for corner in made))
        tail = _tail(legs[:index], route.bends, frame, od_mm)
        clash = any(_swept(spot, bend.radius_mm, radians(bend.angle_deg), rest) for spot in tail)
        found.append(Room(below if below > od_mm else 0.0, clash))
        rest -= arc
    return tuple(found)


def _frame(legs: Sequence[_Leg], index: int, bend: Bend) -> _Frame:
    (start, corner), (behind, far) = legs[index], legs[index + 1]
    along = unit(start, corner)
    after = unit(corner, behind) if bend.is_u else unit(behind, far)
    inward = plus(after, along, -dot(after, along))
    inward = plus((0.0, 0.0, 0.0), inward, 1.0 / hypot(*inward))
    return _Frame(plus(corner, along, -bend.taken_mm), along, inward, cross(along, inward))


def _local(frame: _Frame, point: Point) -> Point:
    off = plus(point, frame.origin, -1.0)
    return dot(off, frame.along), dot(off, frame.inward), dot(off, frame.up)


def _tail(legs: Sequence[_Leg], bends: Sequence[Bend], frame: _Frame, od_mm: float) -> Iterator[tuple[float, float]]:
    """Yield spots of the straights of finished legs, in the plane of bend, as far as they lie in it."""
    taken = [0.0, *(bend.taken_mm for bend in bends)]
    for index, (first, last) in enumerate(legs):
        along = unit(first, last)
        start, end = plus(first, along, taken[index]), plus(last, along, -taken[index + 1])
        a, b = _local(frame, start), _local(frame, end)
        span = _in_plane(a[2], b[2], od_mm)
        if span is None:
            continue
        low, high = span
        count = min(_MOST_SAMPLES, 2 + int(distance(start, end) * (high - low) / od_mm))
        for step in range(count):
            share = low + (high - low) * step / (count - 1)
            yield a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _in_plane(first: float, last: float, od_mm: float) -> tuple[float, float] | None:
    """Return which share of a straight lies within one outside diameter of the plane, by its heights at both ends."""
    if abs(last - first) < 1e-9:
        return (0.0, 1.0) if abs(first) < od_mm else None
    shares = sorted(((-od_mm - first) / (last - first), (od_mm - first) / (last - first)))
    low, high = max(0.0, shares[0]), min(1.0, shares[1])
    return (low, high) if low < high else None


def _swept(spot: tuple[float, float], radius: float, angle: float, rest: float) -> bool:
    """Return whether the loose rest passes a spot of its plane while it is turned by `angle` [rad].

    A spot outside the die's circle is met where the tangent through it leaves the circle.
    """
    x, y = spot[0], spot[1] - radius
    far = hypot(x, y)
    if far < radius:
        return False
    turned = (atan2(y, x) + asin(radius / far)) % (2.0 * pi)
    return turned <= angle and sqrt(far * far - radius * radius) <= rest - radius * turned
