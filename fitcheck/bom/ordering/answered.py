"""An answer in whole numbers put back into words: orders with their lines, what comes off the shelf, what is cut."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from fitcheck.bom.cutting import CutPart, LeftOut
from fitcheck.bom.need import Need
from fitcheck.bom.nesting.nest import nest
from fitcheck.bom.nesting.record import Coil
from fitcheck.bom.ordering.market import CutWant, Market
from fitcheck.bom.ordering.missing import missing
from fitcheck.bom.ordering.problem import MONEY, Answer, carriage, cost
from fitcheck.bom.ordering.record import Bound, FromStock, Line, Order, Plan, Serves
from fitcheck.catalog.money import Money
from fitcheck.catalog.rates import Rate
from fitcheck.catalog.stock import Coming

_CENT = Decimal("0.01")


def planned(market: Market, answer: Answer, cutting: bool = True) -> Plan:
    """Return the plan that an answer to a market's problem stands for; without its cutting lists if not `cutting`."""
    shares = _Shares(market, answer)
    orders = tuple(_order(market, answer, shares, number) for number in range(len(market.sellers)))
    orders = tuple(order for order in orders if order.lines)
    short = missing(market, answer)
    stock = tuple(shares.stock)
    total = sum((order.home.amount for order in orders), Decimal("0.00"))
    exact = cost(market.problem, answer.packs) or 0
    optimal = answer.least >= exact and all(cut.sets.all_tried for cut in market.cuts.values())
    least = total if optimal else min(total, (Decimal(answer.least) / MONEY).quantize(_CENT, ROUND_HALF_UP))
    return Plan(
        build=market.shop.build,
        on=market.terms.on.date(),
        needs=market.shop.needs,
        orders=orders,
        stock=stock,
        missing=short,
        cost=Money(total, market.currency),
        finish=_finish(market, orders, stock) if not short else None,
        bound=Bound(least, optimal, market.terms.seconds),
        cuts=tuple(_cut(market, answer, number) for number in market.cuts) if cutting else (),
        left_out=_left_out(market),
        rates=_rates(market, orders),
        by=market.terms.by,
    )


class _Shares:
    """Which need takes what from where: off the shelf first, then what comes, then what is bought, the earliest first.

    `serves` and `over` are by lot: whom it serves, and how much of it nobody needs.
    """

    def __init__(self, market: Market, answer: Answer) -> None:
        self.stock: list[FromStock] = []
        self.serves: dict[int, list[Serves]] = defaultdict(list)
        self.over: dict[int, int] = {}
        for good in range(len(market.goods)):
            self._share(market, answer, good)
        for number, cut in market.cuts.items():
            if answer.chosen[number] is not None:
                self.stock += _offcuts(market, market.wants[number], cut)

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


def _offcuts(market: Market, need: Need, cut: CutWant) -> Iterator[FromStock]:
    """Yield the lengths that are here or coming and may be cut into for a need."""
    assert need.part is not None
    for mm, entry in cut.offcuts:
        yield _from(market, need.part, Serves(need.part, 1), entry, (mm,))


def _from(
    market: Market, part: str, serves: Serves, entry: Coming | None, lengths: tuple[float, ...] = ()
) -> FromStock:
    """Return what is taken off the shelf, or out of the delivery `entry`."""
    if entry is None:
        return FromStock(part, serves.quantity, serves, lengths)
    return FromStock(part, serves.quantity, serves, lengths, True, market.due(entry), entry.supplier)


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
    days = [order.arrives for order in orders] + [item.due for item in stock if item.coming]
    if None in days:
        return None
    return max([market.terms.on.date(), *(day for day in days if day is not None)])


def _cut(market: Market, answer: Answer, number: int) -> CutPart:
    """Return the cutting list of one need from the lengths that the plan gives it."""
    need, cut = market.wants[number], market.cuts[number]
    assert need.part is not None
    offcuts = tuple(mm for mm, _ in cut.offcuts)
    none = CutPart(need.part, need.description, "offers", (), offcuts, market.currency, None)
    unknown = tuple(LeftOut(place, reason) for place, reason in need.unknown)
    if answer.chosen[number] is None:
        lost = tuple(LeftOut(piece.tag, "no length for it can be had") for piece in need.pieces)
        return none._replace(left_out=(*unknown, *lost))
    coils = tuple(_coils(market, answer, number))
    return none._replace(coils=coils, nest=nest(need.pieces, coils, offcuts, market.terms.kerf_mm), left_out=unknown)


def _coils(market: Market, answer: Answer, number: int) -> list[Coil]:
    """Return the lengths that a need gets, lot by lot, without a price: they are bought already."""
    coils = []
    wanted = {good: count for want, good, count in answer.flows if want == number}
    for place, lot in enumerate(market.problem.lots):
        packs = answer.packs[place]
        if not packs or not wanted.get(lot.good):
            continue
        offer, good = market.lots[place][0], market.goods[lot.good]
        assert good.mm is not None
        tag = f"{offer.supplier.tag} {offer.number}" if offer.number else offer.supplier.tag
        taken = min(packs * lot.holds, wanted[lot.good])
        wanted[lot.good] -= taken
        if good.reel is not None:
            coils.append(Coil(good.mm * packs, None, 1, 1, tag))
        else:
            coils.append(Coil(good.mm, None, taken, 1, tag))
    return coils


def _left_out(market: Market) -> tuple[LeftOut, ...]:
    """Return the offers and deliveries that were not looked at, and why."""
    found = []
    for part, refusals in market.refused.items():
        for offer, reason in refusals:
            number = f" {offer.number}" if offer.number else ""
            found.append(LeftOut(f"{offer.supplier.tag}{number}, {part}", reason))
    for entry in market.late:
        day = f"due {entry.due}" if entry.due is not None else "nobody knows when"
        found.append(LeftOut(f"on its way, {entry.part}", day))
    return tuple(found)


def _rates(market: Market, orders: tuple[Order, ...]) -> tuple[Rate, ...]:
    ways = (market.shop.offers.rates.way(order.supplier.currency, market.currency) or () for order in orders)
    return tuple(dict.fromkeys(rate for way in ways for rate in way))
