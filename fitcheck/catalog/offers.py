"""What suppliers ask for parts, and what is on the builder's own shelf."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Annotated, Any, ClassVar, NamedTuple

from pydantic import AfterValidator, BeforeValidator, Field, PlainValidator, WithJsonSchema

from fitcheck.catalog.entries import Count, Entry, Name, Note, SectionedEntry, Size, Version
from fitcheck.catalog.money import Money, parse_currency, parse_money
from fitcheck.fields import Duration
from fitcheck.naming import hint
from fitcheck.quantities import Quantity
from fitcheck.sources import Document, InputError, Problem, read
from fitcheck.validation import validate


def _money(value: Any) -> Money:
    if isinstance(value, Money):
        return value
    if not isinstance(value, str):
        raise ValueError("expected an amount and a currency, such as 12.50 GBP")
    return parse_money(value)


def _currency(value: Any) -> Any:
    return parse_currency(value) if isinstance(value, str) else value


def _date(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    try:
        if len(value) == 10:
            return date.fromisoformat(value)
    except ValueError:
        pass
    raise ValueError(f"expected a date such as 2026-12-31, got {value[:40]!r}")


def _not_negative(value: Quantity) -> Quantity:
    if value < 0:
        raise ValueError(f"expected zero or more, got {value.text!r}")
    return value


def _pack(value: Any) -> Any:
    if isinstance(value, str) and not (value.isascii() and value.isdigit() and len(value) <= 4 and int(value)):
        raise ValueError(f"expected a whole number from 1 to 9999, got {value[:40]!r}")
    return int(value) if isinstance(value, str) else value


MoneyText = Annotated[
    Money,
    PlainValidator(_money),
    WithJsonSchema({"type": "string", "pattern": r"^[0-9]{1,9}(\.[0-9]{1,4})? [A-Z]{3}$"}),
    Field(description="An amount and its currency.", examples=["12.50 GBP"]),
]
Currency = Annotated[
    str,
    BeforeValidator(_currency),
    Field(description="A currency, by its ISO 4217 code.", json_schema_extra={"pattern": "^[A-Z]{3}$"}),
]
LeadTime = Annotated[Duration, AfterValidator(_not_negative)]
IsoDate = Annotated[date, BeforeValidator(_date), Field(description="A date, year first.")]
Pack = Annotated[int, BeforeValidator(_pack), WithJsonSchema({"type": "integer", "minimum": 1, "maximum": 9999})]


class SupplierEntry(Entry):
    """Somebody who sells parts."""

    what: ClassVar[str] = "a supplier"
    name: str = Field(description="What the supplier is called.")
    currency: Currency
    minimum_order: MoneyText | None = Field(None, description="Smallest order that is taken.")
    shipping: MoneyText | None = Field(None, description="Carriage of one order.")
    lead_time: LeadTime | None = Field(None, description="Until an order arrives, unless a price says otherwise.")
    note: Note = None


class PriceEntry(Entry):
    """What one supplier asks for one part."""

    what: ClassVar[str] = "a price"
    part: Name
    supplier: Name
    number: str | None = Field(None, description="The supplier's own number for it.")
    price: MoneyText = Field(description="For one pack.")
    pack: Pack = Field(1, description="Pieces in a pack.")
    per: Size | None = Field(None, description="For goods sold by length: the length of one piece.")
    lead_time: LeadTime | None = Field(None, description="Until an order arrives.")
    valid_until: IsoDate | None = Field(None, description="Last day of this price, as 2026-12-31.")


class OfferFile(SectionedEntry):
    """An offer file: suppliers, and their prices."""

    what: ClassVar[str] = "an offer file"
    offers: Version
    note: Note = None
    suppliers: dict[Name, SupplierEntry] = Field(description="Who sells, by a short name.")
    prices: list[PriceEntry] = Field(default_factory=list, description="What they ask.")


class StockEntry(Entry):
    """One part on the shelf."""

    what: ClassVar[str] = "a part in stock"
    part: Name
    quantity: Count | None = Field(None, description="How many there are; 1 if neither this nor lengths are given.")
    lengths: list[Size] | None = Field(None, description="Of cut goods: the pieces there are.")
    note: Note = None


class StockFile(SectionedEntry):
    """A stock file: what the builder has already."""

    what: ClassVar[str] = "a stock file"
    stock: Version
    note: Note = None
    shelf: list[StockEntry] = Field(default_factory=list, description="What is there.")


class Supplier(NamedTuple):
    """Somebody who sells parts. `lead_time` in seconds."""

    tag: str
    name: str
    currency: str
    minimum_order: Money | None = None
    shipping: Money | None = None
    lead_time: float | None = None
    note: Note = None


class Offer(NamedTuple):
    """What one supplier asks for one pack of a part. `per` is the length of one piece of cut goods [mm]."""

    part: str
    supplier: Supplier
    price: Money
    number: str | None = None
    pack: int = 1
    per: float | None = None
    lead_time: float | None = None
    valid_until: date | None = None

    @property
    def unit_price(self) -> Fraction:
        """Price of one piece, or of one millimetre of cut goods, in the price's currency; exact."""
        each = Fraction(self.price.amount) / self.pack
        return each if self.per is None else each / Fraction(self.per)

    @property
    def currency(self) -> str:
        """The currency of its price."""
        return self.price.currency


