"""Properties of whole lists: rows in are rows out, however they are written, and cells come back as they were."""

import csv
import io
import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.catalog.formulas import defused, restored
from fitcheck.catalog.take_in.spreadsheet import writer
from tests.catalog.take_in.lists import ADAPTER, HEADER, NUT, TEE, offers, parts, rejects, taken, write

CELL = st.text(st.characters(codec="utf-8", exclude_characters="\x00\r\n"), max_size=12)
DESCRIPTION = st.one_of(CELL, st.sampled_from([TEE, NUT, ADAPTER, "Plug G1/8", "Kupferdichtring 10x14x1", "=1+1"]))
PRICE = st.one_of(CELL, st.sampled_from(["1.00", "2,50", "1.234", "", "GBP 3.00"]))
CURRENCY = st.sampled_from(["GBP", "", "EUR"])
NUMBER = st.one_of(CELL.map(lambda text: f"A{text}"), st.sampled_from(["A1", "A2", "-3", "", "B/1"]))
ROW = st.tuples(NUMBER, DESCRIPTION, PRICE, CURRENCY)
ROWS = st.lists(ROW, max_size=12)


@settings(max_examples=60, deadline=None)
@given(ROWS, st.booleans())
def test_rows_in_are_rows_out(rows: list[tuple[str, ...]], also_likely: bool) -> None:
    """Taken, rejected and repeated add up to the rows; each reject is its own row, cell for cell."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        rows = [("Z", TEE, "9.00", "GBP"), *rows]
        found = taken(write(folder / "list.csv", [HEADER, *rows]), also_likely=also_likely)
        blank = sum(not any(map(str.strip, row)) for row in rows)
        assert found.taken + found.rejected + found.repeated == found.rows == len(rows) - blank
        assert (found.blank, sum(found.reasons.values())) == (blank, found.rejected)
        back = rejects(folder)[1:]
        assert len(back) == found.rejected
        for *cells, number, reason in back:
            assert tuple(cells) == rows[int(number) - 2]
            assert reason
        assert len(parts(folder).kinds) == found.parts
        assert len(offers(folder).offers) == found.offers == found.taken


WRITTEN = st.tuples(
    st.sampled_from([";", ",", "\t", "|"]),
    st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "cp1252"]),
    st.booleans(),
)
GOODS = st.lists(
    st.tuples(
        st.sampled_from([TEE, ADAPTER, "Banjo bolt M10x1 double", NUT, "Tube nut M10x1,25 bubble male for 4,75 mm"]),
        st.decimals("0.01", "99999", places=2),
    ),
    min_size=1,
    max_size=6,
)


@settings(max_examples=60, deadline=None)
@given(GOODS, WRITTEN, WRITTEN)
def test_the_same_list_in_other_clothes_reads_equal(
    goods: list[tuple[str, object]], one: tuple[str, str, bool], other: tuple[str, str, bool]
) -> None:
    """Separator, encoding and decimal sign change neither parts nor prices."""
    made = []
    for separator, encoding, comma in (one, other):
        with tempfile.TemporaryDirectory() as name:
            table = [HEADER]
            for number, (text, amount) in enumerate(goods):
                words = text if comma else text.replace("1,25", "1.25").replace("4,75", "4.75")
                shown = f"{amount:,}" if not comma else f"{amount:,}".translate(str.maketrans(",.", ".,"))
                table.append((f"A{number}", words, shown, "EUR"))
            found = taken(write(Path(name) / "list.csv", table, separator, encoding))
            assert found.taken == len(goods)
            layer = parts(Path(name))
            ports = {part_id: part.ports for part_id in layer.kinds if (part := layer.get(part_id))}
            made.append((ports, [(offer.part, offer.price) for offer in offers(Path(name)).offers]))
    assert made[0] == made[1]


@given(st.lists(st.text(max_size=10), min_size=1, max_size=4), st.sampled_from([";", ",", "\t", "|"]))
def test_cells_come_back_and_none_runs(cells: list[str], separator: str) -> None:
    """Whatever stands in a cell is written so that no spreadsheet runs it, and reads back as it was."""
    cells = [cell.replace("\x00", "") for cell in cells]
    file = io.StringIO(newline="")
    writer(file, separator).writerow(list(map(defused, cells)))
    file.seek(0)
    written = next(csv.reader(file, delimiter=separator))
    assert list(map(restored, written)) == cells
    assert not any(cell.lstrip().startswith(("=", "+", "-", "@")) or cell.startswith(("\t", "\r")) for cell in written)


def test_formulas_are_written_as_text() -> None:
    """Every sign that begins a formula gets an apostrophe, an apostrophe before it one more; other cells none."""
    for cell in ("=1+1", "+1", "-3 AN", "@x", "\tx", "\rx", " =1", "'=1", "''-1", "\uff1d1"):
        assert defused(cell) == f"'{cell}"
        assert restored(defused(cell)) == cell
    for cell in ("", "x", "3/8-24", "'x", "M10x1 =", "'"):
        assert defused(cell) == cell == restored(cell)
