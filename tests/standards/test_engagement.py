"""How much thread a joint needs: loads, metals, and what governs."""

import doctest

import pytest

from fitcheck.standards import engagement
from fitcheck.standards.engagement import Load, metal, needed, planned_pressure, pressure_load, steel, tightening
from fitcheck.standards.tables import load
from fitcheck.standards.threads import parse

M10 = parse("M10x1")


def test_worked_examples() -> None:
    """The worked example in each docstring holds."""
    ran = doctest.testmod(engagement)
    assert (ran.failed, ran.attempted >= 4) == (0, True)


def test_no_load_needs_five_pitches() -> None:
    """With nothing to carry five pitches are needed, the least that limits of size are made for."""
    found = needed(M10, M10, (Load(1.0, 1.0, "to hold next to nothing"),), steel(), steel())
    assert (found.length_mm, found.load) == (5.0, None)
    assert found.why == "for 5 pitches, the least that limits of size hold for"
    assert needed(parse("3/8-24"), parse("3/8-24"), (), steel(), steel()).length_mm == pytest.approx(5 * 25.4 / 24)


def test_the_greater_load_governs() -> None:
    """The greater load governs, whatever the order, and names itself."""
    torque, fluid = tightening(16_000.0, 10.0), pressure_load(60.0, 10.0)
    assert (torque.newton * torque.factor, round(fluid.newton * fluid.factor)) == (12_000.0, 18_850)
    for loads in ((torque, fluid), (fluid, torque)):
        assert needed(M10, M10, loads, steel(), steel()).why == "to hold 60 MPa"
    assert needed(M10, M10, (torque,), steel(), steel()).why == "to stand 16 N m of tightening"


def test_either_metal_can_be_the_weak_one() -> None:
    """A softer metal on either side needs more thread; length times strength stays while that side is the weaker."""
    loads = (tightening(30_000.0, 10.0),)
    both_soft = needed(M10, M10, loads, metal("aluminium"), metal("aluminium")).length_mm
    assert both_soft == pytest.approx(needed(M10, M10, loads, steel(), steel()).length_mm * 290 / 200)
    soft_port = needed(M10, M10, loads, metal("stainless steel"), metal("aluminium")).length_mm
    soft_nut = needed(M10, M10, loads, metal("aluminium"), metal("stainless steel")).length_mm
    # The internal thread shears at a larger diameter: 20.6 against 15.4 mm2 a millimetre.
    assert soft_nut / soft_port == pytest.approx(20.61 / 15.36, rel=0.001)


def test_unknown_metal_is_the_weakest() -> None:
    """A part that does not say what it is made of is taken for the weakest metal of the table, and marked assumed."""
    weakest = min(metal(name).tensile_mpa for name in load("engagement")["metals"])
    for unknown in (None, "unobtainium"):
        assert metal(unknown).tensile_mpa == weakest
        assert metal(unknown).assumed
    assert not metal("brass").assumed


def test_every_figure_is_marked() -> None:
    """Each row of the table says where its figure is from."""
    table = load("engagement")
    rows = [row for row in table.values() if isinstance(row, dict) and "mark" in row] + list(table["metals"].values())
    assert len(rows) == 7 + len(table["metals"])
    assert all(row["mark"].strip() for row in rows)
    assert planned_pressure() == (20.0, "49 CFR 571.106, Table I, its highest test pressure, 2900 psi")
