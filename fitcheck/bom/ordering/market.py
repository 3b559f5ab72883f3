"""Needs, shelf and offers put together as a problem in whole numbers, and what each number in it stands for."""

from collections.abc import Iterator, Sequence
from datetime import date, datetime
from math import ceil, floor
from typing import Final, NamedTuple

from fitcheck.bom.need import MM3_PER_ML, Need
from fitcheck.bom.ordering.cut_goods import CutWant, Offcut, cut_want
from fitcheck.bom.ordering.dates import arrival
from fitcheck.bom.ordering.lengths import LengthClass
from fitcheck.bom.ordering.problem import MONEY, Amount, Lot, Problem, Seller, Step, Tier, Want
from fitcheck.bom.ordering.solve import SECONDS
from fitcheck.catalog.money import Money
from fitcheck.catalog.offers import Offer, Offers, Supplier
from fitcheck.catalog.shelf import Shelf
from fitcheck.catalog.stock import Coming, Stock
from fitcheck.catalog.substitutes import StandIns
from fitcheck.measures import LengthUnit

MOST_PACKS: Final = 9999
"""Packs of one offer in one order: what an offer's own stock can say at most."""
_MILLIGRAMS: Final = 1_000_000
"""In a kilogram."""


class Shop(NamedTuple):
    """What a plan is made from: what is needed, what is offered, what is there, and which fluids are in the build.

    Lengths are told in `told_in`.
    """

    build: str
    needs: tuple[Need, ...]
    offers: Offers
    stock: Stock
    shelf: Shelf
    families: frozenset[str] = frozenset()
    told_in: LengthUnit = "mm"


class Terms(NamedTuple):
    """On what terms a plan is made.

    Orders go out at the moment `on`. Everything has to be here on the day `by`, if one is given. `currency` is that of
    the sum, None for that of most offers. With `undated` what nobody states a day for counts as in time, if it cannot
    be had on a stated day. Each cut takes `kerf_mm`. The solver may look for `seconds`.
    """

    on: datetime
    by: date | None = None
    currency: str | None = None
    substitutes: bool = True
    kerf_mm: float = 0.0
    seconds: float = SECONDS
    undated: bool = False


class Good(NamedTuple):
    """What one number of the problem counts: a part, its millilitres, or its lengths of `mm`, off the `reel` if any."""

    part: str
    mm: float | None = None
    reel: Offer | None = None


class Refused(NamedTuple):
    """An offer that is of no use, and why."""

    offer: Offer
    reason: str


