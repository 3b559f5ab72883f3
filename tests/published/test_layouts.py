"""Published layouts and worked examples that came with courses and handbooks. Each figure has its source beside it.

Those of the project's page of facts are in `test_bends.py`; rules of thumb are here with how far off they are.
"""

from math import radians, tan

import pytest

from fitcheck.build.benders import solve_test_bend
from fitcheck.build.routes import Bend, Route, developed_length, straights, tangent_length, through_points
from fitcheck.making.bend import Work, sheet_bends
from fitcheck.measures import tape
from tests.making.benches import NEEDS, by_legs, by_points


def offset(rise, angle, before=40.0, radius=0.5):
    """Return the route of an offset in one plane: `before` to its first corner, as much behind its second."""
    run = rise / tan(radians(angle))
    points = [(0, 0, 0), (before, 0, 0), (before + run, rise, 0), (2 * before + run, rise, 0)]
    return through_points(points, [radius] * 2)


def test_a9_channel_of_the_airframe_handbook():
    """Setback .2 in, flats .8, 1.6 and .8 in of a channel 1 by 2 by 1 in (airframe handbook, vol 1, fig 4-124; A9).

    R .16 in inside .04 in of sheet; both its dimensions and its setback are those of the outside, R + T.
    """
    assert tangent_length(90.0, 0.16 + 0.04) == pytest.approx(0.2)
    assert straights(Route((1.0, 2.0, 1.0), (Bend(90.0, 0.2), Bend(90.0, 0.2)))) == pytest.approx((0.8, 1.6, 0.8))


def test_both_legs_measured_to_the_back():
    """Stub 48, leg 44, R 24, OD 2.375 in: a course in making conduit, level II, lesson 4, questions 34 to 43.

    It prints straights of 22.8125 and 18.8125, 37.68 in the bend, 79.305 (79 5/16) in all; its arc, 1.57 R, is short.
    """
    solved = solve_test_bend(79.305, (48.0, 44.0), 2.375, radius_mm=24.0)
    assert solved.start_mm == pytest.approx(22.8125)
    half = 2.375 / 2
    course = by_legs([48 - half, 44 - half], [90.0], 24.0)
    assert straights(course.route) == pytest.approx((22.8125, 18.8125))
    (bend,) = sheet_bends(course, NEEDS, Work())
    assert bend.arc_mm == pytest.approx(37.68, abs=0.02)
    assert course.run_mm == pytest.approx(79.305, abs=0.02)
    assert tape(25.4 * course.run_mm, "in") == "79 5/16 in"
    assert solve_test_bend(79.305, (48.0, 44.0), 2.375).radius_mm == pytest.approx(24.0, abs=0.05)


def test_bend_allowance_of_a_ship_fitters_course():
    """R 3.25 in by 90 deg is 5.10 in, a U-bolt of R 1.25 in 3.925 in (naval fitters' course, figs 13-49, 13-50)."""
    (quarter,) = sheet_bends(by_legs([9, 9], [90.0], 3.25), NEEDS, Work())
    assert quarter.arc_mm == pytest.approx(5.10, abs=0.0055)  # it takes 1.57 for half of pi
    halves = sheet_bends(by_legs([9, 2.5, 9], [90.0, 90.0], 1.25), NEEDS, Work())
    assert sum(bend.arc_mm for bend in halves) == pytest.approx(3.925, abs=0.0025)  # it takes 3.14 for pi


@pytest.mark.parametrize(("angle", "radius"), [(90, 3.0), (45, 6.5), (22.5, 1.25), (150, 0.5)])
def test_formulas_of_a_page_on_bending_tube(angle, radius):
    """Tube in a bend: R x degrees x .01745; setback: R x tangent of half the angle (web page on bending tube)."""
    route = Route((50.0, 50.0), (Bend(angle, radius),))
    kept = straights(route)
    assert developed_length(route) - sum(kept) == pytest.approx(radius * angle * 0.01745, rel=2e-4)
    assert 50.0 - kept[0] == pytest.approx(radius * tan(radians(angle / 2)))


