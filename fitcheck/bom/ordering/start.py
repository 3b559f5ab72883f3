"""A first plan for a large purchase, found by moving needs about: for the solver to begin from.

Every need stands at lots; it is moved to where it costs least, carriage counted, until that helps no more. Then sellers
are closed and opened one by one, and what gets dearer is undone. What is held counts as lots that cost nothing.
Source: derived.
"""

from collections import defaultdict
from collections.abc import Iterator
from time import monotonic
from typing import Final, NamedTuple

from fitcheck.bom.ordering.problem import Amount, Answer, Lot, Problem, Seller, Tier, Want, carriage

WORTH_IT: Final = (40, 200)
"""The solver is as fast by itself with no more wants and no more lots than these."""
_LOOKS: Final = 200_000
"""How many times the search may look at what a need would cost at one lot."""
_MISSING: Final = 10**18
"""What one piece that is lacking counts, in the plan's money: more than any purchase."""
_REFUSED: Final = 10**24
"""What an order counts that is too heavy for its seller."""


class _Bought(NamedTuple):
    """What some packs of a lot come to: in the plan's money and the seller's, their weight, how many they are."""

    home: int
    own: int
    weight: int
    packs: int


class _Part(NamedTuple):
    """So many pieces for one want from one lot."""

    lot: int
    pieces: int


_NOTHING: Final = _Bought(0, 0, 0, 0)
_FREE: Final = (Tier(1, Amount(0, 0)),)


class _Kept(NamedTuple):
    """What the search goes back to if a try does not help."""

    spent: int
    load: list[int]
    totals: list[_Bought]
    parts: list[list[_Part]]
    picks: list[int | None]
    lacks: list[int]
    closed: set[int]


def large(problem: Problem) -> bool:
    """Return whether a first plan helps the solver: it has many wants or lots."""
    return len(problem.wants) > WORTH_IT[0] or len(problem.lots) > WORTH_IT[1]


def first_plan(problem: Problem, seconds: float = 10.0) -> Answer | None:
    """Return a plan that keeps every rule and costs little, None if none is found; its `least` is 0: nothing is proven.

    The same problem gives the same plan; the search is stopped after so many seconds all the same.
    """
    search = _Search(problem, monotonic() + seconds)
    search.run()
    for _ in range(len(problem.sellers) + 1):
        packs = [search.bought(number, load).packs for number, load in enumerate(search.load)][: len(problem.lots)]
        refused = _fill_up(problem, packs)
        if refused is None:
            return search.answer(packs)
        search.closed.add(refused)
        search.empty(refused)
        search.sweep()
    return None


