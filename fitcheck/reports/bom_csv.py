"""The bill of materials as CSV (RFC 4180) that no spreadsheet takes for more than text and numbers."""

from typing import Final

from fitcheck.bom.record import Bom, Row
from fitcheck.reports.bom_words import decimal_text, piece_text
from fitcheck.reports.cells import defused, record, restored, text_cell

__all__ = ["COLUMNS", "bom_csv", "defused", "restored"]

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


def bom_csv(bom: Bom) -> str:
    """Return the bill as CSV, one line of the bill in each row, under a row of column names.

    `unknown` is `yes` for a part that no catalog has; an empty `quantity`, `unit_price` or `cost` is not known.
    `unit_price` is for one piece, or one mm of goods sold by length, to six decimals.
    """
    return "".join(record(cells) for cells in (COLUMNS, *(_cells(row, bom) for row in bom.rows)))


def _cells(row: Row, bom: Bom) -> tuple[str, ...]:
    """Return the cells of one row: text defused, numbers as they are."""
    pieces = "; ".join(piece_text(piece, bom.told_in) for piece in row.pieces)
    price, cost = row.price, row.cost
    return (
        text_cell(row.part or ""),
        text_cell(row.kind),
        text_cell(row.description),
        "" if row.quantity is None else _number(row.quantity),
        row.unit,
        text_cell(" ".join(row.places)),
        text_cell(pieces),
        "yes" if row.unknown else "",
        decimal_text(price.unit_price, 6) if price is not None else "",
        price.currency if price is not None else "",
        str(cost.amount) if cost is not None else "",
        text_cell(price.supplier) if price is not None else "",
    )


def _number(value: float) -> str:
    return str(value) if isinstance(value, int) else f"{value:.4f}".rstrip("0").rstrip(".")
