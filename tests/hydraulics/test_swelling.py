"""How hoses swell: makers' figures, the limits as bounds, and what lies beyond a table."""

from math import isclose

from hypothesis import given
from hypothesis import strategies as st

from fitcheck.catalog.part import part_from_row
from fitcheck.hydraulics.spread import Amount
from fitcheck.hydraulics.swelling import hose_swelling, swelling
from fitcheck.standards.figures import measure

PAIRS = st.lists(st.tuples(st.floats(0.5, 30.0), st.floats(0.01, 5.0)), min_size=1, max_size=5)


def hose(**fields: object):  # type: ignore[no-untyped-def]  # a row is any mapping
    """Return a hose with these fields."""
    return part_from_row("a-hose", {"kind": "hose", **fields})


def test_makers_figures_are_taken_as_they_are() -> None:
    """Between two pressures it runs straight, and nothing is left open."""
    found = hose_swelling(hose(expansion=[(7.0, 0.2), (10.0, 0.5)], inside=3.2))
    assert found is not None
    assert found.at(8.5) == Amount(0.35, 0.35, 0.35)
    assert found.figure(8.5) == (
        "parts.a-hose.expansion", 0.35, "mm3/mm", "catalog", "the maker's figures; at 8.50 MPa", 0.35, 0.35,
    )  # fmt: skip


def test_beyond_the_table_is_told() -> None:
    """Above the last pressure the last slope goes on, and the figure says so."""
    found = hose_swelling(hose(expansion=[(7.0, 0.2), (10.0, 0.5)]))
    assert found is not None
    assert isclose(found.at(12.0).value, 0.7, rel_tol=1e-12)
    assert found.figure(12.0).source == "the maker's figures; extrapolated above 10.0 MPa; at 12.00 MPa"


def test_a_limit_is_an_upper_bound() -> None:
    """By the limit of its class a hose swells no more: from nothing up to the figure at the table's next pressure."""
    found = hose_swelling(hose(inside=3.2, expansion_limit="low"))
    assert found is not None
    first, second = measure("0.33 cc/ft"), measure("0.42 cc/ft")
    assert found.at(measure("1000 psi")) == Amount(first, 0.0, first, upper_bound=True)
    between = found.at(measure("1250 psi"))
    assert isclose(between.value, (first + second) / 2.0, rel_tol=1e-9)
    assert (between.low, between.high, between.upper_bound) == (0.0, second, True)
    figure = found.figure(between.value)
    assert figure.known == "standard"
    assert figure.source.startswith("upper bound: 49 CFR 571.106, low expansion; ")


def test_a_limit_that_nobody_states_is_an_assumption() -> None:
    """A hose that names no limit is taken as made to the wider one, and that is told as assumed."""
    found = hose_swelling(hose(inside=3.2))
    assert found is not None
    figure = found.figure(5.0)
    assert figure.known == "assumed"
    assert figure.source.startswith("upper bound: 49 CFR 571.106, regular expansion, taken as made to it; ")


def test_nothing_is_said_of_what_is_not_known() -> None:
    """Without maker's figures and bore, and for a feed hose, there is no figure."""
    assert hose_swelling(hose()) is None
    assert hose_swelling(part_from_row("feed", {"kind": "feed hose", "inside": 8.0})) is None


@given(pairs=PAIRS, pressure=st.floats(0.0, 40.0))
def test_it_passes_through_its_pairs_and_begins_at_nothing(pairs: list[tuple[float, float]], pressure: float) -> None:
    """Every pair is met, at no pressure there is no swelling, and the order of the pairs does not matter."""
    table = dict(pairs)
    for at, value in table.items():
        assert isclose(swelling(pairs, at).mm3_per_mm, value, rel_tol=1e-9)
    assert swelling(pairs, 0.0).mm3_per_mm == 0.0
    assert swelling(list(table.items())[::-1], pressure) == swelling(list(table.items()), pressure)
