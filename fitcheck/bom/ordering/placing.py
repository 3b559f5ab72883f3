"""A plan's orders as entries of the stock file: what is coming once they are placed."""

from collections.abc import Collection, Iterator

from fitcheck.bom.ordering.record import Line, Order, Plan
from fitcheck.catalog.stock import Coming


def placed(plan: Plan, suppliers: Collection[str] = ()) -> tuple[Coming, ...]:
    """Return what comes of a plan's orders from these suppliers, by tag; of all of them if none are named."""
    return tuple(
        entry
        for order in plan.orders
        if not suppliers or order.supplier.tag in suppliers
        for entry in _entries(plan, order)
    )


def _entries(plan: Plan, order: Order) -> Iterator[Coming]:
    units = {need.part: need.unit for need in plan.needs}
    for line in order.lines:
        unit = next((units[serves.part] for serves in line.serves if serves.part in units), "each")
        yield Coming(
            line.offer.part,
            *_how_much(line, unit),
            supplier=order.supplier.tag,
            number=line.offer.number,
            ordered=plan.on,
            due=order.day_of(line),
        )


def _how_much(line: Line, unit: str) -> tuple[int, tuple[float, ...], float | None]:
    """Return pieces, lengths [mm] and contents [mm3] of a line."""
    offer = line.offer
    if line.lengths:
        return 0, line.lengths, None
    if unit == "ml" and offer.contents is not None:
        return 0, (), offer.contents * line.pieces
    return line.pieces, (), None
