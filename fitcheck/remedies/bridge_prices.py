"""What the parts that a build may buy cost, each by the same choice of offer as on the bill of materials."""

from collections.abc import Collection
from datetime import date

from fitcheck.bom.prices import priced
from fitcheck.bom.record import Price, Row
from fitcheck.build.load import Build
from fitcheck.catalog.offers import Offers
from fitcheck.remedies.interfaces import KINDS


def prices_of(
    build: Build, on: date | None = None, kinds: Collection[str] = KINDS, offers: Offers | None = None
) -> tuple[dict[str, Price], str | None]:
    """Return the price of one piece of each part of these kinds on offer, and the currency of most offers.

    Offers that have run out on the day `on` are left out. A build without offers has no prices and no currency.
    `offers` are those of the build, for those who have read them already.

    Raises:
        InputError: an offer file cannot be read.
    """
    if not build.file.offers:
        return {}, None
    offers = build.offers() if offers is None else offers
    parts = (build.shelf.get(part_id) for part_id in dict.fromkeys(offer.part for offer in offers.offers))
    rows = [Row(part.id, part.kind, part.description, 1, "each", ()) for part in parts if part and part.kind in kinds]
    found = priced(rows, offers, build.shelf, on)
    return {row.part: row.price for row in found if row.part and row.price}, offers.currency
