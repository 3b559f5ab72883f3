"""Why something cannot be had: need by need, from whom it is missing."""

from collections.abc import Iterator

from fitcheck.bom.need import Need
from fitcheck.bom.ordering.market import Market
from fitcheck.bom.ordering.problem import Answer
from fitcheck.bom.ordering.record import Missing


def missing(market: Market, answer: Answer) -> tuple[Missing, ...]:
    """Return the needs that an answer does not meet, and those that no catalog has a part for, with the reasons."""
    short = {id(need): count for need, count in zip(market.wants, answer.short, strict=True) if count}
    found = []
    for need in market.shop.needs:
        if need.part is None and need.quantity:
            found.append(Missing(need, need.quantity, ("no catalog has such a part",)))
        elif need.unlisted:
            found.append(Missing(need, need.quantity, (need.description,)))
        elif id(need) in short:
            number = market.wants.index(need)
            found.append(Missing(need, short[id(need)], tuple(_reasons(market, answer, number, need))))
    return tuple(found)


def _reasons(market: Market, answer: Answer, number: int, need: Need) -> Iterator[str]:
    """Yield why a need is short: part by part, offer by offer."""
    parts = market.parts[number]
    sold = False
    for part in parts:
        lots = [(place, offer) for place, (offer, _) in enumerate(market.lots) if offer.part == part]
        sold = sold or bool(lots) or bool(market.refused.get(part))
        named = "" if part == need.part else f"{part}: "
        for place, offer in lots:
            yield f"{named}{_seller(offer.supplier.tag, offer.number)}: {_not_more(market, answer, place)}"
        for refused in market.refused.get(part, ()):
            yield f"{named}{_seller(refused.offer.supplier.tag, refused.offer.number)}: {refused.reason}"
        for entry in market.late:
            if entry.part == part:
                yield f"{named}on its way, " + (f"due {entry.due}" if entry.due is not None else "on no known day")
    if not sold:
        yield "no supplier in the offer files has it"
    if need.unit == "mm" and not market.cuts[number].sets.sets and market.cuts[number].classes:
        longest = max(piece.mm for piece in need.pieces)
        yield f"the lengths to be had are not enough for its pieces, the longest of them {longest:.0f} mm"


def _seller(tag: str, number: str | None) -> str:
    return f"{tag} {number}" if number else tag


def _not_more(market: Market, answer: Answer, place: int) -> str:
    """Return why no more is bought of a lot that is on offer."""
    lot = market.problem.lots[place]
    seller = market.problem.sellers[lot.seller]
    if lot.stock is not None and answer.packs[place] >= lot.stock:
        packs = "packs" if lot.stock != 1 else "pack"
        return f"has {lot.stock} {packs} of {lot.holds}" if lot.holds != 1 else f"has {lot.stock}"
    if seller.minimum and not any(
        count for other, count in zip(market.problem.lots, answer.packs, strict=True) if other.seller == lot.seller
    ):
        minimum = market.sellers[lot.seller].minimum_order
        return f"its smallest order of {minimum} is not reached by all that it could send"
    if seller.steps:
        return f"an order of more than {seller.steps[-1].up_to / 1e6:g} kg is not taken"
    return "its lengths are not enough" if market.goods[lot.good].mm is not None else "cannot send more"
