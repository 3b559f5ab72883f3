"""The purchase plan as CSV: a row for each line of each order, for its carriage, and for what cannot be bought."""

from collections.abc import Iterator
from typing import Final

from fitcheck.bom.ordering.record import Line, Missing, Order, Plan
from fitcheck.catalog.money import Money
from fitcheck.reports.cells import record, text_cell
from fitcheck.reports.order_words import (
    amount_text,
    day,
    described,
    length_of,
    line_words,
    missing_heading,
    money,
    places_of,
)

COLUMNS: Final = (
    "supplier",
    "number",
    "part",
    "description",
    "packs",
    "pack",
    "price",
    "currency",
    "cost",
    "arrives",
    "for",
    "in_place_of",
    "length_mm",
    "contents_ml",
    "short",
)


def order_csv(plan: Plan) -> str:
    """Return the plan as CSV under a row of column names; no cell of it is a formula to a spreadsheet.

    Carriage has a row of its own after each order's lines, without a part. `price` is for each pack. An empty `arrives`
    is not known. What cannot be bought stands last: without a supplier, with how much is `short`.
    """
    rows = [row for order in plan.orders for row in (*_lines(plan, order), _carriage(order))]
    rows += (_missing(plan, each) for each in plan.missing)
    return "".join([record(COLUMNS), *(record(_cells(row)) for row in rows)])


def _cells(row: dict[str, str]) -> Iterator[str]:
    return (row.get(column, "") for column in COLUMNS)


def _lines(plan: Plan, order: Order) -> Iterator[dict[str, str]]:
    for line in order.lines:
        words = line_words(plan, order, line)
        yield {
            "supplier": text_cell(order.supplier.name),
            "number": text_cell(words.number),
            "part": text_cell(words.part),
            "description": text_cell(words.description),
            "packs": str(line.packs),
            "price": _amount(line.price),
            "currency": text_cell(line.cost.currency),
            "cost": _amount(line.cost),
            "arrives": day(words.arrives, ""),
            "for": text_cell(", ".join(words.places)),
            "in_place_of": text_cell(", ".join(words.instead)),
        } | _pack(line)


def _pack(line: Line) -> dict[str, str]:
    length, contents = length_of(line), line.offer.contents
    return {
        "pack": str(line.offer.pack),
        "length_mm": _number(length) if length is not None else "",
        "contents_ml": _number(contents / 1000) if contents is not None else "",
    }


def _carriage(order: Order) -> dict[str, str]:
    return {
        "supplier": text_cell(order.supplier.name),
        "description": "carriage",
        "currency": text_cell(order.carriage.currency),
        "cost": _amount(order.carriage) if order.supplier.shipping is not None else "",
        "arrives": day(order.arrives, ""),
    }


def _missing(plan: Plan, missing: Missing) -> dict[str, str]:
    need = missing.need
    return {
        "part": text_cell(need.part or ""),
        "description": text_cell(f"{missing_heading(plan)}: {described(need)}"),
        "for": text_cell(", ".join(places_of(need))),
        "short": amount_text(missing.short, need.unit),
    }


def _amount(value: Money) -> str:
    return money(value).split(" ")[0]


def _number(value: float) -> str:
    return f"{value:.4f}".rstrip("0").rstrip(".")
