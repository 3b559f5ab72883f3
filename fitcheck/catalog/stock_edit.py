"""The stock file kept up to date: what has been ordered is added to it, and what has arrived goes to the shelf.

The file is edited in place: all that is not touched stays as it is, to the byte, and an interruption loses nothing.
"""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple, Protocol

from fitcheck.catalog.stock import Coming
from fitcheck.catalog.stock_edit_moves import ArrivalError, moves_of, quantity_text
from fitcheck.catalog.stock_file import StockFile, coming, is_csv
from fitcheck.changes import Append, Change, Drop, Plain, Put, changed_document
from fitcheck.sources import Document, read, write_atomically
from fitcheck.validation import validate

__all__ = ["ArrivalError", "Edit", "EditedStock", "arrived", "place"]


class Edit(NamedTuple):
    """What changes in a stock file.

    `gone` are places in what is coming that leave it; `left` says what of a place stays: its key and the new value.
    `shelf` and `coming` are new entries, as users would write them.
    """

    gone: tuple[int, ...] = ()
    left: tuple[tuple[int, str, Plain], ...] = ()
    shelf: tuple[dict[str, Plain], ...] = ()
    coming: tuple[dict[str, Plain], ...] = ()


class EditedStock(Protocol):
    """A stock file that has been read and can be written again with a change."""

    file: StockFile

    def write(self, edit: Edit) -> None:
        """Make an edit in the file, or leave it as it was. Raises InputError if it cannot be made or written."""


def place(path: Path, entries: Sequence[Coming]) -> None:
    """Add what has been ordered to what is coming in the stock file at `path`.

    Raises:
        InputError: the file cannot be read or written, or is no stock file; it is as it was then.
    """
    if entries:
        _open(path).write(Edit(coming=tuple(map(_as_coming, entries))))


def arrived(path: Path, who: Sequence[str], on: date) -> tuple[Coming, ...]:
    """Move what has arrived on the day `on` from what is coming to the shelf, and return it.

    A word of `who` names all that is coming from a supplier, of a part, or under a supplier's number; `PART=3` three
    pieces of it. Without words everything that is coming has arrived.

    Raises:
        ArrivalError: a word names nothing that is coming, or more of it than is coming. The file is as it was.
        InputError: the file cannot be read or written, or is no stock file; it is as it was then.
    """
    stock = _open(path)
    moves = moves_of(tuple(map(coming, stock.file.coming)), who)
    if moves:
        gone = tuple(move.at for move in moves if move.rest is None)
        left = tuple((move.at, *_what_is_left(move.rest)) for move in moves if move.rest is not None)
        stock.write(Edit(gone, left, tuple(_as_shelved(move.arrived, on) for move in moves)))
    return tuple(move.arrived for move in moves)


def _what_is_left(rest: Coming) -> tuple[str, Plain]:
    return ("lengths", _how_much(rest)["lengths"]) if rest.lengths else ("quantity", str(rest.quantity))


def _how_much(entry: Coming) -> dict[str, Plain]:
    """Return the part of an entry and how much of it there is, as users would write it."""
    said: dict[str, Plain] = {"part": entry.part}
    if entry.quantity or not (entry.lengths or entry.contents is not None):
        said["quantity"] = str(entry.quantity)
    if entry.lengths:
        said["lengths"] = [quantity_text(length, "length") for length in entry.lengths]
    if entry.contents is not None:
        said["contents"] = quantity_text(entry.contents, "volume")
    return said


def _as_coming(entry: Coming) -> dict[str, Plain]:
    days = {key: day.isoformat() for key, day in (("ordered", entry.ordered), ("due", entry.due)) if day is not None}
    texts = {"supplier": entry.supplier, "number": entry.number, **days, "note": entry.note}
    return {**_how_much(entry), **{key: text for key, text in texts.items() if text}}


def _as_shelved(entry: Coming, on: date) -> dict[str, Plain]:
    sender = f"from {entry.supplier}, " if entry.supplier is not None else ""
    own = f"; {entry.note}" if entry.note else ""
    return {**_how_much(entry), "note": f"{sender}arrived {on.isoformat()}{own}"}


def _open(path: Path) -> EditedStock:
    if is_csv(path):
        from fitcheck.catalog.stock_edit_csv import CsvStock  # only for those who keep stock so

        return CsvStock(path)
    return _YamlStock(path)


class _YamlStock:
    """A stock file that is YAML."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.document = read(path)
        self.file = validate(StockFile, self.document)

    def write(self, edit: Edit) -> None:
        changed = _edited(self.document, edit)
        validate(StockFile, changed)  # what cannot be read again is not written
        write_atomically(self.path, changed.text)


def _edited(document: Document, edit: Edit) -> Document:
    """Return the file with the changes made in its text."""
    changes: list[Change] = [Drop(("coming", index)) for index in edit.gone]
    changes += [Put(("coming", index, key), value) for index, key, value in edit.left]
    waiting: list[Append] = [Append(("shelf",), entry) for entry in edit.shelf]
    waiting += [Append(("coming",), entry) for entry in edit.coming]
    while changes or waiting:
        while waiting and waiting[0] not in changes:  # equal additions at a time would be made once only
            changes.append(waiting.pop(0))
        document, changes = changed_document(document, changes), []
    return document
