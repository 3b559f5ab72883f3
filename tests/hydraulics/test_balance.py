"""The balance: ideal curve, the bar's range, which axle locks first, and the setting that is right."""

from pathlib import Path

import pytest

from fitcheck.build.driving import BalanceBar
from fitcheck.hydraulics.balance import balance, bar_shares, first_lock, ideal_curve, right_setting
from fitcheck.hydraulics.car import Masses, adhesion_used
from fitcheck.hydraulics.record import Balance
from fitcheck.hydraulics.system import System
from tests.hydraulics.house import DRIVEN, bar_car, tandem_car

PINS = DRIVEN.replace("balance: 0.6", "bar: {front: 32 mm, rear: 48 mm, adjust: 12 mm}")


def balanced(system: System) -> Balance:
    """Return the balance at 400 N."""
    found = balance(system, 400.0)
    assert found is not None
    return found


def bar(front: str, rear: str, adjust: str | None) -> BalanceBar:
    """Return a bar by its lengths."""
    return BalanceBar.model_validate({"front": front, "rear": rear, **({"adjust": adjust} if adjust else {})})


def test_the_bar_moves_about_the_middle() -> None:
    """12 mm either way of 80 mm is 50 % and 15 % either way, wherever the pivot stands now."""
    assert bar_shares(bar("32 mm", "48 mm", "12 mm")) == pytest.approx((0.35, 0.65))
    assert bar_shares(bar("32 mm", "48 mm", None)) is None
    assert bar_shares(bar("10 mm", "10 mm", "15 mm")) == (0.0, 1.0)


def test_the_range_of_the_brakes_is_that_of_the_bar(tmp_path: Path) -> None:
    """The ends of the range are what builds with the pivot at each end brake like; the present share is within."""
    found = balanced(bar_car(tmp_path, PINS))
    low = balanced(bar_car(tmp_path, DRIVEN.replace("balance: 0.6", "balance: 0.35"))).share
    high = balanced(bar_car(tmp_path, DRIVEN.replace("balance: 0.6", "balance: 0.65"))).share
    assert (found.lowest, found.highest) == pytest.approx((low, high))
    assert found.share == pytest.approx(balanced(bar_car(tmp_path)).share)
    assert low < found.share < high


@pytest.mark.parametrize("valve", ["holder", "limiter"])
def test_the_right_setting_locks_both_together(tmp_path: Path, valve: str) -> None:
    """A build with the setting that is called right locks both axles at the tyres' own friction, valve or not."""
    right = right_setting(bar_car(tmp_path, valve=valve))
    assert right is not None
    there = bar_car(tmp_path, DRIVEN.replace("balance: 0.6", f"balance: {right.share:.15f}"), valve=valve)
    axles, at_g = first_lock(there) or ("", 0.0)
    assert (axles, at_g) == ("both", pytest.approx(0.9, rel=1e-6))


def test_where_the_pivot_stands_then(tmp_path: Path) -> None:
    """The place of the pivot for the right share, and whether the bar can be moved there."""
    right = right_setting(bar_car(tmp_path, PINS))
    assert right is not None
    assert right.front_mm == pytest.approx((1 - right.share) * 80)
    assert right.reachable is (0.35 <= right.share <= 0.65)
    far = right_setting(bar_car(tmp_path, PINS.replace("adjust: 12 mm", "adjust: 1 mm")))
    assert far is not None
    assert (far.share, far.reachable) == (pytest.approx(right.share), False)
    unknown = right_setting(bar_car(tmp_path, PINS.replace(", adjust: 12 mm", "")))
    assert unknown is not None
    assert unknown.reachable is None


@pytest.mark.parametrize(("share", "axle"), [(0.9, "front"), (0.2, "rear")])
def test_which_axle_locks_first(tmp_path: Path, share: float, axle: str) -> None:
    """Much push to one axle locks that one, at the deceleration at which it first needs what the tyres have."""
    system = bar_car(tmp_path, DRIVEN.replace("balance: 0.6", f"balance: {share}"))
    axles, at_g = first_lock(system) or ("", 0.0)
    assert axles == axle
    foot = system.foot_for_g(at_g)
    assert foot is not None
    assert max(adhesion_used(system.tyres(foot) or (), system.car or pytest.fail("no car"))) == pytest.approx(0.9)


def test_a_limiter_keeps_the_rear_from_locking_first(tmp_path: Path) -> None:
    """What a proportioning valve is for: with it the front axle locks first where without it the rear did."""
    rest = DRIVEN.replace("balance: 0.6", "balance: 0.35")
    without, with_it = (first_lock(bar_car(tmp_path, rest, valve=valve)) for valve in ("holder", "limiter"))
    assert without is not None
    assert with_it is not None
    assert (without[0], with_it[0]) == ("rear", "front")


def test_a_tandem_cylinder_has_no_setting(tmp_path: Path) -> None:
    """There is nothing to set: share and first axle are told, range and right setting are not."""
    found = balanced(tandem_car(tmp_path))
    assert (found.lowest, found.highest, found.right_balance, found.right_front_mm, found.reachable) == (None,) * 5
    assert found.locks_first == "rear"


def test_the_ideal_curve() -> None:
    """It starts at the share at rest, rises by height over wheelbase, and ends where the rear wheels lift."""
    curve = ideal_curve(Masses(800.0, 0.5, 0.2, 0.9))
    assert curve[0] == (0.0, 0.5)
    assert curve[-1] == (1.0, pytest.approx(0.7))
    assert all(share == pytest.approx(0.5 + 0.2 * z) for z, share in curve)
    assert ideal_curve(Masses(300.0, 0.6, 0.8, 1.4))[-1] == (pytest.approx(0.5), pytest.approx(1.0))


def test_too_little_known_is_no_balance(tmp_path: Path) -> None:
    """Without car data, and without push, there is none."""
    assert balance(bar_car(tmp_path, DRIVEN.partition("car:")[0]), 400.0) is None
    assert balance(bar_car(tmp_path), 0.0) is None
