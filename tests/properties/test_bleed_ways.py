"""Bleeding holds for all lengths: volumes add up, the order follows them, and longer lines never make it shorter."""

from math import pi
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.hydraulics.bleed import bleed
from tests.hydraulics.bleed_cars import TAGS, car

AREA = pi / 4.0 * 3.35**2
WAYS = {"fl": ("front", "to_fl"), "fr": ("front", "to_fr"), "rl": ("rear", "to_rl"), "rr": ("rear", "to_rr")}
lengths = st.tuples(*(st.integers(10, 5000) for _ in TAGS))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return one folder for all examples."""
    return tmp_path_factory.mktemp("cars")


@given(lengths)
@settings(settings.get_profile("brief"), max_examples=40)
def test_volumes_of_ways_add_up_and_order_them(folder: Path, drawn: tuple[int, ...]) -> None:
    """Each way holds the sum of its lines, and no brake is opened before one with more fluid in front of it."""
    found = bleed(car(folder, lengths=drawn))
    known = dict(zip(TAGS, drawn, strict=True))
    before = {way.at: way.before_mm3 for way in found.ways}
    for at, tags in WAYS.items():
        assert before[at] == pytest.approx(AREA * sum(known[tag] for tag in tags))
    order = [before[way.at] for way in found.ways if way.drives == "brake"]
    assert order == sorted(order, reverse=True)
    assert found.ways[-1].at == "slave"


@given(lengths, st.sampled_from(range(len(TAGS))), st.integers(1, 2000))
@settings(settings.get_profile("brief"), max_examples=40)
def test_a_longer_line_makes_no_way_shorter(folder: Path, drawn: tuple[int, ...], which: int, more: int) -> None:
    """Lengthening one line lets no way hold less or take fewer strokes, and moves no way that it is on back."""
    longer = tuple(length + (more if index == which else 0) for index, length in enumerate(drawn))
    old, new = bleed(car(folder, lengths=drawn)), bleed(car(folder, lengths=longer))
    then = {way.at: way for way in new.ways}
    for way in old.ways:
        assert then[way.at].mm3 >= way.mm3 - 1e-6
        assert (then[way.at].flush_strokes or 0) >= (way.flush_strokes or 0)
    places = [[way.at for way in one.ways] for one in (old, new)]
    for at, tags in WAYS.items():
        others = [other for other, theirs in WAYS.items() if TAGS[which] not in theirs]
        if TAGS[which] in tags:
            was, now = ({other for other in others if place.index(other) < place.index(at)} for place in places)
            assert now <= was
