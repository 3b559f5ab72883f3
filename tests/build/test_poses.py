"""Rigid motions of bodies, and how their poses combine."""

from itertools import pairwise, permutations
from math import cos, dist, radians, sin
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.build.curves import length_of, point_at
from fitcheck.build.load import load_document
from fitcheck.build.model import BuildFile
from fitcheck.build.poses import MOST, REST, Motion, motion_about, motions, unclear_poses
from fitcheck.build.rotations import NO_TURN, rotation, turned, twist_deg
from fitcheck.sources import parse
from tests.build.bent import centre_line

DROOP = "droop: {shift: [0, 0, -60]}"
BUMP = "bump: {shift: [0, 0, 55]}"
LOCK = "lock: {turn: 30 deg, about: {point: [2300, 600, 300], axis: [0, 0, 1]}}"
BACK = "back: {turn: -25 deg, about: {point: [2300, 600, 0], axis: [0, 0, 2]}}"
ROLL = "roll: {turn: 5 deg, about: {point: [0, 0, 300], axis: [1, 0, 0]}}"
BOTH = "both: {shift: [0, 0, -60], turn: 90 deg, about: {point: [0, 0, 0], axis: [0, 0, 1]}}"

numbers = st.floats(-500.0, 500.0)
points = st.tuples(numbers, numbers, numbers)
axes = points.filter(lambda axis: dist(axis, (0.0, 0.0, 0.0)) > 1.0)
angles = st.floats(-179.0, 179.0)


def file_of(*poses: str, head: str = "") -> BuildFile:
    """Return a build with one body that has these poses."""
    text = f"build: 1\n{head}bodies: {{knuckle: {{poses: {{{', '.join(poses)}}}}}}}\n"
    return load_document(parse(text, "build.yaml"), Path()).file


def motions_of(*poses: str) -> dict[str | None, Motion]:
    """Return a body's motions by the name of the pose."""
    return {motion.pose: motion for motion in motions(file_of(*poses), "knuckle")}


def by_matrix(axis: tuple[float, float, float], angle: float, v: tuple[float, float, float]) -> list[float]:
    """Return a vector turned about an axis by Rodrigues' formula: v cos a + (u x v) sin a + u (u . v)(1 - cos a)."""
    length = dist(axis, (0.0, 0.0, 0.0))
    u = [part / length for part in axis]
    c, s = cos(radians(angle)), sin(radians(angle))
    cross = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
    along = sum(a * b for a, b in zip(u, v, strict=True))
    return [v[i] * c + cross[i] * s + u[i] * along * (1.0 - c) for i in range(3)]


@given(axes, angles, points)
@settings(derandomize=True, database=None, deadline=None)
def test_turn_is_that_of_rodrigues(
    axis: tuple[float, float, float], angle: float, v: tuple[float, float, float]
) -> None:
    """A quaternion's turn equals the classical formula for a turn about an axis."""
    assert turned(rotation(axis, angle), v) == pytest.approx(by_matrix(axis, angle, v), abs=1e-9)


def test_turn_is_that_of_a_general_library() -> None:
    """The same turn by a general library's rotation vectors; left out where that is not installed."""
    module = pytest.importorskip("scipy.spatial.transform", reason="scipy is not installed: no second opinion on turns")
    for angle in range(-170, 180, 20):
        axis, v = (0.3, -0.5, 0.8), (120.0, -40.0, 75.0)
        length = dist(axis, (0.0, 0.0, 0.0))
        other = module.Rotation.from_rotvec([radians(angle) * part / length for part in axis]).apply(v)
        assert turned(rotation(axis, angle), v) == pytest.approx(list(other), abs=1e-9)


@given(st.lists(st.tuples(points, axes, angles, points), min_size=1, max_size=4), points, points)
@settings(derandomize=True, database=None, deadline=None)
def test_motions_are_rigid(
    parts: list[tuple[tuple[float, float, float], ...]], a: tuple[float, float, float], b: tuple[float, float, float]
) -> None:
    """However many turns and shifts follow each other, two points stay as far apart as they were."""
    whole = REST
    for point, axis, angle, shift in parts:
        whole = whole.then(motion_about(point, axis, angle)).then(Motion("x", shift=shift))
    assert dist(whole.of(a), whole.of(b)) == pytest.approx(dist(a, b), abs=1e-7)


