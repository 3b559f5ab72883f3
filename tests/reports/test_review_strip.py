"""Marks on the ruler strip: no words are crossed by another mark's line, none run off the page."""

from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.reports import svg_parts as svg
from fitcheck.reports.make_strip import _facing, _levels, _Mark

# marks as far apart as bends with a clamp's length between them are at 1 : 5, up to the end of a row
gaps = st.lists(st.floats(8.0, 60.0), min_size=1, max_size=18)


def marks_at(places: list[float]) -> list[_Mark]:
    """Return marks [mm on paper] as the strip has them."""
    return _facing([_Mark(index, 0.0, x, f"{index}: 1033.5 mm") for index, x in enumerate(places, 1)])


@settings(derandomize=True, deadline=None, database=None, max_examples=300)
@given(gaps)
def test_no_words_are_crossed(apart: list[float]) -> None:
    """Words stand above each line that they reach over, and never share a height with words that they touch."""
    places = [178.0]
    for gap in apart:
        if places[-1] - gap < 40.0:
            break
        places.append(places[-1] - gap)
    marks = marks_at(places)
    levels = _levels(marks)
    assert [mark.number for mark in marks] == sorted((mark.number for mark in marks), reverse=True)
    for here, one in enumerate(marks):
        assert 0.0 <= one.left < one.right <= svg.PAGE_MM
        for there, other in enumerate(marks):
            if here != there and one.left < other.x < one.right - 2.3:
                assert levels[there] < levels[here], (one, other)


def test_the_last_mark_of_a_full_row_turns_the_one_before() -> None:
    """A mark at the end of a row has its words on its left; the one before, which they would cross, as well."""
    marks = marks_at([20.0, 152.0, 170.0])
    assert [mark.turned for mark in marks] == [False, True, True]
    assert _levels(marks) == [0, 0, 1]
