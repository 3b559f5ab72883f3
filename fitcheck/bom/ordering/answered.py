"""An answer in whole numbers put back into words: orders with their lines, what comes off the shelf, what is cut."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from typing import Final

from fitcheck.bom.cutting import CutPart, LeftOut
from fitcheck.bom.need import Need
from fitcheck.bom.nesting.nest import nest
from fitcheck.bom.nesting.record import Bar, Coil
from fitcheck.bom.ordering.cut_goods import Offcut
from fitcheck.bom.ordering.market import Market
from fitcheck.bom.ordering.missing import missing
from fitcheck.bom.ordering.overlooked import overlooked
from fitcheck.bom.ordering.problem import MONEY, Answer, carriage, cost
from fitcheck.bom.ordering.record import Bound, FromStock, Line, Order, Plan, Serves
from fitcheck.catalog.money import Money
from fitcheck.catalog.rates import Rate
from fitcheck.catalog.stock import Coming

_CENT: Final = Decimal("0.01")
_CUTTING: Final = 2.0
"""Seconds in which the lengths that are bought are laid out once more."""
_Cut = tuple[CutPart, tuple[Offcut, ...]]
"""The cutting list of one need, and the lengths off the shelf and on their way that are cut into."""


def planned(market: Market, answer: Answer) -> Plan:
    """Return the plan that an answer to a market's problem stands for."""
    lots = [count * lot.holds for count, lot in zip(answer.packs, market.problem.lots, strict=True)]
    cuts = {number: _cut(market, answer, number, lots) for number in market.cuts}
    shares = _Shares(market, answer, cuts)
    orders = tuple(_order(market, answer, shares, number) for number in range(len(market.sellers)))
    orders = tuple(order for order in orders if order.lines)
    short = missing(market, answer)
    stock = tuple(shares.stock)
    total = sum((order.home.amount for order in orders), Decimal("0.00"))
    exact = cost(market.problem, answer.packs) or 0
    optimal = answer.least >= exact and answer.sure and all(cut.all_tried for cut in market.cuts.values())
    least = total if optimal else min(total, (Decimal(answer.least) / MONEY).quantize(_CENT, ROUND_HALF_UP))
    return Plan(
        build=market.shop.build,
        on=market.terms.on.date(),
        needs=market.shop.needs,
        orders=orders,
        stock=stock,
        missing=short,
        cost=Money(total, market.currency),
        finish=_finish(market, orders, stock) if not short and not _unknown(market) else None,
        bound=Bound(least, optimal, market.terms.seconds, _why_open(market, answer)),
        cuts=tuple(part for part, _ in cuts.values()),
        left_out=tuple(overlooked(market)),
        rates=_rates(market, orders),
        by=market.terms.by,
        told_in=market.shop.told_in,
    )


class _Shares:
    """Which need takes what from where: off the shelf first, then what comes, then what is bought, the earliest first.

    `serves` and `over` are by lot: whom it serves, and how much of it nobody needs.
    """

    def __init__(self, market: Market, answer: Answer, cuts: Mapping[int, _Cut]) -> None:
        self.stock: list[FromStock] = []
        self.serves: dict[int, list[Serves]] = defaultdict(list)
        self.over: dict[int, int] = {}
        for good in range(len(market.goods)):
            self._share(market, answer, good)
        for number, (_, offcuts) in cuts.items():
            self.stock += [_length(market, market.wants[number], offcut) for offcut in offcuts]

    def _share(self, market: Market, answer: Answer, good: int) -> None:
        wants = [[number, count] for number, of, count in answer.flows if of == good]
        what = market.goods[good]
        for count, entry in market.held(what):
            for serves in _taken(market, wants, what.part, count):
                self.stock.append(_from(market, what.part, serves, entry))
        lots = [number for number, lot in enumerate(market.problem.lots) if lot.good == good and answer.packs[number]]
        for number in sorted(lots, key=lambda number: market.lots[number][1] or date.max):
            count = answer.packs[number] * market.problem.lots[number].holds
            self.serves[number] = list(_taken(market, wants, what.part, count))
            self.over[number] = count - sum(serves.quantity for serves in self.serves[number])


