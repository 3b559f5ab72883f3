"""Small pieces of HTML for the sections of a pack. Everything that users wrote is made visible and escaped."""

from collections.abc import Iterable, Iterator, Sequence
from html import escape
from typing import Final

from fitcheck.reports.plain import visible

BOX: Final = '<i class="tick"></i>'
"""A box to tick, in a cell."""
WIDE: Final = '<div class="wide" tabindex="0" role="group" aria-label="table">'
"""Begins what a narrow screen scrolls sideways; by keyboard too, which is what the rest is for."""


def safe(words: str) -> str:
    """Return words as text of HTML, in text and in attributes."""
    return escape(visible(words))


def in_style(words: str) -> str:
    """Return words as a string of CSS, within a page too: everything but plain letters as its code."""
    return "".join(
        char if char.isascii() and (char.isalnum() or char in " .,:_-") else f"\\{ord(char):x} " for char in words
    )


def heading(words: str, level: int = 3) -> str:
    """Return a heading."""
    return f"<h{level}>{safe(words)}</h{level}>"


def paragraph(words: str, look: str = "") -> str:
    """Return a paragraph; `look` is its class."""
    return f"<p{_class(look)}>{safe(words)}</p>"


def listed(sentences: Iterable[str], kind: str = "ul") -> str:
    """Return a list of sentences; "" without any."""
    items = "".join(f"<li>{safe(words)}</li>" for words in sentences)
    return f"<{kind}>{items}</{kind}>" if items else ""


def table(heads: Sequence[str], rows: Iterable[Sequence[str]], align: str = "", look: str = "") -> Iterator[str]:
    """Yield a table of texts; `align` has a letter for each column: `l` left (also what is left out), `r` right."""
    yield from rich_table(heads, ([safe(cell) for cell in row] for row in rows), align, look)


def rich_table(heads: Sequence[str], rows: Iterable[Sequence[str]], align: str = "", look: str = "") -> Iterator[str]:
    """Yield a table whose cells are HTML already."""
    sides = [_class("n" if side == "r" else "") for side in align.ljust(len(heads), "l")]
    yield f"{WIDE}<table{_class(look)}><thead><tr>"
    yield "".join(f"<th{side}>{safe(head)}</th>" for head, side in zip(heads, sides, strict=True))
    yield "</tr></thead><tbody>"
    for row in rows:
        cells = "".join(f"<td{side}>{cell}</td>" for cell, side in zip(row, sides, strict=True))
        yield f"<tr>{cells}</tr>"
    yield "</tbody></table></div>"


def _class(look: str) -> str:
    return f' class="{look}"' if look else ""
