"""Bend data and the tube it makes: rebuilt from numbers, made at a simulated bench, mirrored, turned round, moved."""

from itertools import pairwise
from math import cos, dist, hypot, radians, sin

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from fitcheck.build.routes import RouteError, straights
from fitcheck.making.bend import Work, sheet_bends
from fitcheck.making.shape import cross, dot, plus, rebuilt, unit
from tests.making.benches import NEEDS, SAME_EVERY_TIME, by_points

RADIUS = 9.0
POINTS = st.lists(st.tuples(*[st.integers(-9, 9)] * 3), min_size=2, max_size=7, unique=True).map(
    lambda grid: [tuple(50.0 * value for value in point) for point in grid]
)
ANGLE = st.floats(-180, 180)


def course_of(points):
    """Return the course through points, or pass over those that no tube follows."""
    try:
        course = by_points(points, RADIUS)
        straights(course.route)
    except RouteError:
        assume(False)
    return course


def sheet_data(course):
    """Return what a sheet says: straights, angles, rotations, radii."""
    bends = sheet_bends(course, NEEDS, Work())
    data = [(bend.angle_deg, bend.rotation_deg, bend.radius_mm) for bend in bends]
    angles, rotations, radii = zip(*data, strict=True) if data else ((), (), ())
    return straights(course.route), angles, rotations, radii


def about_x(point, angle):
    """Return a point turned about x, right-handed: clockwise for who looks along x."""
    c, s = cos(radians(angle)), sin(radians(angle))
    return point[0], c * point[1] - s * point[2], s * point[1] + c * point[2]


def about_z(point, angle):
    """Return a point turned about z, right-handed."""
    c, s = cos(radians(angle)), sin(radians(angle))
    return c * point[0] - s * point[1], s * point[0] + c * point[1], point[2]


def moved(points, angles, shift):
    """Return points turned about x, z and x again, and shifted."""
    return [plus(about_x(about_z(about_x(p, angles[0]), angles[1]), angles[2]), shift) for p in points]


def placed(points, like):
    """Return points of a frame of their own (first leg along x, first bend towards y) where `like` stands."""
    along = unit(like[0], like[1])
    aside = next(
        (cross(cross(along, unit(like[1], point)), along) for point in like[2:]),
        (0.0, 0.0, 0.0),
    )
    size = hypot(*aside)
    aside = plus((0.0, 0.0, 0.0), aside, 1.0 / size) if size else aside
    up = cross(along, aside)
    return [plus(plus(plus(like[0], along, x), aside, y), up, z) for x, y, z in points]


def same_handed(first, second):
    """Return whether two shapes are one, not mirrored: distances and signed volumes of all corners agree."""
    for i, a in enumerate(first):
        for j, b in enumerate(first):
            assert dist(a, b) == pytest.approx(dist(second[i], second[j]), abs=1e-6)
    for index in range(len(first) - 3):
        a, b = ([plus(p[index + k], p[index], -1.0) for k in (1, 2, 3)] for p in (first, second))
        assert dot(cross(a[0], a[1]), a[2]) == pytest.approx(dot(cross(b[0], b[1]), b[2]), rel=1e-9, abs=1e-2)


@SAME_EVERY_TIME
@given(POINTS)
def test_sheet_data_lands_on_the_route(points):
    """Straights, angles, rotations and radii alone, rebuilt to corner points, land on the route to 1e-6 mm."""
    course = course_of(points)
    shape = rebuilt(*sheet_data(course))
    for made, meant in zip(placed(shape, course.points), course.points, strict=True):
        assert dist(made, meant) < 1e-6


