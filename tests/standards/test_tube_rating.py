"""Formulas of tube under pressure against each other, their units, and the figures that ratings rest on."""

from math import isclose

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.standards.residual import fluid_density, head_mpa, residual_setting
from fitcheck.standards.tube_rating import (
    barlow,
    bend_thinning,
    birnie_wall,
    clavarino_wall,
    design_factor,
    lame,
    lame_wall,
    near_share,
    panic_pressure,
    piping,
    piping_y,
    ring_stress,
    thin_wall,
)

outsides = st.floats(1.0, 100.0)
shares = st.floats(0.01, 0.45)
"""Wall over outside diameter."""
stresses = st.floats(10.0, 1000.0)


@given(outsides, shares, stresses)
def test_the_formulas_keep_their_order(outside: float, share: float, stress: float) -> None:
    """At one strength Barlow gives less than Lame, and Lame less than the thin wall on the bore."""
    wall = share * outside
    bore = outside - 2 * wall
    assert 0 < barlow(stress, outside, wall) < lame(stress, outside, bore) < thin_wall(stress, bore, wall)


@given(outsides, shares, stresses)
def test_the_piping_code_with_its_thick_coefficient_is_lame(outside: float, share: float, stress: float) -> None:
    """B31.3 with Y = d / (d + D) is Lame's formula."""
    wall = share * outside
    bore = outside - 2 * wall
    assert isclose(piping(stress, outside, wall, bore / (bore + outside)), lame(stress, outside, bore), rel_tol=1e-9)


@given(outsides, shares, shares, stresses)
def test_a_thicker_wall_holds_more(outside: float, share: float, other: float, stress: float) -> None:
    """Of two walls the thicker holds no less by every formula."""
    thin, thick = sorted((share * outside, other * outside))
    for formula in (
        lambda wall: barlow(stress, outside, wall),
        lambda wall: lame(stress, outside, outside - 2 * wall),
        lambda wall: thin_wall(stress, outside - 2 * wall, wall),
        lambda wall: piping(stress, outside, wall, 0.4),
    ):
        assert formula(thin) <= formula(thick) * (1 + 1e-12)


@given(outsides, shares, stresses)
def test_lame_wall_undoes_lame(outside: float, share: float, stress: float) -> None:
    """The wall for the pressure that a tube holds is the wall that it has, and its hoop stress is the one allowed."""
    wall = share * outside
    bore = outside - 2 * wall
    held = lame(stress, outside, bore)
    assert isclose(lame_wall(held, bore, stress), wall, rel_tol=1e-6)
    assert isclose(ring_stress(held, 0.0, bore, outside, bore)[1], stress, rel_tol=1e-9)


@given(outsides, shares, st.floats(0.01, 0.3), st.floats(0.2, 0.35))
def test_ring_walls_by_strain_lie_around_lame(bore: float, share: float, part: float, poisson: float) -> None:
    """Without transverse strain Clavarino and Birnie are Lame; closed ends ask for no more wall than open ones."""
    stress, pressure = 100.0, part * 100.0
    assert isclose(clavarino_wall(pressure, bore, stress, 0.0), lame_wall(pressure, bore, stress), rel_tol=1e-9)
    assert isclose(birnie_wall(pressure, bore, stress, 0.0), lame_wall(pressure, bore, stress), rel_tol=1e-9)
    assert clavarino_wall(pressure, bore, stress, poisson) <= birnie_wall(pressure, bore, stress, poisson)


def test_no_wall_is_refused() -> None:
    """A pressure as high as the stress is held by no wall: told, not answered with a number."""
    with pytest.raises(ValueError, match=r"^no wall is thick enough for this pressure and stress$"):
        lame_wall(100.0, 10.0, 100.0)