class Market:
    """The problem of a shop on given terms, and its words.

    `goods`, `lots`, `sellers` and `wants` stand at the numbers that the problem gives them. `refused` are the offers of
    use to nobody, by part. `late` is what is on its way and comes too late, or on a day that nobody knows.
    """

    def __init__(self, shop: Shop, terms: Terms) -> None:
        self.shop = shop
        self.terms = terms
        self.currency = terms.currency or shop.offers.currency or ""
        self.goods: list[Good] = []
        self.lots: list[tuple[Offer, date | None]] = []
        self.sellers: list[Supplier] = []
        self.wants: list[Need] = []
        self.parts: list[tuple[str, ...]] = []
        self.cuts: dict[int, CutWant] = {}
        self.refused: dict[str, list[Refused]] = {}
        self.unweighed: dict[str, dict[str, None]] = {}
        self._numbers: dict[Good, int] = {}
        self._lots: list[Lot] = []
        self._stand_ins = StandIns(shop.shelf, (*shop.offers.parts, *shop.stock.parts), shop.families)
        self._sellers: dict[str, int] = {}
        self._usable: dict[tuple[str, str], list[tuple[Offer, date | None]]] = {}
        self.coming, self.late = self._on_its_way()
        self._offcuts_taken: set[str] = {need.part for need in shop.needs if need.unit == "mm" and need.part}
        wants = tuple(want for need in shop.needs if (want := self._want(need)) is not None)
        self._sharing()
        for number, good in enumerate(self.goods):
            self._sell(number, good)
        held = tuple(self._held(good) for good in self.goods)
        sellers = tuple(self._seller(supplier) for supplier in self.sellers)
        self.problem = Problem(held, tuple(self._lots), sellers, wants)

    def _on_its_way(self) -> tuple[tuple[Coming, ...], tuple[Coming, ...]]:
        """Return what is coming in time, and what is not."""
        by = self.terms.by
        if by is None:
            return self.shop.stock.coming, ()
        days = [(entry, self.due(entry)) for entry in self.shop.stock.coming]
        in_time = [entry for entry, day in days if (self.terms.undated if day is None else day <= by)]
        return tuple(in_time), tuple(entry for entry in self.shop.stock.coming if entry not in in_time)

    def due(self, entry: Coming) -> date | None:
        """Return the day on which something coming will be here; None if none is stated, or it is past."""
        return entry.due if entry.due is not None and entry.due >= self.terms.on.date() else None

    def _want(self, need: Need) -> Want | None:
        """Return a need as the problem puts it; None where no catalog has what is needed, or nothing is needed."""
        if need.part is None or need.unlisted or not need.quantity:
            return None
        parts = (need.part, *self._substitutes(need))
        self.wants.append(need)
        self.parts.append(parts)
        if need.unit == "mm":
            return self._cut_want(len(self.wants) - 1, need, parts)
        goods = tuple(self._number(Good(part)) for part in parts)
        return Want((goods,), ((need.quantity,),))

    def _substitutes(self, need: Need) -> tuple[str, ...]:
        if not self.terms.substitutes or need.part is None or need.part not in self.shop.shelf:
            return ()
        return self._stand_ins.of(need.part)

    def _number(self, good: Good) -> int:
        if good not in self._numbers:
            self._numbers[good] = len(self.goods)
            self.goods.append(good)
        return self._numbers[good]

    def _cut_want(self, number: int, need: Need, parts: Sequence[str]) -> Want:
        """Return a need for lengths: the sets of coils that are enough, each coil whatever part it is of."""
        groups: dict[LengthClass, dict[int, None]] = {}
        most: dict[LengthClass, int | None] = {}
        prices: dict[LengthClass, int] = {}
        for part in parts:
            for offer, _ in self.usable(part, "mm"):
                mm = self.length_of(offer)
                assert mm is not None
                name = f"{offer.supplier.tag} {offer.part} {offer.number} {offer.price}"
                key = LengthClass(mm, True, offer.stock, name) if offer.to_length else LengthClass(mm)
                good = self._number(Good(part, mm, offer if offer.to_length else None))
                groups.setdefault(key, {})[good] = None
                known = most.get(key, 0)
                most[key] = None if offer.stock is None or known is None else known + offer.stock * offer.pack
                each = -(-self.amount(offer.price).home // offer.pack)
                prices[key] = min(prices.get(key, each), each)
        classes = [key if key.reel else key._replace(most=most[key]) for key in groups]
        priced = dict(zip(classes, (prices[key] for key in groups), strict=True))
        offcuts = tuple(self._offcuts(need.part or "", parts))
        want = cut_want(need.pieces, classes, offcuts, priced.get, self.terms.kerf_mm)
        self.cuts[number] = want
        return Want(tuple(map(tuple, groups.values())), want.sets.sets, max(len(want.pieces), 1), True)

    def _sharing(self) -> None:
        """Note which needs could share a length: how they would is not looked at."""
        for number, cut in self.cuts.items():
            alike = (
                other for other in self.cuts if other != number and set(self.parts[number]) & set(self.parts[other])
            )
            self.cuts[number] = cut._replace(others=tuple(self.wants[other].part or "" for other in alike))

    def _offcuts(self, wanted: str, parts: Sequence[str]) -> Iterator[Offcut]:
        """Yield the lengths that are here or coming for a need, of substitutes only those that nobody else may take."""
        for part in parts:
            if part != wanted and part in self._offcuts_taken:
                continue
            self._offcuts_taken.add(part)
            yield from (Offcut(mm, part) for mm in self.shop.stock.lengths(part))
            yield from (Offcut(mm, part, entry) for entry in self.coming if entry.part == part for mm in entry.lengths)

    def usable(self, part: str, unit: str) -> list[tuple[Offer, date | None]]:
        """Return the offers of a part that a need in this unit can be met from, and on which day each would be here."""
        key = (part, unit)
        if key not in self._usable:
            days = [(offer, arrival(offer, self.terms.on)) for offer in self.shop.offers.of(part)]
            dated = any(day is not None for _, day in days)
            reasons = [self._refusal(offer, day, unit, dated) for offer, day in days]
            self._usable[key] = [pair for pair, reason in zip(days, reasons, strict=True) if reason is None]
            self.refused.setdefault(part, [])
            for (offer, _), reason in zip(days, reasons, strict=True):
                if reason is not None:
                    self.refused[part].append(Refused(offer, reason))
        return self._usable[key]

    def _refusal(self, offer: Offer, day: date | None, unit: str, dated: bool) -> str | None:
        """Return why an offer is of no use, or None; `dated` says whether any offer of the part states a day."""
        by = self.terms.by
        if offer.valid_until is not None and offer.valid_until < self.terms.on.date():
            return f"its price ran out on {offer.valid_until}"
        if self.shop.offers.rates.factor(offer.currency, self.currency) is None:
            return f"its price is in {offer.currency}, and no rate to {self.currency} is given"
        if by is not None and day is None and (dated or not self.terms.undated):
            return "no lead time is given"
        if by is not None and day is not None and day > by:
            return f"here on {day} at the earliest"
        if unit == "mm" and self.length_of(offer) is None:
            return "the price does not say for what length it is"
        if unit == "ml" and self.contents_of(offer) is None:
            return "the price does not say for how much it is: `contents`"
        if unit == "each" and offer.per is not None:
            return "the price is for a length, not for a piece"
        return None

    def length_of(self, offer: Offer) -> float | None:
        """Return the length of one piece of an offer [mm]: its own, else the part's."""
        part = self.shop.shelf.get(offer.part)
        return offer.per or (part.length if part is not None else None)

    def contents_of(self, offer: Offer) -> int | None:
        """Return what one piece of an offer holds [ml], rounded down: its own, else the part's volume."""
        part = self.shop.shelf.get(offer.part)
        contents = offer.contents or (part.volume if part is not None else None)
        return floor(contents / MM3_PER_ML + 1e-9) or None if contents is not None else None

    def _sell(self, number: int, good: Good) -> None:
        """Add the lots of one good."""
        unit = self.unit_of(good)
        for offer, day in self.usable(good.part, unit):
            if unit == "mm" and (good.reel not in (None, offer) or offer.to_length != (good.reel is not None)):
                continue
            if unit == "mm" and self.length_of(offer) != good.mm:
                continue
            holds = (self.contents_of(offer) or 1) * offer.pack if unit == "ml" else offer.pack
            tiers = (Tier(1, self.amount(offer.price)), *(Tier(at.packs, self.amount(at.price)) for at in offer.breaks))
            seller = self._seller_number(offer.supplier)
            self.lots.append((offer, day))
            most = MOST_PACKS if offer.stock is None else min(offer.stock, MOST_PACKS)
            self._lots.append(Lot(number, seller, holds, tiers, most, self.weight_of(offer)))

    def unit_of(self, good: Good) -> str:
        """Return what a good is counted in."""
        if good.mm is not None:
            return "mm"
        pairs = zip(self.wants, self.parts, strict=True)
        return next((need.unit for need, parts in pairs if good.part in parts), "each")

    def _seller_number(self, supplier: Supplier) -> int:
        if supplier.tag not in self._sellers:
            self._sellers[supplier.tag] = len(self.sellers)
            self.sellers.append(supplier)
        return self._sellers[supplier.tag]

    def weight_of(self, offer: Offer) -> int:
        """Return what a pack of an offer weighs [mg], rounded up; nothing if nobody says, which is noted."""
        part = self.shop.shelf.get(offer.part)
        mass = offer.mass or (part.mass * offer.pack if part is not None and part.mass is not None else None)
        return ceil(mass * _MILLIGRAMS - 1e-6) if mass is not None else 0

    def weighed(self, offer: Offer) -> bool:
        """Return whether the weight of an offer is known."""
        part = self.shop.shelf.get(offer.part)
        return offer.mass is not None or (part is not None and part.mass is not None)

    def amount(self, money: Money) -> Amount:
        """Return an amount of money in units of the problem."""
        home = self.shop.offers.rates.converted(money, self.currency)
        assert home is not None  # offers without a rate have been refused
        own = int(money.amount * MONEY)
        return Amount(own, max(int(home.amount * MONEY), min(own, 1)))  # what costs little costs something

    def _seller(self, supplier: Supplier) -> Seller:
        minimum = int(supplier.minimum_order.amount * MONEY) if supplier.minimum_order is not None else 0
        shipping = supplier.shipping
        if shipping is None:
            return Seller(minimum)
        return Seller(
            minimum,
            self.amount(shipping.flat) if shipping.flat is not None else Amount(0, 0),
            tuple(Step(floor(step.up_to * _MILLIGRAMS + 1e-6), self.amount(step.price)) for step in shipping.by_weight),
            int(shipping.free_over.amount * MONEY) if shipping.free_over is not None else None,
            ceil(shipping.packing * _MILLIGRAMS - 1e-6),
        )

    def _held(self, good: Good) -> int:
        """Return how much of a good is on the shelf and on its way in time; offcuts count apart."""
        return sum(count for count, _ in self.held(good))

    def held(self, good: Good) -> list[tuple[int, Coming | None]]:
        """Return how much of a good is here (None), and in what comes, the earliest first."""
        if good.mm is not None:
            return []
        coming = sorted(
            (entry for entry in self.coming if entry.part == good.part),
            key=lambda entry: (self.due(entry) is None, self.due(entry) or date.max),
        )
        if self.unit_of(good) != "ml":
            found = [(self.shop.stock.quantity(good.part), None), *((entry.quantity, entry) for entry in coming)]
        else:
            part = self.shop.shelf.get(good.part)
            each = part.volume if part is not None and part.volume is not None else 0.0
            here = self.shop.stock.contents(good.part) + self.shop.stock.quantity(good.part) * each
            found = [(floor(here / MM3_PER_ML + 1e-9), None)]
            for entry in coming:
                much = (entry.contents or 0.0) + entry.quantity * each
                found.append((floor(much / MM3_PER_ML + 1e-9), entry))
        return [(count, entry) for count, entry in found if count]
