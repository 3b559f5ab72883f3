"""Bends that are one sweep, and U-turns: same centre-line, fewer bends."""

from itertools import pairwise
from math import cos, dist, pi, radians, sin, tan

import pytest

from fitcheck.build.curves import Arc, Straight, length_of, point_at, through_legs
from fitcheck.build.routes import (
    Bend,
    Route,
    RouteError,
    bend_gain,
    developed_length,
    leg_ends,
    straights,
    through_points,
)
from fitcheck.build.sweeps import swept
from tests.build.bent import centre_line

U = [(0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (100.0, 30.0, 0.0), (0.0, 30.0, 0.0)]


def through(points, radius):
    """Return points, the route through them and that route in sweeps."""
    route = through_points(points, [radius] * (len(points) - 2))
    return route, swept(route, points)


def curve(made):
    """Return the centre-line of a route in sweeps."""
    return through_legs(leg_ends(made.points, made.route.bends), made.route)


def polyline(angles, leg, radius):
    """Return points in one plane that turn left by these angles with straight tube of `leg` mm between bends."""
    taken = [radius * tan(radians(angle) / 2) for angle in angles]
    lengths = [200 + taken[0], *(a + leg + b for a, b in pairwise(taken)), taken[-1] + 150]
    here, heading, points = (0.0, 0.0), 0.0, [(0.0, 0.0, 0.0)]
    for index, length in enumerate(lengths):
        here = here[0] + length * cos(radians(heading)), here[1] + length * sin(radians(heading))
        points.append((*here, 0.0))
        heading += angles[index] if index < len(angles) else 0.0
    return points


def test_two_corners_two_radii_apart_are_a_u():
    """Two bends of 90 deg without straight tube between, going the same way, are one of 180 deg at both corners."""
    route, made = through(U, 15.0)
    assert [(bend.angle_deg, bend.corner) for bend in made.route.bends] == [(180.0, 1)]
    assert made.firsts == (0,)
    assert made.route.legs_mm == pytest.approx((100.0, 100.0))
    assert straights(made.route) == pytest.approx((85.0, 85.0))
    assert developed_length(made.route) == pytest.approx(developed_length(route))
    assert max(map(dist, made.points, U)) < 1e-9


def test_centre_line_of_a_u():
    """Its arc is half a circle that starts, has its middle and ends where the two quarters do."""
    _, made = through(U, 15.0)
    first, arc, last = curve(made)
    assert isinstance(arc, Arc)
    assert (length_of(first), length_of(arc), length_of(last)) == pytest.approx((85.0, 15.0 * pi, 85.0))
    aside = 15 / 2**0.5
    for share, spot in ((0, (85, 0, 0)), (0.25, (85 + aside, 15 - aside, 0)), (0.5, (100, 15, 0)), (1, (85, 30, 0))):
        assert dist(point_at(arc, share), spot) < 1e-9
    quarters = centre_line(U, [15.0, 15.0])
    assert dist(point_at(quarters[1], 1.0), point_at(arc, 0.5)) < 1e-9


@pytest.mark.parametrize("angles", [(30.0, 30.0), (40.0, 50.0), (60.0, 60.0, 60.0), (20.0, 40.0, 60.0, 60.0)])
def test_any_bends_that_go_on(angles):
    """Bends that follow at once are one of their sum; straights before and behind, and the far end, stay."""
    points = polyline(angles, 0.0, 12.0)
    route, made = through(points, 12.0)
    assert [bend.angle_deg for bend in made.route.bends] == [pytest.approx(sum(angles))]
    assert straights(made.route) == pytest.approx((200.0, 150.0))
    assert developed_length(made.route) == pytest.approx(developed_length(route))
    pieces = curve(made)
    assert dist(point_at(pieces[-1], 1.0), points[-1]) < 1e-6
    before = centre_line(points, [12.0] * len(angles))
    assert dist(point_at(pieces[1], angles[0] / sum(angles)), point_at(before[1], 1.0)) < 1e-6


@pytest.mark.parametrize(
    ("angles", "leg", "left"),
    [((90.0, 90.0), 0.01, 2), ((90.0, 95.0), 0.0, 2), ((120.0, 59.95), 0.0, 2), ((100.0, 80.0, 45.0), 0.0, 2)],
)
def test_what_is_not_one_sweep(angles, leg, left):
    """Straight tube between, more than 180 deg together, or all but a U: as many bends as a bender makes."""
    _, made = through(polyline(angles, leg, 12.0), 12.0)
    assert len(made.route.bends) == left


def test_other_sense_plane_or_radius_is_another_bend():
    """An offset, a step into another plane, and two radii stay two bends; so does a rotation that is not known."""
    offset = [(0, 0, 0), (100, 0, 0), (100, 30, 0), (200, 30, 0)]
    turned = [(0, 0, 0), (100, 0, 0), (100, 30, 0), (100, 30, 90)]
    for points in (offset, turned):
        assert len(through(points, 15.0)[1].route.bends) == 2
    for second in (Bend(90.0, 20.0, 0.0), Bend(90.0, 10.0, None)):
        made = swept(Route((99.0, 10.0 + second.radius_mm, 99.0), (Bend(90.0, 10.0), second)))
        assert len(made.route.bends) == 2
        assert made.points is None


def test_u_of_legs():
    """A U takes one radius of each leg and is longer than that; more than 180 deg no bender makes."""
    route = Route((100.0, 60.0), (Bend(180.0, 15.0),))
    assert straights(route) == (85.0, 45.0)
    assert bend_gain(180.0, 15.0) == pytest.approx(30.0 - 15.0 * pi)
    with pytest.raises(RouteError) as caught:
        straights(Route((100.0, 10.0), (Bend(180.0, 15.0),)))
    assert str(caught.value) == "leg 2 is 10.0 mm long, its bends take 15.0 mm"
    with pytest.raises(RouteError) as caught:
        straights(Route((100.0, 60.0), (Bend(190.0, 15.0),)))
    assert str(caught.value) == "leg 1 ends in a bend of 190 deg; give from 0 to 180"


def test_a_route_without_sweeps_is_left_alone():
    """Nothing that is not joined changes, to the last digit."""
    points = [(0, 0, 0), (120, 0, 0), (120, 80, 0), (200, 80, 60), (200, 160, 60), (330, 160, -20)]
    route, made = through(points, 14.3)
    assert made.route == route
    assert made.points == tuple(points)
    assert [type(piece) for piece in curve(made)] == [Straight, *[Arc, Straight] * 4]