@SAME_EVERY_TIME
@given(POINTS)
def test_tube_made_at_a_bench(points):
    """A tool that always bends the same way makes the route if the tube is turned against the rotation before a bend.

    The bench knows nothing of our vectors: the tube lies along x with end A behind, the tool bends what is in front
    towards y; instead of the loose end the finished tail is moved, which is the same.
    """
    course = course_of(points)
    kept, angles, rotations, radii = sheet_data(course)
    tail = [(0.0, 0.0, 0.0)]  # finished corners, end A first; x = 0 is where the tube leaves the last bend
    for index, angle in enumerate(angles):
        tail = [(x - kept[index], y, z) for x, y, z in tail]  # feed the straight through the tool
        if index:
            tail = [about_x(point, -rotations[index]) for point in tail]  # anticlockwise, seen along the tube
        half = radii[index] * sin(radians(angle) / 2) / cos(radians(angle) / 2)
        tail.append((half, 0.0, 0.0))
        # Seen from the tube in front, the tail turns the other way about the corner and the front starts behind it.
        tail = [about_z((x - half, y, z), -angle) for x, y, z in tail]
        tail = [(x - half, y, z) for x, y, z in tail]
    tail.append((kept[-1], 0.0, 0.0))
    same_handed(tail, course.points)


@SAME_EVERY_TIME
@given(POINTS)
def test_mirror_negates_rotations(points):
    """The other side's tube has the same straights and angles, and each rotation the other way."""
    course = course_of(points)
    mirror = course_of([(x, -y, z) for x, y, z in points])
    kept, angles, rotations, _ = sheet_data(course)
    other = sheet_data(mirror)
    assert (other[0], other[1]) == (pytest.approx(kept), pytest.approx(angles))
    for one, two in zip(rotations[1:], other[2][1:], strict=True):
        assert abs((one + two + 180) % 360 - 180) < 1e-6


@SAME_EVERY_TIME
@given(POINTS)
def test_other_end_first(points):
    """Worked from the other end the lists turn round, rotations keep their signs, and marks are from the other end."""
    course = course_of(points)
    back = course.backwards()
    again = by_points(points[::-1], RADIUS)
    assert back.points == again.points
    assert back.route.legs_mm == pytest.approx(again.route.legs_mm)
    mine, theirs = sheet_data(back), sheet_data(again)
    assert mine[1] == pytest.approx(theirs[1])
    for one, two in zip(mine[2][1:], theirs[2][1:], strict=True):
        assert abs((one - two + 180) % 360 - 180) < 1e-6
    here, there = (sheet_bends(each, NEEDS, Work()) for each in (course, back))
    for one, two in zip(here, there[::-1], strict=True):
        assert one.start_mm + one.arc_mm + two.start_mm == pytest.approx(course.run_mm)
    assert back.backwards().route == course.route


@SAME_EVERY_TIME
@given(POINTS, st.tuples(ANGLE, ANGLE, ANGLE), st.tuples(*[st.floats(-500, 500)] * 3))
def test_moving_the_car_changes_nothing(points, angles, shift):
    """A route turned and shifted as a whole has the same bend data."""
    course = course_of(points)
    elsewhere = course_of(moved(points, angles, shift))
    one, two = sheet_data(course), sheet_data(elsewhere)
    assert one[0] == pytest.approx(two[0], abs=1e-6)
    assert one[1] == pytest.approx(two[1], abs=1e-6)
    for a, b in zip(one[2][1:], two[2][1:], strict=True):
        assert abs((a - b + 180) % 360 - 180) < 1e-5


@SAME_EVERY_TIME
@given(POINTS)
def test_rotation_against_an_outside_library(points):
    """The axis of each bend, turned about the straight by the rotation, is that of the next bend (scipy Rotation)."""
    transform = pytest.importorskip("scipy.spatial.transform", reason="scipy is not installed: no outside rotation")
    course = course_of(points)
    units = [unit(a, b) for a, b in pairwise(course.points)]
    axes = [cross(a, b) for a, b in pairwise(units)]
    for index, bend in enumerate(course.route.bends[1:], start=1):
        turn = transform.Rotation.from_rotvec([value * radians(bend.rotation_deg) for value in units[index]])
        turned = turn.apply(axes[index - 1])
        assert (
            dist([value / hypot(*turned) for value in turned], [value / hypot(*axes[index]) for value in axes[index]])
            < 1e-9
        )
