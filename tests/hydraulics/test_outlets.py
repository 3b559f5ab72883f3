"""Which piston presses what: pedals, shares, the ways to the brakes, and what is said where the build is silent."""

from pathlib import Path

import pytest

from fitcheck.hydraulics.outlets import Outlets, Valve, bar_share
from fitcheck.hydraulics.record import Gap
from tests.hydraulics import house
from tests.hydraulics.house import BAR_BRAKES, CAR, DRIVEN, PEDAL, TANDEM_BRAKES, bar_car, tandem_car


def shares(found: Outlets) -> dict[str, float | None]:
    """Return the share of each outlet."""
    return {one.ref: one.share for one in found.outlets}


def test_axles_say_which_cylinder_is_the_front_one(tmp_path: Path) -> None:
    """The cylinder of the front brakes gets the balance, the other the rest, the clutch's all of its own pedal."""
    found = bar_car(tmp_path).outlets
    assert shares(found) == {"mc_front.out": 0.6, "mc_rear.out": 0.4, "mc_clutch.out": 1.0}
    assert [one.drives for one in found.outlets] == ["brake", "brake", "clutch"]
    assert [one.axles for one in found.outlets] == [("front",), ("rear",), ()]
    assert found.bar == ("mc_front", "mc_rear")


def test_one_known_axle_is_enough(tmp_path: Path) -> None:
    """Where only the rear brakes say their axle, the other cylinder is the front one."""
    brakes = BAR_BRAKES.replace("axle: front, ", "")
    assert bar_car(tmp_path, PEDAL + brakes).outlets.bar == ("mc_front", "mc_rear")


def test_names_of_circuits_stand_in_for_axles(tmp_path: Path) -> None:
    """Without any axle, circuits called front and rear say which is which, and give the outlets their names."""
    names = "circuits: {rear: {from: mc_front.out, feeds: []}, front: {from: mc_rear.out, feeds: []}}\n"
    found = bar_car(tmp_path, PEDAL + names).outlets
    assert found.bar == ("mc_rear", "mc_front")
    assert [one.name for one in found.outlets] == ["rear", "front", "mc_clutch.out"]


def test_an_unknown_front_cylinder_is_a_gap(tmp_path: Path) -> None:
    """With neither axles nor names nobody can say who gets the balance: no share, and the field that would tell."""
    found = bar_car(tmp_path, PEDAL).outlets
    assert shares(found) == {"mc_front.out": None, "mc_rear.out": None, "mc_clutch.out": 1.0}
    assert found.gaps == (Gap("pedal", "brakes.disc_l.axle"),)


def test_a_bar_without_figures_is_a_gap(tmp_path: Path) -> None:
    """Two cylinders and neither balance nor bar: no share is invented."""
    found = bar_car(tmp_path, "pedal: {force: 400 N, ratio: 5}\n" + BAR_BRAKES).outlets
    assert shares(found)["mc_front.out"] is None
    assert found.gaps == (Gap("pedal", "pedal.balance or pedal.bar"),)


def test_the_bar_shares_by_its_pins(tmp_path: Path) -> None:
    """A pivot 30 mm from the front rod and 45 mm from the rear one sends 45/75 to the front."""
    rest = DRIVEN.replace("balance: 0.6", "bar: {front: 30 mm, rear: 45 mm}")
    assert shares(bar_car(tmp_path, rest).outlets)["mc_front.out"] == pytest.approx(0.6)


@pytest.mark.parametrize(("front", "rear", "share"), [(30.0, 30.0, 0.5), (20.0, 40.0, 2 / 3), (40.0, 20.0, 1 / 3)])
def test_moments_about_the_pivot_are_equal(front: float, rear: float, share: float) -> None:
    """Centred the bar halves, fully off it gives one rod twice the other (trade articles on bars), and it balances."""
    assert bar_share(front, rear) == pytest.approx(share)
    assert bar_share(front, rear) * front == pytest.approx((1 - bar_share(front, rear)) * rear)


