"""Runs of bends that lie in one plane, laid out in it at true size. Lengths in mm, angles in degrees."""

from collections.abc import Iterator
from math import atan2, cos, degrees, pi, radians, sin
from typing import Final, NamedTuple

from fitcheck.build.curves import Arc, Curve, Piece, length_of, part_of, point_at
from fitcheck.build.routes import Point
from fitcheck.making.shape import cross, rebuilt
from fitcheck.making.sheet import Sheet, SheetBend
from fitcheck.reports import svg_parts as svg
from fitcheck.reports.make_curve import NO_TURN_DEG, Spot, curve_through, direction

_LONG_RAD: Final = radians(150.0)
OUTER_MM: Final = 60.0
"""Of the straights in front of a run and behind it at most this much is drawn."""


class Flat(NamedTuple):
    """A flat run of bends, y upwards, the way it is laid on paper.

    Attributes:
        first: its first bend, counted from 1.
        bends: its bends.
        corners: its corners with both ends of what is drawn, all in z = 0.
        od_mm: outside diameter of the tube.
        before_mm, after_mm: the whole of the straight in front of it and behind it.
        at_a, at_b: that straight ends with the tube, at end A or B, and is drawn whole.
    """

    first: int
    bends: tuple[SheetBend, ...]
    corners: tuple[Point, ...]
    od_mm: float
    before_mm: float
    after_mm: float
    at_a: bool
    at_b: bool

    @property
    def curve(self) -> Curve:
        """The centre-line."""
        return curve_through(self.corners, self.bends)

    def extent(self) -> tuple[float, float, float, float]:
        """Return left, lower, right and upper limits of the tube, its edges included."""
        half = self.od_mm / 2.0
        spots = [spot for piece in self.curve for spot in _farthest(piece)]
        xs, ys = [x for x, _ in spots], [y for _, y in spots]
        return min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half

    def turned(self, angle_deg: float) -> "Flat":
        """Return the same run turned on the paper, anticlockwise."""
        c, s = cos(radians(angle_deg)), sin(radians(angle_deg))
        return self._replace(corners=tuple((c * x - s * y, s * x + c * y, 0.0) for x, y, _ in self.corners))

    def ways(self) -> Iterator["Flat"]:
        """Yield the run with each straight, and the line from end to end, along the paper and across it."""
        first, last = self.corners[0], self.corners[-1]
        lines = [(last[0] - first[0], last[1] - first[1])]
        lines += [direction(piece, 0.0)[:2] for piece in self.curve if not isinstance(piece, Arc)]
        for x, y in lines:
            for quarter in (0.0, 90.0):
                yield self.turned(quarter - degrees(atan2(y, x)))


def flat_runs(made: Sheet) -> tuple[Flat, ...]:
    """Return the runs of bends in one plane, each as long as it goes, in order from end A.

    A single bend is flat; so is a bend that goes the way of the one before or opposite to it, to 0.25 deg.
    """
    if made.tube.od_mm is None:
        return ()
    starts = [index for index, bend in enumerate(made.bends) if index == 0 or not _level(bend.rotation_deg)]
    ends = [*starts[1:], len(made.bends)]
    return tuple(_run(made, made.tube.od_mm, start, end) for start, end in zip(starts, ends, strict=bool(starts)))


def edge(flat: Flat, side: float) -> str:
    """Return the data of a path beside the centre-line, y downwards: `side` mm to the left, 0 for itself.

    Arcs stay arcs. An inner edge whose radius would be below nothing is drawn as a corner.
    """
    told: list[str] = []
    for piece in (part for whole in flat.curve for part in _halves(whole)):
        start, end = (_beside(piece, share, side) for share in (0.0, 1.0))
        if not told:
            told.append(f"M{svg.n(start[0])} {svg.n(-start[1])}")
        to = f"{svg.n(end[0])} {svg.n(-end[1])}"
        if not isinstance(piece, Arc):
            told.append(f"L{to}")
            continue
        radius = max(piece.radius_mm - side * _hand(piece), 0.0)
        told.append(f"A{svg.n(radius)} {svg.n(radius)} 0 0 {0 if _hand(piece) > 0.0 else 1} {to}")
    return " ".join(told)


def _halves(piece: Piece) -> Curve:
    """Return a piece, or both halves of an arc so long that rounded ends would say badly where its middle is."""
    if not isinstance(piece, Arc) or piece.angle_rad < _LONG_RAD:
        return (piece,)
    length = length_of(piece)
    return (*part_of((piece,), 0.0, length / 2.0), *part_of((piece,), length / 2.0, length))


def _level(rotation: float | None) -> bool:
    return rotation is not None and (abs(rotation) < NO_TURN_DEG or abs(rotation) > 180.0 - NO_TURN_DEG)


def _run(made: Sheet, od: float, start: int, end: int) -> Flat:
    bends = made.bends[start:end]
    kept = list(made.straights_mm[start : end + 1])
    before, after = kept[0], kept[-1]
    kept[0], kept[-1] = min(before, OUTER_MM), min(after, OUTER_MM)
    turns = [0.0 if abs(bend.rotation_deg or 0.0) < 90.0 else 180.0 for bend in bends]
    points = rebuilt(kept, [bend.angle_deg for bend in bends], turns, [bend.radius_mm for bend in bends])
    assert points is not None  # every turn is given
    at_a, at_b = start == 0 and kept[0] == before, end == len(made.bends) and kept[-1] == after
    return Flat(start + 1, bends, tuple((x, y, 0.0) for x, y, _ in points), od, before, after, at_a, at_b)


def _hand(arc: Arc) -> float:
    """Return 1 for an arc that turns left, -1 for one that turns right."""
    return 1.0 if cross(arc.out, arc.along)[2] > 0.0 else -1.0


def _beside(piece: Piece, share: float, side: float) -> Spot:
    """Return the spot `side` mm to the left of a share of a piece."""
    if isinstance(piece, Arc):
        side = min(side * _hand(piece), piece.radius_mm) * _hand(piece)
    x, y, _ = point_at(piece, share)
    along = direction(piece, share)
    return x - along[1] * side, y + along[0] * side


def _farthest(piece: Piece) -> Iterator[Spot]:
    """Yield the ends of a piece, and where it lies farthest left, right, up or down."""
    yield from (point_at(piece, share)[:2] for share in (0.0, 1.0))
    if isinstance(piece, Arc):
        start = atan2(piece.out[1], piece.out[0])
        for quarter in range(4):
            swept = (_hand(piece) * (quarter * pi / 2.0 - start)) % (2.0 * pi)
            if swept < piece.angle_rad:
                yield point_at(piece, swept / piece.angle_rad)[:2]
