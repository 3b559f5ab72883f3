"""Braking of whole vehicles and single brakes: published worked examples, and figures that do not hold.

Sources are cited by the title of page, sheet or book; figures are theirs, tolerances what their rounding allows.
"""

from math import degrees, pi, radians

import pytest

from fitcheck.hydraulics.brakes import brake_torque_nmm, clamp_n, disc_factor
from fitcheck.hydraulics.car import G_MM_S2, Masses, Tyre, axle_loads_n, stop

INCH = 25.4
FOOT = 304.8
LBF = 4.4482216152605
PSI = LBF / INCH**2
HARD = 1e6
"""A brake that asks for far more than any tyre holds [N]."""


def steady_g(feet_a_second: float, feet: float) -> float:
    """Return the steady deceleration [g] that stops a car within a distance: v2 / 2 s."""
    return (feet_a_second * FOOT) ** 2 / (2.0 * feet * FOOT * G_MM_S2)


def theory_car(friction: float) -> Masses:
    """Return the car of the textbook's example: 9.5 ft wheelbase, 2 ft high, 4 ft ahead of the rear axle."""
    return Masses(1000.0, 4 / 9.5, 2 / 9.5, friction)


@pytest.mark.parametrize(
    ("front", "rear", "friction", "feet"),
    [
        (0.0, HARD, 0.1, 530),
        (0.0, HARD, 0.6, 97.5),
        (HARD, 0.0, 0.1, 699),
        (HARD, 0.0, 0.6, 104),
        (HARD, HARD, 0.1, 301),
        (HARD, HARD, 0.6, 50.1),
    ],
)
def test_stops_by_axle(front: float, rear: float, friction: float, feet: float) -> None:
    """A textbook on theory of machines, ch. 8, ex. 6, p. 264: stops from 30 mph with some wheels locked; 0.3 %."""
    found = stop(0.0, [Tyre("front", front, 1.0), Tyre("rear", rear, 1.0)], theory_car(friction))
    assert found.reached_g == pytest.approx(steady_g(44, feet), rel=3e-3)


@pytest.mark.parametrize(("friction", "ratio"), [(0.1, 0.792), (0.6, 1.21)])
def test_loads_while_all_wheels_slide(friction: float, ratio: float) -> None:
    """The same example: front load over rear load; 0.3 %."""
    front, rear = axle_loads_n(1000.0, 4 / 9.5, 2 / 9.5, friction)
    assert front / rear == pytest.approx(ratio, rel=3e-3)


def test_a_buggy() -> None:
    """A student buggy's brake sheet: 250 kg, 1.53 m, 0.577 m ahead of the rear axle, 0.592 m high, mu 0.68.

    Loads and share within 0.05 % (it takes g as 9.81), deceleration within 0.2 %.
    """
    car = Masses(250.0, 0.577 / 1.53, 0.592 / 1.53, 0.68)
    found = stop(0.0, [Tyre("front", HARD, 1.0), Tyre("rear", HARD, 1.0)], car)
    front, rear = axle_loads_n(car.weight_n, car.front_static, car.transfer, found.reached_g)
    assert (front, rear) == pytest.approx((1570.177, 882.0), rel=5e-4)
    assert front / car.weight_n * 100 == pytest.approx(64.03, rel=5e-4)
    assert found.reached_g * G_MM_S2 / 1000 == pytest.approx(6.66, rel=2e-3)
    assert car.tyre_friction * front == pytest.approx(1067.71, rel=5e-4)


def test_the_buggys_g_is_rounded_wrongly() -> None:
    """The same sheet prints 0.67 g for 6.66 m/s2 at mu 0.68: it is 0.68 g, 1.5 % more."""
    car = Masses(250.0, 0.577 / 1.53, 0.592 / 1.53, 0.68)
    found = stop(0.0, [Tyre("front", HARD, 1.0), Tyre("rear", HARD, 1.0)], car).reached_g
    assert found == pytest.approx(0.68)
    assert found / 0.67 - 1.0 == pytest.approx(0.0149, abs=1e-4)


