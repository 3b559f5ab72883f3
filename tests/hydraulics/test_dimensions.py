"""Every public formula of the pressure side in pint's units: the dimension comes out right, and so does the size.

Formulas without a condition are fed with quantities of pint themselves, in mixed units; the others are fed in working
units and compared with what pint makes of the same problem in inches and pounds.
"""

from math import pi
from typing import Any

import pytest
from pint import UnitRegistry

from fitcheck.hydraulics import brakes, car, outlets, push
from fitcheck.hydraulics.car import Masses, Tyre

ureg: Any = UnitRegistry()
Q = ureg.Quantity


def test_area_pressure_and_force() -> None:
    """A 7/8 in piston and 600 lbf, straight through: area in in2, pressure in psi, clamp in lbf."""
    area = outlets.area_mm2(Q(0.875, "in"))
    pressure = push.pressure_mpa(Q(600, "lbf"), area)
    assert pressure.to("psi").m == pytest.approx(600 / (pi / 4 * 0.875**2))
    clamp = brakes.clamp_n(pressure, brakes.acting_area_mm2([Q(38, "mm"), Q(38, "mm")], "floating"))
    assert clamp.check("[force]")
    assert clamp.to("N").m == pytest.approx(pressure.to("MPa").m * pi / 2 * 38**2)


def test_levers() -> None:
    """Lengths of a bar in any unit: a pure number comes out; a force stays one."""
    assert outlets.bar_share(Q(1, "in"), Q(25.4, "mm")).to("").m == pytest.approx(0.5)
    assert push.rod_force_n(Q(100, "lbf"), 5.0, 0.9).to("N").m == pytest.approx(
        push.rod_force_n(444.822161526, 5.0, 0.9)
    )
    assert push.rod_force_n(Q(100, "lbf"), 5.0, 1.0, 3.0, Q(1, "kN")).to("N").m == pytest.approx(
        push.rod_force_n(444.822161526, 5.0, 1.0, 3.0, 1000.0)
    )
    by = push.Lever(5.0, 0.9, 3.0, Q(1, "kN"))
    assert by.rod_n(Q(100, "lbf")).to("N").m == pytest.approx(push.rod_force_n(444.822161526, 5.0, 0.9, 3.0, 1000.0))


def test_valves() -> None:
    """Pressures in psi behind a valve set in bar."""
    valves = [outlets.Valve(Q(20, "bar"), 0.4)]
    behind = push.metered_mpa(Q(1000, "psi"), valves)
    assert behind.to("MPa").m == pytest.approx(push.metered_mpa(6.894757293, [outlets.Valve(2.0, 0.4)]))


def test_torque_and_tyre_force() -> None:
    """A disc of 11 in: torque is force times length, the tread's is a force."""
    torque = brakes.brake_torque_nmm(Q(70, "bar"), Q(1500, "mm^2"), brakes.disc_factor(0.4), Q(4.4, "in"))
    assert torque.to("N*mm").m == pytest.approx(brakes.brake_torque_nmm(7.0, 1500.0, 0.8, 111.76))
    force = brakes.tyre_force_n(torque, Q(0.3, "m"))
    assert force.check("[force]")
    assert force.to("N").m == pytest.approx(torque.to("N*mm").m / 300)


def test_axle_loads() -> None:
    """2000 lbf of car: two loads in lbf."""
    front, rear = car.axle_loads_n(Q(2000, "lbf"), 0.55, 0.2, 0.5)
    assert (front.to("lbf").m, rear.to("lbf").m) == pytest.approx((1300.0, 700.0))


def test_a_stop() -> None:
    """1800 lb of car held back by 900 lbf: half a g, by pint."""
    mass, force = Q(1800, "lb"), Q(900, "lbf")
    by_pint = (force / mass / Q(1, "standard_gravity")).to("").m
    tyres = [Tyre("front", force.to("N").m * 0.7, 1.0), Tyre("rear", force.to("N").m * 0.3, 1.0)]
    found = car.stop(400.0, tyres, Masses(mass.to("kg").m, 0.5, 0.2, 0.9))
    assert found.asked_g == found.reached_g == pytest.approx(by_pint)


def test_the_whole_way() -> None:
    """From the foot to the tread in inches and pounds by pint, and through the functions in working units."""
    rod = Q(90, "lbf") * 5.5
    pressure = rod * 0.6 / (pi / 4 * Q(0.625, "in") ** 2)
    tread = (2 * 0.42 * pressure * (pi / 4 * Q(1.75, "in") ** 2) * Q(4.3, "in") / Q(11.6, "in")).to("N").m
    ours = push.pressure_mpa(push.rod_force_n(Q(90, "lbf").to("N").m, 5.5) * 0.6, outlets.area_mm2(15.875))
    area = brakes.acting_area_mm2([44.45, 44.45], "fixed")
    torque = brakes.brake_torque_nmm(ours, area, brakes.disc_factor(0.42), 109.22)
    assert brakes.tyre_force_n(torque, 294.64) == pytest.approx(tread)
