"""Every table says where it comes from, and so does every row of it."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from fitcheck.standards import tables
from fitcheck.standards.tables import load

TABLES = (
    "braking_rules",
    "seats",
    "seat_pairs",
    "flares",
    "tubes",
    "materials",
    "nuts",
    "torques",
    "banjo",
    "hoses",
    "fluids",
    "ports",
    "engagement",
    "drilling",
    "drill_sizes",
    "displacement",
    "bleeding",
    "spanners",
    "tube_rating",
    "residual_valves",
)
THREAD_TABLES = ("threads_known", "threads_metric", "threads_pipe", "threads_unified")
"""Their rows are lines of text: a block of them, or the whole table, says where they come from."""
HEADER = ("title", "source", "edition", "unit")
WITHOUT_TITLE = ("from memory", "common practice, no source", "derived")


def rows(node: Any, place: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield every row of a section with its place: items of lists, values of mappings, and what is inside them."""
    if isinstance(node, dict) and not all(isinstance(value, dict) for value in node.values()):
        yield place, node
    if isinstance(node, dict | list):
        inner = node.items() if isinstance(node, dict) else enumerate(node)
        for key, value in inner:
            if isinstance(value, dict | list):
                yield from rows(value, f"{place}.{key}")


def table_rows(name: str) -> list[tuple[str, dict[str, Any]]]:
    """Return every row of a table with its place."""
    sections = {key: value for key, value in load(name).items() if key not in HEADER}
    return [row for key, section in sections.items() for row in rows(section, f"{name}.{key}")]


def marks(row: dict[str, Any]) -> list[str]:
    """Return the parts of a row's mark."""
    return re.split(r"; ", row["mark"])


@pytest.mark.parametrize("name", [*TABLES, *THREAD_TABLES])
def test_a_table_has_its_whole_header(name: str) -> None:
    """A table states title, sources, edition and unit, none of them empty, before its rows."""
    table = load(name)
    assert tuple(table)[: len(HEADER)] == HEADER
    assert all(table[key] for key in HEADER)
    assert isinstance(table["source"], list)


@pytest.mark.parametrize("name", TABLES)
def test_every_row_has_a_mark(name: str) -> None:
    """No row of any table, however deep, is without a mark."""
    found = table_rows(name)
    assert found
    assert [place for place, row in found if not row.get("mark")] == []


@pytest.mark.parametrize("name", TABLES)
def test_a_mark_is_a_stated_source_or_one_of_three_words(name: str) -> None:
    """Each part of a mark begins with a title from the table's header, or says that there is none."""
    known = (*load(name)["source"], *WITHOUT_TITLE)
    wrong = [(place, part) for place, row in table_rows(name) for part in marks(row) if not part.startswith(known)]
    assert wrong == []


@pytest.mark.parametrize("name", TABLES)
def test_every_stated_source_is_used(name: str) -> None:
    """A title in a table's header is the mark of at least one row."""
    parts = [part for _, row in table_rows(name) for part in marks(row)]
    unused = [title for title in load(name)["source"] if not any(part.startswith(title) for part in parts)]
    assert unused == []


def test_no_table_is_left_out() -> None:
    """Every file of tables is looked at here."""
    folder = Path(tables.__file__).with_name("data")
    assert {path.stem for path in folder.glob("*.yaml")} == {*TABLES, *THREAD_TABLES}


@pytest.mark.parametrize("name", THREAD_TABLES)
def test_every_block_of_threads_has_a_source(name: str) -> None:
    """A block's own source, or else the table's mark or only source, begins with a title or says there is none."""
    table = load(name)
    known = (*table["source"], *WITHOUT_TITLE)
    blocks = [value for key, value in table.items() if isinstance(value, dict)]
    assert blocks
    for block in blocks:
        source = block.get("source") or table.get("mark") or "; ".join(table["source"])
        assert source.startswith(known), source
        assert len(table["source"]) == 1 or block.get("source") or table.get("mark"), name


@pytest.mark.parametrize("name", THREAD_TABLES)
def test_every_source_of_threads_is_used(name: str) -> None:
    """A title in a table of threads stands in one of its blocks, or in the table's own mark."""
    table = load(name)
    if len(table["source"]) > 1:
        rest = str({key: value for key, value in table.items() if key != "source"})
        assert [title for title in table["source"] if title not in rest] == []


@pytest.mark.parametrize("name", [*TABLES, *THREAD_TABLES])
def test_no_table_holds_an_address(name: str) -> None:
    """Sources are cited by title: no web address stands in any table."""
    assert re.search(r"https?:|www\.|\.(com|org|net)\b", str(load(name))) is None
