"""Numbers of sizes in lists of either decimal sign: thousands and decimals are never taken for each other."""

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.catalog.take_in.numbers import NumberError, plain_number
from fitcheck.catalog.take_in.wording import read_wording

SIGNS = {"point": (".", ","), "comma": (",", ".")}
TWO_WAYS = "could be read two ways: say `decimal: comma` or `decimal: point` in a mapping file"
AMOUNT = st.decimals("0", "9999999", places=4).map(Decimal.normalize).map(lambda amount: f"{amount:f}")


def written(amount: str, decimal: str, grouped: bool) -> str:
    """Return an amount as a list of this decimal sign writes it."""
    whole, _, places = amount.partition(".")
    point, between = SIGNS[decimal]
    text = f"{int(whole):,}".replace(",", between) if grouped else whole
    return f"{text}{point}{places}" if places else text


def refused(number: str, decimal: str | None, points: bool = False) -> str:
    """Return why a number is not read."""
    with pytest.raises(NumberError) as error:
        plain_number(number, decimal, points)
    return str(error.value)


@given(AMOUNT, st.sampled_from(sorted(SIGNS)), st.booleans())
def test_what_a_list_writes_is_read_back(amount: str, decimal: str, grouped: bool) -> None:
    """Any number written in the list's own sign, with thousands marked or not, is that number again."""
    assert Decimal(plain_number(written(amount, decimal, grouped), decimal)) == Decimal(amount)


@given(AMOUNT, st.sampled_from(sorted(SIGNS)), st.booleans())
def test_a_list_whose_sign_is_not_known_is_never_read_wrongly(amount: str, decimal: str, grouped: bool) -> None:
    """Without a known sign a number is read as it was meant, or refused as readable in two ways."""
    text = written(amount, decimal, grouped)
    if re.fullmatch("[1-9][0-9]{0,2}[.,][0-9]{3}", text):
        assert refused(text, None) == TWO_WAYS
    else:
        assert Decimal(plain_number(text, None)) == Decimal(amount)


@given(AMOUNT)
def test_points_in_a_list_of_commas(amount: str) -> None:
    """A decimal point stays one in a list of commas, unless three figures follow and no zero stands before it."""
    whole, _, places = amount.partition(".")
    if len(places) != 3 or whole == "0" or len(whole) > 3:
        assert Decimal(plain_number(amount, "comma")) == Decimal(amount)
    else:
        assert plain_number(amount, "comma") == f"{whole}{places}"
        assert refused(amount, "comma", points=True) == "could be read two ways"


@given(st.text("0123456789.,", min_size=1, max_size=12), st.sampled_from(["point", "comma", None]))
def test_any_figures_are_answered(number: str, decimal: str | None) -> None:
    """Whatever is made of figures and signs is a plain number with a point at most, or has a reason."""
    try:
        said = plain_number(number, decimal)
    except NumberError as error:
        said = str(error)
    assert re.fullmatch(r"[0-9]*(\.[0-9]+)?", said) or said in (
        "is no number", "has a comma in a list that writes decimal points", TWO_WAYS,
    )  # fmt: skip


def test_a_comma_in_a_list_of_points() -> None:
    """Only groups of three figures are thousands; any other comma is refused with its reason."""
    assert plain_number("2,500", "point") == "2500"
    assert plain_number("1,234,567.5", "point") == "1234567.5"
    for number in ("2,5", "0,028", "2,5000", "1234,567"):
        assert refused(number, "point") == "has a comma in a list that writes decimal points"
    for number in ("1,23,456", "1.2.3", "1.234,5"):
        assert refused(number, "point") == "is no number"


WORDED = [
    ("Steel brake tube 3/16 x 0.028 in, 2,500 ft", "point", "2500 ft"),
    ("Bremsleitung Stahl 4,75 x 0,9 mm, 2.500 m", "comma", "2500 m"),
    ("Bremsleitung Stahl 3/16 x 0.028 in, 2,5 m", "comma", "2.5 m"),
    ("Steel brake tube 3/16 x 0.028 in, 25 ft", None, "25 ft"),
]


@pytest.mark.parametrize(("text", "decimal", "length"), WORDED, ids=[text for text, _, _ in WORDED])
def test_lengths_of_tube_are_read_as_the_list_writes_them(text: str, decimal: str | None, length: str) -> None:
    """Thousands and decimals of a length follow the list's own sign, and stand in the part without a comma."""
    found = read_wording(text, decimal)
    assert (found.confidence, found.fields["length"]) == ("high", length)


UNREADABLE = [
    ("Steel brake tube 3/16 x 0.028 in, 2,5 ft", "point", "'2,5 ft' has a comma in a list that writes decimal points"),
    ("Steel brake tube 3/16 x 0.028 in, 2.500 ft", "comma", "'2.500 ft' could be read two ways"),
    ("Steel brake tube 3/16 x 0.028 in, 2,500 ft", None, f"'2,500 ft' {TWO_WAYS}"),
    ("Copper washer 10,14,1 mm", "comma", "'10,14,1 mm' is no number"),
]


@pytest.mark.parametrize(("text", "decimal", "reason"), UNREADABLE, ids=[text for text, _, _ in UNREADABLE])
def test_sizes_that_the_list_does_not_allow(text: str, decimal: str | None, reason: str) -> None:
    """A size that contradicts the list's sign, or could be two, makes no part and is the only reason."""
    found = read_wording(text, decimal)
    assert (found.confidence, found.fields, found.reasons) == ("low", {}, (reason,))
