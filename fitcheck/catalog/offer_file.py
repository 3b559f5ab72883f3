"""Models of the offer file, and reading it: suppliers, their carriage, their prices, rates of exchange."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain, islice, pairwise
from typing import Annotated, Any, ClassVar, Self

from pydantic import AfterValidator, Discriminator, Field, Tag, model_validator

from fitcheck.catalog.entries import Amount, Entry, Name, Note, SectionedEntry, Size, Version, Weight
from fitcheck.catalog.money import Money
from fitcheck.catalog.money_fields import (
    Currency,
    IsoDate,
    LeadTime,
    MoneyText,
    Pack,
    Packs,
    TimeOfDay,
    Weekday,
    WorthText,
    YesNo,
)
from fitcheck.catalog.offers import Break, Offer, Offers, Shipping, Supplier, WeightStep
from fitcheck.catalog.rates import Rate, Rates
from fitcheck.files import AnyPath
from fitcheck.naming import hint
from fitcheck.sources import Document, InputError, Problem, read
from fitcheck.validation import MOST_PROBLEMS, validate


class WeightStepEntry(Entry):
    """What carriage costs up to a weight."""

    what: ClassVar[str] = "a weight step"
    up_to: Weight = Field(description="Heaviest order of this step, packing included.")
    price: MoneyText


class ShippingEntry(Entry):
    """What carriage of one order costs."""

    what: ClassVar[str] = "carriage"
    flat: MoneyText | None = Field(None, description="The same for every order.")
    by_weight: list[WeightStepEntry] | None = Field(None, description="Steps from the lightest to the heaviest order.")
    free_over: MoneyText | None = Field(None, description="Goods worth this much and more are sent free.")
    packing: Weight | None = Field(None, description="What the box itself weighs.")

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        if (self.flat is None) == (not self.by_weight):
            raise ValueError("carriage is flat or by_weight: give one of the two")
        weights = [float(step.up_to) for step in self.by_weight or ()]
        if any(second <= first for first, second in pairwise(weights)):
            raise ValueError("by_weight goes from the lightest step to the heaviest")
        prices = [step.price.amount for step in self.by_weight or ()]
        if any(second < first for first, second in pairwise(prices)):
            raise ValueError("a heavier order never costs less to send than a lighter one")
        return self


def _shipping_form(value: Any) -> str:
    return "detailed" if isinstance(value, (dict, ShippingEntry)) else "plain"


def _days(value: list[int]) -> list[int]:
    if len(set(value)) > 6:
        raise ValueError("closed on every day of the week, it would never send anything")
    return value


class SupplierEntry(Entry):
    """Somebody who sells parts."""

    what: ClassVar[str] = "a supplier"
    name: str = Field(description="What the supplier is called.")
    currency: Currency
    minimum_order: MoneyText | None = Field(None, description="Smallest order that is taken: goods, without carriage.")
    shipping: (
        Annotated[
            Annotated[MoneyText, Tag("plain")] | Annotated[ShippingEntry, Tag("detailed")],
            Discriminator(_shipping_form),
        ]
        | None
    ) = Field(None, description="Carriage of one order: an amount, or in detail.")
    lead_time: LeadTime | None = Field(None, description="Until an order arrives, unless a price says otherwise.")
    cut_off: TimeOfDay | None = Field(None, description="An order after this time of the day counts from the next day.")
    closed: Annotated[list[Weekday], AfterValidator(_days)] = Field(
        default_factory=list, description="Days of the week that do not count as working days, such as sat, sun."
    )
    closed_on: list[IsoDate] = Field(default_factory=list, description="Single days that do not count.")
    part_deliveries: YesNo = Field(
        False, description="True if what is ready is sent at once, at no extra carriage; else all comes together."
    )
    note: Note = None


class BreakEntry(Entry):
    """The price from so many packs on."""

    what: ClassVar[str] = "a price break"
    packs: Pack = Field(description="From how many packs on.")
    price: MoneyText = Field(description="For each pack, the first included.")


class PriceEntry(Entry):
    """What one supplier asks for one part."""

    what: ClassVar[str] = "a price"
    part: Name
    supplier: Name
    number: str | None = Field(None, description="The supplier's own number for it.")
    price: MoneyText = Field(description="For one pack.")
    pack: Pack = Field(1, description="Pieces in a pack.")
    per: Size | None = Field(None, description="For goods sold by length: the length of one piece.")
    to_length: YesNo = Field(False, description="True if any number of `per` comes in one piece, as off a reel.")
    contents: Amount | None = Field(None, description="Of fluid and sealant: what one piece holds.")
    breaks: list[BreakEntry] = Field(default_factory=list, description="Prices of larger quantities, smallest first.")
    stock: Packs | None = Field(None, description="How many packs the supplier has.")
    mass: Weight | None = Field(None, description="What one pack weighs, for carriage by weight.")
    lead_time: LeadTime | None = Field(None, description="Until an order arrives.")
    valid_until: IsoDate | None = Field(None, description="Last day of this price, as 2026-12-31.")
    note: Note = None

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        packs = [1, *(each.packs for each in self.breaks)]
        if any(second <= first for first, second in pairwise(packs)):
            raise ValueError("breaks go from few packs to many, and begin above 1")
        if self.to_length and (self.per is None or self.pack != 1):
            raise ValueError("to_length needs per, the step of length, and no pack")
        return self


class RateEntry(Entry):
    """A rate of exchange."""

    what: ClassVar[str] = "a rate"
    worth: WorthText
    on: IsoDate = Field(description="The day of this rate.")
    note: Note = None


class OfferFile(SectionedEntry):
    """An offer file: suppliers, and their prices."""

    what: ClassVar[str] = "an offer file"
    offers: Version
    note: Note = None
    rates: dict[Currency, RateEntry] = Field(
        default_factory=dict, description="Rates of exchange that you found: what one unit of a currency is worth."
    )
    suppliers: dict[Name, SupplierEntry] = Field(description="Who sells, by a short name.")
    prices: list[PriceEntry] = Field(default_factory=list, description="What they ask.")


def read_offers(paths: Sequence[AnyPath]) -> Offers:
    """Read offer files and return all their offers together. A supplier may be described in any of them.

    A file whose name ends with `.csv` holds prices alone: see `offer_csv`.

    Raises:
        InputError: a file cannot be read or is no offer file, a supplier is unknown or described in two
            ways, a price is not in its supplier's currency, the same price is stated twice, or two rates differ.
            Every problem has its place.
    """
    files = list(map(_read, paths))
    suppliers: dict[str, Supplier] = {}
    rates: dict[str, Rate] = {}
    problems: list[Problem] = []
    for document, file in files:
        problems.extend(_add_suppliers(document, file, suppliers))
        problems.extend(_add_rates(document, file, rates))
    seen: set[tuple[object, ...]] = set()
    bad = chain.from_iterable(_price_problems(document, file, suppliers, seen) for document, file in files)
    problems.extend(islice(bad, MOST_PROBLEMS))
    problems.extend(problem._replace(message="more problems from here on") for problem in islice(bad, 1))
    if problems:
        raise InputError(tuple(problems))
    offers = (offer_of(entry, suppliers) for _, file in files for entry in file.prices)
    return Offers(suppliers, offers, Rates(rates.values()))


def _read(path: AnyPath) -> tuple[Document, OfferFile]:
    if path.suffix.lower() == ".csv":
        from fitcheck.catalog.offer_csv import read_prices  # only for those who keep prices so

        return read_prices(path)
    document = read(path)
    return document, validate(OfferFile, document)


def _add_suppliers(document: Document, file: OfferFile, known: dict[str, Supplier]) -> Iterator[Problem]:
    for tag, entry in file.suppliers.items():
        supplier = supplier_of(tag, entry)
        if known.setdefault(tag, supplier) != supplier:
            message = f"the supplier {tag} is described in another way in an earlier file"
            yield document.problem(("suppliers", tag), message, key=True)
        for path, money in _amounts(entry):
            if money.currency != entry.currency:
                message = f"expected {entry.currency}, the currency of {tag}, got {money}"
                yield document.problem(("suppliers", tag, *path), message)


def _amounts(entry: SupplierEntry) -> Iterator[tuple[tuple[str | int, ...], Money]]:
    """Yield every amount that describes a supplier, and where it stands."""
    if entry.minimum_order is not None:
        yield ("minimum_order",), entry.minimum_order
    if not isinstance(entry.shipping, ShippingEntry):
        if entry.shipping is not None:
            yield ("shipping",), entry.shipping
        return
    for key in ("flat", "free_over"):
        money = getattr(entry.shipping, key)
        if money is not None:
            yield ("shipping", key), money
    for index, step in enumerate(entry.shipping.by_weight or ()):
        yield ("shipping", "by_weight", index, "price"), step.price


def _add_rates(document: Document, file: OfferFile, known: dict[str, Rate]) -> Iterator[Problem]:
    for code, entry in file.rates.items():
        rate = Rate(code, entry.worth.amount, entry.worth.currency, entry.on)
        if rate.to == code:
            yield document.problem(("rates", code, "worth"), f"{code} is worth itself; expected another currency")
        elif known.setdefault(code, rate) != rate:
            message = f"an earlier file has another rate for {code}: {known[code]}"
            yield document.problem(("rates", code), message, key=True)


def _price_problems(
    document: Document, file: OfferFile, suppliers: Mapping[str, Supplier], seen: set[tuple[object, ...]]
) -> Iterator[Problem]:
    for index, entry in enumerate(file.prices):
        path = ("prices", index)
        supplier = suppliers.get(entry.supplier)
        if supplier is None:
            message = f"no supplier is called {entry.supplier!r}{hint(entry.supplier, suppliers)}"
            yield document.problem((*path, "supplier"), message)
        else:
            yield from _currency_problems(document, path, entry, supplier)
        same = (entry.part, entry.supplier, entry.number, entry.pack, entry.per, entry.contents)
        if same in seen:
            message = f"{entry.supplier} has a price for this number and pack of {entry.part} already"
            yield document.problem((*path, "part"), message)
        seen.add(same)


def _currency_problems(
    document: Document, path: tuple[str | int, ...], entry: PriceEntry, supplier: Supplier
) -> Iterator[Problem]:
    prices: list[tuple[tuple[str | int, ...], Money]] = [(("price",), entry.price)]
    prices += [(("breaks", number, "price"), each.price) for number, each in enumerate(entry.breaks)]
    for where, price in prices:
        if price.currency != supplier.currency:
            message = f"expected {supplier.currency}, the currency of {supplier.tag}, got {price}"
            yield document.problem((*path, *where), message)


def supplier_of(tag: str, entry: SupplierEntry) -> Supplier:
    """Return the record of a supplier that the rest of the program works with."""
    fields = {**dict(entry), "closed": tuple(sorted(set(entry.closed))), "closed_on": tuple(entry.closed_on)}
    shipping = entry.shipping
    if isinstance(shipping, ShippingEntry):
        steps = tuple(WeightStep(float(step.up_to), step.price) for step in shipping.by_weight or ())
        fields["shipping"] = Shipping(shipping.flat, steps, shipping.free_over, float(shipping.packing or 0.0))
    elif shipping is not None:
        fields["shipping"] = Shipping(shipping)
    return Supplier(tag=tag, **fields)


def offer_of(entry: PriceEntry, suppliers: Mapping[str, Supplier]) -> Offer:
    """Return the record of a price; its supplier must be known."""
    breaks = tuple(Break(each.packs, each.price) for each in entry.breaks)
    return Offer(**{**dict(entry), "supplier": suppliers[entry.supplier], "breaks": breaks})
