"""Small invented shops for tests of the purchase plan: needs and offers in a few words."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from fitcheck.bom.need import Need, Use
from fitcheck.bom.nesting.record import Cut
from fitcheck.bom.ordering.market import Shop, Terms
from fitcheck.bom.ordering.record import Line, Plan
from fitcheck.catalog.money import Money, parse_money
from fitcheck.catalog.offers import Break, Offer, Offers, Shipping, Supplier
from fitcheck.catalog.part import Part, part_from_row
from fitcheck.catalog.rates import Rate, Rates
from fitcheck.catalog.shelf import Layer, Shelf
from fitcheck.catalog.stock import Coming, Stock, Stocked

DAY = 86_400.0
ON = datetime(2026, 11, 30, 10, 0)
"""A Monday morning."""


def need(part: str, quantity: int, unit: str = "each") -> Need:
    """Return a need for so many of a part, all for one place."""
    return Need(part, "nut", f"what {part} is", unit, (Use("here", quantity),))  # type: ignore[arg-type]


def lengths(part: str, *mm: float) -> Need:
    """Return a need for pieces of tube."""
    return Need(part, "tube", f"what {part} is", "mm", (), tuple(Cut(f"line_{n}", each) for n, each in enumerate(mm)))


def supplier(tag: str, **more: Any) -> Supplier:
    """Return a supplier: in GBP, two days, no carriage, unless said otherwise."""
    return Supplier(tag, tag.title(), **{"currency": "GBP", "lead_time": 2 * DAY, **more})


def flat(amount: str, free_over: str | None = None) -> Shipping:
    """Return carriage of one amount, free from goods worth so much on."""
    return Shipping(parse_money(amount), (), parse_money(free_over) if free_over is not None else None)


def offer(seller: Supplier, part: str, price: str, **more: Any) -> Offer:
    """Return an offer; `breaks` as {packs: amount}."""
    breaks = tuple(
        Break(packs, Money(Decimal(amount), seller.currency)) for packs, amount in more.pop("breaks", {}).items()
    )
    return Offer(part, seller, Money(Decimal(price), seller.currency), breaks=breaks, **more)


def part(part_id: str, kind: str = "nut", **row: Any) -> Part:
    """Return a part; nuts have the one port that they need."""
    ports = {"nut": {"thread": "M10x1", "gender": "external", "seat": "bubble", "tube": 4.75}} if kind == "nut" else {}
    return part_from_row(part_id, {"kind": kind, "ports": ports, **row}, "house")


def shelf(*parts: Part) -> Shelf:
    """Return a catalog of these parts alone."""
    by_id = {each.id: each for each in parts}
    return Shelf([Layer("house", {each.id: each.kind for each in parts}, by_id.__getitem__)])


def shop(
    needs: Sequence[Need],
    offers: Sequence[Offer],
    *,
    stock: Sequence[Stocked] = (),
    coming: Sequence[Coming] = (),
    parts: Sequence[Part] = (),
    rates: Sequence[Rate] = (),
) -> Shop:
    """Return what a plan is made from."""
    suppliers = {each.supplier.tag: each.supplier for each in offers}
    return Shop("Test", tuple(needs), Offers(suppliers, offers, Rates(rates)), Stock(stock, coming), shelf(*parts))


def terms(**more: Any) -> Terms:
    """Return terms on a Monday morning."""
    return Terms(**{"on": ON, **more})


def bought(plan: Plan) -> dict[tuple[str, str], int]:
    """Return the packs of each supplier and part."""
    return {(order.supplier.tag, line.offer.part): line.packs for order in plan.orders for line in order.lines}


def only(plan: Plan) -> Line:
    """Return the one line of a plan."""
    (line,) = (line for order in plan.orders for line in order.lines)
    return line
