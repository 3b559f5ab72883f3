"""The nearest known word."""

import pytest

from fitcheck.naming import hint, in_order, nearest


@pytest.mark.parametrize(
    ("word", "known", "answer"),
    [
        ("tub", ["tube", "to", "from"], "tube"),
        ("Bubble", ["bubble"], "bubble"),
        ("bracket", ["bracket_fr", "bracket_fl"], "bracket_fl"),
        ("bracket", ["bracket_fl", "bracket_fr"], "bracket_fl"),
        ("zzz", ["tube"], None),
        ("x" * 81, ["x" * 80], None),
        ("anything", [], None),
    ],
)
def test_nearest_is_the_most_alike_and_never_depends_on_order(word: str, known: list[str], answer: str | None) -> None:
    """The most alike word wins; of equals the first in the alphabet; nothing alike is no answer."""
    assert nearest(word, known) == answer


def test_hint_is_ready_to_be_put_at_the_end() -> None:
    """A hint names the nearest word, or is empty."""
    assert hint("tub", ["tube"]) == "; nearest is 'tube'"
    assert hint("zzz", ["tube"]) == ""


def test_numbers_in_names_are_sorted_by_value() -> None:
    """The tenth line comes after the second, and names without numbers keep the alphabet's order."""
    names = ["line_10.to", "line_2.to", "mc.outlet", "line_2.from", "4_way", "10_way"]
    assert sorted(names, key=in_order) == ["4_way", "10_way", "line_2.from", "line_2.to", "line_10.to", "mc.outlet"]
