"""Cells that no spreadsheet runs, and that read back as they were.

A cell that begins with `=`, `+`, `-`, `@`, a tab or a line break, after spaces or not, is a formula to a
spreadsheet. It is written with an apostrophe before it, which makes it text there. A cell that begins with
apostrophes before such a sign gets one more, so that taking one away always gives the cell back.
"""

import csv
import re
from collections.abc import Sequence
from typing import Any, Final, TextIO

REJECT_COLUMNS: Final = ("row", "reason")
"""The last two columns of a file of rejects. A list that ends with them is read as one."""
_RUNS: Final = re.compile(r"'*\s*[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]")
_LEADING_BREAK: Final = re.compile(r"'*[\t\r\n]")


def safe(cell: str) -> str:
    """Return a cell as it is written: with one apostrophe more if a spreadsheet would run it."""
    return "'" + cell if _runs(cell) else cell


def unsafe(cell: str) -> str:
    """Return the cell that was written as `cell`."""
    return cell[1:] if cell.startswith("'") and _runs(cell[1:]) else cell


def _runs(cell: str) -> bool:
    return bool(_RUNS.match(cell) or _LEADING_BREAK.match(cell))


def writer(file: TextIO, separator: str) -> Any:
    """Return a CSV writer that puts every cell in quotes."""
    return csv.writer(file, delimiter=separator, quoting=csv.QUOTE_ALL, lineterminator="\r\n")


def is_rejects(header: Sequence[str]) -> bool:
    """Return whether a header is that of a file of rejects."""
    return tuple(header[-2:]) == REJECT_COLUMNS
