"""From the foot to pressure and back, valves included, in builds and by hand."""

from pathlib import Path

import pytest

from fitcheck.hydraulics.outlets import Valve, area_mm2
from fitcheck.hydraulics.push import Lever, metered_mpa, rod_force_n
from fitcheck.hydraulics.record import Gap
from tests.hydraulics.house import BAR_BRAKES, DRIVEN, bar_car, tandem_car


def test_the_push_reaches_each_brake(tmp_path: Path) -> None:
    """400 N x 5 = 2000 N on the rods, 60 % of it on 16 mm, 40 % on 19 mm: force over area, the same at each brake."""
    push = bar_car(tmp_path).push(400.0)
    assert push is not None
    assert push.rod_n == 2000.0
    assert push.forces_n == pytest.approx({"mc_front": 1200.0, "mc_rear": 800.0})
    front, rear = 1200.0 / area_mm2(16.0), 800.0 / area_mm2(19.0)
    assert push.pressures_mpa == pytest.approx({"mc_front.out": front, "mc_rear.out": rear})
    assert push.at_mpa == pytest.approx({"disc_l": front, "disc_r": front, "drum_l": rear, "drum_r": rear})


def test_the_clutch_has_its_own_pedal(tmp_path: Path) -> None:
    """The clutch's lever presses the clutch's cylinder only."""
    push = bar_car(tmp_path).push(100.0, "clutch")
    assert push is not None
    assert push.at_mpa == pytest.approx({"slave": 600.0 / area_mm2(16.0)})


def test_a_booster_adds_until_it_is_exhausted() -> None:
    """Gain 3 triples the push up to the limit; beyond it each newton of the foot is a newton of the foot."""
    assert rod_force_n(100.0, 4.0, gain=3.0, limit_n=2000.0) == 1200.0
    assert rod_force_n(250.0, 4.0, gain=3.0, limit_n=2000.0) == 3000.0
    assert rod_force_n(300.0, 4.0, gain=3.0, limit_n=2000.0) == 3200.0
    assert rod_force_n(300.0, 4.0, gain=3.0) == 3600.0


def test_booster_and_efficiency_are_read(tmp_path: Path) -> None:
    """What the build states of both is used, and then nothing is assumed of the efficiency."""
    pedal = "pedal: {force: 400 N, ratio: 4, efficiency: 0.9, booster: {gain: 3, limit: 1500 N}}\n"
    system = tandem_car(tmp_path, pedal)
    assert system.levers["brake"] == Lever(4.0, 0.9, 3.0, 1500.0)
    assert system.figures == ()
    push = system.push(400.0)
    assert push is not None
    assert push.rod_n == pytest.approx(400 * 4 * 0.9 + 1500)


def test_an_unstated_efficiency_is_assumed_aloud(tmp_path: Path) -> None:
    """Without it 1 is used, marked as assumed, with a range below."""
    figure = tandem_car(tmp_path).figures[0]
    assert (figure.key, figure.value, figure.known, figure.low, figure.high) == (
        "pedal.efficiency",
        1.0,
        "assumed",
        0.8,
        1.0,
    )
    assert figure.source == "of lever and master cylinder: the ideal if nobody measured it; from memory"


def test_no_ratio_is_a_gap(tmp_path: Path) -> None:
    """A pedal without ratio presses nothing, and the field is named."""
    system = tandem_car(tmp_path, "pedal: {force: 400 N}\n")
    assert system.push(400.0) is None
    assert Gap("pedal", "pedal.ratio") in system.gaps


def test_a_valve_meters_above_its_setting(tmp_path: Path) -> None:
    """Behind 2 MPa with slope 0.4 the drums get 2 MPa and 0.4 of the rest; the outlet keeps its pressure."""
    push = bar_car(tmp_path, valve="limiter").push(400.0)
    assert push is not None
    outlet = 800.0 / area_mm2(19.0)
    assert push.pressures_mpa["mc_rear.out"] == pytest.approx(outlet)
    assert push.at_mpa["drum_l"] == pytest.approx(2.0 + 0.4 * (outlet - 2.0))
    low = bar_car(tmp_path, valve="limiter").push(200.0)
    assert low is not None
    assert low.at_mpa["drum_l"] == low.pressures_mpa["mc_rear.out"]


def test_behind_an_unknown_valve_nothing_is_said(tmp_path: Path) -> None:
    """A valve without figures leaves the pressure behind it unknown: the drums are left out, the discs are not."""
    push = bar_car(tmp_path, valve="limiter-bare").push(400.0)
    assert push is not None
    assert sorted(push.at_mpa) == ["disc_l", "disc_r"]


def test_valves_in_series() -> None:
    """The second valve meters what the first lets on: 10 -> 3 + 0.5 x 7 = 6.5 -> 5 + 0.2 x 1.5 = 5.3."""
    valves = [Valve(3.0, 0.5), Valve(5.0, 0.2)]
    assert metered_mpa(10.0, valves) == pytest.approx(5.3)
    assert metered_mpa(5.0, valves) == pytest.approx(4.0)


def test_the_foot_for_a_deceleration(tmp_path: Path) -> None:
    """The least push that reaches half a g reaches just that; what the tyres cannot hold no push reaches."""
    system = bar_car(tmp_path)
    foot = system.foot_for_g(0.5)
    assert foot is not None
    reached = system.stop(foot)
    assert reached is not None
    assert reached.reached_g == pytest.approx(0.5)
    assert system.foot_for_g(1.0) is None
    assert bar_car(tmp_path, BAR_BRAKES).foot_for_g(0.5) is None


def test_a_caliper_on_two_circuits_gets_the_mean(tmp_path: Path) -> None:
    """Half of its pistons stand on each circuit: with one lost it is pushed half as hard."""
    system = tandem_car(tmp_path, split="twice")
    whole, half = system.push(400.0), system.push(400.0, lost=frozenset({"mc.one"}))
    assert whole is not None
    assert half is not None
    assert half.at_mpa["fl"] == pytest.approx(whole.at_mpa["fl"] / 2.0)


def test_shares_can_be_tried(tmp_path: Path) -> None:
    """Another setting of the bar is asked for without another build."""
    push = bar_car(tmp_path, DRIVEN).push(400.0, shares={"mc_front": 0.5, "mc_rear": 0.5})
    assert push is not None
    assert push.forces_n == {"mc_front": 1000.0, "mc_rear": 1000.0}
