"""The cheapest offer for each row of a bill. What has none is counted as unpriced, never as nothing."""

from collections.abc import Iterable, Iterator
from datetime import date
from fractions import Fraction

from fitcheck.bom.record import Price, Row, exactly
from fitcheck.catalog.money import Money
from fitcheck.catalog.offers import Offer, Offers
from fitcheck.catalog.shelf import Shelf


def priced(rows: Iterable[Row], offers: Offers, shelf: Shelf, on: date | None) -> Iterator[Row]:
    """Yield each row with its cheapest unit price, if an offer that holds on the day `on` gives one.

    Prices in different currencies are compared by the rates of exchange that the offer files state; without a rate
    those in the currency of most offers come first. A price for a tube that does not say what length it is `per` is for
    the part's own stock length.
    """
    home = offers.currency
    for row in rows:
        price = _cheapest(row, offers, shelf, home, on) if row.part is not None else None
        yield row._replace(price=price) if price is not None else row


def totals(rows: Iterable[Row]) -> tuple[Money, ...]:
    """Return what the rows cost together, one sum for each currency, by currency code."""
    sums: dict[str, Money] = {}
    for row in rows:
        cost = row.cost
        if cost is not None:
            sums[cost.currency] = sums[cost.currency] + cost if cost.currency in sums else cost
    return tuple(sums[code] for code in sorted(sums))


def _cheapest(row: Row, offers: Offers, shelf: Shelf, home: str | None, on: date | None) -> Price | None:
    assert row.part is not None
    part = shelf.get(row.part)
    stock_length = part.length if part is not None else None
    usable = (price for offer in offers.of(row.part, on) if (price := _price(offer, row, stock_length)))

    def rank(price: Price) -> tuple[bool, str, Fraction, str, str, int]:
        factor = offers.rates.factor(price.currency, home) if home is not None else None
        unlike = "" if factor is not None else price.currency
        compared = price.unit_price * (factor or 1)
        return factor is None, unlike, compared, price.supplier, price.number or "", price.pack

    return min(usable, key=rank, default=None)


def _price(offer: Offer, row: Row, stock_length: float | None) -> Price | None:
    """Return the offer as a price for one unit of the row; None if it is for pieces of no known length."""
    per = (offer.per or stock_length) if row.unit == "mm" else None
    if row.unit == "mm" and not per:
        return None
    if row.unit == "each" and offer.per is not None:
        return None
    each = Fraction(offer.price.amount) / offer.pack
    return Price(
        unit_price=each / exactly(per) if per else each,
        currency=offer.currency,
        supplier=offer.supplier.tag,
        number=offer.number,
        pack=offer.pack,
        pack_price=offer.price,
        per_mm=float(per) if per else None,
        valid_until=offer.valid_until,
    )
