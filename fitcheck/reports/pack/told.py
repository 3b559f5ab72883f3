"""Sections of a text report as HTML: the words of `fitcheck pedal` and `fitcheck order` are written once.

The report is made without a limit of width, so that each line is a heading (not indented), a sentence (by two), a
sentence that belongs to it (by more), or part of a table, which a row of dashes announces.
"""

import re
from collections.abc import Iterable, Iterator
from itertools import takewhile
from typing import Final

from fitcheck.reports.pack.markup import heading, paragraph, table

UNLIMITED: Final = 1_000_000
"""A width at which no line is wrapped."""
_RULE: Final = re.compile(r"  -{2,}(?:  -{2,})*")
_DASHES: Final = re.compile(r"-+")


def told(lines: Iterable[str]) -> Iterator[str]:
    """Yield lines of a text report of unlimited width as HTML. No word of them is left out."""
    lines = list(lines)
    place = 0
    while place < len(lines):
        rows = _below(lines, place)
        if rows:
            yield from _table(lines[place], lines[place + 1], rows)
            place += 2 + len(rows)
        else:
            yield from _sentence(lines[place])
            place += 1


def _below(lines: list[str], place: int) -> list[str]:
    """Return the rows of the table whose heads are at a place; none if there is no table."""
    rule = lines[place + 1] if place + 1 < len(lines) else ""
    if not _RULE.fullmatch(rule) or not _fits(lines[place], rule):
        return []
    return list(takewhile(lambda line: _fits(line, rule), lines[place + 2 :]))


def _sentence(line: str) -> Iterator[str]:
    words = line.strip()
    if not words:
        return
    if not line.startswith(" "):
        yield heading(words, 4)
    else:
        yield paragraph(words, "item" if line.startswith("  ") and line[2:3] != " " else "more")


def _table(head: str, rule: str, rows: list[str]) -> Iterator[str]:
    spans = _spans(rule)
    right = ["r" if all(_set_right(row, span) for row in rows) else "l" for span in spans[1:]]
    yield from table(_cells(head, spans), (_cells(row, spans) for row in rows), "".join(["l", *right]))


def _spans(rule: str) -> list[tuple[int, int]]:
    return [found.span() for found in _DASHES.finditer(rule)]


def _fits(line: str, rule: str) -> bool:
    """Return whether a line is one of the table: nothing of it stands between the columns, or beyond them."""
    spans = _spans(rule)
    starts, ends = [start for start, _ in spans], [end for _, end in spans]
    between = zip([0, *ends], [*starts, max(len(line), ends[-1])], strict=True)
    return not any(line[start:end].strip() for start, end in between) and bool(line[slice(*spans[0])].strip())


def _cells(line: str, spans: list[tuple[int, int]]) -> list[str]:
    return [line[start:end].strip() for start, end in spans]


def _set_right(line: str, span: tuple[int, int]) -> bool:
    """Return whether a cell stands at the right edge of its column, or is empty."""
    cell = line[slice(*span)]
    return not cell.strip() or (len(line) >= span[1] and not cell.endswith(" "))
