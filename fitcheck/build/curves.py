"""The centre-line of a bent tube as straights and true arcs, and how near two such lines come.

Plain values only: lengths in mm, points as three mm, angles in radians here, since arcs are measured along. A point
on a piece is told by its share of the piece, 0 at the start and 1 at the end. Source: derived, from vectors and
circles.
"""

from collections.abc import Iterable, Iterator, Sequence
from heapq import heapify, heappop, heappush
from itertools import pairwise, product
from math import cos, inf, radians, sin, sqrt
from typing import Final, NamedTuple

from fitcheck.build.routes import Point, Route, leg_ends, straights

TOLERANCE_MM: Final = 1e-6
"""How far a distance between curves may be from the true one, unless asked for otherwise."""


class Straight(NamedTuple):
    """A straight from point to point [mm]; a single point if both are one."""

    start: Point
    end: Point


class Arc(NamedTuple):
    """An arc that turns by at most 180 degrees.

    `out` is the unit vector from `centre` [mm] to its start, `along` its direction there; `angle_rad` is how far it
    turns, `radius_mm` that of the centre-line.
    """

    centre: Point
    out: Point
    along: Point
    radius_mm: float
    angle_rad: float


Piece = Straight | Arc
Curve = tuple[Piece, ...]


class Spot(NamedTuple):
    """A point on a curve: which piece, what share of it, and where that is [mm]."""

    piece: int
    share: float
    point: Point


class Near(NamedTuple):
    """How near two curves come [mm], centre-line to centre-line, and a point on each that far apart."""

    mm: float
    first: Spot
    second: Spot


def along(points: Sequence[Point], route: Route) -> Curve:
    """Return the centre-line of a route that `through_points` made of `points` [mm].

    Raises RouteError if a leg is shorter than its bends take.
    """
    path = [points[0], *(points[bend.corner] for bend in route.bends), points[-1]]
    return through_legs(leg_ends(path, route.bends), route)


def through_legs(legs: Sequence[tuple[Point, Point]], route: Route) -> Curve:
    """Return the centre-line of a route whose legs start and end at these points [mm].

    Raises RouteError if a leg is shorter than its bends take.
    """
    kept = straights(route)
    pieces: list[Piece] = []
    here = legs[0][0]
    for index, bend in enumerate(route.bends):
        (start, end), (behind, far) = legs[index], legs[index + 1]
        before = _scaled(_minus(end, start), 1.0 / route.legs_mm[index])
        after = _scaled(_minus(far, behind), 1.0 / route.legs_mm[index + 1])
        inside = _minus(behind, end) if bend.is_u else after
        inward = _unit(_plus(inside, before, -_dot(inside, before)))
        first = _plus(end, before, -bend.taken_mm)
        if kept[index] > 0.0:
            pieces.append(Straight(here, first))
        centre = _plus(first, inward, bend.radius_mm)
        pieces.append(Arc(centre, _scaled(inward, -1.0), before, bend.radius_mm, radians(bend.angle_deg)))
        here = _plus(behind, after, bend.taken_mm)
    if kept[-1] > 0.0 or not pieces:
        pieces.append(Straight(here, legs[-1][1]))
    return tuple(pieces)


def chain(points: Sequence[Point]) -> Curve:
    """Return sharp-cornered straights from point to point [mm]; of one point a straight of no length."""
    if len(points) == 1:
        return (Straight(points[0], points[0]),)
    return tuple(Straight(a, b) for a, b in pairwise(points))


def length_of(piece: Piece) -> float:
    """Return how long a piece is [mm]."""
    if isinstance(piece, Arc):
        return piece.radius_mm * piece.angle_rad
    return sqrt(_square(_minus(piece.end, piece.start)))


def point_at(piece: Piece, share: float) -> Point:
    """Return the point [mm] at a share of a piece."""
    if isinstance(piece, Arc):
        return _around(piece, piece.angle_rad * share)
    return _plus(piece.start, _minus(piece.end, piece.start), share)


def station_of(curve: Curve, spot: Spot) -> float:
    """Return how far along a curve a spot lies [mm]."""
    return sum(map(length_of, curve[: spot.piece])) + spot.share * length_of(curve[spot.piece])


def part_of(curve: Curve, start_mm: float, end_mm: float) -> Curve:
    """Return the part of a curve between two stations along it [mm]; empty if there is none.

    >>> part_of((Straight((0, 0, 0), (100, 0, 0)),), 25, 75)
    (Straight(start=(25.0, 0.0, 0.0), end=(75.0, 0.0, 0.0)),)
    """
    found: list[Piece] = []
    before = 0.0
    for piece in curve:
        length = length_of(piece)
        low, high = max(start_mm - before, 0.0), min(end_mm - before, length)
        if high > low:
            found.append(_cut(piece, low / length, high / length))
        before += length
    return tuple(found)


def _cut(piece: Piece, low: float, high: float) -> Piece:
    if isinstance(piece, Straight):
        return Straight(point_at(piece, low), point_at(piece, high))
    turned = piece.angle_rad * low
    out = _plus(_scaled(piece.out, cos(turned)), piece.along, sin(turned))
    ahead = _plus(_scaled(piece.along, cos(turned)), piece.out, -sin(turned))
    return Arc(piece.centre, out, ahead, piece.radius_mm, piece.angle_rad * (high - low))


def sagitta(piece: Piece, share: float = 1.0) -> float:
    """Return how far so much of a piece bows out of its chord [mm]: R (1 - cos(A / 2)), 0 of a straight."""
    return piece.radius_mm * (1.0 - cos(piece.angle_rad * share / 2.0)) if isinstance(piece, Arc) else 0.0


