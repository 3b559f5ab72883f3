"""Brake fluids: spellings, limits, mixing, rubber."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.standards.fluids import (
    FAMILIES,
    Fluid,
    UnknownFamilyError,
    UnknownFluidError,
    UnknownRubberError,
    fluid,
    fluids,
    mixing,
    rubber,
    rubbers,
    suitability,
    suits,
)
from fitcheck.standards.tables import load


@pytest.mark.parametrize("one", fluids().values(), ids=lambda one: one.name)
def test_a_fluid_agrees_with_itself(one: Fluid) -> None:
    """Water lowers its boiling point, its family is known, and every spelling leads back to it."""
    assert one.family in FAMILIES
    assert (one.dry_degc is None) == (one.wet_degc is None)
    assert one.dry_degc is None or one.wet_degc is None or one.wet_degc < one.dry_degc
    assert one.viscosity_mm2_s is None or 500 < one.viscosity_mm2_s < 2000
    assert all(fluid(word) is one for word in (one.name, *one.aliases))


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("DOT4", "DOT 4"),
        ("dot 4", "DOT 4"),
        (" Dot-4 ", "DOT 4"),
        ("dot 5.1", "DOT 5.1"),
        ("DOT 5-1", "DOT 5.1"),
        ("DOT5", "DOT 5"),
        ("silicone", "DOT 5"),
        ("mineral oil", "mineral oil"),
        ("Mineral", "mineral oil"),
        ("ISO 7308", "mineral oil"),
        ("iso 4925 class 5-1", "ISO 4925 class 5-1"),
        ("DOT 4 LV", "ISO 4925 class 6"),
    ],
)
def test_fluids_are_known_by_many_spellings(text: str, name: str) -> None:
    """Case, spaces and signs do not count; DOT 5 and DOT 5.1 stay apart."""
    assert fluid(text).name == name


@given(st.sampled_from(sorted(fluids())), st.data())
def test_case_and_spaces_never_change_the_fluid(name: str, data: st.DataObject) -> None:
    """Any letter in either case, and any spaces between words, still name the same fluid."""
    letters = [data.draw(st.sampled_from((letter.lower(), letter.upper()))) for letter in name]
    spaced = "".join(letters).replace(" ", data.draw(st.sampled_from(("", " ", "  ", "_"))))
    assert fluid(spaced).name == name


@pytest.mark.parametrize(
    ("name", "dry", "wet", "viscosity"),
    [("DOT 3", 205, 140, 1500), ("DOT 4", 230, 155, 1800), ("DOT 5", 260, 180, 900), ("DOT 5.1", 260, 180, 900)],
)
def test_the_published_limits_are_kept(name: str, dry: float, wet: float, viscosity: float) -> None:
    """49 CFR 571.116 S5.1: boiling points dry and wet [degC], viscosity at -40 degC [mm2/s]."""
    one = fluid(name)
    assert (one.dry_degc, one.wet_degc, one.viscosity_mm2_s) == (dry, wet, viscosity)


@pytest.mark.parametrize(
    ("text", "hint"), [("DOT 44", "; nearest is 'DOT 4'"), ("minerl oil", "; nearest is 'mineral oil'"), ("", "")]
)
def test_an_unknown_fluid_is_refused_with_the_nearest(text: str, hint: str) -> None:
    """The message shows the word, the nearest fluid if one is near, and all of them."""
    with pytest.raises(UnknownFluidError) as caught:
        fluid(text)
    assert str(caught.value) == (
        f"{text!r} is no brake fluid{hint}; known: DOT 3, DOT 4, DOT 5, DOT 5.1, ISO 4925 class 3, "
        "ISO 4925 class 4, ISO 4925 class 5-1, ISO 4925 class 6, ISO 4925 class 7, mineral oil"
    )


def test_fluids_mix_within_their_family_only() -> None:
    """Each pair of families has a row, the same both ways; only like families may be mixed."""
    for a in FAMILIES:
        for b in FAMILIES:
            assert mixing(a, b) == mixing(b, a)
            assert mixing(a, b).allowed is (a == b)
    assert mixing("mineral", "glycol").effect == "seals made for one swell or dissolve in the other; the brakes fail"


@pytest.mark.parametrize(
    ("family", "text", "answer"),
    [
        ("glycol", "EPDM", True),
        ("glycol", "nitrile", False),
        ("mineral", "EPR", False),
        ("mineral", "NBR", True),
        ("silicone", "EPDM", True),
        ("silicone", "NBR", None),
        ("mineral", "CR", None),
    ],
)
def test_rubber_is_told_from_what_is_known(family: str, text: str, answer: bool | None) -> None:
    """EPDM for glycol and nitrile for mineral oil, never crossed; what no row says is None, not a guess."""
    assert suits(family, text) is answer


def test_suitability_rows_name_known_things_once() -> None:
    """Every row has a known family and rubber, and no pair stands twice; each answer comes with its row's mark."""
    rows = load("fluids")["suitability"]
    pairs = [(row["family"], row["rubber"]) for row in rows]
    assert len(pairs) == len(set(pairs))
    for row in rows:
        found = suitability(row["family"], row["rubber"])
        assert found is not None
        assert found.mark == row["mark"]


def test_every_family_has_a_rubber_that_suits_and_one_that_does_not() -> None:
    """The table can tell good from bad for each family, and knows each rubber of its list somewhere."""
    for family in FAMILIES:
        assert {suits(family, code) for code in rubbers()} >= {True, False}
    assert all(any(suitability(family, code) for family in FAMILIES) for code in rubbers())


def test_rubbers_are_known_by_many_spellings() -> None:
    """Codes and words lead to one code each."""
    assert all(rubber(word) == code for code, words in rubbers().items() for word in (code, *words))
    assert rubber("natural-rubber") == "NR"


def test_unknown_rubber_and_family_are_refused() -> None:
    """A word that names neither is refused with all that are known."""
    with pytest.raises(UnknownRubberError) as no_rubber:
        suits("glycol", "EPMD")
    assert str(no_rubber.value) == (
        "'EPMD' is no rubber; nearest is 'EPDM'; known: EPDM, SBR, NR, CR, NBR, FKM, VMQ, PTFE"
    )
    with pytest.raises(UnknownFamilyError) as no_family:
        mixing("glycol", "petrol")
    assert str(no_family.value) == "'petrol' is no fluid family; known: glycol, silicone, mineral"
