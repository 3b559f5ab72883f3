"""Loading the standards' tables."""

from pathlib import Path

import pytest

from fitcheck.standards import tables
from fitcheck.standards.__main__ import index_text
from fitcheck.standards.tables import DATA, INDEX, TableError, from_text, load


@pytest.mark.parametrize("path", sorted(DATA.glob("*.yaml")), ids=lambda path: path.stem)
def test_every_table_loads(path: Path) -> None:
    """Every table that ships is plain YAML, states its source, and is read once only."""
    table = load(path.stem)
    assert type(table) is dict
    assert table["source"]
    assert load(path.stem) is table


def test_the_index_is_current() -> None:
    """The index that ships is exactly what the tables' texts come to."""
    assert INDEX.read_text(encoding="utf-8") == index_text(), "run: python -m fitcheck.standards"


@pytest.mark.parametrize("path", sorted(DATA.glob("*.yaml")), ids=lambda path: path.stem)
def test_the_index_says_what_the_text_says(path: Path) -> None:
    """What is read at run time, types and order of keys included, is what the text alone gives."""
    assert repr(load(path.stem)) == repr(from_text(path.stem))


def test_a_changed_text_is_read_itself(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A table that was changed after the index was written is read by its text, so that no old figure is served."""
    changed = (DATA / "spanners.yaml").read_text(encoding="utf-8").replace("source:", "source: changed,", 1)
    (tmp_path / "spanners.yaml").write_text(changed, encoding="utf-8")
    monkeypatch.setattr(tables, "DATA", tmp_path)
    assert tables.load.__wrapped__("spanners")["source"].startswith("changed,")


def test_refusals(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A table that is not there, and one that does not state its source, are refused."""
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "bare.yaml").write_text("rows: []\n")
    monkeypatch.setattr(tables, "DATA", tmp_path / "data")
    for name, message in {
        "bare": "the table 'bare' does not state its source",
        "none": "no table is called 'none'",
    }.items():
        with pytest.raises(TableError) as caught:
            load(name)
        assert str(caught.value) == message
