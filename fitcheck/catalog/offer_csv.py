"""Prices as CSV: each row is one price, the columns are the keys of a price in an offer file."""

from fitcheck.catalog.offer_file import OfferFile, PriceEntry
from fitcheck.catalog.trade_csv import Table, keys_of, read_table
from fitcheck.files import AnyPath
from fitcheck.trees import Document, Mapping, Sequence, short


def read_prices(path: AnyPath) -> tuple[Document, OfferFile]:
    """Read a CSV file of prices as an offer file without suppliers, and the document that its places refer to.

    Raises:
        InputError: it cannot be read, a column is unknown, or a row is no price; every problem has its place.
    """
    table = read_table(path, keys_of(PriceEntry))
    prices: list[PriceEntry] = []
    for row in table.rows():
        entry = table.entry(row)
        if row.fault is None:
            _take_breaks(table, entry)
            price = table.held(PriceEntry, "prices", row, entry)
            prices += [] if price is None else [price]
    table.refuse()
    return table.document, OfferFile.model_construct(offers="1", suppliers={}, prices=prices)


def _take_breaks(table: Table, entry: Mapping) -> None:
    """Turn the text `10: 0.80 GBP; 50: 0.70 GBP` of an entry into the list that it stands for."""
    if "breaks" not in entry:
        return
    spot = entry.spots["breaks"]
    breaks = Sequence(spot[0])
    for text, at in table.items(entry, "breaks"):
        packs, colon, price = text.partition(":")
        if not colon:
            table.problem(at, f"expected packs and price of a break, such as 10: 0.80 GBP, got {short(text)}")
            continue
        each = Mapping(at)
        behind = at + len(text) - len(price.lstrip())
        each.update({"packs": packs.strip(), "price": price.strip()})
        each.spots.update(packs=(at, at, at + len(packs), ""), price=(behind, behind, at + len(text), ""))
        breaks.append(each)
        breaks.spots.append((at, at, at + len(text), None))
    entry["breaks"], entry.spots["breaks"] = breaks, (*spot[:3], None)