class _Search:
    """Needs at lots, and what that costs; smallest orders are counted as if filled up to the last cent."""

    def __init__(self, problem: Problem, until: float) -> None:
        held = [Lot(good, len(problem.sellers), 1, _FREE, count) for good, count in enumerate(problem.held) if count]
        self.lots = [*problem.lots, *held]
        self.problem = problem._replace(sellers=(*problem.sellers, Seller()))
        self.closed: set[int] = set()
        self.spent = 0
        self.load = [0] * len(self.lots)
        self._until, self._looks = until, 0
        self._totals = [_NOTHING] * len(self.problem.sellers)
        self._waived = set(range(len(self.problem.sellers)))
        self._known: dict[tuple[int, int], _Bought] = {}
        self._rates = _rates(self.problem, self.lots)
        self._of: dict[int, list[int]] = defaultdict(list)
        for number, lot in enumerate(self.lots):
            self._of[lot.good].append(number)
        self._parts: list[list[_Part]] = [[] for _ in problem.wants]
        self._picks: list[int | None] = [None] * len(problem.wants)
        self._lacks = [0] * len(problem.wants)

    def run(self) -> None:
        """Look for a cheap plan."""
        for want in range(len(self._parts)):
            self._place(want)
        self._charge(self._waived)
        self.sweep()
        sellers = sorted({lot.seller for lot in self.problem.lots})
        self._one_by_one(sellers)

    def answer(self, packs: list[int]) -> Answer:
        """Return the plan as it stands, with so many packs of each lot."""
        flows: dict[tuple[int, int], int] = defaultdict(int)
        for want, parts in enumerate(self._parts):
            for lot, pieces in parts:
                flows[want, self.lots[lot].good] += pieces
        chosen = tuple(0 if want.counted else pick for want, pick in zip(self.problem.wants, self._picks, strict=True))
        given = tuple((*key, count) for key, count in sorted(flows.items()))
        return Answer(tuple(packs), chosen, given, tuple(self._lacks), 0)

    def empty(self, seller: int) -> None:
        """Move all that stands at a seller elsewhere, as far as it can."""
        for want, parts in enumerate(self._parts):
            if any(self.lots[part.lot].seller == seller for part in parts):
                self._place(want)

    def sweep(self, most: int = 8) -> None:
        """Move each need to where it costs least, over and over while it helps."""
        for _ in range(most):
            before = self.spent
            for want in range(len(self._parts)):
                self._place(want)
            if self.spent >= before or self._late():
                break

    def bought(self, number: int, pieces: int) -> _Bought:
        """Return what it takes to have so many pieces of a lot: more packs than needed if they cost less."""
        found = self._known.get((number, pieces))
        if found is None:
            found = self._known[number, pieces] = _bought(self.lots[number], pieces)
        return found

    def _late(self) -> bool:
        return self._looks > _LOOKS or monotonic() > self._until

    def _one_by_one(self, sellers: list[int]) -> None:
        """Close and open each seller while it helps, those with the smallest orders first."""
        better = True
        while better and not self._late():
            better = False
            for seller in sorted(sellers, key=lambda number: self._totals[number]):
                better |= self._try([seller])

    def _try(self, sellers: list[int]) -> bool:
        """Close these sellers, open those that are closed or have no order; undo it if it does not help."""
        before, kept = self.spent, self._kept()
        opened = {seller for seller in sellers if seller in self.closed or not self._totals[seller].packs}
        shut = set(sellers) - opened
        self.closed = self.closed - opened | shut
        self._charge(opened)
        for seller in shut:
            self.empty(seller)
        if opened:
            self.sweep(1)
            self._charge(opened)
        self.sweep(3)
        if self.spent < before:
            return True
        self._restore(kept)
        return False

    def _kept(self) -> _Kept:
        return _Kept(
            self.spent,
            self.load.copy(),
            self._totals.copy(),
            self._parts.copy(),
            self._picks.copy(),
            self._lacks.copy(),
            self.closed,
        )

    def _restore(self, kept: _Kept) -> None:
        self.spent, self.load, self._totals, self._parts, self._picks, self._lacks, self.closed = kept

    def _charge(self, sellers: set[int]) -> None:
        """Leave the carriage of these sellers out of what is spent, or count it again."""
        for seller in set(sellers):
            if seller in self._waived:
                self._waived.discard(seller)
                self.spent += self._fee(seller, self._totals[seller])
            else:
                self.spent -= self._fee(seller, self._totals[seller])
                self._waived.add(seller)

    def _fee(self, number: int, total: _Bought) -> int:
        """Return the carriage of an order at home, with what it takes to reach the smallest order or free carriage."""
        if not total.packs:
            return 0
        seller, rate = self.problem.sellers[number], self._rates[number]
        goods = max(total.own, seller.minimum)
        filled = (goods - total.own) * rate.home // rate.own
        sent = carriage(self.problem, number, goods, total.weight)
        if sent is None:
            return _REFUSED
        if number in self._waived:
            return 0
        if seller.free_over is not None and goods < seller.free_over:
            return filled + min(sent.home, (seller.free_over - goods) * rate.home // rate.own)
        return filled + sent.home

    def _place(self, want: int) -> None:
        """Put a need where it costs least, in the way that costs least."""
        self._take_back(want)
        record = self.problem.wants[want]
        best, best_pick = self.spent + _MISSING * _worth(record), None
        for pick in range(len(record.choices)):
            if self._spread(want, pick) and self.spent < best:
                if len(record.choices) == 1:
                    return
                best, best_pick = self.spent, pick
            self._take_back(want)
        if best_pick is None:
            self._lacks[want] = _worth(record)
            self.spent = best
        else:
            self._spread(want, best_pick)

    def _take_back(self, want: int) -> None:
        for lot, pieces in self._parts[want]:
            self._add(lot, -pieces)
        self.spent -= _MISSING * self._lacks[want]
        self._parts[want], self._picks[want], self._lacks[want] = [], None, 0

    def _spread(self, want: int, pick: int) -> bool:
        """Put a need at lots by one of its choices, class after class; False if it cannot be had so."""
        record = self.problem.wants[want]
        self._picks[want] = pick
        for goods, count in zip(record.classes, record.choices[pick], strict=True):
            while count:
                part = self._cheapest(goods, count)
                if part is None:
                    break
                self._add(*part)
                self._parts[want].append(part)
                count -= part.pieces
            if count and not record.counted:
                return False
            self._lacks[want] += count
        self.spent += _MISSING * self._lacks[want]
        return True

    def _cheapest(self, goods: tuple[int, ...], count: int) -> _Part | None:
        """Return the lot that costs least for each piece, and as many as it has; None if no lot has any."""
        best: tuple[int, bool, int, _Part] | None = None
        for good in goods:
            for number in self._of[good]:
                lot = self.lots[number]
                if lot.seller in self.closed:
                    continue
                room = count if lot.stock is None else min(count, lot.stock * lot.holds - self.load[number])
                if room <= 0:
                    continue
                self._looks += 1
                dearer = self._change(number, room)[0]
                key = (dearer * count // room, room < count, number, _Part(number, room))
                if dearer < _REFUSED // 2 and (best is None or key < best):
                    best = key
        return None if best is None else best[3]

    def _change(self, number: int, pieces: int) -> tuple[int, _Bought]:
        """Return how much dearer so many pieces more make the plan, and what the seller's order then comes to."""
        seller, load = self.lots[number].seller, self.load[number]
        old, new, total = self.bought(number, load), self.bought(number, load + pieces), self._totals[seller]
        after = _Bought(
            total.home + new.home - old.home,
            total.own + new.own - old.own,
            total.weight + new.weight - old.weight,
            total.packs + new.packs - old.packs,
        )
        return new.home - old.home + self._fee(seller, after) - self._fee(seller, total), after

    def _add(self, number: int, pieces: int) -> None:
        dearer, after = self._change(number, pieces)
        self._totals[self.lots[number].seller] = after
        self.load[number] += pieces
        self.spent += dearer


def _worth(want: Want) -> int:
    """Return what it counts if a want is not met at all."""
    return want.choices[0][0] if want.counted else want.worth


def _bought(lot: Lot, pieces: int) -> _Bought:
    needed = -(-pieces // lot.holds)
    if not needed:
        return _NOTHING
    found = []
    for packs in (needed, *(tier.packs for tier in lot.tiers if tier.packs > needed)):
        if lot.stock is None or packs <= lot.stock:
            price = lot.price(packs)
            found.append(_Bought(price.home * packs, price.own * packs, lot.weight * packs, packs))
    return min(found)


def _rates(problem: Problem, lots: list[Lot]) -> list[Amount]:
    """Return for each seller one of its prices, in both moneys: what fills up an order is counted at this rate."""
    rates = [Amount(1, 1)] * len(problem.sellers)
    for lot in lots:
        price = lot.tiers[0].price
        if price.own > rates[lot.seller].own:
            rates[lot.seller] = price
    return rates


def _fill_up(problem: Problem, packs: list[int]) -> int | None:
    """Add packs so that each order is as large as its seller asks, or that its carriage is free if that costs less.

    Return None, or a seller who does not take its order even so.
    """
    offers: dict[int, list[int]] = defaultdict(list)
    for number, lot in enumerate(problem.lots):
        offers[lot.seller].append(number)
    for seller, numbers in offers.items():
        order = {number: packs[number] for number in numbers if packs[number]}
        if not order:
            continue
        priced = [
            (_paid(problem, seller, way), place, way)
            for place, way in enumerate(_ways(problem, seller, numbers, order))
        ]
        taken = [(paid, place, way) for paid, place, way in priced if paid is not None]
        if not taken:
            return seller
        for number, count in min(taken)[2].items():
            packs[number] = count
    return None


def _ways(problem: Problem, seller: int, numbers: list[int], order: dict[int, int]) -> Iterator[dict[int, int]]:
    """Yield an order as it is, and filled up to each sum that counts: with one lot, or with one and a last pack."""
    yield order
    sells = problem.sellers[seller]
    goods = _goods(problem, order)
    by_price = sorted(numbers, key=lambda number: problem.lots[number].tiers[0].price.own)
    for goal in sorted({sells.minimum, sells.free_over or 0}):
        if goal <= goods:
            continue
        for number in numbers:
            more = _more(problem.lots[number], order.get(number, 0), goal - goods)
            one = order | {number: order.get(number, 0) + more}
            yield one
            less = order | {number: one[number] - 1}
            rest = goal - _goods(problem, less)
            last = next((one for one in by_price if problem.lots[one].tiers[0].price.own >= rest), None)
            if last is not None and more > 1:
                yield less | {last: less.get(last, 0) + 1}


def _more(lot: Lot, packs: int, missing: int) -> int:
    """Return how many more packs make the goods worth so much more, as far as there are any."""
    already = lot.price(packs).own * packs
    most = max(lot.stock - packs, 0) if lot.stock is not None else missing
    more = 0
    while more < most and lot.price(packs + more).own * (packs + more) < already + missing:
        price = lot.price(packs + more).own
        if not price:
            break
        more += max((already + missing - price * (packs + more)) // price, 1)
    return min(more, most)


def _goods(problem: Problem, order: dict[int, int]) -> int:
    return sum(problem.lots[number].price(count).own * count for number, count in order.items())


def _paid(problem: Problem, seller: int, order: dict[int, int]) -> int | None:
    """Return what an order costs at home with carriage; None if it is not taken."""
    lots = problem.lots
    stocks = [(lots[number].stock, count) for number, count in order.items()]
    if any(stock is not None and count > stock for stock, count in stocks):
        return None
    weight = sum(lots[number].weight * count for number, count in order.items())
    sent = carriage(problem, seller, _goods(problem, order), weight)
    if sent is None:
        return None
    return sent.home + sum(lots[number].price(count).home * count for number, count in order.items())
