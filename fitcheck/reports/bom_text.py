"""The bill of materials as text: the table, the pieces to cut, what could not be counted."""

from collections.abc import Iterator
from typing import Final

from fitcheck.bom.record import LEFT_OUT, LEFT_OUT_OF_NEEDS, Bom, Row
from fitcheck.reports.bom_words import amount, name_of, piece_text, price_text
from fitcheck.reports.plain import WIDTH, caution_lines, columns, count_of, first_few, paragraph, visible

_LEAST_CELL: Final = 28
_MOST_AMOUNT: Final = 20
SAID_OF_TOTALS: Final = (
    "At the cheapest unit prices that have not run out; packs, carriage and smallest orders are not in it."
)


def bom_text(bom: Bom, *, width: int = WIDTH) -> str:
    """Return the bill for people, in lines of at most `width` columns where part ids and prices let it."""
    lines = paragraph(f"{bom.build}: bill of materials, {count_of(len(bom.rows), 'line')}", width)
    if bom.rows:
        lines += ["", *_table(bom, width)]
    lines += _pieces(bom, width)
    lines += _not_counted(bom, width)
    uncounted = f"{', '.join(LEFT_OUT)}; `fitcheck order` counts all but {', '.join(LEFT_OUT_OF_NEEDS)}"
    lines += ["", *paragraph(f"Not counted here: {uncounted}.", width)]
    lines += _totals(bom, width)
    return "\n".join([*lines, *caution_lines(width)])


def _table(bom: Bom, width: int) -> list[str]:
    from tabulate import tabulate  # 10 ms to import, needed here only

    beside = [_beside(row, bom) for row in bom.rows]
    taken = max(len("quantity"), *(columns(line) for cells in beside for line in cells[0].split("\n")))
    for index in range(1, len(beside[0])):
        taken += 2 + max(len(cells[index]) for cells in beside)
    longest = max(columns(visible(name_of(row))) for row in bom.rows)
    room = max(width - taken - 2, _LEAST_CELL, longest)  # a part id that is broken cannot be copied
    rows = [[cells[0], _what(row, room), *cells[1:]] for row, cells in zip(bom.rows, beside, strict=True)]
    headers = ["quantity", "part, and what it is for", *(["each", "cost"] if bom.priced else [])]
    align = ["right", "left", "right", "right"][: len(headers)]
    made = tabulate(rows, headers, tablefmt="simple", disable_numparse=True, colalign=align)
    return [line.rstrip() for line in made.split("\n")]


def _beside(row: Row, bom: Bom) -> list[str]:
    """Return the cells beside the middle one: the amount, then price and cost, said in words if unknown."""
    quantity = "\n".join(paragraph(amount(row, bom.told_in), _MOST_AMOUNT))
    if not bom.priced:
        return [quantity]
    price = price_text(row.price, bom.told_in) if row.price is not None else "no price"
    return [quantity, price, str(row.cost) if row.cost is not None else "unknown"]


def _what(row: Row, room: int) -> str:
    """Return the middle cell: the part, its description, what it is for."""
    lines = paragraph(name_of(row), room)
    words = f"UNKNOWN: {row.description}" if row.unknown else row.description
    if words:
        lines += paragraph(words, room, "  ")
    if row.places:
        lines += paragraph(f"for {first_few(row.places)}", room, "  ", "    ")
    return "\n".join(lines)


def _pieces(bom: Bom, width: int) -> Iterator[str]:
    """Yield what to cut, longest first, unknown lengths last."""
    cut = [row for row in bom.rows if row.pieces]
    if not cut:
        return
    yield from ("", "TO CUT")
    for row in cut:
        yield from ("", *paragraph(f"{name_of(row)}: {amount(row, bom.told_in)}", width, "  "))
        for piece in sorted(row.pieces, key=lambda piece: -(piece.length.mm or 0.0)):
            yield from paragraph(piece_text(piece, bom.told_in), width, "    ", "      ")


def _not_counted(bom: Bom, width: int) -> Iterator[str]:
    if not bom.not_counted:
        return
    yield from ("", f"NOT COUNTED ({len(bom.not_counted)}): fixings of these joints", "")
    for item in bom.not_counted:
        yield from paragraph(f"{', '.join(item.at)}: {item.reason}", width, "  ", "    ")


def _totals(bom: Bom, width: int) -> Iterator[str]:
    if not bom.priced:
        yield from paragraph("Nothing is priced: the build names no offers.", width)
        return
    sums = " + ".join(map(str, bom.totals)) or "nothing has a price"
    without = f", without {count_of(bom.unpriced, 'line')} that cannot be priced" if bom.unpriced else ""
    yield ""
    yield from paragraph(f"TOTAL {visible(sums)}{without}", width)
    yield from paragraph(SAID_OF_TOTALS, width)
