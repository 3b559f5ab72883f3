"""What a part is rated for, by what its catalog says of it."""

from typing import Any

import pytest

from fitcheck.catalog.part import Part, part_from_row
from fitcheck.hydraulics.part_rating import missing, rating, thinnest

PSI = 0.006894757
PORT = {"thread": "M10x1", "gender": "internal", "seat": "bubble", "tube": 4.75}


def hose(**row: Any) -> Part:
    """Return a hose with so much in its row."""
    return part_from_row("h", {"kind": "hose", "ports": {"from": PORT, "to": PORT}} | row)


def tube(**row: Any) -> Part:
    """Return 3/16 in steel tube with so much else in its row."""
    return part_from_row("t", {"kind": "tube", "od": 4.7625, "wall": 0.7112, "material": "steel"} | row)


def test_what_the_catalog_states_goes_first() -> None:
    """A stated rating is taken as it is, whatever burst or wall would give."""
    for part in (hose(max_pressure=20.0, burst=100.0, expansion_limit="low", inside=3.2), tube(max_pressure=20.0)):
        known = rating(part)
        assert known is not None
        assert (known.mpa, known.fails_mpa, known.how, known.assumed) == (20.0, 20.0, "max_pressure", False)


def test_a_stated_burst_is_divided() -> None:
    """A maker's burst over 4, and the words say so."""
    known = rating(hose(burst=60.0, expansion_limit="low", inside=3.2))
    assert known is not None
    assert (known.mpa, known.how, known.assumed) == (15.0, "burst", False)
    assert known.words == "a burst of 60 MPa in its catalog, over 4"


@pytest.mark.parametrize(("inside", "burst"), [(3.2, 7000 * PSI), (4.8, 5000 * PSI), (6.4, 5000 * PSI)])
def test_a_hose_made_to_the_law(inside: float, burst: float) -> None:
    """49 CFR 571.106 asks for a burst by bore; a quarter is assumed, and above the 4,000 psi test it is sure."""
    known = rating(hose(expansion_limit="regular", inside=inside))
    assert known is not None
    assert (known.mpa, known.how, known.assumed) == (pytest.approx(burst / 4, rel=1e-6), "571.106", True)
    assert known.fails_mpa == pytest.approx(4000 * PSI, rel=1e-6)


def test_a_hose_of_which_nothing_is_known_has_no_rating() -> None:
    """Without rating, burst or the law that it is made to there is none, and the field is named."""
    assert rating(hose(inside=3.2)) is None
    assert missing(hose(inside=3.2)) == "parts.h.max_pressure"
    assert rating(hose(expansion_limit="low")) is None
    assert missing(hose(expansion_limit="low")) == "parts.h.inside"


def test_steel_tube_by_its_thinnest_wall() -> None:
    """3/16 steel: 42,000 psi and the 0.023 in that SAE J526 lets pass: 17.76 MPa by Barlow over 4."""
    known = rating(tube())
    assert known is not None
    by_hand = 2 * 42_000 * PSI * (0.028 - 0.005) / 0.1875 / 4
    assert (known.mpa, known.assumed) == (pytest.approx(by_hand, rel=1e-4), False)
    assert known.fails_mpa == known.mpa
    assert known.words == "steel 4.76 x 0.58 mm by Barlow, burst over 4"
    assert known.figures["wall_source"] == "thinnest of SAE J526: SAE J526 by a tube supplier's extract"
    assert known.figures["strength_source"] == "SAE J526: SAE J526 by a tube supplier's extract"


def test_a_wall_without_tolerance_is_taken_as_it_is() -> None:
    """No source gives the tolerance of copper-nickel tube: its nominal wall is used and the figures say so."""
    known = rating(tube(material="copper-nickel"))
    assert known is not None
    assert known.mpa == pytest.approx(2 * 290 * 0.7112 / 4.7625 / 4)
    assert known.figures["wall_source"] == "nominal"
    assert thinnest(tube(wall=1.2)) is None


def test_assumed_strength_fails_for_certain_only_where_it_bursts() -> None:
    """The strength of stainless tube is from memory: its rating is assumed, and certain only at burst."""
    known = rating(tube(material="stainless steel"))
    assert known is not None
    assert known.assumed
    assert known.fails_mpa == pytest.approx(4 * known.mpa)


def test_a_tightest_bend_is_told() -> None:
    """The outer wall of 3/16 tube bent at three diameters thins by a seventh; the rating is that of straight tube."""
    bent, straight = rating(tube(bend_radius=3 * 4.7625)), rating(tube())
    assert bent is not None
    assert straight is not None
    assert bent.figures["thinner_in_its_tightest_bend"] == pytest.approx(1 / 7)
    assert bent.mpa == straight.mpa


def test_what_tube_lacks() -> None:
    """Tube of unknown material lacks just that."""
    unknown = part_from_row("t", {"kind": "tube", "od": 4.7625, "wall": 0.7112})
    assert rating(unknown) is None
    assert missing(unknown) == "parts.t.material"
    assert thinnest(unknown) is None