@pytest.mark.parametrize("split", ["axles", "diagonals"])
def test_both_chambers_see_all_of_the_push(tmp_path: Path, split: str) -> None:
    """A tandem cylinder has no bar: share 1 for both, each with its own chamber's travel."""
    found = tandem_car(tmp_path, split=split).outlets
    assert shares(found) == {"mc.one": 1.0, "mc.two": 1.0}
    assert [one.stroke_mm for one in found.outlets] == [14.0, 18.0]
    assert found.bar is None
    assert found.gaps == ()


def test_valves_on_the_way(tmp_path: Path) -> None:
    """A proportioning valve before both drums is on the way of each, a residual valve holds its setting back."""
    rear = bar_car(tmp_path, valve="limiter").outlets.outlets[1]
    assert rear.metered == {"drum_l": ("valve",), "drum_r": ("valve",)}
    assert rear.residual_mpa == {"drum_l": 0.0, "drum_r": 0.0}
    assert bar_car(tmp_path, valve="limiter").outlets.valves == {"valve": Valve(2.0, 0.4)}
    assert bar_car(tmp_path).outlets.outlets[1].residual_mpa == {"drum_l": 0.07, "drum_r": 0.07}


def test_unknown_figures_of_parts_are_gaps(tmp_path: Path) -> None:
    """A cylinder without bore or stroke and a valve without figures are told by the catalog's fields."""
    found = bar_car(tmp_path, front="pump-bare", valve="limiter-bare").outlets
    assert found.gaps == (
        Gap("mc_front", "parts.pump-bare.bore"),
        Gap("mc_front", "parts.pump-bare.stroke"),
        Gap("valve", "parts.limiter-bare.setting"),
        Gap("valve", "parts.limiter-bare.slope"),
    )
    assert found.outlets[0].area_mm2 is None


def test_tandem_strokes_need_the_chambers(tmp_path: Path) -> None:
    """How a tandem cylinder shares its stroke is not guessed."""
    found = house.tandem_car(tmp_path, chambers=False).outlets
    assert [one.stroke_mm for one in found.outlets] == [None, None]
    assert found.gaps == (Gap("mc", "parts.tandem-20.chambers"),)


def test_a_cylinder_in_series_presses_nothing_of_its_own(tmp_path: Path) -> None:
    """A hand lever's cylinder in the rear line is passed through: the rear brakes hang on the pedal's cylinder."""
    text = house.BAR.replace("FRONT", "pump-16").replace("REAR", "pump-19").replace("DISC", "disc-fixed")
    text = text.replace("valve: {part: VALVE}", "hand: {part: pump-series}")
    text = text.replace("to: valve.in", "to: hand.feed").replace("from: valve.out", "from: hand.out")
    found = house.read(tmp_path, text + DRIVEN).outlets
    assert [one.ref for one in found.outlets] == ["mc_front.out", "mc_rear.out", "mc_clutch.out"]
    assert found.outlets[1].consumers == ("drum_l", "drum_r")
    assert shares(found)["mc_rear.out"] == 0.4


def test_a_third_brake_cylinder_is_beyond_a_bar(tmp_path: Path) -> None:
    """One balance shares between two: with three cylinders on the pedal nothing is shared out."""
    text = house.BAR.replace("FRONT", "pump-16").replace("REAR", "pump-19").replace("DISC", "disc-fixed")
    text = text.replace("VALVE", "holder").replace("slave: {part: slave-22}", "slave: {part: drum-20}")
    found = house.read(tmp_path, text + DRIVEN).outlets
    assert set(shares(found).values()) == {None}
    assert found.gaps == (Gap("pedal", "pedal.balance: it shares between two master cylinders, and there are more"),)


def test_a_caliper_on_two_circuits_is_in_both(tmp_path: Path) -> None:
    """Each circuit of a twice-fed front axle lists both calipers, and the networks are two."""
    found = tandem_car(tmp_path, split="twice").outlets
    assert [one.consumers for one in found.outlets] == [("fl", "fr"), ("fl", "fr")]
    assert len(set(found.networks.values())) == 2


def test_a_build_without_pedal_still_has_outlets(tmp_path: Path) -> None:
    """Nothing of the driver's side is asked for to say what hangs on what."""
    system = tandem_car(tmp_path, TANDEM_BRAKES + CAR)
    assert shares(system.outlets) == {"mc.one": 1.0, "mc.two": 1.0}
    assert (system.levers, system.gaps, system.push(400.0)) == ({}, (), None)
