"""The tube of a bench sheet as straights and true arcs, and how it is looked at. Lengths in mm, angles in degrees."""

from math import radians, sqrt, tan
from typing import Final, NamedTuple

from fitcheck.build.curves import Arc, Curve, Piece, length_of, part_of, point_at, through_legs
from fitcheck.build.routes import Bend, Point, Route, leg_ends
from fitcheck.making.shape import cross, distance, dot, plus
from fitcheck.making.sheet import Sheet, SheetBend

Spot = tuple[float, float]
"""A point on paper or of a view, mm."""
NO_TURN_DEG: Final = 0.25
"""A rotation that differs less from none, or from half a turn, is shown as that: angles are shown to half degrees."""
_PARTS: Final = 12
"""A straight is drawn in parts of this share of the whole, so that what is nearer can be drawn over what is behind."""
_PART_RAD: Final = radians(45.0)
"""An arc is drawn in parts of at most this: a cubic curve then leaves it by less than 1e-5 of its radius."""
_DIAGONAL: Final = 1.0 / sqrt(2.0)
_THIRD: Final = 1.0 / sqrt(6.0)


class Projection(NamedTuple):
    """A parallel view: directions of space that go to the right and up on paper, each of length 1."""

    right: Point
    up: Point

    def at(self, point: Point) -> Spot:
        """Return where a point is seen, y upwards."""
        return dot(point, self.right), dot(point, self.up)

    def depth(self, point: Point) -> float:
        """Return how near to the eye a point is."""
        return dot(point, cross(self.right, self.up))


PLAN: Final = Projection((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
SIDE: Final = Projection((1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
FRONT: Final = Projection((0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
ISOMETRIC: Final = Projection((_DIAGONAL, -_DIAGONAL, 0.0), (_THIRD, _THIRD, 2.0 * _THIRD))


def curve_of(made: Sheet) -> Curve | None:
    """Return the centre-line from end A to end B; None if the shape in space is not known.

    Raises:
        RouteError: a leg is shorter than its bends take (never of a sheet that can be made).
    """
    return None if made.points is None else curve_through(made.points, made.bends)


def curve_through(points: tuple[Point, ...], bends: tuple[SheetBend, ...]) -> Curve:
    """Return the centre-line through corners with both ends, a bend at each corner, a U at two.

    Raises:
        RouteError: a leg is shorter than its bends take.
    """
    turns = tuple(Bend(bend.angle_deg, bend.radius_mm) for bend in bends)
    legs = leg_ends(points, turns)
    return through_legs(legs, Route(tuple(distance(*leg) for leg in legs), turns))


def parts(curve: Curve) -> list[Piece]:
    """Return a curve in parts that are short enough to be drawn one over the other."""
    longest = sum(map(length_of, curve)) / _PARTS
    found: list[Piece] = []
    for piece in curve:
        length = length_of(piece)
        share = piece.angle_rad / _PART_RAD if isinstance(piece, Arc) else length / longest if longest else 0.0
        count = max(1, -int(-share // 1))
        for index in range(count):
            found += part_of((piece,), index * length / count, (index + 1) * length / count)
    return found


def controls(piece: Piece) -> tuple[Point, ...]:
    """Return start and end of a straight, or the four points of the cubic curve that follows an arc."""
    start, end = point_at(piece, 0.0), point_at(piece, 1.0)
    if not isinstance(piece, Arc):
        return start, end
    reach = 4.0 / 3.0 * tan(piece.angle_rad / 4.0) * piece.radius_mm
    return start, plus(start, direction(piece, 0.0), reach), plus(end, direction(piece, 1.0), -reach), end


def direction(piece: Piece, share: float) -> Point:
    """Return which way a piece goes at a share of it: a vector of length 1; of a straight of no length, none."""
    if isinstance(piece, Arc):
        out = plus(point_at(piece, share), piece.centre, -1.0)
        return plus((0.0, 0.0, 0.0), cross(cross(piece.out, piece.along), out), 1.0 / piece.radius_mm)
    length = length_of(piece)
    return plus((0.0, 0.0, 0.0), plus(piece.end, piece.start, -1.0), 1.0 / length if length else 0.0)


def traced(curve: Curve) -> list[Point]:
    """Return points along a curve, close enough to find its extent and what it passes."""
    return [point_at(piece, share / 4.0) for piece in parts(curve) for share in range(5)]
