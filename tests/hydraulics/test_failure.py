"""Each circuit lost in turn, and what published rules say to it."""

from pathlib import Path

import pytest

from fitcheck.hydraulics.failure import assumed, failures, service, shares_left
from fitcheck.hydraulics.record import Outlet
from fitcheck.hydraulics.system import System
from fitcheck.hydraulics.travel import Lost
from tests.hydraulics.house import CAR, DRIVEN, TANDEM_BRAKES, bar_car, tandem_car

RULED = DRIVEN.replace("tyre_friction: 0.9}", "tyre_friction: 0.9, rules: [ece-r13h, fmvss-135]}")


def left(system: System) -> dict[str, float]:
    """Return the deceleration that is left at 400 N, by the outlet that is lost."""
    return {one.lost: one.reached_g or 0.0 for one in failures(system, 400.0)}


def test_what_is_left_on_a_bar_is_the_other_share(tmp_path: Path) -> None:
    """Each cylinder keeps its own share of the push: both failures together brake like the whole, nothing sliding."""
    system = bar_car(tmp_path)
    whole = system.stop(300.0)
    assert whole is not None
    assert whole.locks is None
    parts = [one.reached_g or 0.0 for one in failures(system, 300.0)]
    assert sum(parts) == pytest.approx(whole.reached_g)
    assert [one.lost for one in failures(system, 300.0)] == ["mc_front.out", "mc_rear.out"]


def test_a_stated_stop_gives_the_rest_more(tmp_path: Path) -> None:
    """With the bar on its stop and 0.9 of the push on what is left, the rear alone brakes 0.9/0.4 times as hard."""
    own = left(bar_car(tmp_path))
    stated = bar_car(tmp_path, DRIVEN.replace("balance: 0.6", "balance: 0.6, share_left: 0.9"))
    assert left(stated)["mc_front.out"] == pytest.approx(own["mc_front.out"] * 0.9 / 0.4)
    lost_front = stated.outlets.outlets[0]
    assert shares_left(stated, lost_front) == {"mc_front": pytest.approx(0.1), "mc_rear": 0.9}
    assert assumed(stated) == ()


def test_the_own_share_is_assumed_aloud(tmp_path: Path) -> None:
    """What the cylinder that is left gets stands among the figures, from its own share up to all of the push."""
    front, rear = assumed(bar_car(tmp_path))
    assert (front.key, front.value, front.low, front.high) == ("pedal.share_left", 0.6, 0.6, 1.0)
    assert rear.source == "of mc_rear, with the other circuit lost: its own share, the least it can be; derived"
    assert assumed(tandem_car(tmp_path)) == ()


def test_a_tandem_cylinder_keeps_its_pressure(tmp_path: Path) -> None:
    """The other chamber sees the whole push: each axle brakes as it did, and no more."""
    system = tandem_car(tmp_path)
    whole = system.forces_n(200.0)
    assert whole is not None
    weight = 800 * 9.80665
    front_lost, rear_lost = failures(system, 200.0)
    assert front_lost.reached_g == pytest.approx(whole[1] / weight)
    assert rear_lost.reached_g == pytest.approx(whole[0] / weight)


def test_a_diagonal_split_loses_the_same_either_way(tmp_path: Path) -> None:
    """Each half is one front and one rear brake, limited by its own two tyres."""
    one, two = left(tandem_car(tmp_path, split="diagonals")).values()
    assert one == pytest.approx(two)
    asked = tandem_car(tmp_path, split="diagonals").stop(400.0)
    assert asked is not None
    assert one < asked.asked_g / 2  # the one front tyre slides; the rear one rolls and holds what it is asked for
    rear = 2000.0 / 20.0**2 * 20.0**2 * 2.0 * 100.0 / 300.0 / (800 * 9.80665)
    assert one == pytest.approx((0.45 * 0.5 + rear) / (1.0 - 0.45 * 0.2))


def test_all_on_one_circuit_leaves_nothing(tmp_path: Path) -> None:
    """Two outlets into one fluid are one circuit: a leak loses both."""
    joined = TANDEM_BRAKES + CAR + "joints:\n  - [tee_one.b, tee_two.b]\n"
    system = tandem_car(tmp_path, "pedal: {force: 400 N, ratio: 5}\n" + joined)
    assert set(left(system).values()) == {0.0}


def test_rules_are_compared_at_the_push_they_allow(tmp_path: Path) -> None:
    """Required and reached stand side by side, with the clause and where it is from."""
    lost_front, lost_rear = failures(bar_car(tmp_path, RULED), 100.0)
    ece, fmvss = lost_front.against
    assert (ece.rule, ece.clause, ece.words, ece.at_foot_n) == ("ece-r13h", "Annex 3, 2.2", "one circuit lost", 500.0)
    assert ece.required_g == pytest.approx(2.44 / 9.80665)
    assert fmvss.required_g == pytest.approx(2.4418 / 9.80665, rel=1e-4)
    assert ece.reached_g == pytest.approx(lost_front.reached_g * 5 if lost_front.reached_g else None)
    assert (ece.met, fmvss.met) == (False, False)
    assert [one.met for one in lost_rear.against] == [True, True]
    assert ece.source.startswith("UN Regulation No. 13-H, passenger cars, Annex 3, 2.2; from memory")


def test_the_service_brake_is_compared_too(tmp_path: Path) -> None:
    """With nothing lost the rules ask more; a weak pedal does not meet them."""
    assert [(one.clause, one.met) for one in service(bar_car(tmp_path, RULED))] == [
        ("Annex 3, 2.1.1", True),
        ("S7.5.3", True),
    ]
    weak = bar_car(tmp_path, RULED.replace("ratio: 5,", "ratio: 2,"))
    assert [one.met for one in service(weak)] == [False, False]


def test_what_cannot_be_computed_is_not_judged(tmp_path: Path) -> None:
    """Without the brakes' figures nothing is reached and nothing met or not."""
    rest = (
        "pedal: {force: 400 N, ratio: 5, balance: 0.6}\nbrakes: {disc_l: {axle: front}}\n"
        + RULED[RULED.index("car:") :]
    )
    for one in failures(bar_car(tmp_path, rest), 400.0):
        assert one.reached_g is None
        assert [each.met for each in one.against] == [None, None]


def test_travel_comes_from_who_knows_it(tmp_path: Path) -> None:
    """The hook is asked for each outlet at the push; without it travel is not known."""

    def reach(outlet: Outlet | None, foot_n: float) -> Lost:
        floor = 200.0 if outlet is not None and outlet.ref == "mc_rear.out" else 50.0
        return Lost(foot_n / 10, 60.0, (60.0, 60.0), floor)

    system = bar_car(tmp_path)
    assert [(one.travel_mm, one.travel_left) for one in failures(system, 400.0, reach)] == [(40.0, False), (40.0, True)]
    assert [(one.travel_mm, one.travel_left) for one in failures(system, 400.0)] == [(None, None)] * 2
