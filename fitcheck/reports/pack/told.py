"""Sections of a text report as HTML: the words of `fitcheck pedal` and `fitcheck order` are written once.

The report is made without a limit of width, so that each line is a heading (not indented), a sentence (by two), a
sentence that belongs to it (by more), or part of a table, which a row of dashes announces.
"""

import re
from collections.abc import Iterable, Iterator
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
        line = lines[place]
        if place + 1 < len(lines) and _RULE.fullmatch(lines[place + 1]) and line.startswith("  "):
            end = place + 2
            while end < len(lines) and lines[end].startswith("  ") and lines[end].strip():
                end += 1
            rows, rest = _rows(lines[place], lines[place + 1], lines[place + 2 : end])
            yield from rows
            place += 2 + rest
            continue
        yield from _sentence(line)
        place += 1


def _sentence(line: str) -> Iterator[str]:
    words = line.strip()
    if not words:
        return
    if not line.startswith(" "):
        yield heading(words, 4)
    else:
        yield paragraph(words, "item" if line.startswith("  ") and line[2:3] != " " else "more")


def _rows(head: str, rule: str, lines: list[str]) -> tuple[list[str], int]:
    """Return a table as HTML, and how many lines below its rule belong to it."""
    spans = [found.span() for found in _DASHES.finditer(rule)]
    mine: list[list[str]] = []
    for line in lines:
        if not _fits(line, spans):
            break
        mine.append(_cells(line, spans))
    right = ["r" if all(_set_right(line, span) for line in lines[: len(mine)]) else "l" for span in spans[1:]]
    return list(table(_cells(head, spans), mine, "".join(["l", *right]))), len(mine)


def _fits(line: str, spans: list[tuple[int, int]]) -> bool:
    """Return whether a line is a row of the table: nothing of it stands between the columns, or beyond them."""
    gaps = [*zip([0, *(end for _, end in spans)], [*(start for start, _ in spans), len(line)], strict=True)]
    return not any(line[start:end].strip() for start, end in gaps) and bool(line[slice(*spans[0])].strip())


def _cells(line: str, spans: list[tuple[int, int]]) -> list[str]:
    return [line[start:end].strip() for start, end in spans]


def _set_right(line: str, span: tuple[int, int]) -> bool:
    """Return whether a cell stands at the right edge of its column, or is empty."""
    cell = line[slice(*span)]
    return not cell.strip() or (len(line) >= span[1] and not cell.endswith(" "))
