"""Money is exact, and text that is not money is refused with its reason."""

import contextlib
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.catalog.money import CurrencyError, Money, MoneyError, parse_currency, parse_money


def test_money_is_read_exactly() -> None:
    """The amount keeps every figure that was written."""
    assert parse_money("12.50 GBP") == Money(Decimal("12.50"), "GBP")
    assert str(parse_money("12.50 GBP")) == "12.50 GBP"
    assert parse_money("0.0125 EUR").amount == Decimal("0.0125")
    assert parse_money("7 USD").amount == 7


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("12.50", "the currency is missing"),
        ("12.50GBP", "put one space before the currency"),
        ("12.50 gbp", "the currency is three capital letters (ISO 4217)"),
        ("12,50 GBP", "write a decimal point, and no mark between thousands"),
        ("-1.00 GBP", "an amount is never negative"),
        ("\u00a312.50", "write the currency as three letters, not as a sign"),
        ("12.50  GBP", "at most nine figures before the point and four behind it, then one space"),
        ("1e9 GBP", "at most nine figures before the point and four behind it, then one space"),
        ("1234567890 GBP", "at most nine figures before the point and four behind it, then one space"),
        ("12.50 GBP\n", "the currency is three capital letters (ISO 4217)"),
        ("", "put one space before the currency"),
    ],
)
def test_what_is_not_money_is_refused(text: str, reason: str) -> None:
    """Each usual slip has its own sentence, and the text is shown as it was given."""
    with pytest.raises(MoneyError) as caught:
        parse_money(text)
    assert str(caught.value) == f"expected an amount and a currency, such as 12.50 GBP, got {text!r}: {reason}"
    assert (caught.value.text, caught.value.reason) == (text, reason)


def test_long_text_is_shown_short() -> None:
    """A message never repeats more than forty characters of bad input."""
    with pytest.raises(MoneyError) as caught:
        parse_money("9" * 1000)
    assert "'" + "9" * 37 + "...'" in str(caught.value)


def test_sums_products_and_order() -> None:
    """Amounts of one currency add, multiply and compare exactly."""
    tenth = parse_money("0.10 GBP")
    assert tenth + tenth + tenth == parse_money("0.30 GBP")
    assert tenth * 3 == parse_money("0.30 GBP")
    assert tenth < parse_money("0.11 GBP")


def test_currencies_do_not_mix() -> None:
    """Adding or comparing unlike currencies is refused, not guessed."""
    with pytest.raises(CurrencyError) as caught:
        parse_money("1 GBP") + parse_money("1 EUR")
    assert str(caught.value) == "GBP and EUR cannot be added or compared without a rate of exchange"
    with pytest.raises(CurrencyError):
        assert parse_money("1 GBP") < parse_money("1 EUR")


def test_a_currency_is_three_capital_letters() -> None:
    """A currency code has the form of ISO 4217 or is refused."""
    assert parse_currency("GBP") == "GBP"
    with pytest.raises(ValueError, match="three capital letters") as caught:
        parse_currency("pounds")
    assert str(caught.value) == "expected a currency as three capital letters (ISO 4217), such as GBP, got 'pounds'"


@given(st.decimals(0, 999_999_999, places=2, allow_nan=False), st.from_regex(r"\A[A-Z]{3}\Z"))
def test_money_survives_being_written_and_read(amount: Decimal, currency: str) -> None:
    """Any amount that is written out is read back as the same amount."""
    money = Money(amount, currency)
    assert parse_money(str(money)) == money


@given(st.text(max_size=60))
def test_any_text_is_money_or_refused(text: str) -> None:
    """Whatever the text, the answer is money that can be written out again, or a MoneyError."""
    money: Money | None = None
    with contextlib.suppress(MoneyError):
        money = parse_money(text)
    assert money is None or parse_money(str(money)) == money