@pytest.mark.parametrize(
    ("rise", "angle", "apart", "shrink"),
    [(6, 30, 12.000, 1.608), (4, 45, 5.657, 1.656), (10, 22.5, 26.13, 1.99)],
)
def test_worked_offsets(rise, angle, apart, shrink):
    """Marks apart and shrink of three offsets, in inches, as a page of worked conduit problems prints them."""
    route = offset(rise, angle)
    assert route.legs_mm[1] == pytest.approx(apart, abs=0.005)
    assert route.legs_mm[1] - rise / tan(radians(angle)) == pytest.approx(shrink, abs=0.0025)
    assert route.bends[1].rotation_deg == pytest.approx(180.0)


def test_rolling_offset():
    """Rise 30 5/8, roll 17 5/8: 35.334561692485 in aside, travel 50 in at 45 deg (a pipefitter's notes, 2011)."""
    rise, roll = 47.5 - 16.875, 50 - 32.375
    aside = 35.334561692485
    route = through_points([(0, 0, 0), (60, 0, 0), (60 + aside, roll, rise), (160, roll, rise)], [3.0] * 2)
    assert [bend.angle_deg for bend in route.bends] == pytest.approx([45.0, 45.0])
    assert route.legs_mm[1] == pytest.approx(1.414 * aside, rel=2e-4)
    assert route.legs_mm[1] == pytest.approx(50.0, abs=1 / 16)
    assert route.bends[1].rotation_deg == pytest.approx(180.0)


@pytest.mark.parametrize(
    ("angle", "printed", "low"),
    [(10, 1 / 16, 28.6), (15, 1 / 8, 5.1), (22.5, 3 / 16, 5.7), (30, 1 / 4, 6.7), (45, 3 / 8, 9.5), (60, 1 / 2, 13.4)],
)
def test_shrink_by_rule_of_thumb_is_low(angle, printed, low):
    """Shrink for each inch of rise, as a conduit bending guide prints it (A12): 5 to 29 per cent under the true one."""
    route = offset(1.0, angle, radius=0.01)
    shrink = route.legs_mm[1] - 1.0 / tan(radians(angle))
    assert 100.0 * (1.0 - printed / shrink) == pytest.approx(low, abs=0.05)


def test_saddle_of_three_bends():
    """Bends of 22.5, 45 and 22.5 deg: outer marks 2.5 heights from the middle, shrink 3/16 in an inch (saddle guide).

    Both are rules of thumb: exact 2.613 and 0.1989.
    """
    up = 4.0 / tan(radians(22.5))
    points = [(0, 0, 0), (30, 0, 0), (30 + up, 4, 0), (30 + 2 * up, 0, 0), (70 + 2 * up, 0, 0)]
    route = through_points(points, [2.0] * 3)
    assert [bend.angle_deg for bend in route.bends] == pytest.approx([22.5, 45.0, 22.5])
    assert route.legs_mm[1] / 4 == pytest.approx(2.613, abs=5e-4)
    assert route.legs_mm[1] / 4 == pytest.approx(2.5, rel=0.05)
    shrink = (route.legs_mm[1] - up) / 4
    assert shrink == pytest.approx(0.1989, abs=5e-5)
    assert 3 / 16 / shrink == pytest.approx(1 - 0.057, abs=5e-4)


def test_stub_of_a_textbook():
    """Height 10 in, bender R 5 in: mark 5 in (textbook on wiring houses, 2021, page 144); half the OD is left out."""
    assert solve_test_bend(60.0, (10.0, 30.0), 0.0, radius_mm=5.0).start_mm == pytest.approx(5.0)
    assert solve_test_bend(60.0, (10.0, 30.0), 0.706, radius_mm=5.0).start_mm == pytest.approx(5 - 0.706 / 2)


def test_a17_four_points():
    """Four points [in] of a question on a mathematics forum (2018): legs, two bends of 90, half a turn (A17; derived).

    The question has no printed answer; ours puts the points back where they were.
    """
    points = [(38.5202, -14.0264, 0), (45.3142, -14.0264, 0), (45.3142, -17.5214, 0.9654), (48.6822, -17.5214, 0.9654)]
    route = by_points(points, 0.5).route
    assert route.legs_mm == pytest.approx((6.794, 3.6259, 3.368), abs=5e-5)
    assert [bend.angle_deg for bend in route.bends] == pytest.approx([90.0, 90.0])
    assert route.bends[1].rotation_deg == pytest.approx(180.0)
