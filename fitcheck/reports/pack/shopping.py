"""The shopping list as a section of the pack: the purchase plan where there are offers, else the bill of materials."""

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from fitcheck.bom.ordering.record import Line, Order, Plan, Readiness, TradeOff
from fitcheck.bom.record import LEFT_OUT, LEFT_OUT_OF_NEEDS, Bom, Row
from fitcheck.reports.bom_text import SAID_OF_TOTALS
from fitcheck.reports.bom_words import amount, name_of, piece_text, price_text
from fitcheck.reports.order_lines import line_said, order_sums
from fitcheck.reports.order_text import TRADE_OFF_HEADS, beside_lines, trade_off_cells, trade_off_notes
from fitcheck.reports.order_words import (
    LineWords,
    errors_text,
    headline,
    line_words,
    money,
    proof_text,
    ready_day,
    supplier_text,
)
from fitcheck.reports.pack.markup import BOX, heading, listed, paragraph, rich_table, safe, table
from fitcheck.reports.pack.told import UNLIMITED, told
from fitcheck.reports.plain import count_of, first_few
from fitcheck.reports.ready_text import circuit_name, gate_text

_MOST: Final = 12


def order_told(plan: Plan, readiness: Readiness, errors: int) -> Iterator[str]:
    """Yield the purchase plan: orders with boxes to tick, what is there, what is missing, when circuits are ready."""
    yield paragraph(headline(plan))
    if errors:
        yield paragraph(errors_text(errors), "alarm")
    for place, order in enumerate(plan.orders, 1):
        lines = count_of(len(order.lines), "line")
        yield heading(f"Order {place} of {len(plan.orders)}: {supplier_text(order)}, {lines}")
        yield from _order(plan, order)
    yield heading("Shelf, spares, cutting")
    yield from told(beside_lines(plan, UNLIMITED))
    yield paragraph(f"Not counted: {', '.join(LEFT_OUT_OF_NEEDS)}.")
    yield paragraph(proof_text(plan))
    yield from _ready(readiness, plan.on, errors)


def _order(plan: Plan, order: Order) -> Iterator[str]:
    if order.supplier.note:
        yield paragraph(f"note: {order.supplier.note}")
    heads = ("got", "packs", "number", "part, and what it is for", "each", "cost")
    worded = [(line, line_words(plan, order, line)) for line in order.lines]
    yield from rich_table(heads, (_line(plan, order, line, words) for line, words in worded), "lrllrr", "order")
    yield listed(order_sums(plan, order))


def _line(plan: Plan, order: Order, line: Line, words: LineWords) -> tuple[str, ...]:
    said = "".join(paragraph(each) for each in line_said(plan, order, line, words))
    what = f"<b>{safe(words.part)}</b>{said}"
    return BOX, str(line.packs), safe(words.number), what, safe(money(line.price)), safe(money(line.cost))


def _ready(readiness: Readiness, on: date, errors: int) -> Iterator[str]:
    far = f" as far as parts go ({count_of(errors, 'error')} in this build)" if errors else ""
    if readiness.circuits:
        yield heading(f"Ready{far}: each circuit, if it is made before all others")
        counts = [(each.here, each.coming, each.short) for each in readiness.circuits]
        rows = [
            (circuit_name(each), ready_day(each, on), *map(str, count), gate_text(each))
            for each, count in zip(readiness.circuits, counts, strict=True)
        ]
        yield from table(("circuit", "first day", "here", "coming", "short", "held up by"), rows, "llrrrl")
    yield heading("What can be made now, with what is on the shelf alone")
    doable = readiness.doable
    lacking = [f"{place} lacks {', '.join(parts)}" for place, parts in doable.lacking]
    more = [f"and {len(lacking) - _MOST} more that lack something"] if len(lacking) > _MOST else []
    whole = f"whole circuits: {', '.join(doable.circuits) or 'none'}"
    yield listed([whole, f"by themselves: {', '.join(doable.places) or 'none'}", *lacking[:_MOST], *more])


def trade_off_told(rows: Sequence[TradeOff], on: date) -> Iterator[str]:
    """Yield what it costs to have everything by ever later days, seen from the day `on`."""
    if rows:
        yield from table(TRADE_OFF_HEADS, trade_off_cells(rows, on), "lrrrl")
    yield from map(paragraph, trade_off_notes(rows))


def bom_told(bom: Bom, why: str) -> Iterator[str]:
    """Yield the bill of materials; `why` says why it is not planned what to buy where."""
    yield paragraph(why)
    heads = ("got", "quantity", "part, and what it is for", *(("each", "cost") if bom.priced else ()))
    yield from rich_table(heads, (_row(row, bom) for row in bom.rows), "lrlrr"[: len(heads)], "order")
    cut = [row for row in bom.rows if row.pieces]
    if cut:
        yield heading("To cut")
    for row in cut:
        yield paragraph(f"{name_of(row)}: {amount(row, bom.told_in)}")
        longest_first = sorted(row.pieces, key=lambda piece: -(piece.length.mm or 0.0))
        yield listed(piece_text(piece, bom.told_in) for piece in longest_first)
    if bom.not_counted:
        yield heading(f"Not counted ({len(bom.not_counted)}): fixings of these joints")
        yield listed(f"{', '.join(item.at)}: {item.reason}" for item in bom.not_counted)
    yield paragraph(f"Not counted: {', '.join(LEFT_OUT)}.")
    if bom.priced:
        without = f", without {count_of(bom.unpriced, 'line')} that cannot be priced" if bom.unpriced else ""
        yield paragraph(f"Total {' + '.join(map(str, bom.totals)) or 'nothing has a price'}{without}. {SAID_OF_TOTALS}")


def _row(row: Row, bom: Bom) -> tuple[str, ...]:
    words = f"UNKNOWN: {row.description}" if row.unknown else row.description
    said = [words, f"for {first_few(row.places)}" if row.places else ""]
    what = f"<b>{safe(name_of(row))}</b>" + "".join(f"<p>{safe(each)}</p>" for each in said if each)
    price = price_text(row.price, bom.told_in) if row.price is not None else "no price"
    cost = str(row.cost) if row.cost is not None else "unknown"
    return BOX, safe(amount(row, bom.told_in)), what, *((safe(price), safe(cost)) if bom.priced else ())
