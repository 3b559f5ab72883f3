"""The purchase plan as JSON. Money is text, `12.50 GBP`, so that no reader's floating point changes it."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from fitcheck.bom.cutting import CutPart
from fitcheck.bom.need import Need
from fitcheck.bom.nesting.record import Bar
from fitcheck.bom.ordering.record import CircuitReady, FromStock, Line, Order, Plan, Readiness, TradeOff
from fitcheck.bom.record import LEFT_OUT_OF_NEEDS
from fitcheck.catalog.money import Money
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.order_words import (
    carriage_text,
    filled_up,
    headline,
    least_gap,
    left_out,
    length_of,
    line_words,
    money,
    proof_text,
    rates_of,
)
from fitcheck.reports.plain_json import json_text


def order_json(plan: Plan, readiness: Readiness, *, errors: int | None = None) -> str:
    """Return the plan as JSON text; `errors` is how many findings at level error stand in the build, None if untold."""
    return json_text(order_value(plan, readiness, errors))


def order_value(plan: Plan, readiness: Readiness, errors: int | None = None) -> dict[str, Any]:
    """Return the plan as plain values, its keys in the order in which they are written. Days are ISO 8601, or null."""
    return {
        "build": plan.build,
        "on": _day(plan.on),
        "by": _day(plan.by),
        "errors": errors,
        "headline": headline(plan),
        "cost": money(plan.cost),
        "finish": _day(plan.finish),
        "complete": plan.complete,
        "orders": [_order(plan, order) for order in plan.orders],
        "shelf": [_stock(each) for each in plan.stock if not each.coming],
        "coming": [_coming(each) for each in plan.stock if each.coming],
        "missing": [
            {**_named(each.need), "short": each.short, "unit": _unit(each.need), "reasons": list(each.reasons)}
            for each in plan.missing
        ],
        "needs": [_need(need) for need in plan.needs],
        "not_looked_at": [{"what": offer.what, "reason": offer.reason} for offer in left_out(plan)],
        "cutting": [_cut(part) for part in plan.cuts],
        "rates": [{"of": rate.of, "worth": f"{rate.worth:f} {rate.to}", "on": _day(rate.on)} for rate in plan.rates],
        "proof": _proof(plan),
        "ready": [_ready(circuit) for circuit in readiness.circuits],
        "now": {
            "circuits": list(readiness.doable.circuits),
            "places": list(readiness.doable.places),
            "lacking": [{"place": place, "parts": list(parts)} for place, parts in readiness.doable.lacking],
        },
        "not_counted": list(LEFT_OUT_OF_NEEDS),
        "caution": CAUTION,
    }


def trade_off_json(build: str, rows: Sequence[TradeOff], on: date) -> str:
    """Return as JSON text what a build costs by the day on which everything is here, seen from the day `on`."""
    values = [
        {
            "finish": _day(row.finish),
            "days": (row.finish - on).days if row.finish is not None else None,
            "cost": money(row.cost),
            "orders": row.orders,
            "proven": row.optimal,
            "missing": row.missing,
        }
        for row in rows
    ]
    return json_text({"build": build, "on": _day(on), "trade_offs": values, "caution": CAUTION})


def _day(value: date | None) -> str | None:
    return date.isoformat(value)[:10] if value is not None else None


def _money(value: Money | None) -> str | None:
    return money(value) if value is not None else None


def _order(plan: Plan, order: Order) -> dict[str, Any]:
    supplier = order.supplier
    return {
        "supplier": supplier.tag,
        "name": supplier.name,
        "note": supplier.note,
        "lines": [_line(plan, order, line) for line in order.lines],
        "goods": money(order.goods),
        "minimum_order": _money(supplier.minimum_order),
        "only_to_fill_up": _money(filled_up(order)),
        "carriage": money(order.carriage) if supplier.shipping is not None else None,
        "carriage_because": carriage_text(order),
        "weight_kg": order.weight,
        "unweighed": list(order.unweighed),
        "total": money(order.total),
        "home_total": money(order.home),
        "rates": [str(rate) for rate in rates_of(plan, order)],
        "arrives": _day(order.arrives),
        "part_deliveries": supplier.part_deliveries,
    }


def _line(plan: Plan, order: Order, line: Line) -> dict[str, Any]:
    words, offer = line_words(plan, order, line), line.offer
    return {
        "number": offer.number,
        "part": offer.part,
        "description": words.description or None,
        "packs": line.packs,
        "pack": offer.pack,
        "length_mm": length_of(line),
        "to_length": offer.to_length,
        "lengths_mm": list(line.lengths),
        "contents_mm3": offer.contents,
        "price": money(line.price),
        "cost": money(line.cost),
        "serves": [each._asdict() for each in line.serves],
        "for": list(words.places),
        "over": line.over,
        "arrives": _day(words.arrives),
        "arrives_alone": _day(line.arrives),
        "valid_until": _day(offer.valid_until),
        "note": offer.note,
    }


def _stock(taken: FromStock) -> dict[str, Any]:
    return {
        "part": taken.part,
        "quantity": taken.quantity,
        "lengths_mm": list(taken.lengths),
        "serves": taken.serves._asdict(),
    }


def _coming(taken: FromStock) -> dict[str, Any]:
    return {**_stock(taken), "due": _day(taken.due), "supplier": taken.supplier}


def _named(need: Need) -> dict[str, Any]:
    return {"part": need.part, "kind": need.kind, "description": need.description, "unlisted": need.unlisted}


def _unit(need: Need) -> str:
    """Return what a need's quantity counts: of cut goods it is pieces, whatever their length."""
    return "pieces" if need.unit == "mm" else need.unit


