"""What is on offer, on the shelf or on its way and is not looked at, and why."""

from collections.abc import Iterator

from fitcheck.bom.cutting import LeftOut
from fitcheck.bom.ordering.market import Market


def overlooked(market: Market) -> Iterator[LeftOut]:
    """Yield the offers and deliveries that a plan did not look at, and what nobody can make sense of."""
    for part, refusals in market.refused.items():
        for offer, reason in refusals:
            number = f" {offer.number}" if offer.number else ""
            yield LeftOut(f"{offer.supplier.tag}{number}, {part}", reason)
    for entry in market.late:
        yield LeftOut(f"on its way, {entry.part}", f"due {entry.due}" if entry.due is not None else "nobody knows when")
    yield from _unknown(market)
    yield from _without_amount(market)


def _unknown(market: Market) -> Iterator[LeftOut]:
    """Yield what no catalog has and nobody needs: a slip of the pen, mostly."""
    shelf, needed = market.shop.shelf, {need.part for need in market.shop.needs}
    places = [("on offer", market.shop.offers.parts), ("in the stock file", market.shop.stock.parts)]
    for place, parts in places:
        for part in parts:
            if part not in shelf and part not in needed:
                yield LeftOut(f"{place}, {part}", "no catalog has such a part")


def _without_amount(market: Market) -> Iterator[LeftOut]:
    """Yield what is there of cut goods without lengths, and of fluid without contents."""
    units = {part: need.unit for need, parts in zip(market.wants, market.parts, strict=True) for part in parts}
    for place, entries in (("on the shelf", market.shop.stock.entries), ("on its way", market.coming)):
        for entry in entries:
            unit, part = units.get(entry.part), market.shop.shelf.get(entry.part)
            if entry.quantity and unit == "mm":
                yield LeftOut(f"{place}, {entry.part}", "how long the pieces are is not given: `lengths`")
            elif entry.quantity and unit == "ml" and (part is None or part.volume is None):
                yield LeftOut(f"{place}, {entry.part}", "how much it is is not given: `contents`")
