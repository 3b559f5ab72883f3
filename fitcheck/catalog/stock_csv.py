"""Stock as CSV: each row is one entry, of the shelf or of what is coming, as its `state` says."""

from typing import Final, NamedTuple

from fitcheck.catalog.csv_rows import Row
from fitcheck.catalog.stock_file import ComingEntry, StockEntry, StockFile
from fitcheck.catalog.trade_csv import Table, keys_of, read_table
from fitcheck.files import AnyPath
from fitcheck.trees import Mapping, Sequence, short

HERE: Final = "here"
COMING: Final = "coming"
STATE: Final = "state"
KEYS: Final = {**keys_of(ComingEntry), STATE: False}
"""The columns, and whether each is needed. All keys of the shelf are keys of what is coming too."""
_ONLY_COMING: Final = tuple(key for key in keys_of(ComingEntry) if key not in keys_of(StockEntry))


class StockTable(NamedTuple):
    """A stock file as CSV: the table, what it says, and which rows are coming, in the order of `file.coming`."""

    table: Table
    file: StockFile
    coming: tuple[Row, ...]


def read_stock_table(path: AnyPath) -> StockTable:
    """Read a stock file that is CSV.

    Raises:
        InputError: it cannot be read, a column is unknown, or a row is no entry; every problem has its place.
    """
    return stock_table(read_table(path, KEYS))


def stock_table(table: Table) -> StockTable:
    """Return what a table says of the stock.

    Raises:
        InputError: a column is unknown, or a row is no entry; every problem has its place.
    """
    coming: list[tuple[ComingEntry, Row]] = []
    shelf: list[StockEntry] = []
    for row in table.rows():
        entry = table.entry(row)
        state = _state(table, entry)
        if row.fault is not None or state is None:
            continue
        _take_lengths(table, entry)
        if state == COMING:
            if (due := table.held(ComingEntry, "coming", row, entry)) is not None:
                coming.append((due, row))
        elif (here := table.held(StockEntry, "shelf", row, entry)) is not None:
            shelf.append(here)
    table.refuse()
    file = StockFile.model_construct(stock="1", shelf=shelf, coming=[entry for entry, _ in coming])
    return StockTable(table, file, tuple(row for _, row in coming))


def _take_lengths(table: Table, entry: Mapping) -> None:
    """Turn the text `900 mm; 1.2 m` of an entry into the list that it stands for."""
    if "lengths" not in entry:
        return
    spot = entry.spots["lengths"]
    lengths = Sequence(spot[0])
    for text, at in table.items(entry, "lengths"):
        lengths.append(text)
        lengths.spots.append((at, at, at + len(text), ""))
    entry["lengths"], entry.spots["lengths"] = lengths, (*spot[:3], None)


def _state(table: Table, entry: Mapping) -> str | None:
    """Take the state out of an entry and return it; None if it is no state. Take down what does not go with it."""
    text = entry.pop(STATE, HERE)
    at = entry.spots.pop(STATE, (entry.start, 0, 0, None))[0]
    state = str(text).lower()
    if state not in (HERE, COMING):
        table.problem(at, f"expected {HERE} or {COMING}, got {short(text)}")
        return None
    for key in _ONLY_COMING if state == HERE else ():
        if key in entry:
            table.problem(entry.spots.pop(key)[0], f"{key!r} is only for what is coming: this row is {HERE}")
            del entry[key]
    return state