def _length(market: Market, need: Need, offcut: Offcut) -> FromStock:
    """Return a length that is cut into for a need, off the shelf or out of what is coming."""
    assert need.part is not None
    serves = Serves(need.part, 1, offcut.part != need.part)
    return _from(market, offcut.part, serves, offcut.coming, (offcut.mm,))


def _from(
    market: Market, part: str, serves: Serves, entry: Coming | None, lengths: tuple[float, ...] = ()
) -> FromStock:
    """Return what is taken off the shelf, or out of the delivery `entry`."""
    if entry is None:
        return FromStock(part, serves.quantity, serves, lengths)
    return FromStock(part, serves.quantity, serves, lengths, True, entry.due, entry.supplier)


def _taken(market: Market, wants: list[list[int]], part: str, count: int) -> list[Serves]:
    """Return what each want takes of so many pieces, and lower what it still wants by it."""
    found = []
    for entry in wants:
        number, open_ = entry
        taken = min(open_, count)
        if taken:
            wanted = market.wants[number].part or ""
            found.append(Serves(wanted, taken, wanted != part))
            entry[1] -= taken
            count -= taken
    return found


def _order(market: Market, answer: Answer, shares: _Shares, seller: int) -> Order:
    supplier = market.sellers[seller]
    lots = market.problem.lots
    numbers = [number for number, lot in enumerate(lots) if lot.seller == seller and answer.packs[number]]
    lines = tuple(_line(market, answer, shares, number) for number in numbers)
    goods = _sum((line.cost for line in lines), supplier.currency)
    exact = [(lots[number], answer.packs[number]) for number in numbers]
    weight = sum(lot.weight * count for lot, count in exact)
    sent = carriage(market.problem, seller, sum(lot.price(count).own * count for lot, count in exact), weight)
    own = Decimal(sent.own if sent is not None else 0) / MONEY if lines else Decimal(0)
    sending = Money(own.quantize(_CENT, ROUND_HALF_UP), supplier.currency)
    total = goods + sending
    days = [line.arrives for line in lines]
    weighs = supplier.shipping is not None and bool(supplier.shipping.by_weight)
    return Order(
        supplier,
        lines,
        goods,
        sending,
        total,
        _home(market, total),
        None if None in days else max((day for day in days if day is not None), default=None),
        (weight + market.problem.sellers[seller].packing) / 1e6 if weighs else None,
        tuple(dict.fromkeys(line.offer.part for line in lines if weighs and not market.weighed(line.offer))),
    )


def _line(market: Market, answer: Answer, shares: _Shares, number: int) -> Line:
    offer, day = market.lots[number]
    packs = answer.packs[number]
    part = market.shop.shelf.get(offer.part)
    price = offer.price_of(packs)
    cost_ = (price.amount * packs).quantize(_CENT, ROUND_HALF_UP)
    return Line(
        offer,
        packs,
        price,
        Money(cost_, price.currency),
        day,
        tuple(shares.serves.get(number, ())),
        shares.over.get(number, 0),
        _lengths(market, number, packs),
        part.description if part is not None else "",
    )


def _lengths(market: Market, number: int, packs: int) -> tuple[float, ...]:
    lot = market.problem.lots[number]
    good = market.goods[lot.good]
    if good.mm is None:
        return ()
    return (good.mm * packs,) if good.reel is not None else (good.mm,) * (packs * lot.holds)


def _sum(amounts: Iterable[Money], currency: str) -> Money:
    total = Money(Decimal("0.00"), currency)
    for amount in amounts:
        total = total + amount
    return total


def _home(market: Market, total: Money) -> Money:
    home = market.shop.offers.rates.converted(total, market.currency)
    assert home is not None  # offers without a rate have been refused
    return Money(home.amount.quantize(_CENT, ROUND_HALF_UP), home.currency)


def _finish(market: Market, orders: tuple[Order, ...], stock: tuple[FromStock, ...]) -> date | None:
    """Return the day on which all of it is here; None if nobody states one, or one is past."""
    on = market.terms.on.date()
    days = [order.arrives for order in orders]
    days += [item.due if item.due is not None and item.due >= on else None for item in stock if item.coming]
    if None in days:
        return None
    return max([on, *(day for day in days if day is not None)])


