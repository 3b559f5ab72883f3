"""Loading the standards' tables."""

from pathlib import Path

import pytest

from fitcheck.standards import tables
from fitcheck.standards.tables import TableError, load

DATA = Path(tables.__file__).with_name("data")


@pytest.mark.parametrize("path", sorted(DATA.glob("*.yaml")), ids=lambda path: path.stem)
def test_every_table_loads(path: Path) -> None:
    """Every table that ships is plain YAML, states its source, and is read once only."""
    table = load(path.stem)
    assert type(table) is dict
    assert table["source"]
    assert load(path.stem) is table


def test_refusals(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A table that is not there, and one that does not state its source, are refused."""
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "bare.yaml").write_text("rows: []\n")
    monkeypatch.setattr(tables, "__file__", str(tmp_path / "tables.py"))
    for name, message in {
        "bare": "the table 'bare' does not state its source",
        "none": "no table is called 'none'",
    }.items():
        with pytest.raises(TableError) as caught:
            load(name)
        assert str(caught.value) == message
