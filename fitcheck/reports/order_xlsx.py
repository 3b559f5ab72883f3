"""The purchase plan as a workbook: a summary, and a sheet to print for each supplier, with sums that compute."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from fitcheck.bom.ordering.record import Line, Order, Plan, Readiness
from fitcheck.reports.order_summary import SHEET, WIDTHS, Sums, summary
from fitcheck.reports.order_words import (
    LineWords,
    arrives_text,
    carriage_text,
    day,
    for_text,
    headline,
    instead_text,
    line_words,
    money,
    supplier_text,
)
from fitcheck.reports.workbook import MONEY, Book, Page, cell, rounded_as, sheet_names

_COLUMNS: Final = (
    ("packs", 7),
    ("number", 14),
    ("part", 22),
    ("description", 34),
    ("pack", 16),
    ("for", 36),
    ("note", 30),
    ("here on", 11),
    ("price", 12),
    ("cost", 12),
)
_MOST_PLACES: Final = 12
"""Places that a line names; the rest is counted, so that a row fits on paper."""
_PACKS, _NUMBER, _PART, _DESCRIPTION, _PACK, _FOR, _NOTE, _HERE, _PRICE, _COST = range(len(_COLUMNS))
_RIGHT: Final = (_PACKS, _PRICE, _COST)


def order_xlsx(plan: Plan, readiness: Readiness, *, errors: int = 0) -> bytes:
    """Return the plan as a workbook, in bytes: the same plan makes the same bytes.

    Costs, goods, totals and the sum are formulas, and hold what they come to; breaks of price are in the prices.
    `errors` is how many findings at level error stand in the build: the summary then says so.

    Raises:
        NoPrintError: the library that writes workbooks is not installed.
    """
    book = Book(headline(plan), plan.on)
    front = book.page(SHEET, WIDTHS)  # the first sheet is filled last: it refers to the others
    names = sheet_names((order.supplier.name for order in plan.orders), (SHEET,))
    widths = [width for _, width in _COLUMNS]
    sums = [_order(book.page(name, widths), plan, order) for name, order in zip(names, plan.orders, strict=True)]
    summary(front, plan, readiness, sums, errors)
    return book.content()


def _order(page: Page, plan: Plan, order: Order) -> Sums:
    """Fill the sheet of one supplier; return where its sums stand."""
    page.wide(f"Order to {supplier_text(order)}", bold=True, font_size=14)
    page.wide(f"{plan.build}, as of {day(plan.on)}; {arrives_text(order)}")
    if order.supplier.note:
        page.wide(f"note: {order.supplier.note}")
    headers = page.row
    code = order.goods.currency
    page.header([f"{name}, {code}" if name in ("price", "cost") else name for name, _ in _COLUMNS], _RIGHT)
    first = page.row
    for line in order.lines:
        _line(page, plan, order, line)
    sums = _sums(page, order, first)
    for words in _beneath(order):
        page.wide(words)
    page.finish(headers)
    return sums


def _line(page: Page, plan: Plan, order: Order, line: Line) -> None:
    row, words = page.row, line_words(plan, order, line)
    page.number((row, _PACKS), line.packs)
    page.text((row, _NUMBER), words.number)
    page.text((row, _PART), words.part)
    page.text((row, _DESCRIPTION), words.description)
    page.text((row, _PACK), words.pack)
    page.text((row, _FOR), for_text(words.needs, _MOST_PLACES).removeprefix("for "))
    page.text((row, _NOTE), "; ".join(_notes(plan, line, words)))
    page.day((row, _HERE), words.arrives, "not stated")
    page.number((row, _PRICE), line.price.amount, f"{MONEY}##")
    product = f"{cell((row, _PACKS))}*{cell((row, _PRICE))}"
    exact = Fraction(line.price.amount) * line.packs
    page.formula((row, _COST), rounded_as(product, exact, line.cost.amount), line.cost.amount)
    page.row += 1


def _notes(plan: Plan, line: Line, words: LineWords) -> Iterator[str]:
    """Yield what there is to say about a line besides: what it replaces, what is over, how long the price holds."""
    offer = line.offer
    if words.instead:
        yield instead_text(plan, words.instead)
    if words.over:
        yield words.over
    if offer.valid_until is not None:
        yield f"price holds until {day(offer.valid_until)}"
    if offer.note:
        yield offer.note


def _sums(page: Page, order: Order, first: int) -> Sums:
    goods, carriage, total = ((page.row + place, _COST) for place in range(3))
    for at, name in ((goods, "goods"), (carriage, "carriage"), (total, "total")):
        page.text((at[0], _PRICE), name, bold=True)
    lines = f"SUM({cell((first, _COST))}:{cell((goods[0] - 1, _COST))})" if order.lines else None
    page.formula(goods, lines, order.goods.amount, bold=True, top=1)
    page.number(carriage, order.carriage.amount, MONEY)
    page.formula(total, f"{cell(goods)}+{cell(carriage)}", order.total.amount, bold=True, top=1)
    page.row += 4
    return Sums(page, goods, carriage, total)


def _beneath(order: Order) -> Iterator[str]:
    yield f"carriage: {carriage_text(order)}"
    if order.supplier.minimum_order is not None:
        yield f"smallest order: {money(order.supplier.minimum_order)}"
