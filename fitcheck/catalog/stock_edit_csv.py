"""Editing a stock file that is CSV: in its own separator, encoding, line ends and order of columns."""

import codecs
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from fitcheck.catalog.csv_rows import Row
from fitcheck.catalog.formulas import defused
from fitcheck.catalog.stock_csv import COMING, HERE, KEYS, STATE, StockTable, read_stock_table, stock_table
from fitcheck.catalog.stock_edit import Edit
from fitcheck.catalog.take_in.text_file import fault
from fitcheck.changes import Plain
from fitcheck.sources import write_atomically

_NEWLINE: Final = re.compile(r"\r\n|\r|\n")
_USUAL_NEWLINE: Final = "\r\n"
"""The line end of RFC 4180."""


class CsvStock:
    """A stock file that is CSV: read, and written again with a change."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.stock = read_stock_table(path)
        self.file = self.stock.file

    def write(self, edit: Edit) -> None:
        """Make an edit in the file, or leave it as it was.

        Raises:
            InputError: it cannot be written, or its encoding lacks a character.
        """
        text = changed_text(self.stock, edit)
        stock_table(self.stock.table.changed(text))  # what cannot be read again is not written
        write_atomically(self.path, _encoded(self.path, text, self.stock.table.encoding))


def changed_text(stock: StockTable, edit: Edit) -> str:
    """Return the text of a stock file with an edit made: rows cut out, cells changed, rows added at the end."""
    table = stock.table
    new = [{**_cells(entry), STATE: HERE} for entry in edit.shelf]
    new += [{**_cells(entry), STATE: COMING} for entry in edit.coming]
    line = _Line(stock, tuple(key for key in KEYS if key not in table.columns and any(key in entry for entry in new)))
    gone = {stock.coming[index].start for index in edit.gone}
    edits = [(table.header.end, table.header.end, line.more_header())]
    last = table.header
    for row in table.rows():
        if row.start in gone:
            edits.append((row.start, table.next_line(row), ""))
        else:
            edits.append((row.end, row.end, line.more(row)))
            last = row
    for index, key, value in edit.left:
        cell = stock.coming[index].cells[table.columns[key]]
        edits.append((cell.start, cell.end, line.cell(_cells({key: value})[key])))
    edits += [(last.end, last.end, line.newline + line.row(entry)) for entry in new]
    return _edited(table.text, edits)


class _Line:
    """How rows of a file are written, `added` columns included."""

    def __init__(self, stock: StockTable, added: tuple[str, ...]) -> None:
        table = stock.table
        self.added = added
        self.separator = table.separator
        self.quoted = all(table.text[cell.start : cell.start + 1] == '"' for cell in table.header.cells)
        newline = _NEWLINE.match(table.text, table.header.end)
        self.newline = newline[0] if newline else _USUAL_NEWLINE
        self.width = len(table.header.cells)
        self.columns = {**table.columns, **{key: self.width + index for index, key in enumerate(added)}}

    def more_header(self) -> str:
        """Return what the header gets more."""
        return "".join(self.separator + self.cell(key) for key in self.added)

    def more(self, row: Row) -> str:
        """Return what a row gets more, so that it has a cell in each added column."""
        return self.separator * (self.width + len(self.added) - len(row.cells)) if self.added else ""

    def row(self, entry: Mapping[str, str]) -> str:
        """Return the text of a new row."""
        cells = [""] * (self.width + len(self.added))
        for key, text in entry.items():
            cells[self.columns[key]] = text
        return self.separator.join(map(self.cell, cells))

    def cell(self, text: str) -> str:
        """Return a cell as it is written: no formula, and in quotes where it must be, or all of the header is."""
        text = defused(text)
        if self.quoted or any(sign in text for sign in (self.separator, '"', "\r", "\n")):
            return '"' + text.replace('"', '""') + '"'
        return text


def _cells(entry: Mapping[str, Plain]) -> dict[str, str]:
    return {key: value if isinstance(value, str) else "; ".join(map(str, value)) for key, value in entry.items()}


def _edited(text: str, edits: list[tuple[int, int, str]]) -> str:
    pieces: list[str] = []
    at = 0
    for start, end, new in sorted(edits, key=lambda edit: edit[0]):
        pieces += text[at:start], new
        at = end
    return "".join((*pieces, text[at:]))


def _encoded(path: Path, text: str, encoding: str) -> bytes:
    """Return a text in the encoding that the file at `path` has, with its byte order mark."""
    if encoding == "utf-16":
        with path.open("rb") as file:
            encoding = "utf-16-le" if file.read(2) == codecs.BOM_UTF16_LE else "utf-16-be"
        text = "\ufeff" + text
    try:
        return text.encode(encoding)
    except UnicodeEncodeError as error:
        lacking = text[error.start]
        raise fault(path, 1, f"{lacking!r} cannot be written in {encoding}; save the file as UTF-8") from None
