"""The bill of materials as CSV (RFC 4180) that no spreadsheet takes for more than text and numbers.

A cell of text that a spreadsheet could read as a formula gets an apostrophe in front; `restored` takes it away
again, so that a program reading the file gets the text back exactly. Control characters other than tab and
line end are shown as their escapes. Numbers are plain digits with a decimal point.
"""

import re
from collections.abc import Iterable
from typing import Final

from fitcheck.bom.record import Bom, Row
from fitcheck.reports.bom_words import decimal_text, piece_text

COLUMNS: Final = (
    "part",
    "kind",
    "description",
    "quantity",
    "unit",
    "for",
    "pieces",
    "unknown",
    "unit_price",
    "currency",
    "cost",
    "supplier",
)
_SIGNS: Final = "=+\\-@\uff1d\uff0b\uff0d\uff20\ufe66\ufe62\ufe63\ufe6b\u2212\u207a\u207c\u208a\u208c\u2a75\u2a76\ufb29"
"""Signs that begin a formula: ASCII, full width, small forms, and others that Unicode holds equal to them."""
_FORMULA: Final = re.compile(f"'*[\\s\u200b-\u200f\u2060\ufeff]*[\t\r\n{_SIGNS}]")
"""The start of a formula after spaces seen and unseen, and of one that has been defused already."""


def bom_csv(bom: Bom) -> str:
    """Return the bill as CSV, one line of the bill in each row, under a row of column names.

    `unknown` is `yes` for a part that no catalog has; an empty `quantity`, `unit_price` or `cost` is not known.
    `unit_price` is for one piece, or one mm of goods sold by length, to six decimals.
    """
    return "".join(_record(cells) for cells in (COLUMNS, *(_cells(row) for row in bom.rows)))


def defused(text: str) -> str:
    """Return `text` with an apostrophe in front if a spreadsheet could take it for a formula.

    >>> defused("=1+1"), defused("tee, brass")
    ("'=1+1", 'tee, brass')
    """
    return f"'{text}" if _FORMULA.match(text) else text


def restored(cell: str) -> str:
    """Return the text that `defused` made `cell` of.

    >>> restored("'=1+1"), restored("'tee'")
    ('=1+1', "'tee'")
    """
    return cell[1:] if cell.startswith("'") and _FORMULA.match(cell) else cell


def _cells(row: Row) -> tuple[str, ...]:
    """Return the cells of one row: text defused, numbers as they are."""
    pieces = "; ".join(map(piece_text, row.pieces))
    price, cost = row.price, row.cost
    return (
        _text(row.part or ""),
        _text(row.kind),
        _text(row.description),
        "" if row.quantity is None else _number(row.quantity),
        row.unit,
        _text(" ".join(row.places)),
        _text(pieces),
        "yes" if row.unknown else "",
        decimal_text(price.unit_price, 6) if price is not None else "",
        price.currency if price is not None else "",
        str(cost.amount) if cost is not None else "",
        _text(price.supplier) if price is not None else "",
    )


def _text(text: str) -> str:
    shown = (char if char.isprintable() or char in "\t\n" else ascii(char)[1:-1] for char in text)
    return defused("".join(shown))


def _number(value: float) -> str:
    return str(value) if isinstance(value, int) else f"{value:.4f}".rstrip("0").rstrip(".")


def _record(cells: Iterable[str]) -> str:
    return ",".join(map(_quoted, cells)) + "\r\n"


def _quoted(cell: str) -> str:
    if any(char in cell for char in ',"\r\n\t'):
        return '"' + cell.replace('"', '""') + '"'
    return cell
