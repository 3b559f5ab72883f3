"""The purchase plan as text: what to buy where, what is there, what is missing, when the circuits can be finished."""

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from fitcheck.bom.need import Need
from fitcheck.bom.ordering.record import Plan, Readiness, TradeOff
from fitcheck.bom.record import LEFT_OUT_OF_NEEDS
from fitcheck.reports.cut_text import short_lines
from fitcheck.reports.order_lines import order_lines
from fitcheck.reports.order_words import (
    amount_text,
    asked_text,
    day,
    described,
    due_text,
    errors_text,
    for_text,
    headline,
    left_out,
    missing_heading,
    money,
    need_name,
    place_name,
    proof_text,
    stock_text,
)
from fitcheck.reports.plain import WIDTH, caution_lines, count_of, paragraph
from fitcheck.reports.ready_text import ready_lines

_MOST_OFFERS: Final = 12
"""Offers not looked at that are named; the rest is counted."""
TRADE_OFF_HEADS: Final = ("all here on", "days", "cost", "orders", "proven")


def order_text(plan: Plan, readiness: Readiness, *, errors: int = 0, width: int = WIDTH) -> str:
    """Return the plan for people, in lines of at most `width` columns where tables let it.

    `errors` is how many findings at level error stand in the build: the plan then begins by saying so.
    """
    lines = paragraph(headline(plan), width)
    for words in (asked_text(plan), errors_text(errors)):
        lines += ["", *paragraph(words, width)] if words else []
    for place in range(len(plan.orders)):
        lines += order_lines(plan, place, width)
    lines += beside_lines(plan, width)
    lines += ["", *paragraph(f"Not counted: {', '.join(LEFT_OUT_OF_NEEDS)}.", width)]
    lines += ["", *paragraph(proof_text(plan), width)]
    lines += ready_lines(readiness, plan.on, width, errors)
    return "\n".join([*lines, *caution_lines(width)])


def beside_lines(plan: Plan, width: int) -> Iterator[str]:
    """Yield what a plan says beside its orders: shelf, on its way, missing, spares, not known, not looked at, cuts."""
    for section in (_shelf, _coming, _missing, _extra, _unknown, _not_looked_at, _cutting):
        yield from section(plan, width)


def trade_off_text(build: str, rows: Sequence[TradeOff], on: date, *, width: int = WIDTH) -> str:
    """Return what a build costs by the day on which everything is here, seen from the day `on`."""
    lines = paragraph(f"{build}: cost against waiting, as of {day(on)}", width)
    lines.append("")
    if rows:
        lines += _trade_offs(rows, on)
    for said in trade_off_notes(rows):
        lines += ["", *paragraph(said, width)] if rows else paragraph(said, width)
    return "\n".join([*lines, *caution_lines(width)])


def trade_off_notes(rows: Sequence[TradeOff]) -> Iterator[str]:
    """Yield what is said under the table of what waiting saves, or in its place."""
    if not rows:
        yield "No plan brings everything: there is nothing to choose from"
        return
    if not all(row.optimal for row in rows):
        yield "not proven: in the time given no cheaper plan was found, and there may be one"
    short = max(row.missing for row in rows)
    if short:
        words = f"NOT all of it: {count_of(short, 'part')} cannot be had or counted, whatever the day"
        yield f"{words} (`fitcheck order` names them)"


def trade_off_cells(rows: Sequence[TradeOff], on: date) -> list[list[str]]:
    """Return the cells of the table of what waiting saves, below `TRADE_OFF_HEADS`."""
    return [
        [day(row.finish), days_text(row, on), money(row.cost), str(row.orders), "yes" if row.optimal else "no"]
        for row in rows
    ]


def _trade_offs(rows: Sequence[TradeOff], on: date) -> list[str]:
    from tabulate import tabulate  # 10 ms to import, needed here only

    cells, align = trade_off_cells(rows, on), ("left", "right", "right", "right", "left")
    made = tabulate(cells, TRADE_OFF_HEADS, tablefmt="simple", disable_numparse=True, colalign=align)
    return [line.rstrip() for line in made.split("\n")]


def days_text(row: TradeOff, on: date) -> str:
    """Return how many days from the day `on` all is here; "" if nobody knows."""
    return str((row.finish - on).days) if row.finish is not None else ""


def _heading(text: str, width: int) -> list[str]:
    return ["", *paragraph(text, width), ""]


def _shelf(plan: Plan, width: int) -> Iterator[str]:
    taken = [each for each in plan.stock if not each.coming]
    if taken:
        yield from _heading(f"FROM THE SHELF ({len(taken)})", width)
    for each in taken:
        yield from paragraph(stock_text(each, plan.needs, plan.told_in), width, "  ", "    ")


def _coming(plan: Plan, width: int) -> Iterator[str]:
    taken = [each for each in plan.stock if each.coming]
    if taken:
        yield from _heading(f"ON ITS WAY ({len(taken)}): ordered before", width)
    for each in taken:
        what = stock_text(each, plan.needs, plan.told_in)
        yield from paragraph(f"{what}; {due_text(each, plan.on)}", width, "  ", "    ")


def _missing(plan: Plan, width: int) -> Iterator[str]:
    if plan.missing:
        yield from _heading(f"{missing_heading(plan)} ({len(plan.missing)})", width)
    for each in plan.missing:
        short = f"{need_name(each.need)}: {amount_text(each.short, each.need.unit)} short"
        yield from paragraph(short, width, "  ", "    ")
        for words in (described(each.need), for_text([each.need]), *each.reasons):
            yield from paragraph(words, width, "    ", "      ") if words else ()


def _extra(plan: Plan, width: int) -> Iterator[str]:
    extra = [need for need in plan.needs if need.spare or need.why]
    if extra:
        yield from _heading("SPARES AND WORK: what the bill does not count", width)
    for need in extra:
        yield from paragraph(_how_many(need), width, "  ", "    ")
        for why in need.why:
            yield from paragraph(why, width, "    ", "      ")


def _how_many(need: Need) -> str:
    total = f"{need_name(need)}: {amount_text(need.quantity, need.unit)}"
    return f"{total}, of them {need.spare} spare" if need.spare else total


def _unknown(plan: Plan, width: int) -> Iterator[str]:
    unknown = [(need, *each) for need in plan.needs for each in need.unknown]
    if unknown:
        yield from _heading(f"AMOUNTS NOT KNOWN ({len(unknown)}): not in this plan", width)
    for need, place, reason in unknown:
        yield from paragraph(f"{need_name(need)}, for {place_name(place)}: {reason}", width, "  ", "    ")


def _not_looked_at(plan: Plan, width: int) -> Iterator[str]:
    offers = left_out(plan)
    if offers:
        yield from _heading(f"NOT LOOKED AT ({len(offers)}): offers and deliveries", width)
    for offer in offers[:_MOST_OFFERS]:
        yield from paragraph(f"{offer.what}: {offer.reason}", width, "  ", "    ")
    if len(offers) > _MOST_OFFERS:
        yield f"  and {len(offers) - _MOST_OFFERS} more"


def _cutting(plan: Plan, width: int) -> Iterator[str]:
    if plan.cuts:
        yield from _heading("CUTTING", width)
    for part in plan.cuts:
        yield from short_lines(part, width)
