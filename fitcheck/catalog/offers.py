"""What suppliers ask for parts: suppliers, their carriage and days, and their offers, as plain records."""

from collections.abc import Iterable, Mapping
from datetime import date, time
from fractions import Fraction
from typing import NamedTuple

from fitcheck.catalog.money import Money
from fitcheck.catalog.rates import Rates


class WeightStep(NamedTuple):
    """What carriage costs up to a weight [kg]."""

    up_to: float
    price: Money


class Shipping(NamedTuple):
    """What carriage of one order costs: `flat`, or by weight, and nothing from goods worth `free_over` on.

    `by_weight` goes from the lightest step to the heaviest; an order heavier than the last is not taken. `packing`
    is what the box itself weighs [kg].
    """

    flat: Money | None = None
    by_weight: tuple[WeightStep, ...] = ()
    free_over: Money | None = None
    packing: float = 0.0


class Supplier(NamedTuple):
    """Somebody who sells parts.

    `lead_time` [s] counts days on which the supplier works: all but the weekdays in `closed` (Monday is 0) and the
    days `closed_on`. An order after the `cut_off` counts from the next such day. `part_deliveries` is True if what is
    ready is sent at once, at no extra carriage; else an order comes when its last line is ready.
    """

    tag: str
    name: str
    currency: str
    minimum_order: Money | None = None
    shipping: Shipping | None = None
    lead_time: float | None = None
    cut_off: time | None = None
    closed: tuple[int, ...] = ()
    closed_on: tuple[date, ...] = ()
    part_deliveries: bool = False
    note: str | None = None


class Break(NamedTuple):
    """The price of each pack if at least so many `packs` are taken."""

    packs: int
    price: Money


class Offer(NamedTuple):
    """What one supplier asks for one pack of a part.

    `per` is the length of one piece of cut goods [mm]; with `to_length` as many of it as wanted come in one piece.
    `contents` is what one piece holds [mm3], of fluid and sealant. `breaks` go from few packs to many. `stock` is how
    many packs the supplier has, None if nothing is said. `mass` is that of one pack [kg]. `lead_time` in seconds.
    """

    part: str
    supplier: Supplier
    price: Money
    number: str | None = None
    pack: int = 1
    per: float | None = None
    to_length: bool = False
    contents: float | None = None
    breaks: tuple[Break, ...] = ()
    stock: int | None = None
    mass: float | None = None
    lead_time: float | None = None
    valid_until: date | None = None
    note: str | None = None

    @property
    def unit_price(self) -> Fraction:
        """Price of one piece, or of one millimetre of cut goods, in the price's currency; exact, without breaks."""
        each = Fraction(self.price.amount) / self.pack
        return each if self.per is None else each / Fraction(self.per)

    @property
    def currency(self) -> str:
        """The currency of its price."""
        return self.price.currency

    def price_of(self, packs: int) -> Money:
        """Return the price of each pack if so many packs are taken."""
        return next((each.price for each in reversed(self.breaks) if each.packs <= packs), self.price)


class Offers:
    """Every offer that a build may buy from, and the rates of exchange that its files state."""

    def __init__(self, suppliers: Mapping[str, Supplier], offers: Iterable[Offer], rates: Rates | None = None) -> None:
        self.suppliers = dict(suppliers)
        self.offers = tuple(offers)
        self.rates = rates if rates is not None else Rates(())
        self._by_part: dict[str, list[Offer]] = {}
        for offer in self.offers:
            self._by_part.setdefault(offer.part, []).append(offer)

    @property
    def currency(self) -> str | None:
        """The currency of most offers; of equally many the first by name. None without offers."""
        counts: dict[str, int] = {}
        for offer in self.offers:
            counts[offer.currency] = counts.get(offer.currency, 0) + 1
        return min(counts, key=lambda code: (-counts[code], code), default=None)

    @property
    def parts(self) -> tuple[str, ...]:
        """The ids of all parts that somebody offers."""
        return tuple(self._by_part)

    def of(self, part_id: str, on: date | None = None) -> tuple[Offer, ...]:
        """Return the offers for a part, in the files' order, without those run out by the day `on`."""
        found = self._by_part.get(part_id, ())
        return tuple(offer for offer in found if on is None or offer.valid_until is None or offer.valid_until >= on)

    def cheapest(self, part_id: str, on: date | None = None) -> Offer | None:
        """Return the offer with the lowest unit price, or None if nobody offers the part.

        Of equal prices the first supplier's in the alphabet wins, then the first number. Prices in different
        currencies are not compared: those in the currency of most offers come before all others.
        """
        home = self.currency

        def rank(offer: Offer) -> tuple[bool, str, Fraction, str, str, int]:
            foreign = offer.currency != home
            return (
                foreign,
                offer.currency,
                offer.unit_price,
                offer.supplier.tag,
                offer.number or "",
                offer.pack,
            )

        return min(self.of(part_id, on), key=rank, default=None)