def test_four_locked_wheels() -> None:
    """A general physics textbook, 8th ed. extended: 11 kN, 4.2 m, 1.8 m, 0.75 m, mu 0.40; answers from memory.

    Two figures: 3.9 m/s2; 2.0 and 3.5 kN on each rear and front wheel; 0.79 and 1.4 kN of braking.
    """
    front, rear = axle_loads_n(11_000.0, 2.4 / 4.2, 0.75 / 4.2, 0.40)
    locked = stop(0.0, [Tyre("front", HARD, 1.0), Tyre("rear", HARD, 1.0)], Masses(1100.0, 2.4 / 4.2, 0.75 / 4.2, 0.40))
    assert locked.reached_g * G_MM_S2 / 1000 == pytest.approx(3.9, abs=0.05)
    assert (rear / 2000, front / 2000) == pytest.approx((2.0, 3.5), abs=0.05)
    assert (0.4 * rear / 2000, 0.4 * front / 2000) == pytest.approx((0.79, 1.4), abs=0.05)


def test_a_truck_and_its_linings() -> None:
    """A textbook on machine design, ch. 16, ex. 16.4, p. 361: 40,000 lbf from 60 mph in 400 ft on ten wheels; 0.1 %.

    The notebook that works it through says that the book's printed answer is in error; these are the notebook's.
    """
    a = steady_g(88, 400)
    assert a * G_MM_S2 / FOOT == pytest.approx(9.68, rel=1e-3)
    torque = 40_000 * LBF * a * 18 * INCH
    assert torque / (LBF * INCH) == pytest.approx(216_447, rel=1e-3)
    normal = 5411 * LBF
    assert 10 * brake_torque_nmm(1.0, normal, 0.4, 10 * INCH) == pytest.approx(torque, rel=1e-3)


def test_two_pads_that_wear_evenly() -> None:
    """A machine design textbook, ex. 13.6: 60 degree pads, 10 and 5 in, f 0.2, 200 psi: 1309 lbf, 982 lbf in; 0.1 %.

    The page calls the torque that of both shoes: it is that of one face; two faces make 1964.
    """
    area = radians(60) * 2.5 * INCH * (5 - 2.5) * INCH  # p falls with 1/r from its greatest at the inner edge
    assert clamp_n(200 * PSI, area) / LBF == pytest.approx(1309, rel=1e-3)
    radius = (5 + 2.5) / 2 * INCH  # even wear: the mean
    assert brake_torque_nmm(200 * PSI, area, 0.2, radius) / (LBF * INCH) == pytest.approx(982, rel=1e-3)
    assert brake_torque_nmm(200 * PSI, area, disc_factor(0.2), radius) / (LBF * INCH) == pytest.approx(1964, rel=1e-3)


def test_the_angle_of_a_pad() -> None:
    """A textbook's solved example 12.10: 1500 N m, 150 and 100 mm, mu 0.35, 2 MPa, two pads: 77.543160 deg; 1e-5."""
    per_radian = (150.0**2 - 100.0**2) / 2
    radius = 2 / 3 * (150.0**3 - 100.0**3) / (150.0**2 - 100.0**2)  # even pressure
    torque = brake_torque_nmm(2.0, per_radian, disc_factor(0.35), radius)
    assert degrees(1500e3 / torque) == pytest.approx(77.543160, rel=1e-5)


def test_a_sector_pad() -> None:
    """A question-and-answer page: 45 degrees, 6 and 4 in, mu 0.4, 100 psi: 628.32 lbf, 2513.28 lbf in; 0.01 %."""
    area = pi / 4 * 4 * INCH * (6 - 4) * INCH
    assert clamp_n(100 * PSI, area) / LBF == pytest.approx(628.32, rel=1e-4)
    torque = brake_torque_nmm(100 * PSI, area, disc_factor(0.4), (6 + 4) / 2 * INCH)
    assert torque / (LBF * INCH) == pytest.approx(2513.28, rel=1e-4)


def test_published_loads_that_are_not_the_weight() -> None:
    """A homework page on a 9.9 kN car: 1682 and 2967.5 N a wheel add up to 9299 N; ours add up, to 6.5 % more."""
    ours = sum(axle_loads_n(9900.0, 2.4 / 4.2, 0.75 / 4.2, 0.40))
    assert ours / (2 * (1682 + 2967.5)) == pytest.approx(1.0646, abs=1e-4)


def test_published_loads_of_another_page() -> None:
    """A question page on the 11 kN car above: 2516.67 N rear and 4400 N front a wheel; 28 and 24 % too much."""
    front, rear = axle_loads_n(11_000.0, 2.4 / 4.2, 0.75 / 4.2, 0.40)
    assert (rear / 2, front / 2) == pytest.approx((1964, 3536), abs=0.5)
    assert 2516.67 / (rear / 2) - 1 == pytest.approx(0.281, abs=1e-3)
    assert 4400 / (front / 2) - 1 == pytest.approx(0.244, abs=1e-3)