def nearest(first: Curve, second: Curve, below_mm: float = inf, tolerance_mm: float = TOLERANCE_MM) -> Near | None:
    """Return how near two curves come, or None if it is `below_mm` or more. See `nearest_of`."""
    pairs = product(range(len(first)), range(len(second)))
    return nearest_of(first, second, pairs, below_mm, tolerance_mm)


def nearest_of(
    first: Curve,
    second: Curve,
    pairs: Iterable[tuple[int, int]],
    below_mm: float = inf,
    tolerance_mm: float = TOLERANCE_MM,
) -> Near | None:
    """Return how near the named pairs of pieces come [mm], or None if it is `below_mm` or more.

    Two straights are exact. An arc is taken in parts: each lies within its sagitta of its chord, so that the distance
    of two chords less both sagittas is never too large, and that of two points on the arcs never too small. The part
    that may come nearest is halved until the two figures are within `tolerance_mm`: the answer is at most that much
    too large. Source: derived (branch and bound).
    """
    queue = [
        found for a, b in pairs if (found := _Cell.of(first, second, a, b, (0.0, 1.0), (0.0, 1.0))).least < below_mm
    ]
    heapify(queue)
    best: Near | None = None
    limit = below_mm
    while queue and queue[0].least < limit - (tolerance_mm if best is not None else 0.0):
        cell = heappop(queue)
        if cell.near.mm < limit:
            best, limit = cell.near, cell.near.mm
        if cell.least < cell.near.mm:
            for half in cell.halves(first, second):
                if half.least < limit:
                    heappush(queue, half)
    return best


class _Cell(NamedTuple):
    """A part of one piece against a part of another: the least their distance can be [mm], and one that is met."""

    least: float
    bow: tuple[float, float]
    a: tuple[int, float, float]
    b: tuple[int, float, float]
    near: Near

    @classmethod
    def of(
        cls, first: Curve, second: Curve, a: int, b: int, of_a: tuple[float, float], of_b: tuple[float, float]
    ) -> "_Cell":
        """Return the cell of two parts of pieces, from share to share."""
        one, other = first[a], second[b]
        bow = sagitta(one, of_a[1] - of_a[0]), sagitta(other, of_b[1] - of_b[0])
        s, t, apart = between_segments(
            point_at(one, of_a[0]), point_at(one, of_a[1]), point_at(other, of_b[0]), point_at(other, of_b[1])
        )
        here, there = of_a[0] + s * (of_a[1] - of_a[0]), of_b[0] + t * (of_b[1] - of_b[0])
        p, q = point_at(one, here), point_at(other, there)
        met = sqrt(_square(_minus(q, p)))
        curved = bow[0] + bow[1]
        least = max(0.0, apart - curved) if curved else met
        return cls(least, bow, (a, *of_a), (b, *of_b), Near(met, Spot(a, here, p), Spot(b, there, q)))

    def halves(self, first: Curve, second: Curve) -> Iterator["_Cell"]:
        """Yield the two cells of which this one is made, the part that bows out more halved."""
        (a, *of_a), (b, *of_b) = self.a, self.b
        low, high = of_a if self.bow[0] >= self.bow[1] else of_b
        for part in ((low, (low + high) / 2.0), ((low + high) / 2.0, high)):
            if self.bow[0] >= self.bow[1]:
                yield _Cell.of(first, second, int(a), int(b), part, (of_b[0], of_b[1]))
            else:
                yield _Cell.of(first, second, int(a), int(b), (of_a[0], of_a[1]), part)


def between_segments(a: Point, b: Point, c: Point, d: Point) -> tuple[float, float, float]:
    """Return where two straights a-b and c-d come nearest, as a share of each, and how near [mm].

    The nearest point of each is sought on the whole line, then kept within the straight, one after the other; a
    straight may be a single point. Source: derived (least squares with both shares bounded).

    >>> between_segments((0, 0, 0), (10, 0, 0), (5, -5, 3), (5, 5, 3))
    (0.5, 0.5, 3.0)
    """
    u, v, w = _minus(b, a), _minus(d, c), _minus(a, c)
    uu, vv = _square(u), _square(v)
    if uu <= 0.0:
        s, t = 0.0, _kept(_dot(v, w) / vv) if vv > 0.0 else 0.0
    elif vv <= 0.0:
        s, t = _kept(-_dot(u, w) / uu), 0.0
    else:
        upright = _cross(u, v)
        across = _square(upright)
        s = _kept(-_dot(_cross(w, v), upright) / across) if across > _PARALLEL * uu * vv else 0.0
        t = _dot(v, _plus(w, u, s)) / vv
        if not 0.0 <= t <= 1.0:
            t = _kept(t)
            s = _kept(-_dot(u, _plus(w, v, -t)) / uu)
    return s, t, sqrt(_square(_plus(_plus(w, u, s), v, -t)))


_PARALLEL: Final = 1e-24
"""Straights whose directions differ by less (sine squared) are parallel: any point of one will do to begin with."""


def _around(arc: Arc, turned: float) -> Point:
    outwards = _plus(arc.centre, arc.out, arc.radius_mm * cos(turned))
    return _plus(outwards, arc.along, arc.radius_mm * sin(turned))


def _kept(share: float) -> float:
    return 0.0 if share < 0.0 else min(share, 1.0)


def _minus(a: Point, b: Point) -> Point:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def _plus(a: Point, b: Point, times: float) -> Point:
    return a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]


def _scaled(a: Point, times: float) -> Point:
    return a[0] * times, a[1] * times, a[2] * times


def _unit(a: Point) -> Point:
    return _scaled(a, 1.0 / sqrt(_square(a)))


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: Point, b: Point) -> Point:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _square(a: Point) -> float:
    return a[0] * a[0] + a[1] * a[1] + a[2] * a[2]
