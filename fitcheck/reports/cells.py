"""Cells of a CSV file (RFC 4180) that no spreadsheet takes for more than text and numbers.

Text that a spreadsheet could read as a formula is made harmless (`fitcheck.catalog.formulas`). Control characters other
than tab and line end are shown as their escapes. Numbers are plain digits with a decimal point.
"""

from collections.abc import Iterable

from fitcheck.catalog.formulas import defused, restored

__all__ = ["defused", "record", "restored", "text_cell"]


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
