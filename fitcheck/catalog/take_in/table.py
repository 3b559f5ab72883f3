"""The separator of a price list, and its rows, however badly quoted."""

import csv
import re
from collections.abc import Iterable, Iterator
from itertools import islice
from typing import Final, NamedTuple

from fitcheck.catalog.take_in.text_file import lines
from fitcheck.files import AnyPath

SEPARATORS: Final = (";", ",", "\t", "|")
MOST_LINES_OF_A_ROW: Final = 20
"""Most lines that one row may run over: a quote that nobody closed must not swallow the list."""
_SAMPLE: Final = 60
_HINT: Final = re.compile(r"sep=(.)\r?\n?", re.IGNORECASE)


class Row(NamedTuple):
    """One row. `number` counts from the top as a spreadsheet does; `fault` says why it has no cells of its own."""

    number: int
    cells: tuple[str, ...]
    fault: str | None = None

    @property
    def blank(self) -> bool:
        """Return whether nothing stands in it."""
        return not any(map(str.strip, self.cells))


class _Runaway(Exception):  # noqa: N818  # never seen outside of this module
    """A quote was opened and not closed within the lines that a row may have."""


class _Feed:
    """The lines of the list, with those of the row at hand kept, so that they can be read again."""

    def __init__(self, source: Iterable[str]) -> None:
        self.source = iter(source)
        self.waiting: list[str] = []
        self.taken: list[str] = []

    def __iter__(self) -> "_Feed":
        return self

    def __next__(self) -> str:
        if len(self.taken) >= MOST_LINES_OF_A_ROW:
            raise _Runaway
        line = self.waiting.pop() if self.waiting else next(self.source)
        self.taken.append(line)
        return line

    def only_the_first(self) -> str:
        """Return the first line taken; those after it are given again."""
        first, rest = self.taken[0], self.taken[1:]
        self.waiting.extend(reversed(rest))
        return first


def rows(path: AnyPath, encoding: str, separator: str) -> Iterator[Row]:
    """Yield every row of a list, blank ones too.

    A row whose quotes are not doubled or not closed has its line as its only cell, and a fault.

    Raises:
        InputError: the file is not in this encoding, or a line is too long.
    """
    source = lines(path, encoding)
    first = next(source, None)
    if first is None:
        return
    number = 1
    if _HINT.fullmatch(first):
        number = 2
    else:
        source = _with(first, source)
    yield from _rows(_Feed(source), separator, number)


def _with(first: str, rest: Iterable[str]) -> Iterator[str]:
    yield first
    yield from rest


def _rows(feed: _Feed, separator: str, number: int) -> Iterator[Row]:
    reader = csv.reader(feed, delimiter=separator, strict=True)
    while True:
        feed.taken.clear()
        try:
            row = Row(number, tuple(next(reader)))
        except StopIteration:
            return
        except _Runaway:
            row = Row(number, (_line(feed),), f"a quote is opened and not closed within {MOST_LINES_OF_A_ROW} lines")
        except csv.Error as error:
            row = Row(number, (_line(feed),), _said(str(error)))
        yield row
        number += 1


def _said(error: str) -> str:
    if "unexpected end" in error:
        return "a quote is opened and never closed"
    return "a cell is too long" if "field limit" in error else "a quote stands inside a quoted cell undoubled"


def _line(feed: _Feed) -> str:
    return feed.only_the_first().rstrip("\r\n")


def separator_of(path: AnyPath, encoding: str, known: Iterable[str]) -> str:
    """Return the separator with which most headers of a list are `known`, and then most rows are equally long.

    A first line `sep=;`, which spreadsheets write, decides. `known` are headers in small letters.
    """
    sample = list(islice(lines(path, encoding), _SAMPLE))
    hint = _HINT.fullmatch(sample[0]) if sample else None
    if hint and hint[1] in SEPARATORS:
        return hint[1]
    headers = frozenset(known)
    return max(SEPARATORS, key=lambda separator: _score(sample, separator, headers))


def _score(sample: list[str], separator: str, known: frozenset[str]) -> tuple[int, float]:
    read = [row.cells for row in _rows(_Feed(sample), separator, 1)]
    named = max((sum(cell.strip().casefold() in known for cell in cells) for cells in read[:10]), default=0)
    widths = [len(cells) for cells in read if len(cells) > 1]
    usual = max(widths, key=widths.count, default=1)
    return named, widths.count(usual) / max(len(read), 1)
