"""The file of rejects as a spreadsheet reads it; its cells are made harmless by `fitcheck.catalog.formulas`."""

import csv
from collections.abc import Sequence
from typing import Any, Final, TextIO

REJECT_COLUMNS: Final = ("row", "reason")
"""The last two columns of a file of rejects. A list that ends with them is read as one."""


def writer(file: TextIO, separator: str) -> Any:
    """Return a CSV writer that puts every cell in quotes."""
    return csv.writer(file, delimiter=separator, quoting=csv.QUOTE_ALL, lineterminator="\r\n")


def is_rejects(header: Sequence[str]) -> bool:
    """Return whether a header is that of a file of rejects."""
    return tuple(header[-2:]) == REJECT_COLUMNS
