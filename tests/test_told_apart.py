"""A figure and the limit that it breaks never read the same, and what must not be shorter is not told shorter."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.checks.stroke_words import Way, judged
from fitcheck.measures import (
    METRIC,
    Units,
    exact,
    fine,
    force_text,
    length_text,
    no_shorter,
    pressure_text,
    rating_text,
    tenths,
    told_apart,
    told_short,
)
from fitcheck.quantities import parse
from fitcheck.standards.displacement import Most
from tests.checks.duty.test_pressure_over_rating import FRONT, PEDAL, report_of
from tests.checks.duty.test_pressure_over_rating import told as sentences

SAME = settings(derandomize=True, deadline=None, max_examples=200, database=None)
POUNDS = Units("in", "1 lbf", "1 psi")
TEXTS = {"pressure": pressure_text, "rating": rating_text, "force": force_text, "length": length_text}


@SAME
@given(
    st.floats(1.0, 50.0),
    st.floats(1e-5, 1.0),
    st.sampled_from(["pressure", "rating", "force", "length"]),
    st.sampled_from([METRIC, POUNDS]),
)
def test_what_is_over_its_limit_is_told_over_it(limit: float, over: float, kind: str, units: Units) -> None:
    """Read back as users' text, the figure is above its limit, by however little it is above."""
    told, allowed = told_apart(limit + over, limit, partial(TEXTS[kind], units=units))
    dimension = "pressure" if kind == "rating" else kind
    assert parse(told, dimension) > parse(allowed, dimension)


def test_equal_figures_are_told_equal() -> None:
    """Two figures that are the same are told with no more decimals than one alone."""
    assert told_apart(7.0, 7.0, partial(pressure_text, units=POUNDS)) == ("1015 psi", "1015 psi")


@SAME
@given(st.floats(0.1, 5_000.0))
def test_a_length_that_may_not_be_shorter_is_never_told_shorter(mm: float) -> None:
    """A length to order in inches is rounded up, by less than 1/32 in."""
    assert -1e-5 <= parse(no_shorter(mm, "in"), "length") - mm <= 25.4 / 32 + 1e-5


def test_a_rating_broken_by_a_hair_reads_broken(tmp_path: Path) -> None:
    """Of 0.0003 MPa, or 0.05 psi, over the rating, the sentence shows as much."""
    report = report_of(tmp_path, PEDAL, ("disc-fixed", f"max_pressure: {FRONT - 0.0003:.5f} MPa"))
    assert sentences(report)[0] == ("error", "disc_l sees 8.9525 MPa at 600 N on the pedal, it is rated 8.9522 MPa")
    report = report_of(tmp_path, PEDAL.replace("600 N", "134.8854 lbf"), ("disc-fixed", "max_pressure: 1298.4 psi"))
    assert sentences(report)[0] == (
        "error",
        "disc_l sees 1298.45 psi at 134.9 lbf on the pedal, it is rated 1298.4 psi",
    )


@pytest.mark.parametrize(
    ("units", "message"),
    [
        (METRIC, "front needs 34.93 mm, its stroke is 34.928 mm"),
        (POUNDS, "front needs 1.3752 in, its stroke is 1.3751 in"),
    ],
)
def test_a_stroke_too_short_by_a_hair_reads_too_short(units: Units, message: str) -> None:
    """A way that is used up is never told as long as what is needed of it."""
    way = Way(34.93, 34.93, 34.93, 34.928)
    assert judged(way, Most(0.8, ""), "front", "stroke", units) == ("error", message)


@SAME
@given(
    st.floats(1.0, 500.0),
    st.floats(1e-5, 1.0),
    st.sampled_from([fine, tenths, exact]),
    st.sampled_from(["mm", "in"]),
)
def test_what_falls_short_is_told_shorter(
    least: float, lacks: float, told: Callable[[float, str], str], unit: str
) -> None:
    """Of a straight of 14.28 mm where 14.2875 mm are needed it does not read that there are 14.3 of 14.29 mm."""
    has, needs = (parse(text, "length") for text in told_short(least - lacks, least, unit, told))
    assert has < needs
