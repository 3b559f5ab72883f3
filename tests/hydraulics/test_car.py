"""Axle loads, sliding axles: against brute force and by hand."""

from pathlib import Path

import pytest

from fitcheck.hydraulics.car import (
    Masses,
    Tyre,
    adhesion_used,
    axle_loads_n,
    ideal_front_share,
    least,
    stop,
)
from fitcheck.hydraulics.record import Gap
from tests.hydraulics.house import BAR_BRAKES, DRIVEN, PEDAL, bar_car

CAR = Masses(mass_kg=800.0, front_static=0.5, transfer=0.2, tyre_friction=0.9)


def four(front: float, rear: float) -> list[Tyre]:
    """Return four braked tyres with these forces on each."""
    return [Tyre("front", front), Tyre("front", front), Tyre("rear", rear), Tyre("rear", rear)]


def by_bisection(tyres: list[Tyre], car: Masses) -> float:
    """Return the deceleration at which what the tyres hold is what slows the car, by halving."""

    def held(z: float) -> float:
        loads = dict(zip(("front", "rear"), axle_loads_n(car.weight_n, car.front_static, car.transfer, z), strict=True))
        return sum(min(t.force_n, car.tyre_friction * t.load_share * loads[t.axle]) for t in tyres) / car.weight_n

    low, high = 0.0, min(car.tyre_friction, car.lift_g)
    if held(high) >= high:
        return high
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if held(middle) > middle else (low, middle)
    return low


@pytest.mark.parametrize(
    ("front", "rear", "locks"),
    [
        (1000.0, 500.0, None),
        (4000.0, 500.0, "front"),
        (1000.0, 2000.0, "rear"),
        (4000.0, 4000.0, "both"),
        (0.0, 5000.0, "rear"),
        (5000.0, 0.0, "front"),
    ],
)
def test_the_deceleration_is_consistent(front: float, rear: float, locks: str | None) -> None:
    """What slides holds friction times the load that the car has at just the deceleration that comes out."""
    found = stop(400.0, four(front, rear), CAR)
    assert found.reached_g == pytest.approx(by_bisection(four(front, rear), CAR), rel=1e-12)
    assert found.locks == locks
    assert found.asked_g == pytest.approx(2 * (front + rear) / CAR.weight_n)


def test_one_wheel_alone_holds_half_of_its_axle() -> None:
    """With one front wheel braked the other front tyre's grip is of no use."""
    one = stop(400.0, [Tyre("front", 9000.0), Tyre("front", 0.0)], CAR)
    both = stop(400.0, [Tyre("front", 9000.0), Tyre("front", 9000.0)], CAR)
    assert one.reached_g == pytest.approx(0.45 * 0.5 / (1 - 0.45 * 0.2))
    assert both.reached_g == pytest.approx(0.9 * 0.5 / (1 - 0.9 * 0.2))


def test_a_tall_short_car_cannot_pass_lifting_its_rear() -> None:
    """Where the rear wheels would lift before the front tyres slide, that is the end of it."""
    tall = Masses(mass_kg=300.0, front_static=0.6, transfer=0.8, tyre_friction=1.4)
    assert tall.lift_g == pytest.approx(0.5)
    assert stop(900.0, four(9000.0, 9000.0), tall).reached_g == pytest.approx(0.5)


def test_at_the_ideal_share_both_axles_lock_together() -> None:
    """Braking shared ideally at z uses the same friction, z, on both axles."""
    share = ideal_front_share(CAR.front_static, CAR.transfer, 0.7)
    force = 0.7 * CAR.weight_n
    used = adhesion_used(four(share * force / 2, (1 - share) * force / 2), CAR)
    assert used == pytest.approx((0.7, 0.7))


def test_loads_add_up_to_the_weight() -> None:
    """Braking moves weight and makes none."""
    for z in (0.0, 0.3, 0.9):
        assert sum(axle_loads_n(10_000.0, 0.55, 0.21, z)) == pytest.approx(10_000.0)


def test_the_least_that_is_enough() -> None:
    """Found from above and below the first guess; None where nothing is enough."""
    assert least(lambda force: force >= 0.3) == pytest.approx(0.3)
    assert least(lambda force: force >= 777.0) == pytest.approx(777.0)
    assert least(lambda force: False) is None


def test_the_car_is_read_either_way(tmp_path: Path) -> None:
    """The centre of gravity by its place and by its share of the weight are one car."""
    by_place = bar_car(tmp_path).car
    by_share = bar_car(tmp_path, DRIVEN.replace("cg_behind_front: 1200 mm", "front_share: 0.5")).car
    assert by_place == by_share == Masses(800.0, 0.5, 0.2, 0.9)


def test_what_the_car_lacks_is_told(tmp_path: Path) -> None:
    """Each missing field of the car is a gap, and no stop is computed."""
    system = bar_car(tmp_path, PEDAL + BAR_BRAKES + "car: {mass: 800 kg}\n")
    assert system.gaps == (
        Gap("car", "car.wheelbase"),
        Gap("car", "car.cg_height"),
        Gap("car", "car.cg_behind_front or car.front_share"),
        Gap("car", "car.tyre_friction"),
    )
    assert system.stop(400.0) is None
    assert bar_car(tmp_path, PEDAL + BAR_BRAKES).gaps == (Gap("car", "car"),)