def test_motions_follow_each_other() -> None:
    """One motion and then another moves a point as both do in turn, and bears both names."""
    first = motion_about((10.0, 0.0, 0.0), (0.0, 1.0, 1.0), 40.0, "lock")
    second = Motion("droop", shift=(0.0, 0.0, -60.0))
    both = first.then(second)
    assert both.of((3.0, 4.0, 5.0)) == pytest.approx(second.of(first.of((3.0, 4.0, 5.0))))
    assert both.pose == "lock and droop"


def test_points_on_the_axis_stay() -> None:
    """What lies on the axis of a turn does not move."""
    turn = motion_about((10.0, 20.0, 30.0), (1.0, 2.0, 2.0), 77.0)
    assert turn.of((11.0, 22.0, 32.0)) == pytest.approx((11.0, 22.0, 32.0))


def test_a_curve_is_carried_point_by_point() -> None:
    """A bent line that is carried along has the same pieces, each point where the motion takes it."""
    curve = centre_line([(0, 0, 0), (100, 0, 0), (100, 80, 40)], [15.0])
    motion = motion_about((5.0, 5.0, 5.0), (1.0, -1.0, 0.5), 33.0, "lock").then(Motion("droop", shift=(1.0, 2.0, 3.0)))
    for piece, there in zip(curve, motion.carried(curve), strict=True):
        assert length_of(there) == pytest.approx(length_of(piece))
        for share in (0.0, 0.3, 1.0):
            assert point_at(there, share) == pytest.approx(motion.of(point_at(piece, share)))
    assert REST.carried(curve) is curve


def test_travel_combines_with_lock_both_ways() -> None:
    """Each of rest, droop and bump comes with each of rest, lock, and lock the other way."""
    assert list(motions_of(DROOP, BUMP, LOCK)) == [
        None, "lock", "lock the other way",
        "droop", "droop and lock", "droop and lock the other way",
        "bump", "bump and lock", "bump and lock the other way",
    ]  # fmt: skip


def test_the_axis_moves_with_the_shift() -> None:
    """At droop the kingpin hangs lower: a point is turned about it and then lowered, by hand."""
    found = motions_of("droop: {shift: [5, 0, -60]}", LOCK)["droop and lock"].of((2330.0, 600.0, 330.0))
    assert found == pytest.approx((2305.0 + 30.0 * cos(radians(30)), 600.0 + 30.0 * sin(radians(30)), 270.0))


def test_a_turn_stated_for_each_way_is_not_mirrored() -> None:
    """Where the file says how far the body turns each way, nothing further is made up; the axis is one line."""
    assert list(motions_of(LOCK, BACK)) == [None, "back", "lock"]


def test_the_way_an_axis_points_tells_the_way_it_turns() -> None:
    """A positive turn about the same axis written upside down is the turn of the other way."""
    under = "left: {turn: 28 deg, about: {point: [2300, 600, 100], axis: [0, 0, -1]}}"
    assert list(motions_of(LOCK, under)) == [None, "left", "lock"]


def test_turns_about_two_axes_are_taken_in_both_orders() -> None:
    """Which axis carries the other is not known: both orders are positions of the body, and they differ."""
    found = [m for m in motions(file_of(LOCK, ROLL), "knuckle") if m.pose == "lock and roll"]
    assert len(found) == 2
    ends = [motion.of((2330.0, 600.0, 330.0)) for motion in found]
    assert dist(*ends) > 1.0


def test_a_pose_with_both_stands_alone() -> None:
    """A pose that states a shift and a turn is turned, then shifted, and combines with nothing."""
    found = motions_of(BOTH, BUMP)
    assert list(found) == [None, "bump", "both"]
    assert found["both"].of((10.0, 0.0, 5.0)) == pytest.approx((0.0, 10.0, -55.0))


