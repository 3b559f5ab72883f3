"""Quantities: what is read, what is refused with which sentence, factors against pint, and rendering."""

import copy
import pickle

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.quantities import MOST, Quantity, QuantityError, parse, plain_number, render
from fitcheck.units import DIMENSIONS, UNITS

READ = [
    ("3/16 in", "length", 4.7625),
    ('3/16"', "length", 4.7625),
    ("1 1/2 in", "length", 38.1),
    ("1-1/2 in", "length", 38.1),
    ("½ in", "length", 12.7),
    ("1½ in", "length", 38.1),
    ("1 ½ in", "length", 38.1),
    ("3\u20448 in", "length", 9.525),
    (" 4.75mm ", "length", 4.75),
    (".5 in", "length", 12.7),
    ("5. mm", "length", 5.0),
    ("+5 mm", "length", 5.0),
    ("- 5 mm", "length", -5.0),
    ("-1 1/2 in", "length", -38.1),
    ("\u22125 mm", "length", -5.0),
    ("010 mm", "length", 10.0),
    ("1.1 cm", "length", 11.0),
    ("2 ft", "length", 609.6),
    ("7 MPa", "pressure", 7.0),
    ("70 bar", "pressure", 7.0),
    ("350 N", "force", 350.0),
    ("32°", "angle", 32.0),
    ("12 cm³", "volume", 12000.0),
    ("1 fl oz", "volume", 29573.5295625),
    ("2 d", "time", 172800.0),
    ("1 lb", "mass", 0.45359237),
    ("15  N  m", "torque", 15000.0),
    ("68 degF", "temperature", 20.0),
    ("-40 °F", "temperature", -40.0),
    ("293.15 K", "temperature", 20.0),
]


@pytest.mark.parametrize(("text", "dimension", "value"), READ)
def test_texts_that_are_read(text: str, dimension: str, value: float) -> None:
    """Decimals, fractions, mixed numbers and every dimension come out in working units, rounded once."""
    quantity = parse(text, dimension)
    assert quantity == value
    assert quantity.text == text.strip()


REFUSED = [
    ("25", "length", "a bare number where a length is needed: write '25 mm' or '1 in'"),
    ("7", "pressure", "a bare number where a pressure is needed: write '7 MPa' or '1000 psi'"),
    ("30", "angle", "a bare number where an angle is needed: write '32 deg' or '0.5 rad'"),
    ("3 bar", "length", "'3 bar' is a pressure where a length is needed"),
    ("1/2 in", "time", "'1/2 in' is a length where a time is needed"),
    ("3 furlong", "length", "'furlong' is a length, but not one taken here; use mm, cm, m, in or ft"),
    ("3 furlong", "pressure", "'3 furlong' is a length where a pressure is needed"),
    ("3 turn", "angle", "'turn' is an angle, but not one taken here; use deg or rad"),
    ("3 ppm", "angle", "'ppm' is no unit of angle; use deg or rad"),
    ("3 Mpa", "pressure", "'Mpa' is no unit of pressure; nearest is 'MPa'; use kPa, MPa, bar or psi"),
    ("3 qqq", "volume", "'qqq' is no unit of volume; use mm3, mL, cm3, L, in3 or fl oz (US)"),
    ("3 mm mm", "length", "'mm mm' is no unit of length; use mm, cm, m, in or ft"),
    ("9**9**7 mm", "length", "'**9**7 mm' is no unit of length; use mm, cm, m, in or ft"),
    (
        "1,000 mm",
        "length",
        "'1,000 mm': write the number with a '.' for decimals and nothing between thousands",
    ),
    ("4,75 mm", "length", "'4,75 mm': write the number with a '.' for decimals and nothing between thousands"),
    ("1 000 mm", "length", "'1 000 mm': write the number with a '.' for decimals and nothing between thousands"),
    ("1e3 mm", "length", "'1e3 mm': exponents are not taken; write the number out"),
    ("1/0 in", "length", "'1/0 in' divides by zero"),
    ("", "length", "expected a length such as '25 mm' or '1 in', got ''"),
    ("nan mm", "length", "expected a length such as '25 mm' or '1 in', got 'nan mm'"),
    ("inf", "force", "expected a force such as '350 N' or '80 lbf', got 'inf'"),
    ("٣ mm", "length", "expected a length such as '25 mm' or '1 in', got '٣ mm'"),
    ("9" * 20 + " mm", "length", "'99999999999999999999 mm' is too large: at most 1000000000000 mm"),
    ("1" * 61, "mass", "expected a mass such as '1.2 kg' or '3 lb', got a text of 61 characters"),
]


@pytest.mark.parametrize(("text", "dimension", "message"), REFUSED)
def test_texts_that_are_refused(text: str, dimension: str, message: str) -> None:
    """Each kind of fault has its own sentence, which names what was expected and what was got."""
    with pytest.raises(QuantityError) as caught:
        parse(text, dimension)
    assert str(caught.value) == message


@pytest.fixture(scope="module")
def registry() -> "pint.UnitRegistry[float]":
    """Return a fresh registry, so that nothing of ours can have changed it."""
    return pint.UnitRegistry()


