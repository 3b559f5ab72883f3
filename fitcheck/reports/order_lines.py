"""One order of a purchase plan as text: a table where it fits, a list on narrow terminals, then the sums."""

from collections.abc import Iterator
from typing import Final

from fitcheck.bom.ordering.record import Line, Order, Plan
from fitcheck.reports.order_words import (
    LineWords,
    arrives_text,
    carriage_text,
    column_width,
    day,
    filled_up,
    for_text,
    home_text,
    instead_text,
    line_words,
    money,
    supplier_text,
)
from fitcheck.reports.plain import columns, count_of, paragraph, visible

_LEAST_CELL: Final = 28
_HEADERS: Final = ("packs", "number", "part, and what it is for", "each", "cost")


def order_lines(plan: Plan, place: int, width: int) -> Iterator[str]:
    """Yield the order at one place of the plan, from 0 on: its supplier, its lines, what it comes to."""
    order = plan.orders[place]
    lines = count_of(len(order.lines), "line")
    heading = f"ORDER {place + 1} of {len(plan.orders)}: {supplier_text(order)}, {lines}"
    yield from ("", *paragraph(heading, width, "", "  "))
    if order.supplier.note:
        yield from paragraph(f"note: {order.supplier.note}", width, "  ", "    ")
    yield from ("", *_lines(plan, order, width), "")
    for words in order_sums(plan, order):
        yield from paragraph(words, width, "  ", "    ")


def order_sums(plan: Plan, order: Order) -> Iterator[str]:
    """Yield what an order comes to, what its carriage is, when it is here."""
    least = order.supplier.minimum_order
    yield f"goods {money(order.goods)}{f'; smallest order {money(least)}' if least is not None else ''}"
    more = filled_up(order)
    if more is not None:
        yield f"of this {money(more)} is bought only to reach the smallest order or free carriage"
    yield f"carriage {money(order.carriage)}: {carriage_text(order)}"
    home = home_text(plan, order)
    yield f"total {money(order.total)}{f' = {home}' if home else ''}"
    yield arrives_text(order)


def _lines(plan: Plan, order: Order, width: int) -> list[str]:
    rows = [(line, line_words(plan, order, line)) for line in order.lines]
    numbers = any(words.number for _, words in rows)
    beside = [_beside(line, words, numbers) for line, words in rows]
    headers = [name for name in _HEADERS if numbers or name != "number"]
    aside = [[name, *(cells[name] for cells in beside)] for name in headers if name != _HEADERS[2]]
    room = width - sum(2 + column_width(*cells) for cells in aside)
    if room < max(_LEAST_CELL, *(columns(visible(words.part)) for _, words in rows)):
        return [text for line, words in rows for text in _listed(plan, order, line, words, width)]
    cells = [{**cells, _HEADERS[2]: _what(plan, order, row, room)} for row, cells in zip(rows, beside, strict=True)]
    return _table([[row[name] for name in headers] for row in cells], headers)


def _table(rows: list[list[str]], headers: list[str]) -> list[str]:
    from tabulate import tabulate  # 10 ms to import, needed here only

    align = ["right", *["left"] * (len(headers) - 3), "right", "right"]
    made = tabulate(rows, headers, tablefmt="simple", disable_numparse=True, colalign=align)
    return [line.rstrip() for line in made.split("\n")]


def _beside(line: Line, words: LineWords, numbers: bool) -> dict[str, str]:
    """Return the cells beside the middle one, by the names of their columns."""
    cells = {"packs": str(line.packs), "each": visible(money(line.price)), "cost": visible(money(line.cost))}
    return cells | ({"number": visible(words.number)} if numbers else {})


def _what(plan: Plan, order: Order, row: tuple[Line, LineWords], room: int) -> str:
    """Return the middle cell: the part, then what there is to say about it."""
    line, words = row
    lines = paragraph(words.part, room)
    for said in line_said(plan, order, line, words):
        lines += paragraph(said, room, "  ", "    ")
    return "\n".join(lines)


def _listed(plan: Plan, order: Order, line: Line, words: LineWords, width: int) -> Iterator[str]:
    """Yield a line without a table, for where it does not fit."""
    named = f"{words.number}: {words.part}" if words.number else words.part
    yield from paragraph(f"{line.packs} x {named}", width, "  ", "    ")
    for said in (*line_said(plan, order, line, words), f"{money(line.price)} each, cost {money(line.cost)}"):
        yield from paragraph(said, width, "    ", "      ")


def line_said(plan: Plan, order: Order, line: Line, words: LineWords) -> Iterator[str]:
    """Yield what there is to say of a line after its part: description, pack, what it is for, notes."""
    offer = line.offer
    found = [words.description, words.pack]
    found += [instead_text(plan, words.instead)] if words.instead else []
    found += [for_text(words.needs), words.over]
    found += [f"here on {day(words.arrives)}"] if words.arrives not in (order.arrives, None) else []
    found += [f"price holds until {day(offer.valid_until)}"] if offer.valid_until is not None else []
    found += [f"note: {offer.note}"] if offer.note else []
    return (said for said in found if said)
