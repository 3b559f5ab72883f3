"""The rows of a CSV text (RFC 4180), each cell with its place, however badly quoted.

Unlike a reader that only gives cells it says where each one stands, so that a file can be judged with places and
edited in place. Rows that the csv module reads are read alike.
"""

import re
from collections.abc import Iterator
from functools import cached_property
from typing import Final, NamedTuple

from fitcheck.catalog.formulas import restored
from fitcheck.catalog.take_in.table import MOST_LINES_OF_A_ROW

_HINT: Final = re.compile(r"sep=.(?:\r\n|\r|\n|\Z)", re.IGNORECASE)
_LINE: Final = re.compile(r"[^\r\n]*+")
_LINE_END: Final = re.compile(r"\r\n|\r|\n|\Z")
_QUOTED: Final = re.compile(r'"(?:[^"]++|"")*+"')
_NEVER: Final = "a quote is opened and never closed"
_NOT_WITHIN: Final = f"a quote is opened and not closed within {MOST_LINES_OF_A_ROW} lines"
_UNDOUBLED: Final = "a quote stands inside a quoted cell undoubled"


class Cell(NamedTuple):
    """One cell: the offsets of its text, quotes included, and what it says, without blanks around it."""

    start: int
    end: int
    text: str


class Row(NamedTuple):
    """One row, from its first character to its last before the line end.

    `fault` says why it has no cells, and at which offset.
    """

    start: int
    end: int
    cells: tuple[Cell, ...]
    fault: tuple[int, str] | None = None

    @property
    def blank(self) -> bool:
        """True if nothing stands in it."""
        return self.fault is None and not any(cell.text for cell in self.cells)


class Rows:
    """Cuts a text into rows. A row whose quotes are wrong has a fault and is its first line alone."""

    def __init__(self, text: str, separator: str) -> None:
        self.text = text
        self.separator = separator
        self._plain = re.compile(f"[^{re.escape(separator)}\r\n]*+")

    def __iter__(self) -> Iterator[Row]:
        """Yield every row, blank ones too, but not the hint `sep=;` in the first line."""
        hint = _HINT.match(self.text)
        return self.after(hint.end() if hint else 0)

    def after(self, start: int) -> Iterator[Row]:
        """Yield every row from the one on that begins at an offset."""
        at = start
        while at < len(self.text):
            row = self._row(at)
            yield row
            at = self.next_line(row.end)

    def next_line(self, end: int) -> int:
        """Return where the next line begins after one that ends at `end`."""
        return _end(_LINE_END, self.text, end)

    def line_end(self, start: int) -> int:
        """Return where the line ends that begins at `start`, or runs there."""
        return _end(_LINE, self.text, start)

    def _row(self, start: int) -> Row:
        cells: list[Cell] = []
        bounds = _Bounds(self, start)
        at = start
        while True:
            found = self._cell(at, bounds)
            if isinstance(found, str):
                end = self.line_end(start)
                return Row(start, end, (), (at if at <= end else start, found))
            cells.append(found)
            at = found.end
            if not self.text.startswith(self.separator, at):
                return Row(start, at, tuple(cells))
            at += 1

    def _cell(self, at: int, bounds: "_Bounds") -> Cell | str:
        """Return the cell that begins at an offset, or what is wrong with its quotes."""
        if not self.text.startswith('"', at):
            end = _end(self._plain, self.text, at)
            return Cell(at, end, _said(self.text[at:end]))
        quoted = _QUOTED.match(self.text, at, bounds.line(at))
        if quoted is None:
            quoted = _QUOTED.match(self.text, at, bounds.limit)
            if quoted is None:
                return _NEVER if bounds.limit == len(self.text) else _NOT_WITHIN
        if self.text[quoted.end() : quoted.end() + 1] not in (self.separator, "\r", "\n", ""):
            return _UNDOUBLED
        return Cell(at, quoted.end(), _said(quoted[0][1:-1].replace('""', '"')))


class _Bounds:
    """Where the lines of one row end, each looked for once: a line may hold very many cells."""

    def __init__(self, rows: Rows, start: int) -> None:
        self.rows = rows
        self.start = start
        self.end = -1

    def line(self, at: int) -> int:
        """Return where the line ends that runs at an offset; offsets come in order."""
        if at > self.end:
            self.end = self.rows.line_end(at)
        return self.end

    @cached_property
    def limit(self) -> int:
        """Where the last line ends that the row may run over."""
        at = self.start
        for _ in range(MOST_LINES_OF_A_ROW):
            at = self.rows.next_line(self.rows.line_end(at))
        return at


def _end(pattern: re.Pattern[str], text: str, at: int) -> int:
    found = pattern.match(text, at)
    return found.end() if found else at


def _said(text: str) -> str:
    return restored(text.strip()).strip()
