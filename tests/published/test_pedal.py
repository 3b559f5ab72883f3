"""Pedals and pistons: published worked examples through fitcheck's own functions, and misprints we disagree with.

Sources are cited by the title of page, sheet or book; figures are theirs, tolerances what their rounding allows.
"""

import pytest

from fitcheck.hydraulics.brakes import clamp_n
from fitcheck.hydraulics.outlets import area_mm2
from fitcheck.hydraulics.push import pressure_mpa, rod_force_n
from fitcheck.hydraulics.stroke import stroke_mm
from fitcheck.units import UNITS

INCH = 25.4
LBF = 4.4482216152605
PSI = LBF / INCH**2


def psi(force_lbf: float, bore_in: float) -> float:
    """Return the pressure [psi] of a force on a round piston, worked out in mm and N."""
    return pressure_mpa(force_lbf * LBF, area_mm2(bore_in * INCH)) / PSI


def test_units_are_the_programs_own() -> None:
    """The pound-force of these examples is that of fitcheck's table."""
    assert float(UNITS["lbf"].numerator) == LBF


@pytest.mark.parametrize(
    ("bore", "published"),
    [(3 / 4, 1359), (13 / 16, 1158), (7 / 8, 998), (15 / 16, 870), (1.0, 764), (9 / 8, 603)],
)
def test_pressure_by_bore(bore: float, published: float) -> None:
    """A hot rod magazine's article on brakes, part 4: 100 lbf, ratio 6, by bore; 0.15 % (it truncates)."""
    assert psi(rod_force_n(100.0, 6.0), bore) == pytest.approx(published, rel=1.5e-3)


def test_one_inch_and_a_caliper() -> None:
    """A training site's page on hydraulic brakes: 100 lbf on 1 in is 127 psi, 624 lbf on a 2.5 in piston; 0.5 %."""
    assert psi(100.0, 1.0) == pytest.approx(127, rel=5e-3)
    assert clamp_n(psi(100.0, 1.0) * PSI, area_mm2(2.5 * INCH)) / LBF == pytest.approx(624, rel=5e-3)


def test_pedal_force_times_ratio() -> None:
    """A trade magazine's article on brake sums: 70 lbf x 6.2 is 434 lbf, exactly."""
    assert rod_force_n(70.0, 6.2) == pytest.approx(434, rel=1e-12)


def test_a_press_keeps_energy() -> None:
    """A textbook on fluid power, ch. 3, ex. 3-4: 2 and 20 in2, 100 lbf, 1 in: 1000 lbf, 0.1 in, 100 in lbf; exact."""
    small, large = 2 * INCH**2, 20 * INCH**2
    force = clamp_n(pressure_mpa(100 * LBF, small), large)
    travel = stroke_mm(1 * INCH * small, large)
    assert force / LBF == pytest.approx(1000, rel=1e-12)
    assert travel / INCH == pytest.approx(0.1, rel=1e-12)
    assert force * travel == pytest.approx(100 * LBF * INCH, rel=1e-12)


def test_a_hand_pump() -> None:
    """The same book, ex. 3-5: 25 lbf on an 8:2 lever, 1 in pump, 3.25 in ram: 1053 lbf, 52.8 strokes for 10 in.

    0.5 % on the force, since the book rounds the pressure to 127 psi; 0.1 % on the strokes.
    """
    pump, ram = area_mm2(1 * INCH), area_mm2(3.25 * INCH)
    rod = rod_force_n(25 * LBF, 8 / 2)
    assert clamp_n(pressure_mpa(rod, pump), ram) / LBF == pytest.approx(1053, rel=5e-3)
    assert 10.0 / (stroke_mm(2 * INCH * pump, ram) / INCH) == pytest.approx(52.8, rel=1e-3)


def test_hydraulic_ratio() -> None:
    """A shop's page on pedal ratios: 2.75 in on 1 in is 5.94 in2 on 0.79 in2, ratio 7.52; 1 %, its area is rounded."""
    assert area_mm2(2.75 * INCH) / INCH**2 == pytest.approx(5.94, rel=1e-3)
    assert area_mm2(2.75 * INCH) / area_mm2(1.0 * INCH) == pytest.approx(7.52, rel=1e-2)


@pytest.mark.parametrize(
    ("master", "published"),
    [(0.625, (0.25, 0.174, 0.128)), (0.75, (0.360, 0.25, 0.184)), (0.875, (0.490, 0.340, 0.25))],
)
def test_travel_from_master_to_slave(master: float, published: tuple[float, ...]) -> None:
    """An owners' club's list, January 2010: 0.25 in of master travel over nine pairs of bores; 0.5 %."""
    found = [
        stroke_mm(0.25 * INCH * area_mm2(master * INCH), area_mm2(slave * INCH)) / INCH
        for slave in (0.625, 0.75, 0.875)
    ]
    assert found == pytest.approx(published, rel=5e-3)


def test_a_student_sheet_slips_once() -> None:
    """A student's brake sheet: 180 lbf x 9.25/1.25 is printed as 1110.06 lbf; it is 1332. Its other lines hold."""
    rod = rod_force_n(180.0, 9.25 / 1.25)
    assert rod == pytest.approx(1332)
    assert rod / 1110.06 == pytest.approx(1.2, rel=1e-3)
    assert rod_force_n(180.0, 9.25 / 1.5) == pytest.approx(1110.06, rel=1e-4)
    assert psi(1110.06, 5 / 8) == pytest.approx(3618.19, rel=1e-4)
    for area, published in ((1.353, 4895), (1.131, 4092)):
        assert clamp_n(3618.19, area) == pytest.approx(published, rel=1e-3)


@pytest.mark.parametrize(("bore", "published", "ours"), [(0.90, 558, 565.9), (1.0, 450, 458.4)])
def test_a_magazine_is_low_by_eight_psi(bore: float, published: float, ours: float) -> None:
    """An owners' magazine's brake article, p. 2: 360 lbf on 0.90 and 1.0 in, printed 1.4 and 1.8 % low."""
    assert psi(360.0, bore) == pytest.approx(ours, abs=0.05)
    assert 0.013 < psi(360.0, bore) / published - 1.0 < 0.019
