"""Printed figures become working units in one place."""

import math

import pytest

from fitcheck.standards.figures import FACTORS, FigureError, flag, interval, measure, measure_if, number


@pytest.mark.parametrize(
    ("text", "value"), [("0.028", 0.028), ("3/16", 0.1875), ("1 1/4", 1.25), (" 7 ", 7.0), ("-40", -40.0)]
)
def test_numbers_and_fractions_are_read(text: str, value: float) -> None:
    """Decimals, fractions and mixed numbers mean what they print."""
    assert number(text) == value


@pytest.mark.parametrize("text", ["", " ", "1/0", "x", "3//16", "1 to 2"])
def test_what_is_no_number_is_refused(text: str) -> None:
    """Anything else is refused, and the message shows it."""
    with pytest.raises(FigureError) as caught:
        number(text)
    assert str(caught.value) == f"expected a number or a fraction, got {text!r}"


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("3/16 in", None, 4.7625),
        ("0.028", "in", 0.7112),
        ("25 mm", "in", 25.0),
        ("15", "N m", 15000.0),
        ("2 min", None, 120.0),
    ],
)
def test_units_are_converted_exactly(text: str, unit: str | None, value: float) -> None:
    """A figure's own unit wins over the table's, and exact factors leave no dust of binary fractions."""
    assert measure(text, unit) == value


def test_factors_agree_with_their_definitions() -> None:
    """The pound-force on a square inch, and the foot, follow from 25.4 mm, 0.45359237 kg and 9.80665 m/s2."""
    pound = 0.45359237 * 9.80665
    assert math.isclose(FACTORS["psi"], pound / 645.16, rel_tol=1e-14)
    assert math.isclose(FACTORS["lb ft"], pound * 304.8, rel_tol=1e-14)
    assert math.isclose(FACTORS["cc/ft"] * 304.8, 1000, rel_tol=1e-14)


def test_an_unknown_unit_is_refused() -> None:
    """A unit that is not in the list is refused with the list."""
    with pytest.raises(FigureError) as caught:
        measure("3 ell")
    assert str(caught.value) == (
        "expected a number and one of the units mm, m, in, MPa, GPa, psi, ksi, N m, lb ft, cc/ft, degC, mm2/s, "
        "deg, min, s, N, m/s2, km/h, m/min, ft/min, got '3 ell'"
    )


def test_intervals_share_the_last_unit() -> None:
    """`a to b unit` converts both ends; a single figure is an interval of no width; an absent one stays absent."""
    assert interval("13 to 16", "N m") == (13000.0, 16000.0)
    assert interval("1/4 to 1/2 in") == (6.35, 12.7)
    assert interval("8", "mm") == (8.0, 8.0)
    assert measure_if(None, "mm") is None


def test_flags_are_yes_or_no() -> None:
    """Only the two words count; another is refused."""
    assert flag("yes") is True
    assert flag("no") is False
    with pytest.raises(FigureError) as caught:
        flag("true")
    assert str(caught.value) == "expected yes or no, got 'true'"
