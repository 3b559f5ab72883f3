"""Which tubes count as one size, and what they are called."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.standards.sizes import TUBE_SIZES, same_tube, size_name


@pytest.mark.parametrize(
    ("a", "b", "same"),
    [
        (3 / 16 * 25.4, 4.75, True),
        (5 / 16 * 25.4, 8.0, True),
        (4.7, 4.8, True),  # 0.1 mm apart: the difference of the binary fractions is a little more
        (1 / 4 * 25.4, 6.0, False),
        (3 / 8 * 25.4, 10.0, False),
        (4.75, 5.0, False),
        (4.7, 4.801, False),
    ],
)
def test_inch_and_metric_twins_count_as_one(a: float, b: float, same: bool) -> None:
    """3/16 in is 4.75 mm and 5/16 in is 8 mm; 1/4 in is not 6 mm; the limit of 0.1 mm is included."""
    assert same_tube(a, b) is same
    assert same_tube(b, a) is same


@pytest.mark.parametrize("name", TUBE_SIZES)
def test_a_listed_size_is_called_by_its_name(name: str) -> None:
    """Each size of the list gets its own name back, inch and metric twins apart."""
    assert size_name(TUBE_SIZES[name]) == name


def test_the_sizes_are_the_ones_their_names_say() -> None:
    """Each name, read as a length, is the outside diameter beside it."""
    from fitcheck.standards.figures import measure

    assert {name: measure(name) for name in TUBE_SIZES} == TUBE_SIZES


@pytest.mark.parametrize(("mm", "name"), [(4.76, "3/16 in"), (4.9, "4.9 mm"), (12.0, "12 mm"), (7.9, "7.9 mm")])
def test_rounded_and_odd_sizes_are_named(mm: float, name: str) -> None:
    """A rounded inch size keeps its name; a size of no list is given in plain millimetres."""
    assert size_name(mm) == name


@given(st.floats(0.5, 50), st.floats(-0.3, 0.3))
def test_being_one_size_depends_on_the_difference_only(a: float, gap: float) -> None:
    """Away from the limit itself, two tubes are one size exactly if they differ by less than 0.1 mm."""
    if abs(abs(gap) - 0.1) > 1e-6:
        assert same_tube(a, a + gap) is (abs(gap) < 0.1)
