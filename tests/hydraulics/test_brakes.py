"""One brake: which area pushes, what torque and tyre force come of it, and what is said where figures are missing."""

from math import pi
from pathlib import Path

import pytest

from fitcheck.catalog.part import part_from_row
from fitcheck.hydraulics.brakes import (
    brake_torque_nmm,
    corners,
    disc_factor,
    piston_area_mm2,
)
from fitcheck.hydraulics.record import Gap
from tests.hydraulics.house import CAR, PEDAL, bar_car


def area(kind: str, **row: object) -> float | None:
    """Return the acting area of an invented part."""
    return piston_area_mm2(part_from_row("x", {"kind": kind, **row}))


def test_a_fixed_caliper_counts_one_side() -> None:
    """Two pistons opposite each other push as one: each pad has its own. One side is counted (trade forum archive)."""
    assert area("caliper", pistons=[40.0, 40.0], style="fixed") == pytest.approx(pi / 4 * 40.0**2)
    assert area("caliper", pistons=[38.0, 41.0, 38.0, 41.0], style="fixed") == pytest.approx(
        pi / 4 * (38.0**2 + 41.0**2)
    )


def test_a_floating_caliper_counts_all_its_pistons() -> None:
    """Its body pulls the other pad with the same force."""
    assert area("caliper", pistons=[54.0], style="floating") == pytest.approx(pi / 4 * 54.0**2)
    assert area("caliper", pistons=[36.0, 36.0], style="floating") == pytest.approx(pi / 2 * 36.0**2)


def test_a_wheel_cylinder_counts_one_piston() -> None:
    """Each piston pushes one shoe; a stated pair, a bore alone and a single piston are the same."""
    one = pytest.approx(pi / 4 * 20.0**2)
    assert area("wheel cylinder", pistons=[20.0, 20.0]) == one
    assert area("wheel cylinder", pistons=[20.0]) == one
    assert area("wheel cylinder", bore=20.0) == one


def test_too_little_is_not_guessed() -> None:
    """A caliper's bore does not say how many pistons it has, nor pistons on which side they stand."""
    assert area("caliper", bore=40.0) is None
    assert area("caliper", pistons=[40.0, 40.0]) is None
    assert area("wheel cylinder") is None
    assert area("slave cylinder", bore=22.0) is None


def test_a_disc_and_a_drum_by_hand(tmp_path: Path) -> None:
    """2 mu p A r of the disc and factor p A r of the drum, both over the tyre's radius."""
    system = bar_car(tmp_path)
    disc, _, drum, _ = corners(system.brakes, {"disc_l": 5.0, "disc_r": 5.0, "drum_l": 3.0, "drum_r": 3.0})
    assert (disc.axle, disc.pressure_mpa, disc.piston_mm2) == ("front", 5.0, pytest.approx(400 * pi))
    assert disc.clamp_n == pytest.approx(2000 * pi)
    assert disc.torque_nmm == pytest.approx(2 * 0.4 * 2000 * pi * 110)
    assert disc.force_n == pytest.approx(2 * 0.4 * 2000 * pi * 110 / 300)
    assert drum.torque_nmm == pytest.approx(2 * 300 * pi * 100)
    assert drum.force_n == pytest.approx(2 * 300 * pi * 100 / 300)


def test_a_stated_factor_goes_before_the_friction(tmp_path: Path) -> None:
    """Whoever states both means the factor: a disc that drags otherwise than 2 mu."""
    rest = PEDAL + "brakes: {disc_l: {axle: front, friction: 0.4, factor: 0.7, radius: 110 mm, tyre: 300 mm}}\n"
    assert bar_car(tmp_path, rest).brakes[0].factor == 0.7
    assert disc_factor(0.4) == 0.8


def test_missing_figures_are_told_by_field(tmp_path: Path) -> None:
    """Each field that is missing of a brake or of its part is named, and no force is given."""
    rest = PEDAL + "brakes: {disc_l: {axle: front}}\n" + CAR
    system = bar_car(tmp_path, rest, disc="disc-bare")
    told = [gap for gap in system.gaps if gap.at in ("disc_l", "drum_l")]
    assert told == [
        Gap("disc_l", "parts.disc-bare.pistons"),
        Gap("disc_l", "parts.disc-bare.style"),
        Gap("disc_l", "brakes.disc_l.friction"),
        Gap("disc_l", "brakes.disc_l.radius"),
        Gap("disc_l", "brakes.disc_l.tyre"),
        Gap("drum_l", "brakes.drum_l.axle"),
        Gap("drum_l", "brakes.drum_l.factor"),
        Gap("drum_l", "brakes.drum_l.radius"),
        Gap("drum_l", "brakes.drum_l.tyre"),
    ]
    assert {one.force_n for one in system.corners(400.0)} == {None}
    assert system.stop(400.0) is None


def test_what_the_tyre_holds_stands_beside_each_corner(tmp_path: Path) -> None:
    """The limits of all tyres together are friction times weight, half of an axle's load on each wheel."""
    found = bar_car(tmp_path).corners(400.0)
    assert sum(one.limit_n or 0.0 for one in found) == pytest.approx(0.9 * 800 * 9.80665)
    assert found[0].limit_n == found[1].limit_n


def test_torque_is_linear() -> None:
    """Twice the pressure is twice the torque."""
    assert brake_torque_nmm(6.0, 1000.0, 0.8, 110.0) == 2 * brake_torque_nmm(3.0, 1000.0, 0.8, 110.0)
