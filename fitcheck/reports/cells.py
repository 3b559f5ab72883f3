"""Cells of a CSV file (RFC 4180) that no spreadsheet takes for more than text and numbers.

A cell of text that a spreadsheet could read as a formula gets an apostrophe in front, and so does each piece of it
after a semicolon or a line end: where the comma is the decimal sign, spreadsheets part the cells of a CSV there.
`restored` takes the apostrophes away again, so that a program reading the file gets the text back exactly. Control
characters other than tab and line end are shown as their escapes. Numbers are plain digits with a decimal point.
"""

import re
from collections.abc import Iterable
from typing import Final

_SIGNS: Final = "=+\\-@\uff1d\uff0b\uff0d\uff20\ufe66\ufe62\ufe63\ufe6b\u2212\u207a\u207c\u208a\u208c\u2a75\u2a76\ufb29"
"""Signs that begin a formula: ASCII, full width, small forms, and others that Unicode holds equal to them."""
_FORMULA: Final = f"(?='*[\\s\"\u200b-\u200f\u2060\ufeff]*[\t\r\n{_SIGNS}])"
"""The start of a formula after quotes and spaces seen and unseen, and of one that has been defused already."""
_LIVE: Final = re.compile(f"(^|[;\n]){_FORMULA}")
_DEFUSED: Final = re.compile(f"(^|[;\n])'{_FORMULA}")


def defused(text: str) -> str:
    """Return `text` with an apostrophe in front of all that a spreadsheet could take for a formula.

    >>> defused("=1+1"), defused("tee; -3"), defused("tee, brass")
    ("'=1+1", "tee;' -3", 'tee, brass')
    """
    return _LIVE.sub(r"\1'", text)


def restored(cell: str) -> str:
    """Return the text that `defused` made `cell` of.

    >>> restored("'=1+1"), restored("tee;' -3"), restored("'tee'")
    ('=1+1', 'tee; -3', "'tee'")
    """
    return _DEFUSED.sub(r"\1", cell)


def text_cell(text: str) -> str:
    """Return `text` as a cell: controls shown as escapes, defused."""
    shown = (char if char.isprintable() or char in "\t\n" else ascii(char)[1:-1] for char in text)
    return defused("".join(shown))


def record(cells: Iterable[str]) -> str:
    """Return one record: cells quoted where they have to be, separated by commas, ended with CR LF."""
    return ",".join(map(_quoted, cells)) + "\r\n"


def _quoted(cell: str) -> str:
    if any(char in cell for char in ',"\r\n\t'):
        return '"' + cell.replace('"', '""') + '"'
    return cell