def test_the_coefficient_of_thick_walls() -> None:
    """Y is 0.4 for thin walls and d / (d + D) from a sixth of the outside diameter on; brake tube is thin so."""
    assert piping_y(4.7625, 0.7112) == 0.4
    assert piping_y(6.0, 1.0) == 0.4
    assert piping_y(6.0, 1.5) == pytest.approx(3.0 / 9.0)


@pytest.mark.parametrize(("times", "share"), [(1.5, 0.25), (2.0, 0.20), (2.5, 0.167), (3.0, 0.143), (4.0, 0.111)])
def test_thinning_in_a_bend(times: float, share: float) -> None:
    """The printed shares of a trade page on formulas of tube bending, to their last place."""
    assert round(bend_thinning(1.0, times), 3) == share


def test_brake_tube_by_both_formulas() -> None:
    """3/16 x 0.028 at 290 MPa bursts at 98.8 MPa by Lame and 86.6 by Barlow; a quarter is 24.7 and 21.7. Derived."""
    by_lame, by_barlow = lame(290.0, 4.7625, 4.7625 - 2 * 0.7112), barlow(290.0, 4.7625, 0.7112)
    over = design_factor("tube").factor
    assert [round(value, 1) for value in (by_lame, by_barlow)] == [98.8, 86.6]
    assert [round(value / over, 1) for value in (by_lame, by_barlow)] == [24.7, 21.7]


def test_what_ratings_rest_on() -> None:
    """Factors, margin and fright have their figures and say where they come from."""
    assert design_factor("tube") == (4.0, "SAE J1065, scope")
    assert design_factor("hose").factor == 4.0
    assert near_share() == (0.9, "common practice, no source")
    assert panic_pressure() == (15.0, "trade page on testing brake hydraulics")


def test_units() -> None:
    """Dimensions come out as promised, with pint in place of numbers."""
    unit = pint.UnitRegistry()
    stress, size = 100 * unit.MPa, 10 * unit.mm
    wall, bore, pressure = 1 * unit.mm, 8 * unit.mm, 5 * unit.MPa
    pressures = [
        barlow(stress, size, wall),
        thin_wall(stress, bore, wall),
        lame(stress, size, bore),
        piping(stress, size, wall),
        *ring_stress(pressure, pressure / 5, bore, size, bore),
    ]
    assert all(value.check("[pressure]") for value in pressures)
    walls = [lame_wall(pressure, bore, stress), clavarino_wall(pressure, bore, stress, 0.3)]
    assert all(value.check("[length]") for value in [*walls, birnie_wall(pressure, bore, stress, 0.3)])
    assert piping_y(size, wall) == 0.4
    assert bend_thinning(size, 3 * size).check("[]")


def test_head_in_units() -> None:
    """A column of 1.33 m at 1,060 kg/m3 is 2 psi, one of 6.6 m is 10 psi; pint agrees with the unit that is used."""
    unit = pint.UnitRegistry()
    column = (1060 * unit.kg / unit.m**3) * unit.standard_gravity * (1330 * unit.mm)
    assert isclose(head_mpa(1330.0, 1060.0), column.to("MPa").magnitude, rel_tol=1e-12)
    assert isclose(head_mpa(1330.0, 1060.0), residual_setting("disc").setting_mpa, rel_tol=0.003)
    assert isclose(head_mpa(6630.0, 1060.0), residual_setting("drum").setting_mpa, rel_tol=0.003)


def test_settings_and_densities_lie_in_their_ranges() -> None:
    """What is usual lies in the range of what is sold; the valves of discs and drums do not overlap."""
    disc, drum = residual_setting("disc"), residual_setting("drum")
    assert disc.low_mpa < disc.setting_mpa < disc.high_mpa < drum.low_mpa < drum.setting_mpa < drum.high_mpa
    found = [fluid_density(family) for family in ("glycol", "silicone", "mineral")]
    assert all(one.low < one.kg_m3 < one.high for one in found)
    assert [one.kg_m3 for one in found] == [1060.0, 960.0, 850.0]
