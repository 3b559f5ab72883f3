"""What an exchange of parts changes in the purchase plan: cost, days, what cannot be had. Text and plain values."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from fitcheck.bom.ordering.change import DayChange, PlanChange
from fitcheck.catalog.money import Money
from fitcheck.reports.plain import count_of, paragraph

Purchase = PlanChange | str | None
"""What changes in the plan; or in words why nobody can say; None if nothing is on offer."""


def purchase_lines(purchase: Purchase, width: int) -> Iterator[str]:
    """Yield what changes in the purchase plan, in lines of at most `width` columns."""
    if purchase is None:
        return
    yield from ("", "WHAT TO BUY", "")
    if isinstance(purchase, str):
        yield from paragraph(f"not compared: {purchase}", width, "  ", "    ")
        return
    if purchase.empty:
        yield from paragraph(f"{purchase.cost[1]} as before, {_finished(purchase.finish[1])}", width, "  ", "    ")
        return
    for sentence in _sentences(purchase):
        yield from paragraph(sentence, width, "  ", "    ")


def _sentences(purchase: PlanChange) -> Iterator[str]:
    before, after = purchase.cost
    proven = "" if purchase.proven else " (not proven to be the least)"
    yield f"cost: {before} -> {after}{_difference(before, after)}, carriage in it{proven}"
    if purchase.orders[0] != purchase.orders[1]:
        yield f"orders: {purchase.orders[0]} -> {purchase.orders[1]}"
    if purchase.finish[0] != purchase.finish[1]:
        yield f"all here: {_day(purchase.finish[0])} -> {_day(purchase.finish[1])}"
    for circuit in purchase.circuits:
        yield f"{circuit.circuit} can be finished: {_day(circuit.before)} -> {_day(circuit.after)}{_later(circuit)}"
    for part in purchase.missing_new:
        yield f"cannot be had: {part}"
    if purchase.missing_both:
        parts = count_of(purchase.missing_both, "part")
        yield f"{parts} cannot be had before or after: neither sum has them in it"
    for part in purchase.missing_gone:
        yield f"no longer missing: {part}"


def _difference(before: Money, after: Money) -> str:
    if before.currency != after.currency or before.amount == after.amount:
        return ""
    return f" ({after.amount - before.amount:+} {after.currency})"


def _later(circuit: DayChange) -> str:
    if circuit.before is None or circuit.after is None:
        return ""
    days = (circuit.after - circuit.before).days
    return f" ({count_of(abs(days), 'day')} {'later' if days > 0 else 'sooner'})"


def _finished(day: date | None) -> str:
    return f"all here on {day}" if day is not None else "not all of it can be had"


def _day(day: date | None) -> str:
    return str(day) if day is not None else "no known day"


def purchase_value(purchase: Purchase) -> dict[str, Any]:
    """Return the changes as plain values under the key `purchase`; nothing if nothing is on offer."""
    if purchase is None:
        return {}
    if isinstance(purchase, str):
        return {"purchase": {"unknown": purchase}}
    return {
        "purchase": {
            "cost_before": str(purchase.cost[0]),
            "cost_after": str(purchase.cost[1]),
            "orders_before": purchase.orders[0],
            "orders_after": purchase.orders[1],
            "finish_before": _iso(purchase.finish[0]),
            "finish_after": _iso(purchase.finish[1]),
            "circuits": [
                {"circuit": each.circuit, "before": _iso(each.before), "after": _iso(each.after)}
                for each in purchase.circuits
            ],
            "missing_both": purchase.missing_both,
            "missing_gone": list(purchase.missing_gone),
            "missing_new": list(purchase.missing_new),
            "optimal": purchase.proven,
        }
    }


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day is not None else None
