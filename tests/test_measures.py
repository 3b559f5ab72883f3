"""Figures as people are told them: each form rounds to its last digit and no further, and can be read again."""

import doctest
from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck import measures
from fitcheck.measures import (
    METRIC,
    Units,
    at_least,
    bare_length,
    cut_length,
    exact,
    fine,
    force_text,
    length_text,
    long_text,
    no_longer,
    pressure_text,
    rating_text,
    spacing_text,
    tape,
    tenths,
    torque_text,
    whole,
)
from fitcheck.quantities import parse

SAME = settings(derandomize=True, deadline=None, database=None)
POUNDS = Units("in", "90 lbf", "1 psi")
HALF_32ND = 25.4 / 64.0
LENGTHS: list[tuple[Callable[[float, str], str], float, float]] = [
    (tape, 0.25, HALF_32ND),
    (cut_length, 0.05, HALF_32ND),
    (long_text, 0.05, HALF_32ND),
    (whole, 0.5, HALF_32ND),
    (fine, 0.05, 0.0127),
    (tenths, 0.05, 0.0127),
    (exact, 0.005, 0.00127),
    (measures.given, 0.05, 0.00127),
    (spacing_text, 0.005, 0.127),
    (lambda mm, unit: length_text(mm, METRIC if unit == "mm" else POUNDS), 0.05, 0.127),
]
"""Each form of a length, with half of its last digit [mm] in mm and in inches."""


@pytest.mark.parametrize(("told", "half_mm", "half_in"), LENGTHS)
@SAME
@given(st.floats(0.001, 50_000.0))
def test_a_length_told_is_the_length_to_half_its_last_digit(
    told: Callable[[float, str], str], half_mm: float, half_in: float, mm: float
) -> None:
    """What is told of a length, read back as users' text is, differs by half the last digit at most."""
    assert abs(parse(told(mm, "mm"), "length") - mm) <= half_mm + 1e-6
    assert abs(parse(told(mm, "in"), "length") - mm) <= half_in + 1e-6


@SAME
@given(st.floats(0.01, 50_000.0))
def test_a_size_that_may_not_be_smaller_is_never_told_smaller(mm: float) -> None:
    """A hole in inches is rounded up, by less than the last digit."""
    assert -1e-5 <= parse(at_least(mm, "in"), "length") - mm <= 0.00254 + 1e-5


@SAME
@given(st.floats(1.0, 1e5), st.floats(0.1, 1e3))
def test_forces_and_pressures_told_are_what_they_are(newton: float, mpa: float) -> None:
    """What is told of a force or a pressure, read back, differs by half the last digit at most."""
    assert abs(parse(force_text(newton, METRIC), "force") - newton) <= 0.5 + 1e-6
    assert abs(parse(force_text(newton, POUNDS), "force") - newton) <= 0.05 * measures.LBF_N + 0.01
    assert abs(parse(pressure_text(mpa, POUNDS), "pressure") - mpa) <= 0.5 * measures.PSI_MPA + 1e-9
    assert abs(parse(rating_text(mpa, POUNDS), "pressure") - mpa) <= 0.5 * measures.PSI_MPA + 1e-9


@SAME
@given(st.floats(500.0, 1e6))
def test_torques_told_are_what_they_are(nmm: float) -> None:
    """A torque, read back, differs by half the last digit at most."""
    assert abs(parse(torque_text(nmm, nmm, METRIC), "torque") - nmm) <= 5.0 + 1e-6
    assert abs(parse(torque_text(nmm, nmm, POUNDS), "torque") - nmm) <= 0.05 * measures.LBF_FT_NMM + 1e-6


def test_a_row_of_lengths_has_its_unit_once() -> None:
    """A length without its unit is what it is with it, less the unit."""
    assert bare_length(1103.3, "mm") == "1103.3"
    assert bare_length(1103.3, "in") == "43 7/16"


def test_examples_hold() -> None:
    """The examples in the docstrings are true."""
    assert doctest.testmod(measures) == doctest.testmod(measures)._replace(failed=0)


@SAME
@given(st.floats(1.0, 200_000.0), st.sampled_from(("mm", "in")))
def test_no_longer(mm: float, unit: str) -> None:
    """What is told is never longer than the length is, nor shorter by more than the last digit shows."""
    told = no_longer(mm, unit).removesuffix(f" {unit}")
    whole_part, _, part = told.partition(" ")
    value = float(Fraction(whole_part) + Fraction(part or 0)) * (25.4 if unit == "in" else 1.0)
    assert -1e-5 < mm - value < (0.1 if unit == "mm" else 0.00254) + 1e-5
