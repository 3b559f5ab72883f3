"""Models of the stock file, and reading it: what is on the shelf, and what is coming."""

from typing import ClassVar

from pydantic import Field

from fitcheck.catalog.entries import Amount, Entry, Name, Note, SectionedEntry, Size, Version
from fitcheck.catalog.money_fields import IsoDate, Packs
from fitcheck.catalog.stock import Coming, Stock, Stocked
from fitcheck.files import AnyPath
from fitcheck.sources import read
from fitcheck.validation import validate


class StockEntry(Entry):
    """One part on the shelf."""

    what: ClassVar[str] = "a part in stock"
    part: Name
    quantity: Packs | None = Field(None, description="How many there are; 1 if nothing else says how much.")
    lengths: list[Size] | None = Field(None, description="Of cut goods: the pieces there are.")
    contents: Amount | None = Field(None, description="Of fluid: how much there is.")
    note: Note = None


class ComingEntry(Entry):
    """One part that has been ordered and is not here yet."""

    what: ClassVar[str] = "a part that is coming"
    part: Name
    quantity: Packs | None = Field(None, description="How many were ordered; 1 if nothing else says how much.")
    lengths: list[Size] | None = Field(None, description="Of cut goods: the pieces that were ordered.")
    contents: Amount | None = Field(None, description="Of fluid: how much was ordered.")
    supplier: Name | None = Field(None, description="Who sends it: the short name in the offer files.")
    number: str | None = Field(None, description="The supplier's own number for it.")
    ordered: IsoDate | None = Field(None, description="The day of the order.")
    due: IsoDate | None = Field(None, description="The day it should arrive.")
    note: Note = None


class StockFile(SectionedEntry):
    """A stock file: what the builder has already, and what is on its way."""

    what: ClassVar[str] = "a stock file"
    stock: Version
    note: Note = None
    shelf: list[StockEntry] = Field(default_factory=list, description="What is there.")
    coming: list[ComingEntry] = Field(default_factory=list, description="What has been ordered and is not here yet.")


def read_stock(path: AnyPath) -> Stock:
    """Read a stock file. One whose name ends with `.csv` has its entries in rows: see `stock_csv`.

    Raises:
        InputError: the file cannot be read or is no stock file; every problem has its place.
    """
    if is_csv(path):
        from fitcheck.catalog.stock_csv import read_stock_table  # only for those who keep stock so

        file = read_stock_table(path).file
    else:
        file = validate(StockFile, read(path))
    return Stock(map(stocked, file.shelf), map(coming, file.coming))


def is_csv(path: AnyPath) -> bool:
    """Return whether a stock file is CSV, by its name."""
    return path.suffix.lower() == ".csv"


def stocked(entry: StockEntry) -> Stocked:
    """Return the record of an entry of the shelf."""
    return Stocked(entry.part, *_how_much(entry), entry.note)


def coming(entry: ComingEntry) -> Coming:
    """Return the record of an entry of what is coming."""
    much = _how_much(entry)
    return Coming(
        entry.part, *much, entry.supplier, entry.number, ordered=entry.ordered, due=entry.due, note=entry.note
    )


def _how_much(entry: StockEntry | ComingEntry) -> tuple[int, tuple[float, ...], float | None]:
    lengths = tuple(entry.lengths or ())
    usual = 0 if lengths or entry.contents is not None else 1
    return entry.quantity if entry.quantity is not None else usual, lengths, entry.contents
