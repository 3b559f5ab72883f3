"""Rows of CSV with the place of every cell: read as the csv module reads them, and never lost in a quote."""

from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from fitcheck.catalog.csv_rows import Rows
from fitcheck.catalog.formulas import defused, restored
from fitcheck.catalog.take_in import table

TEXTS = st.text(st.sampled_from("ab ,;\"\n\r\t'=-"), max_size=40)
BRIEF = settings(derandomize=True, database=None, deadline=None, max_examples=400)


def cells(text: str, separator: str = ",") -> list[list[str]]:
    """Return what each row of a text says."""
    return [[cell.text for cell in row.cells] for row in Rows(text, separator)]


def test_cells_are_read() -> None:
    """Quotes are taken off and undoubled, blanks around a cell too; a quote inside a bare cell is a sign like any."""
    text = 'a, b ,"c,d"\r\n"say ""so""",3/8" nut,\r"two\nlines","",x'
    assert cells(text) == [["a", "b", "c,d"], ['say "so"', '3/8" nut', ""], ["two\nlines", "", "x"]]


def test_every_cell_knows_its_place() -> None:
    """A cell's offsets span its text, quotes included, and a row's span its cells."""
    text = 'a, b ,"c,d"\n\n"x\ny",2'
    rows = list(Rows(text, ","))
    assert [[text[cell.start : cell.end] for cell in row.cells] for row in rows] == [
        ["a", " b ", '"c,d"'],
        [""],
        ['"x\ny"', "2"],
    ]
    assert [text[row.start : row.end] for row in rows] == ['a, b ,"c,d"', "", '"x\ny",2']
    assert [row.blank for row in rows] == [False, True, False]


def test_the_hint_of_spreadsheets_is_no_row() -> None:
    """A first line `sep=;` is passed over; anywhere else it is a row."""
    assert cells("sep=;\r\na;b", ";") == [["a", "b"]]
    assert cells("SEP=\t\na\tb", "\t") == [["a", "b"]]
    assert cells("a;b\nsep=;", ";") == [["a", "b"], ["sep=", ""]]
    assert cells("sep=;", ";") == []


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ('"open,1\nb,2', (0, "a quote is opened and never closed")),
        ('a,"in"ner",1\nb,2', (2, "a quote stands inside a quoted cell undoubled")),
        ('a,"x" ,1\nb,2', (2, "a quote stands inside a quoted cell undoubled")),
        ('a,"\n' + "b,2\n" * 40, (2, "a quote is opened and not closed within 20 lines")),
        ('"x\ny","z\nb,2', (0, "a quote is opened and never closed")),
    ],
)
def test_a_quote_gone_wrong_costs_one_line(text: str, fault: tuple[int, str]) -> None:
    """The row has a fault where the cell begins, or where the row does; the next line is read as if nothing was."""
    first, *rest = Rows(text, ",")
    assert (first.fault, first.cells) == (fault, ())
    assert first.end == text.index("\n")
    assert [cell.text for cell in rest[-1].cells] == ["b", "2"]


@given(TEXTS, st.sampled_from(",;\t"))
@example('"a\n', ",")
@example('"x\ny"z,"\n', ",")
@example('sep=,\r\n\r\n"', ",")
@BRIEF
def test_rows_are_those_of_the_csv_module(text: str, separator: str) -> None:
    """The scanner and the reader of price lists, which rests on the csv module, find the same rows and faults."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "list.csv"
        path.write_bytes(text.encode())
        expected = list(table.rows(path, "utf-8", separator))
    found = list(Rows(text, separator))
    assert [row.fault and row.fault[1] for row in found] == [row.fault for row in expected]
    for row, other in zip(found, expected, strict=True):
        if other.fault is None:
            said = [restored(cell.strip()).strip() for cell in other.cells or ("",)]
            assert [cell.text for cell in row.cells] == said


@given(TEXTS, st.sampled_from(",;\t"))
@BRIEF
def test_rows_and_line_ends_are_the_whole_text(text: str, separator: str) -> None:
    """Put together again, rows and the line ends between them are the text: no character belongs to no row."""
    rows = Rows(text, separator)
    at = 0
    for row in rows:
        assert text[at : row.start] in ("", "sep=,\n")
        assert "\n" not in text[row.end : row.end + 1].strip("\n")
        at = rows.next_line(row.end)
    assert at == len(text) or text.lower().startswith("sep=")


SIGNS = st.text(st.sampled_from("'=+-@; \t\n\"ab\u2212\uff1d\u200b\ufe62"), max_size=8)


@given(SIGNS)
@BRIEF
def test_a_defused_cell_reads_back(text: str) -> None:
    """What is written with an apostrophe against formulas is read as it was."""
    assert restored(defused(text)) == text