def _need(need: Need) -> dict[str, Any]:
    value = {
        **_named(need),
        "quantity": need.quantity,
        "unit": _unit(need),
        "spare": need.spare,
        "uses": [use._asdict() for use in need.uses],
        "unknown": [{"place": place, "reason": reason} for place, reason in need.unknown],
        "why": list(need.why),
    }
    if need.unit == "mm":
        value["pieces"] = [{"for": piece.tag, "length_mm": piece.mm} for piece in need.pieces]
    return value


def _cut(part: CutPart) -> dict[str, Any]:
    return {
        "part": part.part,
        "description": part.description,
        "bars": [_bar(part, bar) for bar in part.nest.bars] if part.nest is not None else [],
        "left_whole": [_bar(part, bar) for bar in part.nest.whole] if part.nest is not None else [],
        "by_the_metre": [{"for": cut.tag, "length_mm": cut.mm} for cut in part.by_the_metre],
        "left_out": [{"for": piece.what, "reason": piece.reason} for piece in part.left_out],
    }


def _bar(part: CutPart, bar: Bar) -> dict[str, Any]:
    return {
        "from": "offcut" if bar.source.offcut else "length",
        "offer": None if bar.source.offcut else part.coils[bar.source.number].tag or None,
        "length_mm": bar.mm,
        "pieces": [{"for": cut.tag, "length_mm": cut.mm} for cut in bar.cuts],
        "left_mm": bar.left_mm,
    }


def _proof(plan: Plan) -> dict[str, Any]:
    return {
        "optimal": plan.bound.optimal,
        "least_cost": money(Money(plan.bound.least, plan.cost.currency)),
        "gap_percent": None if plan.bound.optimal else max(float(least_gap(plan)), 0.0),
        "seconds": plan.bound.seconds,
        "says": proof_text(plan),
    }


def _ready(circuit: CircuitReady) -> dict[str, Any]:
    return {
        "circuit": circuit.circuit or None,
        "day": _day(circuit.day),
        "held_up_by": [{"part": part, "why": why} for part, why in circuit.gate],
        "here": circuit.here,
        "coming": circuit.coming,
        "short": circuit.short,
    }
