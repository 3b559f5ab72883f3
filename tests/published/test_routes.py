"""Developed lengths against outside figures: a published layout example, a hand-worked loop, a CAD kernel."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.build.routes import Bend, Route, RouteError, developed_length, straights, through_points

INCH = 25.4
G1 = [(0, 0, 0), (120, 0, 0), (120, 80, 0), (200, 80, 60), (200, 160, 60), (330, 160, -20)]


def test_layout_method_example():
    """The brochure's example (1/4 in tube, R 9/16 in) is 13-1/2 in as published, 13.5033 in unrounded."""
    bends = tuple(Bend(angle, 9 / 16 * INCH) for angle in (90.0, 30.0, 30.0, 90.0))
    route = Route(tuple(leg * INCH for leg in (4.0, 2.0, 4.0, 2.0, 2.0)), bends)
    inches = developed_length(route) / INCH
    assert inches == pytest.approx(13.5, abs=1 / 64)
    assert inches == pytest.approx(13.50330880722232, abs=1e-12)  # by a CAD kernel


def test_closed_loop_with_four_bends():
    """A 7 by 5 in loop, R 5/8 in, has straights of 5.75 and 3.75 in and arcs of 0.98 in, as published."""
    route = Route((7.0, 5.0, 7.0), (Bend(90.0, 0.625), Bend(90.0, 0.625)))
    assert straights(route)[1] == 3.75
    assert straights(Route((5.0, 7.0, 5.0), (Bend(90.0, 0.625), Bend(90.0, 0.625))))[1] == 5.75
    arc = developed_length(route) - sum(straights(route))
    assert arc / 2 == pytest.approx(0.98, abs=0.005)
    assert arc / 2 == pytest.approx(0.625 * pi / 2)


def test_three_dimensional_route():
    """Route G1 (R 14.3 mm) has the CAD kernel's length, straights, angles and rotations."""
    route = through_points(G1, [14.3] * 4)
    assert developed_length(route) == pytest.approx(508.0929251174056, abs=1e-9)
    assert straights(route) == pytest.approx((105.7, 51.4, 71.4, 51.4, 138.3434), abs=1e-4)
    assert [bend.angle_deg for bend in route.bends] == pytest.approx([90.0] * 4)
    assert route.bends[0].rotation_deg is None
    assert [bend.rotation_deg for bend in route.bends[1:]] == pytest.approx([143.1301, 180.0, -111.5226], abs=1e-4)


def test_elbow():
    """Route G3, two legs of 100 mm and R 15 mm, is 193.561945 mm."""
    route = through_points([(0, 0, 0), (100, 0, 0), (100, 100, 0)], [15.0])
    assert developed_length(route) == pytest.approx(193.561945, abs=1e-6)


def test_u_bend():
    """Route G4, a U of two bends that touch, has no straight between them and is 217.123890 mm."""
    route = through_points([(0, 0, 0), (100, 0, 0), (100, 30, 0), (0, 30, 0)], [15.0, 15.0])
    assert straights(route) == pytest.approx((85.0, 0.0, 85.0))
    assert developed_length(route) == pytest.approx(217.123890, abs=1e-6)


def test_idle_points_change_nothing():
    """A repeated point and a point on a straight are no bends, and later bends keep their own radius."""
    points = [(0, 0, 0), (0, 0, 0), (50, 0, 0), (100, 0, 0), (100, 100, 0)]
    route = through_points(points, [99.0, 99.0, 15.0])
    assert [(bend.radius_mm, bend.corner) for bend in route.bends] == [(15.0, 3)]
    assert developed_length(route) == pytest.approx(193.561945, abs=1e-6)


@pytest.mark.parametrize(
    ("points", "text"),
    [
        ([(0, 0, 0), (0, 0, 0)], "leg 1 has no length: its ends are one point"),
        ([(0, 0, 0), (9, 0, 0), (9, 9, 0)], "leg 1 is 9.0 mm long, its bends take 10.0 mm"),
        ([(0, 0, 0), (50, 0, 0), (50, 15, 0), (0, 15, 0)], "leg 2 is 15.0 mm long, its bends take 20.0 mm"),
        ([(0, 0, 0), (50, 0, 0), (20, 0, 0)], "leg 1 ends in a corner that turns straight back on itself"),
    ],
)
def test_routes_that_no_tube_follows(points, text):
    """An impossible route is refused with the leg and the reason, never clamped to something that fits."""
    with pytest.raises(RouteError) as caught:
        developed_length(through_points(points, [10.0] * (len(points) - 2)))
    assert str(caught.value) == text


@pytest.mark.parametrize("angle", [-1.0, 180.1, 400.0])
def test_bends_that_have_no_corner(angle):
    """A bend of legs that turns by less than nothing or by more than half a turn is refused."""
    with pytest.raises(RouteError) as caught:
        developed_length(Route((100.0, 100.0), (Bend(angle, 10.0),)))
    wanted = f"leg 1 ends in a bend of {angle:g} deg; give from 0 to 180"
    assert str(caught.value) == wanted


@given(st.lists(st.tuples(*[st.integers(-20, 20)] * 3), min_size=2, max_size=7))
def test_either_end_first(grid):
    """A route measured from its other end is as long, between the straight way and the sum of its legs."""
    points = [tuple(float(value * 100) for value in point) for point in grid]
    radii = [1.0] * (len(points) - 2)
    try:
        forwards = developed_length(through_points(points, radii))
    except RouteError:
        with pytest.raises(RouteError):
            developed_length(through_points(points[::-1], radii))
        return
    assert developed_length(through_points(points[::-1], radii)) == pytest.approx(forwards)
    apart = sum((a - b) ** 2 for a, b in zip(points[0], points[-1], strict=True)) ** 0.5
    legs = through_points(points, radii).legs_mm
    assert apart - 1e-6 <= forwards <= sum(legs) + 1e-6
