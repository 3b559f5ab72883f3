"""Prices, packs, lead times and dates in every way that lists write them, exactly or not at all."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.catalog.take_in.figures import (
    FigureError,
    Pack,
    decimal_sign,
    in_currency,
    lead_time,
    price,
    unit,
    valid_until,
    voted_sign,
)

PRICES = [
    ("12.50", "12.50", None),
    ("12,5", "12.5", None),
    ("1.234,50 €", "1234.50", "EUR"),
    ("£1,234.50", "1234.50", "GBP"),
    ("1 234,50", "1234.50", None),
    ("1'234.50 CHF", "1234.50", "CHF"),
    ("12,- Euro", "12", "EUR"),
    ("EUR 0,085", "0.085", "EUR"),
    ("1.234.567", "1234567", None),
    ("7", "7", None),
    ("eur 7", "7", "EUR"),
]


@pytest.mark.parametrize(("text", "amount", "currency"), PRICES, ids=[text for text, _, _ in PRICES])
def test_prices(text: str, amount: str, currency: str | None) -> None:
    """A price that can only mean one amount is read exactly, its currency with it."""
    assert price(text) == (Decimal(amount), currency, False)


@pytest.mark.parametrize("text", ["1.2.3", "12,345,6", "1,23,456", "12.50.", "abc", "EUR 5 GBP", "5 %", "1e3", "٣"])
def test_no_prices(text: str) -> None:
    """What only looks like a price is refused."""
    with pytest.raises(FigureError) as error:
        price(text)
    assert error.value.code == "price"


def test_three_figures_after_one_sign_need_the_lists_own_sign() -> None:
    """1.234 is read as the rest of the list writes decimals, and refused where that is not known."""
    assert price("1.234", "comma").amount == 1234
    assert price("1.234", "point").amount == Decimal("1.234")
    assert price("1,234", "comma").amount == Decimal("1.234")
    with pytest.raises(FigureError) as error:
        price("1.234")
    assert str(error.value) == (
        "'1.234' could be read two ways: say `decimal: comma` or `decimal: point` in a mapping file"
    )


def test_the_sign_is_voted_and_never_outvoted() -> None:
    """One list writes one sign; where its prices contradict each other none is taken."""
    assert voted_sign(map(decimal_sign, ["1.234", "7", "2,50"])) == "comma"
    assert voted_sign(map(decimal_sign, ["2.50", "2,50"])) is None
    assert voted_sign(map(decimal_sign, ["1.234", "7"])) is None


@given(st.decimals("0.01", "999999", places=2), st.sampled_from([",", "."]), st.booleans())
def test_either_sign_reads_equal(amount: Decimal, sign: str, grouped: bool) -> None:
    """An amount with two decimals is the same amount in either sign, with thousands marked or not."""
    text = f"{amount:,}" if grouped else str(amount)
    if sign == ",":
        text = text.translate(str.maketrans(",.", ".,"))
    assert price(text).amount == amount
    assert decimal_sign(text) == {",": "comma", ".": "point"}[sign]


def test_dollars_need_a_list_in_dollars() -> None:
    """The sign $ is taken for the list's own dollars, and refused in any other list."""
    assert str(in_currency(price("$2.50"), "", "CAD")) == "2.50 CAD"
    with pytest.raises(FigureError):
        in_currency(price("$2.50"), "", "EUR")


UNITS = [
    ("", Pack()),
    ("Stk.", Pack()),
    ("m", Pack(1, "1 m", True)),
    ("per foot", Pack(1, "1 ft", True)),
    ("LF", Pack(1, "1 ft", True)),
    ("lfd. m", Pack(1, "1 m", True)),
    ("/ft.", Pack(1, "1 ft", True)),
    ("1 m", Pack(1, "1 m")),
    ("per 25 ft", Pack(1, "25 ft")),
    ("25' roll", Pack(1, "25 ft")),
    ("25-ft coil", Pack(1, "25 ft")),
    ('300"', Pack(1, "300 in")),
    ("25 ft", Pack(1, "25 ft")),
    ("Rolle 7,5 m", Pack(1, "7.5 m")),
    ("Paar", Pack(2)),
    ("pack of 10", Pack(10)),
    ("100 Stk", Pack(100)),
]


@pytest.mark.parametrize(("text", "pack"), UNITS, ids=[text or "empty" for text, _ in UNITS])
def test_units_of_sale(text: str, pack: Pack) -> None:
    """Pieces, pairs, packs and lengths are told apart."""
    assert unit(text) == pack


def test_thousands_of_a_length_are_read_as_the_list_writes_them() -> None:
    """1,500 m is fifteen hundred in a list of decimal points, one and a half in one of commas, else refused."""
    assert unit("1,500 m", "point") == Pack(1, "1500 m")
    assert unit("1.500 m", "comma") == Pack(1, "1500 m")
    assert unit("1,500 m", "comma") == Pack(1, "1.500 m")
    for text, decimal, reason in (
        ("7,5 m", "point", "'7,5 m' has a comma in a list that writes decimal points"),
        (
            "1,500 m",
            None,
            "'1,500 m' could be read two ways: say `decimal: comma` or `decimal: point` in a mapping file",
        ),
        ("0 m", "point", "'0 m' is no length"),
    ):
        with pytest.raises(FigureError) as error:
            unit(text, decimal)
        assert (error.value.code, str(error.value)) == ("unit", reason)


def test_letters_that_are_no_currency() -> None:
    """Only codes of ISO 4217 are taken for a currency; the reason names the letters."""
    for found, said, letters in ((price("3.00 PCS"), "", "PCS"), (price("3.00"), "net", "NET")):
        with pytest.raises(FigureError) as error:
            in_currency(found, said, "GBP")
        assert str(error.value) == f"'{letters}' is no currency of ISO 4217; the list is in GBP"


def test_times_and_dates() -> None:
    """The longest of a range is taken, weeks become days, both usual forms of a date are read."""
    assert [lead_time(text) for text in ("", "3", "3-5 days", "2 Wochen", "1 w")] == [None, "3 d", "5 d", "14 d", "7 d"]
    assert [valid_until(text) for text in ("", "2026-12-31", "1.2.2026")] == [None, "2026-12-31", "2026-02-01"]
    for text in ("2026-13-01", "31.2.2026", "3/4/2026", "tomorrow"):
        with pytest.raises(FigureError):
            valid_until(text)
