"""The first sheet of the purchase plan as a workbook: suppliers and sums, rates, what is missing, readiness."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Final, NamedTuple

from fitcheck.bom.ordering.record import Order, Plan, Readiness
from fitcheck.catalog.rates import Rate
from fitcheck.reports.order_words import (
    amount_text,
    asked_text,
    carriage_text,
    day,
    described,
    errors_text,
    for_text,
    headline,
    missing_heading,
    need_name,
    place_name,
    proof_text,
    rates_of,
    supplier_text,
)
from fitcheck.reports.ready_text import circuit_name, gate_text
from fitcheck.reports.workbook import Address, Page, cell, rounded_as

SHEET: Final = "Summary"
WIDTHS: Final = (34, 13, 12, 12, 12, 10, 13, 12, 60)
_MOST: Final = 12
"""Places or parts that a row names; the rest is counted."""
_TO, _LINES, _GOODS, _CARRIAGE, _TOTAL, _CODE, _HOME, _HERE, _NOTE = range(len(WIDTHS))
_RIGHT: Final = (_LINES, _GOODS, _CARRIAGE, _TOTAL, _HOME)


class Sums(NamedTuple):
    """Where the sums of an order stand: its sheet, and the cells of goods, carriage and total."""

    page: Page
    goods: Address
    carriage: Address
    total: Address


def summary(page: Page, plan: Plan, readiness: Readiness, sums: Sequence[Sums], errors: int) -> None:
    """Fill the first sheet; `sums` has the sheets of the orders, in the plan's order."""
    page.wide(headline(plan), bold=True, font_size=14)
    for words, colour in ((errors_text(errors), "#C00000"), (asked_text(plan), "#000000")):
        if words:
            page.wide(words, bold=True, font_color=colour)
    page.wide(proof_text(plan))
    page.row += 1
    if plan.orders:
        _orders(page, plan, sums)
    for section in (_missing, _unknown):
        section(page, plan)
    _ready(page, plan, readiness)
    page.finish(0)


def _orders(page: Page, plan: Plan, sums: Sequence[Sums]) -> None:
    code = plan.cost.currency
    page.header(
        ["supplier", "lines", "goods", "carriage", "total", "currency", f"in {code}", "here on", "carriage is"], _RIGHT
    )
    first = page.row
    rates = _rates(page, plan, first + len(plan.orders) + 2)
    for order, at in zip(plan.orders, sums, strict=True):
        _order(page, plan, order, at, rates)
    page.text((page.row, _TO), "all orders", bold=True)
    homes = sum((Fraction(order.home.amount) for order in plan.orders), Fraction(0))
    total = f"SUM({cell((first, _HOME))}:{cell((page.row - 1, _HOME))})"
    page.formula((page.row, _HOME), rounded_as(total, homes, plan.cost.amount), plan.cost.amount, bold=True, top=1)
    page.row = max(page.row + 2, *(at[0] + 2 for at in rates.values())) if rates else page.row + 2


def _order(page: Page, plan: Plan, order: Order, sums: Sums, rates: dict[Rate, Address]) -> None:
    row = page.row
    page.text((row, _TO), supplier_text(order))
    page.number((row, _LINES), len(order.lines))
    page.formula((row, _GOODS), cell(sums.goods, sums.page), order.goods.amount)
    page.formula((row, _CARRIAGE), cell(sums.carriage, sums.page), order.carriage.amount)
    page.formula((row, _TOTAL), cell(sums.total, sums.page), order.total.amount)
    page.text((row, _CODE), order.total.currency)
    page.formula((row, _HOME), _at_home(plan, order, (row, _TOTAL), rates), order.home.amount)
    page.day((row, _HERE), order.arrives, "not stated")
    page.text((row, _NOTE), carriage_text(order))
    page.row += 1


def _at_home(plan: Plan, order: Order, total: Address, rates: dict[Rate, Address]) -> str | None:
    """Return the formula of an order's total in the plan's currency; None if its rates are not stated."""
    exact, formula, here = Fraction(order.total.amount), cell(total), order.total.currency
    for rate in rates_of(plan, order):
        forward = rate.of == here
        formula += f"{'*' if forward else '/'}{cell(rates[rate])}"
        exact = exact * Fraction(rate.worth) if forward else exact / Fraction(rate.worth)
        here = rate.to if forward else rate.of
    return rounded_as(formula, exact, order.home.amount) if here == order.home.currency else None


def _rates(page: Page, plan: Plan, row: int) -> dict[Rate, Address]:
    """Write the stated rates from a row on; return where each stands."""
    places = {}
    for rate in dict.fromkeys(plan.rates):
        page.text((row, _TO), f"1 {rate.of}, as of {day(rate.on)}")
        page.number((row, _LINES), rate.worth, "0.#########")
        page.text((row, _GOODS), rate.to)
        places[rate] = (row, _LINES)
        row += 1
    return places


def _missing(page: Page, plan: Plan) -> None:
    if not plan.missing:
        return
    page.wide(f"{missing_heading(plan)} ({len(plan.missing)})", bold=True)
    page.header(["part", "short", "description, what it is for, and why"])
    for each in plan.missing:
        page.text((page.row, 0), need_name(each.need))
        page.text((page.row, 1), amount_text(each.short, each.need.unit))
        words = (described(each.need), for_text([each.need], _MOST), *each.reasons)
        page.wide("; ".join(word for word in words if word), 2)
    page.row += 1


def _unknown(page: Page, plan: Plan) -> None:
    unknown = [(need, *each) for need in plan.needs for each in need.unknown]
    if not unknown:
        return
    page.wide(f"AMOUNTS NOT KNOWN ({len(unknown)}): not in this plan", bold=True)
    page.header(["part", "for", "why"])
    for need, place, reason in unknown:
        page.text((page.row, 0), need_name(need))
        page.text((page.row, 1), place_name(place))
        page.wide(reason, 2)
    page.row += 1


def _ready(page: Page, plan: Plan, readiness: Readiness) -> None:
    if readiness.circuits:
        page.wide("READY: each circuit, if it is made before all others", bold=True)
        page.header(["circuit", "first day", "here", "coming", "short", "held up by"], (2, 3, 4))
    for each in readiness.circuits:
        page.text((page.row, 0), circuit_name(each))
        page.day((page.row, 1), each.day, "parts missing" if each.short else "not known")
        for place, count in enumerate((each.here, each.coming, each.short), 2):
            page.number((page.row, place), Decimal(count))
        page.wide(gate_text(each, _MOST), 5)
    doable = readiness.doable
    page.row += 1
    page.wide("WHAT CAN BE MADE NOW, with what is on the shelf alone", bold=True)
    page.wide(f"whole circuits: {', '.join(doable.circuits) or 'none'}")
    page.wide(f"by themselves: {', '.join(doable.places) or 'none'}")
