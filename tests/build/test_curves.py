"""Centre-lines of straights and arcs, and the distance between two of them, against plain sampling."""

from itertools import pairwise
from math import cos, dist, isclose, pi, radians, sin
from random import Random

import pytest

from fitcheck.build.curves import (
    Arc,
    Curve,
    Piece,
    Spot,
    Straight,
    between_segments,
    chain,
    length_of,
    nearest,
    part_of,
    point_at,
    station_of,
)
from fitcheck.build.routes import Point, RouteError, developed_length, through_points
from tests.build.bent import centre_line

G1 = [(0, 0, 0), (120, 0, 0), (120, 80, 0), (200, 80, 60), (200, 160, 60), (330, 160, -20)]
"""A reference route of which a CAD kernel confirmed the length: 508.0929 mm with radius 14.3 mm."""


def drawn(draw: Random, corners: int = 2, size: float = 250.0) -> Curve:
    """Return a random centre-line that can be bent."""
    while True:
        points = [(draw.uniform(0, size), draw.uniform(0, size), draw.uniform(0, size)) for _ in range(corners + 2)]
        try:
            return centre_line(points, [draw.uniform(8, 25) for _ in range(corners)])
        except RouteError:
            continue


def sampled(first: Curve, second: Curve) -> float:
    """Return the distance of two curves by trying points, closer and closer about the best few of each pair."""
    return min(_of_pieces(a, b) for a in first for b in second)


def _of_pieces(a: Piece, b: Piece, many: int = 12) -> float:
    spots = [(i / many, j / many) for i in range(many + 1) for j in range(many + 1)]
    best = sorted((dist(point_at(a, s), point_at(b, t)), s, t) for s, t in spots)[:4]
    step = 1.0 / many
    for _ in range(40):
        near = {
            (min(max(s + i * step, 0.0), 1.0), min(max(t + j * step, 0.0), 1.0))
            for _, s, t in best
            for i in (-1, -0.5, 0, 0.5, 1)
            for j in (-1, -0.5, 0, 0.5, 1)
        }
        best = sorted((dist(point_at(a, s), point_at(b, t)), s, t) for s, t in near)[:4]
        step *= 0.6
    return best[0][0]


def test_a_centre_line_is_as_long_as_its_tube() -> None:
    """The pieces of the reference route add up to its developed length, and each begins where the last one ends."""
    curve = centre_line(G1, [14.3] * 4)
    assert sum(map(length_of, curve)) == pytest.approx(508.0929251174, abs=1e-9)
    assert [type(piece) for piece in curve] == [Straight, Arc] * 4 + [Straight]
    for before, after in pairwise(curve):
        assert dist(point_at(before, 1.0), point_at(after, 0.0)) < 1e-9
    assert point_at(curve[0], 0.0) == pytest.approx(G1[0])
    assert point_at(curve[-1], 1.0) == pytest.approx(G1[-1])


def test_random_lines_are_as_long_as_their_routes() -> None:
    """Arcs are true ones: length, radius and tangents agree with the route on 200 random lines."""
    draw = Random(6)
    for _ in range(200):
        points = [(draw.uniform(0, 300), draw.uniform(0, 300), draw.uniform(0, 300)) for _ in range(5)]
        radii = [draw.uniform(5, 15) for _ in range(3)]
        try:
            curve = centre_line(points, radii)
        except RouteError:
            continue
        assert isclose(sum(map(length_of, curve)), developed_length(through_points(points, radii)), abs_tol=1e-9)
        for arc in (piece for piece in curve if isinstance(piece, Arc)):
            assert dist(point_at(arc, 0.37), arc.centre) == pytest.approx(arc.radius_mm, abs=1e-9)


def test_a_u_of_two_bends_has_no_straight_between() -> None:
    """Two bends whose tangents just meet follow each other without a piece of no length."""
    curve = centre_line([(0, 0, 0), (100, 0, 0), (100, 30, 0), (0, 30, 0)], [15.0, 15.0])
    assert [type(piece) for piece in curve] == [Straight, Arc, Arc, Straight]


def test_a_leg_too_short_is_refused() -> None:
    """A route that cannot be bent is no curve."""
    with pytest.raises(RouteError) as caught:
        centre_line([(0, 0, 0), (10, 0, 0), (10, 100, 0)], [15.0])
    assert str(caught.value) == "leg 1 is 10.0 mm long, its bends take 15.0 mm"


