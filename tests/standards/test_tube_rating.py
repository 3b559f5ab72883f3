"""Formulas of tube under pressure against each other, their units, and the figures that ratings rest on."""

from math import isclose

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.hydraulics.stretch import thick_stress
from fitcheck.standards.residual import fluid_density, head_mpa, residual_setting
from fitcheck.standards.tube_rating import (
    barlow,
    bend_thinning,
    design_factor,
    near_share,
    panic_pressure,
)


def lame(strength: float, outside: float, bore: float) -> float:
    """Return the pressure at which the hoop stress at the bore is `strength`, by the stresses of a thick wall."""
    return strength / thick_stress(1.0, bore, outside, bore).hoop


outsides = st.floats(1.0, 100.0)
shares = st.floats(0.01, 0.45)
"""Wall over outside diameter."""
stresses = st.floats(10.0, 1000.0)


@given(outsides, shares, stresses)
def test_the_formulas_keep_their_order(outside: float, share: float, stress: float) -> None:
    """At one strength Barlow gives less than Lame, and Lame less than the thin wall on the bore."""
    wall = share * outside
    bore = outside - 2 * wall
    thin_wall = 2 * stress * wall / bore
    assert 0 < barlow(stress, outside, wall) < lame(stress, outside, bore) < thin_wall


@given(outsides, shares, shares, stresses)
def test_a_thicker_wall_holds_more(outside: float, share: float, other: float, stress: float) -> None:
    """Of two walls the thicker holds no less by both formulas."""
    thin, thick = sorted((share * outside, other * outside))
    for formula in (
        lambda wall: barlow(stress, outside, wall),
        lambda wall: lame(stress, outside, outside - 2 * wall),
    ):
        assert formula(thin) <= formula(thick) * (1 + 1e-12)


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
    assert barlow(stress, size, 1 * unit.mm).check("[pressure]")
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
