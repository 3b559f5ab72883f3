"""Why something cannot be had: need by need, from whom it is missing."""

from collections.abc import Iterator
from typing import Final

from fitcheck.bom.need import Need
from fitcheck.bom.ordering.market import MOST_PACKS, Market
from fitcheck.bom.ordering.problem import Answer
from fitcheck.bom.ordering.record import Missing
from fitcheck.measures import whole

_MOST_TAGS: Final = 4


def missing(market: Market, answer: Answer) -> tuple[Missing, ...]:
    """Return the needs that an answer does not meet, and those that no catalog has a part for, with the reasons.

    Spare pieces of tube that cannot be cut are not missed: the cutting list leaves them out.
    """
    found = []
    for need in market.shop.needs:
        if need.part is None and need.quantity:
            found.append(Missing(need, need.quantity, ("no catalog has such a part",)))
        elif need.unlisted:
            found.append(Missing(need, need.quantity or len(need.unknown), (need.description,)))
    for number, need in enumerate(market.wants):
        cut = market.cuts.get(number)
        short = answer.short[number] if cut is None or cut.pieces else 0
        short += len(cut.dropped) if cut is not None else 0
        if short:
            found.append(Missing(need, short, tuple(_reasons(market, answer, number, need))))
    order = {id(need): place for place, need in enumerate(market.shop.needs)}
    return tuple(sorted(found, key=lambda item: order[id(item.need)]))


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
    cut = market.cuts.get(number)
    if cut is not None and cut.dropped and (cut.classes or cut.offcuts):
        tags = ", ".join(f"{piece.tag} {whole(piece.mm, market.shop.told_in)}" for piece in cut.dropped[:_MOST_TAGS])
        more = f" and {len(cut.dropped) - _MOST_TAGS} more" if len(cut.dropped) > _MOST_TAGS else ""
        why = "" if cut.sets.all_tried else "; not all ways of cutting were tried"
        yield f"the lengths to be had are not enough for {tags}{more}{why}"
    if not answer.sure:
        yield "not proven in the time given: more of it may be to be had"


def _seller(tag: str, number: str | None) -> str:
    return f"{tag} {number}" if number else tag


def _not_more(market: Market, answer: Answer, place: int) -> str:
    """Return why no more is bought of a lot that is on offer."""
    lot = market.problem.lots[place]
    seller = market.problem.sellers[lot.seller]
    stock = market.lots[place][0].stock
    if stock is not None and answer.packs[place] >= stock:
        packs = "packs" if stock != 1 else "pack"
        return f"has {stock} {packs} of {lot.holds}" if lot.holds != 1 else f"has {stock}"
    if seller.minimum and not any(
        count for other, count in zip(market.problem.lots, answer.packs, strict=True) if other.seller == lot.seller
    ):
        minimum = market.sellers[lot.seller].minimum_order
        return f"its smallest order of {minimum} is not reached by all that it could send"
    weight = seller.packing + lot.weight
    for other, count in zip(market.problem.lots, answer.packs, strict=True):
        weight += other.weight * count if other.seller == lot.seller else 0
    if seller.steps and weight > seller.steps[-1].up_to:
        return f"an order of more than {seller.steps[-1].up_to / 1e6:g} kg is not taken"
    if market.goods[lot.good].mm is not None:
        return "its lengths are not enough"
    if answer.packs[place] >= MOST_PACKS:
        return f"no more than {MOST_PACKS} packs are ordered"
    return "cannot send more"
