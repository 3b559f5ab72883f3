"""The bill of materials as JSON."""

from typing import Any

from fitcheck.bom.record import LEFT_OUT, Bom, Piece, Price, Row
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain_json import json_text


def bom_json(bom: Bom) -> str:
    """Return the bill as JSON text: its lines, what could not be counted, and totals if it has prices."""
    return json_text(bom_value(bom))


def bom_value(bom: Bom) -> dict[str, Any]:
    """Return the bill as plain values, its keys in the order in which they are written.

    Money is text, `12.50 GBP`, so that no reader's floating point changes it.
    """
    value: dict[str, Any] = {
        "build": bom.build,
        "lines": [row_value(row, bom.priced) for row in bom.rows],
        "not_counted": [{"at": list(item.at), "reason": item.reason} for item in bom.not_counted],
    }
    value["left_out"] = list(LEFT_OUT)
    if bom.priced:
        value["totals"] = [str(total) for total in bom.totals]
        value["unpriced"] = bom.unpriced
    return value | {"caution": CAUTION}


def row_value(row: Row, priced: bool) -> dict[str, Any]:
    """Return one line of the bill as plain values; with price and cost, null if not known, if `priced`."""
    value: dict[str, Any] = {
        "part": row.part,
        "kind": row.kind,
        "description": row.description,
        "quantity": row.quantity,
        "unit": row.unit,
        "for": list(row.places),
        "unknown": row.unknown,
    }
    if row.unit == "mm":
        value["known_mm"] = row.known_mm
        value["pieces"] = [_piece(piece) for piece in row.pieces]
    if priced:
        value["price"] = _price(row.price) if row.price is not None else None
        value["cost"] = str(row.cost) if row.cost is not None else None
    return value


def _piece(piece: Piece) -> dict[str, Any]:
    return {
        "for": piece.tag,
        "length_mm": piece.length.mm,
        "run_mm": piece.length.run_mm,
        "allowance_mm": piece.length.allowance_mm,
        "source": piece.length.source,
        "unknown": piece.length.unknown,
    }


def _price(price: Price) -> dict[str, Any]:
    return {
        "pack_price": str(price.pack_price),
        "pack": price.pack,
        "per_mm": price.per_mm,
        "supplier": price.supplier,
        "number": price.number,
        "valid_until": price.valid_until.isoformat() if price.valid_until is not None else None,
    }