def test_poses_are_in_the_unit_of_coordinates() -> None:
    """Shifts and axis points are read in the unit that `coordinates` names."""
    file = file_of("droop: {shift: [0, 0, -2]}", ROLL, head="coordinates: in\n")
    found = {motion.pose: motion for motion in motions(file, "knuckle")}
    assert found["droop"].shift == (0.0, 0.0, pytest.approx(-50.8))
    assert found["roll"].of((0.0, 0.0, 300.0 * 25.4)) == pytest.approx((0.0, 0.0, 300.0 * 25.4))


def test_chassis_and_bodies_without_poses_rest() -> None:
    """What never moves, and what nobody has said anything of, is at rest only."""
    file = load_document(parse("build: 1\nbodies: {axle: {}}\n", "build.yaml"), Path()).file
    assert motions(file, "chassis") == motions(file, "axle") == (REST,)
    assert REST.turn == NO_TURN
    assert unclear_poses(file, "chassis") == unclear_poses(file, "axle") == []


def test_an_axis_without_direction_is_named() -> None:
    """A turn about an axis of no length is left out, and the field is told."""
    file = file_of(DROOP, "lock: {turn: 30 deg, about: {point: [0, 0, 0], axis: [0, 0, 0]}}")
    assert [motion.pose for motion in motions(file, "knuckle")] == [None, "droop"]
    assert unclear_poses(file, "knuckle") == ["bodies.knuckle.poses.lock.about.axis"]


def test_too_many_poses_are_not_combined() -> None:
    """A body with more positions than are looked at has the first poses looked at, each by itself, and that is told."""
    shifts = [f"s{number}: {{shift: [0, 0, {number}]}}" for number in range(MOST)]
    file = file_of(*shifts, LOCK)
    assert len(motions(file, "knuckle")) == MOST
    assert unclear_poses(file, "knuckle") == ["bodies.knuckle.poses: fewer of them, which make 100 positions at most"]
    assert unclear_poses(file_of(DROOP, BUMP, LOCK, ROLL), "knuckle") == []


def test_order_of_poses_does_not_matter() -> None:
    """The positions of a body are the same in whatever order the file states its poses."""

    def positions(poses: tuple[str, ...]) -> list[tuple[float, ...]]:
        found = (motion.of((2330.0, 610.0, 330.0)) for motion in motions(file_of(*poses), "knuckle"))
        return sorted(tuple(round(value, 6) for value in point) for point in found)

    orders = [positions(order) for order in permutations((DROOP, BUMP, LOCK, ROLL, BOTH))]
    assert all(a == b for a, b in pairwise(orders))


@given(axes, angles)
@settings(derandomize=True, database=None, deadline=None)
def test_a_turn_about_the_direction_is_twist(axis: tuple[float, float, float], angle: float) -> None:
    """A turn about the hose's own direction is all twist, and the other end's turn counts the other way."""
    assert twist_deg(NO_TURN, rotation(axis, angle), axis) == pytest.approx(angle, abs=1e-6)
    assert twist_deg(rotation(axis, angle), NO_TURN, axis) == pytest.approx(-angle, abs=1e-6)


def test_a_turn_across_the_direction_is_no_twist() -> None:
    """A turn about an axis across the hose bends it only; both ends turning alike do nothing at all."""
    assert twist_deg(NO_TURN, rotation((0.0, 0.0, 1.0), 40.0), (1.0, 0.0, 0.0)) == pytest.approx(0.0, abs=1e-9)
    both = rotation((0.2, 0.3, 0.9), 50.0)
    assert twist_deg(both, both, (5.0, 1.0, 2.0)) == pytest.approx(0.0, abs=1e-9)
    assert twist_deg(NO_TURN, both, (0.0, 0.0, 0.0)) == 0.0


def test_twist_is_at_most_half_a_turn() -> None:
    """Twist is told the shorter way round."""
    found = twist_deg(rotation((1.0, 0.0, 0.0), -100.0), rotation((1.0, 0.0, 0.0), 100.0), (1.0, 0.0, 0.0))
    assert found == pytest.approx(-160.0)