@pytest.mark.parametrize("seed", range(12))
def test_distance_agrees_with_sampling(seed: int) -> None:
    """Straights and arcs in space: within a few millionths of a mm of what plain sampling finds."""
    draw = Random(seed)
    for _ in range(4):
        first, second = drawn(draw), drawn(draw)
        found = nearest(first, second)
        assert found is not None
        assert found.mm == pytest.approx(sampled(first, second), abs=2e-6)
        assert found.mm == pytest.approx(dist(found.first.point, found.second.point), abs=1e-12)
        for curve, spot in ((first, found.first), (second, found.second)):
            assert dist(point_at(curve[spot.piece], spot.share), spot.point) == 0.0


def test_arcs_in_known_places() -> None:
    """Two arcs of one plane, one inside the other, are the difference of their radii apart; two rings pass a gap."""
    inner = Arc((0, 0, 0), (1, 0, 0), (0, 1, 0), 15.0, pi / 2)
    outer = Arc((0, 0, 0), (1, 0, 0), (0, 1, 0), 25.0, pi / 2)
    found = nearest((inner,), (outer,), tolerance_mm=1e-4)
    assert found is not None
    assert found.mm == pytest.approx(10.0, abs=1e-4)
    upright = Arc((30, 0, 0), (-1, 0, 0), (0, 0, 1), 10.0, pi / 2)
    found = nearest((inner,), (upright,))
    assert found is not None
    assert found.mm == pytest.approx(5.0, abs=1e-6)
    across = Straight((20, -50, 3), (20, 50, 3))
    found = nearest((across,), (inner,))
    assert found is not None
    assert found.mm == pytest.approx((5.0**2 + 3.0**2) ** 0.5, abs=1e-6)


def test_nothing_nearer_than_asked_for_is_none() -> None:
    """A limit cuts the search off: at the distance itself nothing is nearer."""
    a, b = chain([(0, 0, 0), (100, 0, 0)]), chain([(0, 20, 0), (100, 20, 0)])
    assert nearest(a, b, 20.0) is None
    assert nearest(a, b, 20.1) is not None


@pytest.mark.parametrize("seed", range(5))
def test_straights_agree_with_sampling(seed: int) -> None:
    """Two straights, many of them parallel, in one line or a single point, are exact to a ten-millionth of a mm."""
    draw = Random(seed)

    def point() -> Point:
        return (float(draw.randint(0, 3)), float(draw.randint(0, 3)), float(draw.randint(0, 3)))

    for _ in range(40):
        a, b, c, d = point(), point(), point(), point()
        s, t, apart = between_segments(a, b, c, d)
        one, other = Straight(a, b), Straight(c, d)
        assert apart == pytest.approx(_of_pieces(one, other), abs=1e-7)
        assert dist(point_at(one, s), point_at(other, t)) == pytest.approx(apart, abs=1e-12)


@pytest.mark.parametrize("turn", [1e-3, 1e-5, 1e-7, 1e-9, 0.0])
def test_nearly_parallel_straights(turn: float) -> None:
    """Straights that cross at a hair's angle meet where they cross, to a millionth of a mm."""
    far = (500 * cos(turn), 500 * sin(turn), 0.0)
    near = (-500 * cos(turn), -500 * sin(turn), 0.0)
    assert between_segments((-500, 0, 0), (500, 0, 0), near, far)[2] < 1e-6


def test_a_part_of_a_line_is_cut_at_stations() -> None:
    """The middle of a line begins and ends where it is measured along it, arcs included."""
    curve = centre_line([(0, 0, 0), (100, 0, 0), (100, 100, 0)], [20.0])
    part = part_of(curve, 85.0, 105.0)
    assert sum(map(length_of, part)) == pytest.approx(20.0)
    turned = radians(90) * 5.0 / (20.0 * pi / 2)
    assert point_at(part[0], 0.0) == pytest.approx((80 + 20 * sin(turned), 20 - 20 * cos(turned), 0.0))
    assert part_of(curve, 300.0, 400.0) == ()
    assert station_of(curve, Spot(2, 0.5, (0, 0, 0))) == pytest.approx(80 + 10 * pi + 40)
