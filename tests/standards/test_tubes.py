"""Rigid tube, its bending and its materials."""

import pytest

from fitcheck.standards.materials import Material, UnknownMaterialError, material, materials
from fitcheck.standards.tubes import (
    Tube,
    bend_limits,
    bend_radius_mm,
    tubes,
    tubes_of,
)
from tests.standards.printed import BendFigure, bend_figures, bend_figures_for

TUBES = tubes()


@pytest.mark.parametrize("tube", TUBES, ids=str)
def test_a_tube_agrees_with_itself(tube: Tube) -> None:
    """The wall is less than half the tube, OD is bore and two walls, tolerances are a small part of what they bound."""
    assert 0 < tube.wall_mm < tube.od_mm / 2
    assert tube.od_mm == pytest.approx(tube.bore_mm + 2 * tube.wall_mm)
    assert tube.od_tolerance_mm is None or 0 < tube.od_tolerance_mm < 0.05 * tube.od_mm
    assert tube.wall_tolerance_mm is None or 0 < tube.wall_tolerance_mm < 0.25 * tube.wall_mm
    assert 0 < tube.least_wall_mm <= tube.wall_mm
    assert tube.material in materials()


def test_tubes_stand_in_order() -> None:
    """Within a standard and material the rows go from small to large, and no row stands twice."""
    groups: dict[tuple[str, str], list[tuple[float, float]]] = {}
    for tube in TUBES:
        groups.setdefault((tube.standard, tube.material), []).append((tube.od_mm, tube.wall_mm))
    for rows in groups.values():
        assert rows == sorted(set(rows))


def test_a_published_tube_is_kept() -> None:
    """SAE J526 by a supplier's extract: 3/16 in +-0.003, wall 0.028 +-0.005 in."""
    tube = tubes_of(4.7625, "steel")[0]
    assert (tube.standard, tube.size) == ("SAE J526", "3/16 in")
    assert (tube.od_mm, tube.wall_mm) == (4.7625, 0.7112)
    assert (tube.od_tolerance_mm, tube.wall_tolerance_mm) == (0.0762, 0.127)
    assert tube.least_wall_mm == pytest.approx(0.023 * 25.4)


def test_inch_and_metric_twins_are_found_together() -> None:
    """Asking for 4.75 mm finds 3/16 in tube too; asking for 6 mm does not find 1/4 in."""
    assert {tube.size for tube in tubes_of(4.75)} == {"3/16 in", "4.75 mm"}
    assert {tube.size for tube in tubes_of(6.0)} == {"6 mm"}


def test_bends_default_to_three_diameters() -> None:
    """Default and warning are three diameters, the refusal one and a half, in that order at every size."""
    assert bend_radius_mm(3 / 16 * 25.4) == 14.2875
    for od in (3.175, 4.75, 6.0, 8.0, 12.7):
        limits = bend_limits(od)
        assert limits.default_mm >= limits.warn_below_mm > limits.refuse_below_mm > od
        assert "common practice, no source" in limits.mark


@pytest.mark.parametrize("figure", bend_figures(), ids=str)
def test_a_printed_bend_is_wider_than_the_refusal(figure: BendFigure) -> None:
    """No printed smallest radius is tighter than what is refused, and each names a known material."""
    assert figure.radius_mm > bend_limits(figure.od_mm).refuse_below_mm
    assert figure.material in materials()


def test_the_makers_who_ask_for_more_are_shown() -> None:
    """Two vehicle makers print 25 mm and 20 mm for 4.75 mm line; both stand beside the limits used."""
    steel = {figure.radius_mm for figure in bend_figures_for(4.75) if "manual" in figure.mark}
    assert steel == {25.0, 20.0}


@pytest.mark.parametrize("one", materials().values(), ids=str)
def test_a_material_agrees_with_itself(one: Material) -> None:
    """Yield is below tensile strength, both views are given, and every spelling leads back to the material."""
    for strength in one.strengths:
        assert strength.yield_mpa is None or 0 < strength.yield_mpa < strength.tensile_mpa
        assert one.tensile_mpa <= strength.tensile_mpa
    assert one.reason
    assert one.against
    assert all(material(word) is one for word in (one.name, *one.aliases))


def test_no_spelling_means_two_materials() -> None:
    """Names and aliases, read without case, spaces and signs, are all different."""
    words = ["".join(filter(str.isalnum, w.lower())) for m in materials().values() for w in (m.name, *m.aliases)]
    by_material = [{w for w in words if material(w) is m} for m in materials().values()]
    assert sum(map(len, by_material)) == len(set(words))


def test_a_published_strength_is_kept() -> None:
    """SAE J526 by a supplier's extract: tensile 42,000 psi, yield 25,000 psi, which is 290 and 172 MPa."""
    strength = material("steel").strengths[0]
    assert strength.standard == "SAE J526"
    assert strength.tensile_mpa == pytest.approx(289.58, abs=0.01)
    assert strength.yield_mpa == pytest.approx(172.37, abs=0.01)


def test_plain_copper_is_refused_with_both_sides_told() -> None:
    """Copper may not carry brake pressure here; the reason is fatigue, and the other view is told in full."""
    copper = material("Plain Copper")
    assert not copper.brake_pressure
    assert copper.reason == (
        "work-hardens under vibration and cracks, mostly at the flare, with little warning; SAE J1149 and JASO M101 "
        "keep copper tube to air brakes; the trade holds it unlawful for brake lines in North America and Australia"
    )
    assert copper.against == (
        "its burst strength is not the trouble; one European vehicle maker repairs its own copper brake pipes (8 N m "
        "at the nut), and BN-90 3617-09 is cited as allowing copper; UK trade often says copper pipe and means "
        "copper-nickel"
    )


@pytest.mark.parametrize("text", ["cu-ni", "Copper Nickel", "90/10", "CUPRONICKEL", " copper_nickel "])
def test_copper_nickel_is_known_by_many_names(text: str) -> None:
    """The usual spellings of 90/10 copper-nickel are one material, which may carry brake pressure."""
    assert material(text).name == "copper-nickel"
    assert material(text).brake_pressure


def test_an_unknown_material_is_refused_with_the_nearest() -> None:
    """The message shows the word, the nearest material and all of them."""
    with pytest.raises(UnknownMaterialError) as caught:
        material("stainles steal")
    assert str(caught.value) == (
        "'stainles steal' is no tube material; nearest is 'stainless steel'; known: steel, copper-nickel, "
        "stainless steel, copper, aluminium, nylon"
    )