def _unknown(market: Market) -> bool:
    """Return whether some need is not known in full; of fluid the figure is a rule of thumb anyway."""
    return any(need.unknown and need.unit != "ml" for need in market.shop.needs)


def _why_open(market: Market, answer: Answer) -> tuple[str, ...]:
    """Return what else, besides the solver's time, leaves a plan unproven."""
    found = [] if answer.sure else ["whether more of it can be had"]
    for number, cut in market.cuts.items():
        part = market.wants[number].part
        if not cut.sets.all_tried:
            found.append(f"not all ways of cutting {part} were tried")
        for other in cut.others:
            if f"whether {other} and {part} could share a length was not looked at" not in found:
                found.append(f"whether {part} and {other} could share a length was not looked at")
    return tuple(found)


def _cut(market: Market, answer: Answer, number: int, lots: list[int]) -> _Cut:
    """Return the cutting list of one need from the lengths that the plan gives it, and lower what is left of `lots`.

    What is here is used first: other parts' offcuts and what is coming are cut into only where that is not enough.
    """
    need, cut = market.wants[number], market.cuts[number]
    assert need.part is not None
    own = [offcut for offcut in cut.offcuts if offcut.coming is None and offcut.part == need.part]
    more = [offcut for offcut in cut.offcuts if offcut not in own]
    shelf = tuple(offcut.mm for offcut in own)
    none = CutPart(need.part, need.description, "offers", (), shelf, market.currency, None, told_in=market.shop.told_in)
    left_out = [LeftOut(place, reason) for place, reason in need.unknown]
    left_out += [LeftOut(piece.tag, "no length for it can be had") for piece in (*cut.dropped, *cut.spared)]
    if answer.chosen[number] is None or not cut.pieces:
        lost = [LeftOut(piece.tag, "no length for it can be had") for piece in cut.pieces]
        return none._replace(left_out=(*left_out, *lost)), ()
    coils = (*(Coil(offcut.mm, None, 1, 1, _where(offcut)) for offcut in more), *_coils(market, answer, number, lots))
    plan = nest(cut.pieces, coils, shelf, market.terms.kerf_mm, min(market.terms.seconds, _CUTTING))
    into = [(own if bar.source.offcut else more)[bar.source.number] for bar in plan.bars if _is_there(bar, more)]
    return none._replace(coils=coils, nest=plan, left_out=tuple(left_out)), tuple(into)


def _is_there(bar: Bar, more: list[Offcut]) -> bool:
    return bar.source.offcut or bar.source.number < len(more)


def _where(offcut: Offcut) -> str:
    if offcut.coming is None:
        return f"the shelf, {offcut.part}"
    supplier = f" from {offcut.coming.supplier}" if offcut.coming.supplier else ""
    return f"what is on its way{supplier}"


def _coils(market: Market, answer: Answer, number: int, lots: list[int]) -> list[Coil]:
    """Return the lengths that a need gets, lot by lot, without a price: they are bought already.

    `lots` says how many lengths of each lot no other need has got; it is lowered by what this one gets.
    """
    coils = []
    wanted = {good: count for want, good, count in answer.flows if want == number}
    for place, lot in enumerate(market.problem.lots):
        taken = min(lots[place], wanted.get(lot.good, 0))
        if not taken:
            continue
        offer, good = market.lots[place][0], market.goods[lot.good]
        assert good.mm is not None
        tag = f"{offer.supplier.tag} {offer.number}" if offer.number else offer.supplier.tag
        wanted[lot.good] -= taken
        lots[place] -= taken
        if good.reel is not None:
            coils.append(Coil(good.mm * taken, None, 1, 1, tag))
        else:
            coils.append(Coil(good.mm, None, taken, 1, tag))
    return coils


def _rates(market: Market, orders: tuple[Order, ...]) -> tuple[Rate, ...]:
    ways = (market.shop.offers.rates.way(order.supplier.currency, market.currency) or () for order in orders)
    return tuple(dict.fromkeys(rate for way in ways for rate in way))
