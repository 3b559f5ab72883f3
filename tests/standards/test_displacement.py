"""What is assumed of stroke and travel, moduli of fluids and tube, and the shares that may be used."""

import pytest

from fitcheck.standards.displacement import UnknownAssumptionError, assumption, assumptions, most
from fitcheck.standards.fluids import FAMILIES, UnknownFamilyError, dissolved_air, modulus
from fitcheck.standards.materials import materials


def test_every_assumption_lies_in_its_range() -> None:
    """The value taken lies between the ends of its range, nothing is negative, and each has a mark."""
    for found in assumptions().values():
        assert 0.0 <= found.low <= found.value <= found.high, found.name
        assert found.mark


def test_figures_of_the_trade() -> None:
    """Gap, give and knock-back are those of the trade: 0.1 mm a side, 10 mm3/bar from 5 to 20, none unless stated."""
    assert assumption("disc_gap")[1:5] == (0.1, 0.05, 0.3, "mm")
    assert assumption("caliper_give")[1:5] == (100.0, 50.0, 200.0, "mm3/MPa")
    assert assumption("knock_back")[1:4] == (0.0, 0.0, 0.0)


def test_an_unknown_assumption_names_the_nearest() -> None:
    """A slip of the pen is told, with what may have been meant."""
    with pytest.raises(UnknownAssumptionError, match=r"disc_gab.*disc_gap"):
        assumption("disc_gab")


def test_pedal_and_stroke_may_use_four_fifths() -> None:
    """The law's figure for the pedal has its source; that for the piston says that it has none."""
    assert most("pedal") == (0.8, "49 CFR 570.55")
    assert most("stroke") == (0.8, "common practice, no source")


def test_moduli_have_ranges() -> None:
    """Every family has a bulk modulus within its range; silicone is the softest and holds the most air."""
    for family in FAMILIES:
        found = modulus(family)
        assert found.low_mpa < found.mpa < found.high_mpa
    assert modulus("silicone").mpa < modulus("mineral").mpa < modulus("glycol").mpa
    glycol, silicone = dissolved_air("glycol"), dissolved_air("silicone")
    assert glycol is not None
    assert silicone is not None
    assert (glycol.share, silicone.share) == (0.05, 0.16)
    with pytest.raises(UnknownFamilyError):
        modulus("water")


def test_tube_materials_stretch() -> None:
    """Young's modulus and Poisson's ratio of every material lie in their ranges; nylon is softest, steel stiffest."""
    for found in materials().values():
        elastic = found.elastic
        assert elastic.modulus_range[0] <= elastic.modulus_mpa <= elastic.modulus_range[1]
        assert 0.0 < elastic.poisson_range[0] <= elastic.poisson <= elastic.poisson_range[1] < 0.5
        assert elastic.mark
    order = sorted(materials().values(), key=lambda each: each.elastic.modulus_mpa)
    assert (order[0].name, order[-1].name) == ("nylon", "steel")
