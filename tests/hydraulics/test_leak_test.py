"""The leak test: pressures below every rating, pushes below what any circuit of the pedal bears, every joint listed."""

from math import pi
from pathlib import Path

import pytest

from fitcheck.build.circuits import Circuits
from fitcheck.hydraulics.bleed import bleed
from fitcheck.hydraulics.leak_test import LeakTests, leak_tests, within
from tests.hydraulics.bleed_cars import PEDAL, car

PISTON = pi / 4.0 * 20.0**2
FOOT = 125 * 4.4482216152605


def answers(folder: Path, *args: object, **more: object) -> LeakTests:
    """Return the leak tests of the car."""
    graph = car(folder, *args, **more)  # type: ignore[arg-type]
    circuits = Circuits(graph)
    return leak_tests(graph, circuits, bleed(graph, circuits))


def test_no_circuit_goes_above_its_lowest_rating(tmp_path: Path) -> None:
    """The high test ends at the rating of the weakest part, and says which that is; the low test stays as it is."""
    front, rear, clutch = answers(tmp_path).tests
    assert [test.name for test in (front, rear, clutch)] == ["front", "rear", "clutch"]
    assert (front.lowest.tag, front.high_mpa, front.capped) == ("fl", (10.0, 14.0), True)  # type: ignore[union-attr]
    assert (rear.lowest.tag, rear.high_mpa, rear.capped) == ("rl", (10.0, 12.0), True)  # type: ignore[union-attr]
    assert clutch.high_mpa == (10.0, 15.0)
    assert clutch.unrated == (("slave", "parts.slave.max_pressure"),)
    assert all(test.low_mpa == pytest.approx((0.1, 0.3)) for test in (front, rear, clutch))


def test_a_weak_part_brings_both_ends_down(tmp_path: Path) -> None:
    """A part that stands less than the least of the high test is tested at its rating and no more."""
    _, rear, _ = answers(tmp_path, swaps=("max_pressure: 12 MPa", "max_pressure: 0.2 MPa")).tests
    assert rear.high_mpa == (0.2, 0.2)
    assert rear.low_mpa == pytest.approx((0.1, 0.2))
    assert within(10.0, 15.0, 20.0) == (10.0, 15.0)


def test_pushes_of_the_foot_keep_below_every_circuit_of_the_pedal(tmp_path: Path) -> None:
    """The push for a circuit's high test is worked from lever and share; one foot presses all circuits of a pedal."""
    front, rear, clutch = answers(tmp_path, PEDAL).tests
    per_front, per_rear = 5 * 0.6 / PISTON, 5 * 0.4 / PISTON
    assert front.pedal_mpa == pytest.approx(FOOT * per_front)
    assert front.foot_n == pytest.approx((10.0 / per_front, 14.0 / per_front))
    assert rear.foot_n == pytest.approx((10.0 / per_rear, 12.0 / per_rear))
    most = 14.0 / per_front
    assert (front.foot_most_n, front.foot_limit) == (pytest.approx(most), "front")
    assert (rear.foot_most_n, rear.foot_limit) == (pytest.approx(most), "front")
    assert not front.pedal_too_much
    assert (clutch.pedal_mpa, clutch.drives) == (None, "clutch")
    assert clutch.foot_most_n == pytest.approx(16.0 * PISTON / 5)


def test_the_regulations_push_may_be_too_much(tmp_path: Path) -> None:
    """Where 125 lbf would pass a rating in one circuit, it is too much for every circuit of that pedal."""
    front, rear, _ = answers(tmp_path, PEDAL, swaps=("max_pressure: 14 MPa", "max_pressure: 4 MPa")).tests
    assert (front.pedal_too_much, rear.pedal_too_much) == (True, True)


def test_without_a_pedal_no_push_is_told(tmp_path: Path) -> None:
    """Nothing is known of the foot without ratio and shares."""
    assert [(test.foot_n, test.pedal_mpa, test.foot_most_n) for test in answers(tmp_path).tests] == [(None,) * 3] * 3


def test_a_booster_leaves_the_push_open(tmp_path: Path) -> None:
    """With a booster pressure does not go with the push: the high test's push is not told."""
    boosted = PEDAL.replace("balance: 0.6", "balance: 0.6, booster: {gain: 3}")
    front, *_ = answers(tmp_path, boosted).tests
    assert (front.foot_n, front.pedal_mpa) == (None, pytest.approx(FOOT * 5 * 3 * 0.6 / PISTON))


def test_every_joint_stands_in_one_list(tmp_path: Path) -> None:
    """All joints of the build but mechanical ones are in one circuit's list or among the feeds; bleed screws too."""
    graph = car(tmp_path)
    circuits = Circuits(graph)
    found = leak_tests(graph, circuits, bleed(graph, circuits))
    listed = [one.at for test in found.tests for one in test.joints if one.what != "bleed screw"]
    listed += [one.at for one in found.feeds]
    assert sorted(listed) == sorted(joint.refs for joint in graph.joints)
    screws = [one.at for test in found.tests for one in test.joints if one.what == "bleed screw"]
    assert sorted(screws) == [("fl",), ("fr",), ("rl",), ("rr",), ("slave",)]
    assert {one.what for one in found.feeds} == {"hose on barb"}


def test_torques_come_with_their_source(tmp_path: Path) -> None:
    """A tube nut has the range of the table for its seat and tube, a bleed screw its own; a barb has none."""
    found = answers(tmp_path)
    nut = next(one for one in found.tests[0].joints if one.what == "tube nut")
    assert (nut.thread, nut.torque.low_n_mm, nut.torque.high_n_mm) == ("M10x1", 13_000.0, 16_000.0)  # type: ignore[union-attr]
    assert nut.torque is not None
    assert nut.torque.mark == "vehicle workshop manuals (1997 to 2020)"
    screw = found.tests[0].joints[-1]
    assert screw.torque is not None
    assert (screw.torque.low_n_mm, screw.torque.high_n_mm) == (7_000.0, 10_000.0)
    assert found.feeds[0].torque is None


def test_the_gauge_goes_to_the_farthest_bleed_screw(tmp_path: Path) -> None:
    """The first bleed screw of the order is where the gauge goes."""
    front, rear, clutch = answers(tmp_path).tests
    assert [test.gauge.at for test in (front, rear, clutch) if test.gauge] == ["fr", "rr", "slave"]
