"""Rates of exchange: stated ones only, exact, used both ways and in a row."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.catalog.money import Money, parse_money
from fitcheck.catalog.rates import Rate, Rates

DAY = date(2026, 11, 20)
EUR = Rate("EUR", Decimal("0.86"), "GBP", DAY)
USD = Rate("USD", Decimal("0.92"), "EUR", DAY)
SEK = Rate("SEK", Decimal("0.0744"), "USD", DAY)


def test_a_rate_is_used_as_stated() -> None:
    """One unit is worth what the rate says, to the last place."""
    rates = Rates((EUR,))
    assert rates.factor("EUR", "GBP") == Fraction(86, 100)
    assert rates.converted(parse_money("12.50 EUR"), "GBP") == parse_money("10.7500 GBP")
    assert rates.way("EUR", "GBP") == (EUR,)


def test_a_rate_is_used_the_other_way_round() -> None:
    """The inverse of a rate is exact: it is a fraction, not a rounded decimal."""
    rates = Rates((EUR,))
    assert rates.factor("GBP", "EUR") == Fraction(100, 86)
    assert rates.converted(parse_money("0.86 GBP"), "EUR") == parse_money("1.0000 EUR")
    assert rates.converted(parse_money("1 GBP"), "EUR") == parse_money("1.1628 EUR")


def test_rates_are_used_in_a_row() -> None:
    """Where no rate joins two currencies, the fewest that lead from one to the other are multiplied, unrounded."""
    rates = Rates((SEK, USD, EUR))
    assert rates.way("SEK", "GBP") == (SEK, USD, EUR)
    assert rates.way("GBP", "SEK") == (EUR, USD, SEK)
    assert rates.factor("SEK", "GBP") == Fraction(744, 10_000) * Fraction(92, 100) * Fraction(86, 100)
    assert rates.converted(parse_money("1000 SEK"), "GBP") == parse_money("58.8653 GBP")


def test_a_stated_rate_goes_before_a_way_through_a_third() -> None:
    """A direct rate is taken, though two others would give another figure; so rounding never decides."""
    direct = Rate("USD", Decimal("0.80"), "GBP", DAY)
    rates = Rates((USD, EUR, direct))
    assert rates.way("USD", "GBP") == (direct,)
    assert rates.converted(parse_money("1 USD"), "GBP") == parse_money("0.8000 GBP")


def test_nothing_is_made_up() -> None:
    """Without a rate that leads there is no factor and no amount; money in its own currency stays as it is."""
    rates = Rates((EUR,))
    assert rates.way("CHF", "GBP") is None
    assert rates.factor("CHF", "GBP") is None
    assert rates.converted(parse_money("1 CHF"), "GBP") is None
    assert rates.converted(parse_money("1.5 CHF"), "CHF") == parse_money("1.5 CHF")
    assert Rates(()).converted(parse_money("0.10 GBP"), "GBP") == parse_money("0.10 GBP")
    assert rates.way("GBP", "GBP") == ()
    assert rates.factor("GBP", "GBP") == 1


@pytest.mark.parametrize(
    ("worth", "rounded"),
    [("0.00005", "0.0001"), ("0.000049999", "0.0000"), ("0.00015", "0.0002"), ("0.00025", "0.0003"), ("1", "1.0000")],
)
def test_halves_go_up(worth: str, rounded: str) -> None:
    """An amount is rounded to four places once, at the end, a half always upwards and not to the even figure."""
    rates = Rates((Rate("JPY", Decimal(worth), "GBP", DAY),))
    assert rates.converted(parse_money("1 JPY"), "GBP") == Money(Decimal(rounded), "GBP")


def test_a_rate_says_itself() -> None:
    """A rate in words has both currencies, the figure as stated, and its day."""
    assert str(EUR) == "1 EUR = 0.86 GBP as of 2026-11-20"


@given(
    st.decimals("0.000000001", 9999, places=9, allow_nan=False),
    st.decimals("0.000000001", 9999, places=9, allow_nan=False),
)
@settings(derandomize=True, database=None, deadline=None)
def test_there_and_back_is_nothing(one: Decimal, two: Decimal) -> None:
    """However odd the rates, the way back undoes the way there exactly."""
    rates = Rates((Rate("AAA", one, "BBB", DAY), Rate("CCC", two, "BBB", DAY)))
    there, back = rates.factor("AAA", "CCC"), rates.factor("CCC", "AAA")
    assert there is not None
    assert back is not None
    assert there * back == 1
    assert there == Fraction(one) / Fraction(two)