@pytest.mark.parametrize("word", UNITS)
def test_factors_agree_with_pint(word: str, registry: "pint.UnitRegistry[float]") -> None:
    """Every unit word, at two values, is what a fresh pint registry makes of the unit it stands for."""
    unit = UNITS[word]
    working = DIMENSIONS[unit.dimension].working.replace("mm3", "mm**3").replace(" ", "*")
    for number in (1, 250):
        reference = registry.Quantity(number, registry.Unit(unit.pint)).to(working)
        assert parse(f"{number} {word}", unit.dimension) == pytest.approx(reference.magnitude, rel=1e-12)


def test_unit_words_mean_one_thing() -> None:
    """The units that a message or a default shows are in the table, under their own dimension."""
    for name, dimension in DIMENSIONS.items():
        assert UNITS[dimension.shown].dimension == name
        for example in dimension.examples:
            assert parse(example, name) > 0
        for word in dimension.common.replace(" or ", ", ").split(", "):
            assert UNITS[word].dimension == name


def test_plain_numbers() -> None:
    """A plain number is a decimal, a fraction or a mixed number, and refuses a unit, a comma and an exponent."""
    assert [plain_number(text) for text in ("5.0", "-3", "1/2", "1 1/2")] == [5.0, -3.0, 0.5, 1.5]
    for text, message in {
        "5 mm": "'5 mm' is more than a number; a plain number is needed here",
        "x": "expected a plain number such as 25 or 0.5, got 'x'",
        "nan": "expected a plain number such as 25 or 0.5, got 'nan'",
        "1,5": "'1,5': write the number with a '.' for decimals and nothing between thousands",
        "1e5": "'1e5': exponents are not taken; write the number out",
        "9999999999999": "'9999999999999' is too large: at most 1000000000000",
    }.items():
        with pytest.raises(QuantityError) as caught:
            plain_number(text)
        assert str(caught.value) == message


def test_quantities_copy_and_pickle() -> None:
    """A quantity survives pickling and copying with its text, equals its float, and prints as a number."""
    quantity = parse("3/16 in", "length")
    for twin in (pickle.loads(pickle.dumps(quantity)), copy.copy(quantity), copy.deepcopy(quantity)):
        assert isinstance(twin, Quantity)
        assert (twin, twin.text) == (4.7625, "3/16 in")
    assert f"{quantity}" == "4.7625"
    assert type(quantity * 2) is float


def test_errors_pickle() -> None:
    """An error keeps its fields and its text through pickling, so that a process pool can hand it back."""
    error = QuantityError("3 bar", "length", "other", "bar")
    twin = pickle.loads(pickle.dumps(error))
    assert str(twin) == str(error) == "'3 bar' is a pressure where a length is needed"
    assert (twin.text, twin.dimension, twin.fault, twin.unit) == ("3 bar", "length", "other", "bar")


RENDERED = [
    (4.7625, "length", None, "4.76 mm"),
    (4.7625, "length", "3/16 in", "0.1875 in"),
    (4.7625, "length", '1"', '0.1875"'),
    (0.1 + 0.2, "length", "1 mm", "0.3 mm"),
    (0.00123456, "length", "1 mm", "0.00123 mm"),
    (1000.0, "length", "1 mm", "1000 mm"),
    (-25.4, "length", "1 in", "-1 in"),
    (-1e-15, "length", "1 mm", "0 mm"),
    (7.0, "pressure", "1000 psi", "1015 psi"),
    (7.0, "pressure", "3 mm", "7 MPa"),
    (12345.0, "volume", None, "12.35 mL"),
    (20.0, "temperature", "1 degF", "68 degF"),
    (32.5, "angle", "1°", "32.5°"),
    (15000.0, "torque", "1 lbf.ft", "11.1 lbf.ft"),
    (4.0, "force", "not a quantity", "4 N"),
]


@pytest.mark.parametrize(("value", "dimension", "like", "text"), RENDERED)
def test_render(value: float, dimension: str, like: str | None, text: str) -> None:
    """A value is shown in the user's own unit with sensible digits, or in the usual unit."""
    assert render(value, dimension, like) == text


@given(st.sampled_from(sorted(UNITS)), st.floats(-1e4, 1e4))
def test_rendered_text_reads_back(word: str, number: float) -> None:
    """What is rendered can be read again and differs by rounding only: half a last decimal, or 0.5 per cent."""
    unit = UNITS[word]
    factor = float(unit.numerator) / float(unit.denominator)
    value = (number + float(unit.offset)) * factor
    again = parse(render(value, unit.dimension, f"1 {word}"), unit.dimension)
    assert again == pytest.approx(value, rel=0.005, abs=0.51 * 10**-unit.decimals * factor + 1e-9 * factor)


@given(st.text(max_size=70), st.sampled_from(sorted(DIMENSIONS)))
def test_any_text_is_answered(text: str, dimension: str) -> None:
    """Whatever the text, the answer is a bounded number or an error with a sentence."""
    try:
        value = float(parse(text, dimension))
    except QuantityError as error:
        value = 0.0 if str(error) else MOST * 2
    assert abs(value) <= MOST


_NUMBERISH = st.text(st.sampled_from("0123456789 ./-+½\u2044eE,_'\"mi n"), max_size=59)


@given(_NUMBERISH, st.sampled_from(sorted(DIMENSIONS)))
def test_any_number_like_text_is_answered(text: str, dimension: str) -> None:
    """Texts made of what numbers and units are made of never break the reader either."""
    test_any_text_is_answered.hypothesis.inner_test(text, dimension)  # type: ignore[attr-defined]
