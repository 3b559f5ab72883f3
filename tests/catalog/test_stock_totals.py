"""Whatever is ordered and arrives, in whatever words: nothing is lost between what is coming and the shelf."""

import contextlib
from collections.abc import Iterable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.catalog.stock import Coming, Stock
from fitcheck.catalog.stock_edit import ArrivalError, arrived, place
from fitcheck.catalog.stock_file import read_stock

LATER = date(2026, 12, 1)
STARTS = {
    "stock.yaml": "# mine\nstock: 1\nshelf:\n  - {part: nut, quantity: 4}   # tin\nnote: mine\n",
    "stock.csv": "part;quantity;note\r\nnut;4;'=tin\r\n;;\r\n",
    "blank.csv": "part",
}

NAMES = st.sampled_from(["nut", "tee", "tube", "-3", "fl_1"])
TEXTS = st.none() | st.text(st.sampled_from("ab ;,\"'=:#-{[\nß"), min_size=1, max_size=8).map(str.strip).filter(bool)
LENGTHS = st.lists(st.integers(1, 90_000).map(float), max_size=3).map(tuple)


@st.composite
def orders(draw: st.DrawFn) -> Coming:
    """Draw something that is coming."""
    lengths, contents = draw(LENGTHS), draw(st.none() | st.integers(1, 900).map(lambda number: number * 1000.0))
    quantity = draw(st.integers(1 if not lengths and contents is None else 0, 99))
    days = st.none() | st.dates(date(2000, 1, 1), date(2099, 1, 1))
    supplier = draw(st.none() | st.sampled_from(["north", "south"]))
    return Coming(draw(NAMES), quantity, lengths, contents, supplier, draw(TEXTS), draw(days), draw(days), draw(TEXTS))


def totals(stock: Stock, parts: Iterable[str]) -> dict[str, tuple[int, tuple[float, ...], float]]:
    """Return how much of each part is on the shelf."""
    return {part: (stock.quantity(part), stock.lengths(part), stock.contents(part)) for part in parts}


def _file(factory: pytest.TempPathFactory, name: str) -> Path:
    path = factory.mktemp("stock") / name
    path.write_bytes(STARTS[name].encode())
    return path


@given(st.lists(orders(), max_size=6), st.sampled_from(sorted(STARTS)))
@settings(derandomize=True, database=None, deadline=None, max_examples=100)
def test_what_is_placed_and_arrives_is_on_the_shelf(
    tmp_path_factory: pytest.TempPathFactory, entries: list[Coming], name: str
) -> None:
    """Whatever is ordered is read back as ordered, and after it has arrived the shelf holds that much more."""
    path = _file(tmp_path_factory, name)
    parts = {"nut", *(entry.part for entry in entries)}
    before = totals(read_stock(path), parts)
    place(path, entries)
    assert read_stock(path).coming == tuple(entries)
    assert totals(read_stock(path), parts) == before
    assert arrived(path, [], LATER) == tuple(entries)
    after = read_stock(path)
    assert after.coming == ()
    for part, (quantity, lengths, contents) in before.items():
        its = [entry for entry in entries if entry.part == part]
        assert after.quantity(part) == quantity + sum(entry.quantity for entry in its)
        assert sorted(after.lengths(part)) == sorted((*lengths, *(one for entry in its for one in entry.lengths)))
        assert after.contents(part) == contents + sum(entry.contents or 0.0 for entry in its)


def everything(stock: Stock) -> dict[str, tuple[int, list[float], float]]:
    """Return how much of each part is on the shelf and coming, together."""
    entries = [*stock.entries, *stock.coming]
    return {
        part: (
            sum(entry.quantity for entry in entries if entry.part == part),
            sorted(length for entry in entries if entry.part == part for length in entry.lengths),
            sum(entry.contents or 0.0 for entry in entries if entry.part == part),
        )
        for part in stock.parts
    }


WORDS = st.lists(
    st.one_of(
        st.sampled_from(["north", "south", "nut", "tee", "-3"]),
        st.builds("{}={}".format, NAMES, st.integers(1, 60)),
    ),
    min_size=1,
    max_size=3,
)


@given(st.lists(orders(), min_size=1, max_size=6), st.lists(WORDS, max_size=4), st.sampled_from(sorted(STARTS)))
@settings(derandomize=True, database=None, deadline=None, max_examples=80)
def test_whatever_words_say_nothing_is_lost(
    tmp_path_factory: pytest.TempPathFactory, entries: list[Coming], parcels: list[list[str]], name: str
) -> None:
    """Parcel by parcel, whole or in part, shelf and what is coming add up to the same; a refusal changes nothing."""
    path = _file(tmp_path_factory, name)
    place(path, entries)
    before = everything(read_stock(path))
    for words in parcels:
        was, shelf = path.read_bytes(), read_stock(path).entries
        moved: tuple[Coming, ...] = ()
        with contextlib.suppress(ArrivalError):
            moved = arrived(path, words, LATER)
        after = read_stock(path)
        assert everything(after) == before
        assert [entry[:4] for entry in after.entries] == [entry[:4] for entry in (*shelf, *moved)]
        assert (path.read_bytes() == was) == (not moved)