class Offers:
    """Every offer that a build may buy from."""

    def __init__(self, suppliers: Mapping[str, Supplier], offers: Iterable[Offer]) -> None:
        self.suppliers = dict(suppliers)
        self.offers = tuple(offers)
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


class Stocked(NamedTuple):
    """One entry of the stock file. `lengths` are the pieces of cut goods [mm]."""

    part: str
    quantity: int
    lengths: tuple[float, ...] = ()
    note: Note = None


class Stock:
    """What is on the builder's own shelf."""

    def __init__(self, entries: Iterable[Stocked]) -> None:
        self.entries = tuple(entries)
        self._by_part: dict[str, list[Stocked]] = {}
        for entry in self.entries:
            self._by_part.setdefault(entry.part, []).append(entry)

    @staticmethod
    def empty() -> "Stock":
        """Return a shelf with nothing on it."""
        return Stock(())

    def quantity(self, part_id: str) -> int:
        """Return how many pieces of a part there are."""
        return sum(entry.quantity for entry in self._by_part.get(part_id, ()))

    def lengths(self, part_id: str) -> tuple[float, ...]:
        """Return the pieces of cut goods there are [mm], longest first."""
        found = (length for entry in self._by_part.get(part_id, ()) for length in entry.lengths)
        return tuple(sorted(found, reverse=True))


def read_offers(paths: Sequence[Path]) -> Offers:
    """Read offer files and return all their offers together. A supplier may be described in any of them.

    Raises:
        InputError: a file cannot be read or is no offer file, a supplier is unknown or described in two
            ways, a price is not in its supplier's currency, or the same price is stated twice. Every problem
            has its place.
    """
    files = [(document, validate(OfferFile, document)) for document in map(read, paths)]
    suppliers: dict[str, Supplier] = {}
    problems: list[Problem] = []
    for document, file in files:
        problems.extend(_add_suppliers(document, file, suppliers))
    for document, file in files:
        problems.extend(_supplier_problems(document, file, suppliers))
    if problems:
        raise InputError(tuple(problems))
    return Offers(suppliers, (_offer(entry, suppliers) for _, file in files for entry in file.prices))


def _add_suppliers(document: Document, file: OfferFile, known: dict[str, Supplier]) -> Iterator[Problem]:
    for tag, entry in file.suppliers.items():
        supplier = Supplier(tag=tag, **dict(entry))
        if known.setdefault(tag, supplier) != supplier:
            message = f"the supplier {tag} is described in another way in an earlier file"
            yield document.problem(("suppliers", tag), message, key=True)
        for key in ("minimum_order", "shipping"):
            money = getattr(entry, key)
            if money is not None and money.currency != entry.currency:
                message = f"expected {entry.currency}, the currency of {tag}, got {money}"
                yield document.problem(("suppliers", tag, key), message)


def _supplier_problems(document: Document, file: OfferFile, suppliers: Mapping[str, Supplier]) -> Iterator[Problem]:
    seen: set[tuple[object, ...]] = set()
    for index, entry in enumerate(file.prices):
        path = ("prices", index)
        supplier = suppliers.get(entry.supplier)
        same = (entry.part, entry.supplier, entry.number, entry.pack, entry.per)
        if supplier is None:
            message = f"no supplier is called {entry.supplier!r}{hint(entry.supplier, suppliers)}"
            yield document.problem((*path, "supplier"), message)
        elif entry.price.currency != supplier.currency:
            message = f"expected {supplier.currency}, the currency of {supplier.tag}, got {entry.price}"
            yield document.problem((*path, "price"), message)
        if same in seen:
            message = f"{entry.supplier} has a price for this number and pack of {entry.part} already"
            yield document.problem((*path, "part"), message)
        seen.add(same)


def _offer(entry: PriceEntry, suppliers: Mapping[str, Supplier]) -> Offer:
    return Offer(**{**dict(entry), "supplier": suppliers[entry.supplier]})


def read_stock(path: Path) -> Stock:
    """Read a stock file.

    Raises:
        InputError: the file cannot be read or is no stock file; every problem has its place.
    """
    return Stock(map(_stocked, validate(StockFile, read(path)).shelf))


def _stocked(entry: StockEntry) -> Stocked:
    lengths = tuple(entry.lengths or ())
    quantity = entry.quantity if entry.quantity is not None else (0 if lengths else 1)
    return Stocked(entry.part, quantity, lengths, entry.note)
