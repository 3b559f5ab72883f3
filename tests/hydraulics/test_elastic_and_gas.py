"""Closed forms of tube and air against numerical solutions that do not know them, and their limits."""

from math import isclose, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_bvp

from fitcheck.hydraulics.air import ATMOSPHERE_MPA, dissolved_figure, lost_mm3
from fitcheck.hydraulics.compress import modulus_figure, squeeze_mm3
from fitcheck.hydraulics.stretch import stretch_mm3, thick_strain, thick_stress

BORES = [(3.34, 4.76), (4.93, 6.35), (3.36, 4.75), (10.0, 30.0)]


def ring(pressure: float, bore: float, outside: float, elastic: float, poisson: float, axial: float) -> float:
    """Return the growth of the bore's radius from the equilibrium of a ring, solved on a mesh [mm].

    u'' + u'/r - u/r2 = 0, with the radial stress minus the pressure inside and nothing outside. The axial strain is
    found with it: the axial stress is given.
    """
    lame = elastic * poisson / ((1.0 + poisson) * (1.0 - 2.0 * poisson))
    shear = elastic / (2.0 * (1.0 + poisson))

    def slope(r: np.ndarray, y: np.ndarray, e: np.ndarray) -> np.ndarray:
        return np.vstack((y[1], y[0] / r**2 - y[1] / r))

    def ends(a: np.ndarray, b: np.ndarray, e: np.ndarray) -> np.ndarray:
        inner, outer = bore / 2.0, outside / 2.0
        radial = [(lame + 2.0 * shear) * y[1] + lame * (y[0] / r + e[0]) for y, r in ((a, inner), (b, outer))]
        along = (lame + 2.0 * shear) * e[0] + lame * (a[1] + a[0] / inner)
        return np.array([radial[0] + pressure, radial[1], along - axial])

    mesh = np.linspace(bore / 2.0, outside / 2.0, 40)
    scale = pressure / elastic
    found = solve_bvp(slope, ends, mesh, np.full((2, 40), scale), p=[scale], tol=1e-8, max_nodes=20_000)
    assert found.success
    return float(found.sol(bore / 2.0)[0])


@pytest.mark.parametrize(("bore", "outside"), BORES)
@pytest.mark.parametrize("closed", [True, False])
def test_thick_wall_against_a_boundary_value_solution(bore: float, outside: float, closed: bool) -> None:
    """The hoop strain at the bore is that of the equilibrium of a ring, solved numerically, within 1e-5."""
    pressure, elastic, poisson = 10.0, 205_000.0, 0.29
    axial = pressure * bore**2 / (outside**2 - bore**2) if closed else 0.0
    numeric = ring(pressure, bore, outside, elastic, poisson, axial) / (bore / 2.0)
    assert isclose(thick_strain(pressure, bore, outside, elastic, poisson, closed=closed).hoop, numeric, rel_tol=1e-5)


def test_radial_stress_is_the_pressure_inside_and_nothing_outside() -> None:
    """The wall's two faces carry what presses on them, and closed ends carry the end load on the ring."""
    inside, outside = (thick_stress(10.0, 3.34, 4.76, at) for at in (3.34, 4.76))
    assert isclose(inside.radial, -10.0, rel_tol=1e-12)
    assert abs(outside.radial) < 1e-12
    assert isclose(inside.axial * (4.76**2 - 3.34**2), 10.0 * 3.34**2, rel_tol=1e-12)


def test_a_thin_wall_is_the_limit_of_a_thick_one() -> None:
    """A thin wall's p d / (2 t E) x (5/2 - 2 nu), as textbooks have it, is neared as the wall gets thinner.

    In brake tube the two differ by some 30 %.
    """
    shares = []
    for wall in (0.71, 0.1, 0.01):
        thin = 10.0 * 3.34 / (2.0 * wall * 205_000.0) * (2.5 - 2.0 * 0.29)
        shares.append(thick_strain(10.0, 3.34, 3.34 + 2.0 * wall, 205_000.0, 0.29).volume / thin)
    assert abs(shares[2] - 1.0) < 0.01 < abs(shares[1] - 1.0) < 0.1 < abs(shares[0] - 1.0) < 0.45


def test_brake_tube_by_the_metre() -> None:
    """A metre of 3/16 x 0.028 in steel at 100 bar stretches by 2.7 mm3 and its fluid gives 48.7 (own figures)."""
    bore = 25.4 * (3.0 / 16.0 - 2.0 * 0.028)
    assert round(stretch_mm3(10.0, bore, 0.028 * 25.4, 1000.0, 205_000.0, 0.29), 1) == 2.7
    assert round(squeeze_mm3(pi / 4.0 * bore**2 * 1000.0, 10.0, 1800.0), 1) == 48.7


@pytest.mark.parametrize("exponent", [1.0, 1.4])
@given(pressure=st.floats(0.01, 20.0))
def test_trapped_air_against_integration(exponent: float, pressure: float) -> None:
    """What a bubble loses is the integral of its own compressibility over the pressure, within 1e-8."""

    def rate(p: float) -> float:
        volume = (ATMOSPHERE_MPA / (ATMOSPHERE_MPA + p)) ** (1.0 / exponent)
        return float(volume / (exponent * (ATMOSPHERE_MPA + p)))

    numeric = quad(rate, 0.0, pressure, limit=200)[0]
    assert isclose(lost_mm3(1.0, pressure, exponent), numeric, rel_tol=1e-8)


def test_a_cubic_centimetre_of_air_is_gone_at_100_bar() -> None:
    """Free air takes 0.99 of its volume by 100 bar, and half of it by one atmosphere of gauge pressure."""
    assert round(lost_mm3(1000.0, 10.0), 1) == 990.0
    assert isclose(lost_mm3(1000.0, ATMOSPHERE_MPA), 500.0, rel_tol=1e-12)


def test_what_nobody_measured_is_told_with_its_range() -> None:
    """The fluid's modulus is an assumption with a range; dissolved air stands beside it, where a figure is known."""
    figure = modulus_figure("glycol", "fluid")
    assert figure == (
        "fluid", 1800.0, "MPa", "assumed", "bulk modulus of glycol fluid, 100 to 20 degC; from memory", 1200.0, 2000.0,
    )  # fmt: skip
    air = dissolved_figure("silicone", "air")
    assert air is not None
    assert air.source == (
        "air dissolved in silicone fluid when full of it, takes no stroke until it comes out; "
        "SAE J1705 appendix A by a fluid maker's page"
    )
    assert (round(air.low, 6), air.value, round(air.high, 6)) == (0.13, 0.16, 0.19)
    assert dissolved_figure("mineral", "air") is None
