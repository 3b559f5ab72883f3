"""Published worked examples of laminar flow, run through the public functions, in the books' own units.

Source: a collection of 1000 solved problems in fluid mechanics, chapter 7, and a textbook of fluid power, chapter 4, by
an open collection of worked textbook examples.
"""

from math import isclose, pi

from fitcheck.hydraulics.flow import resistance

LITRE_A_MINUTE = 1e6 / 60.0
"""In mm3/s."""


def kinematic(mu: float, density: float) -> float:
    """Return the kinematic viscosity [mm2/s] from the dynamic one [Pa s]."""
    return mu / density * 1e6


def flow(speed_m_s: float, bore_m: float) -> float:
    """Return the flow [mm3/s] of a mean speed."""
    return speed_m_s * 1e3 * pi / 4.0 * (bore_m * 1e3) ** 2


def test_pressure_gradient() -> None:
    """V1, example 7.6: at 1.4 m/s in the middle the loss is 179.2 Pa for each metre, 4.48 Pa of shear at the wall."""
    loss_mpa = flow(0.7, 0.1) * resistance(1000.0, 100.0, kinematic(0.08, 1000.0), 1000.0)
    assert isclose(loss_mpa * 1e6, 179.2, rel_tol=1e-4)
    assert isclose(loss_mpa * 1e6 * 0.1 / 4.0, 4.48, rel_tol=1e-4)


def test_thick_fluid_at_speed() -> None:
    """V2, example 7.8: fluid as thick as DOT 4 in deep cold loses 23.3 m of head, and 11.31 kW."""
    q = flow(5.0, 0.1)
    loss_mpa = q * resistance(12_000.0, 100.0, kinematic(1.5, 1260.0), 1260.0)
    assert isclose(loss_mpa * 1e6 / (1260.0 * 9.81), 23.3, rel_tol=0.001)
    assert isclose(loss_mpa * 1e6 * q * 1e-9 / 1e3, 11.31, rel_tol=0.001)


def test_flow_that_a_power_drives() -> None:
    """V3 and V5, examples 7.10 and 7.13: with the printed flow the loss takes the printed power."""
    q = 301.2 * LITRE_A_MINUTE
    assert isclose(q * resistance(1e6, 75.0, kinematic(0.1, 898.2), 898.2) * q * 1e-3, 5400.0 * 0.6, rel_tol=0.002)
    q = 8.63e6
    assert isclose(q * resistance(300e3, 80.0, 150.0, 900.0) * q * 1e-3, 5000.0 * 0.6, rel_tol=0.002)


def test_viscosity_from_a_loss() -> None:
    """V6, example 7.14: 95 kPa over 800 m at 850 l/min mean 0.10415 Pa s."""
    q = 850.0 * LITRE_A_MINUTE
    mu = 0.095 / (q * resistance(800e3, 150.0, kinematic(1.0, 918.0), 918.0))
    assert isclose(mu, 0.10415, rel_tol=0.001)


def test_fluid_power_line() -> None:
    """V7, examples 4-2 and 4-4: 326 m of head, 28.7 bar; the kPa printed there is a slip."""
    loss_mpa = flow(5.0, 0.05) * resistance(50e3, 50.0, 1000.0, 8800.0 / 9.81)
    assert isclose(loss_mpa * 1e6 / 8800.0, 326.0, rel_tol=0.002)
    assert isclose(loss_mpa * 10.0, 28.7, rel_tol=0.002)
