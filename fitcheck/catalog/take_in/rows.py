"""One row of a price list: taken, repeated, or rejected with a reason."""

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any, Final, NamedTuple

from fitcheck.catalog.money import Money
from fitcheck.catalog.shelf import Shelf
from fitcheck.catalog.take_in import figures
from fitcheck.catalog.take_in.columns import Columns, folded
from fitcheck.catalog.take_in.figures import FigureError, Pack
from fitcheck.catalog.take_in.seen import Before, Seen
from fitcheck.catalog.take_in.sizes import SAME_SIZE
from fitcheck.catalog.take_in.table import Row
from fitcheck.catalog.take_in.wording import Reading, a, read_wording
from fitcheck.quantities import parse
from fitcheck.trees import short

REASONS: Final = {
    "quotes": "the quotes of the row are wrong",
    "cells": "more cells than the header",
    "characters": "a character that no file takes",
    "part-unknown": "a part that no catalog has",
    "no-description": "neither a description nor a part",
    "not-understood": "the wording is not understood",
    "likely": "the wording is understood in part (taken with --also-likely)",
    "no-price": "no price",
    "price": "a price that is not understood",
    "currency": "a price in another currency than the list",
    "pack": "a pack that is not understood",
    "price_unit": "what the price is for is not understood",
    "unit": "a unit of sale that is not understood",
    "lead-time": "a lead time that is not understood",
    "date": "a date that is not understood",
    "no-id": "no number to call the part by",
    "id-taken": "another part with the same number",
    "offer-repeated": "a second price for the same part and pack",
}
"""Every sort of rejection, and what it is in a few words."""
_MOST_REASONS: Final = 3
_MOST_ID: Final = 60
_FORBIDDEN: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff\ufffe\uffff]")
_NOT_ID: Final = re.compile(r"[^a-z0-9]+")
_LARGEST: Final = Decimal(10**9)
_BY_LENGTH: Final = frozenset(("tube", "feed hose"))
"""Kinds that are sold by length; a made-up hose is a piece."""


class Settings(NamedTuple):
    """What holds for the whole list.

    Attributes:
        columns: where everything stands.
        supplier: the supplier's short name.
        list_name: the name of the list's file.
        currency: of every price; None if the list has no prices.
        decimal: `comma` or `point`; None if the list does not show it.
        price_for: whether a price is for a `piece` or a `pack`; None if nobody says.
        also_likely: whether a part is made of wording that is understood in part.
        to_length: whether goods with a price for 1 m or 1 ft are cut to length off a reel.
        known: the parts that the catalogs have.
        shipped: the catalog that ships, none of whose parts a supplier may hide.
    """

    columns: Columns
    supplier: str
    list_name: str
    currency: str | None
    decimal: str | None
    price_for: str | None
    also_likely: bool
    to_length: bool
    known: Shelf
    shipped: Shelf


class Taken(NamedTuple):
    """A row that was understood. `part` is None if the part was known already, `offer` if there is no price."""

    part_id: str
    part: Mapping[str, Any] | None
    offer: Mapping[str, str] | None
    confidence: str


class Rejected(NamedTuple):
    """A row that was not understood: the sort of reason (a key of `REASONS`) and the sentence."""

    code: str
    reason: str


class Repeated(NamedTuple):
    """A row that says in every cell what the row `first` says."""

    first: int


Outcome = Taken | Rejected | Repeated


class _Refused(Exception):  # noqa: N818  # never seen outside of this module
    def __init__(self, code: str, reason: str) -> None:
        super().__init__(code, reason)
        self.rejected = Rejected(code, reason)


def take(row: Row, settings: Settings, seen: Seen) -> Outcome:
    """Return what becomes of a row. `seen` learns of it."""
    if row.fault is not None:
        return Rejected("quotes", row.fault)
    before = seen.add(("row", *row.cells), row.number)
    if before is not None:
        return Repeated(before.row)
    try:
        return _taken(row, settings, seen)
    except _Refused as refused:
        return refused.rejected
    except FigureError as error:
        return Rejected(error.code, error.reason)


def _taken(row: Row, settings: Settings, seen: Seen) -> Taken:
    columns = settings.columns
    _check_cells(row, columns)
    part_id = columns.text(row.cells, "part")
    if part_id:
        if part_id not in settings.known:
            raise _Refused("part-unknown", f"no catalog has a part {short(part_id)}")
        offer = _offer(row, part_id, _kind_of(part_id, settings.known), None, settings)
        _add_offer(offer, seen, row)
        return Taken(part_id, None, offer, "known")
    description = " ".join(columns.text(row.cells, "description").split())
    reading = _reading(description, settings)
    part_id = _id(columns.text(row.cells, "number") or description, settings)
    offer = _offer(row, part_id, reading.kind or "", reading.fields.get("length"), settings)
    part: Mapping[str, Any] | None = _part(description, reading, settings)
    before = seen.add(("part", part_id), row.number, description)
    if before is not None:
        _check_same(before, description, offer)
        part = None
    _add_offer(offer, seen, row)
    return Taken(part_id, part, offer, reading.confidence)


def _kind_of(part_id: str, shelf: Shelf) -> str:
    return next(layer.kinds[part_id] for layer in shelf.layers if part_id in layer.kinds)


def _check_same(before: Before, description: str, offer: Mapping[str, str] | None) -> None:
    """Refuse a second row of a number, unless it is a further price of the same part."""
    if before.said != description:
        raise _Refused("id-taken", f"row {before.row} has the same number and is another part")
    if offer is None:
        raise _Refused("id-taken", f"row {before.row} has the same number and the same description")


def _check_cells(row: Row, columns: Columns) -> None:
    width = columns.width
    if len(row.cells) > width and any(map(str.strip, row.cells[width:])):
        raise _Refused("cells", f"the row has {len(row.cells)} cells, the header {width}")
    found = _FORBIDDEN.search("".join(row.cells))
    if found is not None:
        raise _Refused("characters", f"the character U+{ord(found[0]):04X} is not taken in a file")


def _reading(description: str, settings: Settings) -> Reading:
    if not description:
        raise _Refused("no-description", "the row has no description")
    reading = read_wording(description, settings.decimal)
    if reading.confidence == "high" or (reading.confidence == "medium" and settings.also_likely):
        return reading
    shown = "; ".join(reading.reasons[:_MOST_REASONS])
    more = len(reading.reasons) - _MOST_REASONS
    raise _Refused(
        "likely" if reading.confidence == "medium" else "not-understood",
        f"{shown}; and {more} more" if more > 0 else shown,
    )


def slug(text: str) -> str:
    """Return a text as it stands in an id: small letters, digits and dashes; empty if it has neither."""
    return _NOT_ID.sub("-", folded(text)).strip("-")


def _id(text: str, settings: Settings) -> str:
    name = slug(text)
    if not name:
        raise _Refused("no-id", f"{short(text)} has no letters or digits to call the part by")
    if len(name) > _MOST_ID:
        raise _Refused("no-id", f"the part has no number of at most {_MOST_ID} characters to call it by")
    part_id = f"{settings.supplier}-{name}"
    if part_id in settings.shipped:
        raise _Refused("id-taken", f"the catalog that ships has a part {part_id}; give another --supplier")
    return part_id


def _part(description: str, reading: Reading, settings: Settings) -> dict[str, Any]:
    part: dict[str, Any] = {"kind": reading.kind, "description": description}
    if reading.ports:
        part["ports"] = _short_ports(reading.ports)
    part |= reading.fields
    part["source"] = f"the supplier's wording in {settings.list_name}, read with {reading.confidence} confidence"
    if reading.confidence != "high":
        part["note"] = f"look at it before you buy: {'; '.join(reading.reasons)}"
    return part


def _short_ports(ports: Mapping[str, Mapping[str, Any]]) -> dict[str, Mapping[str, Any]]:
    """Return the ports with each that is like the first one said to be so."""
    first = next(iter(ports))
    return {
        name: {"same as": first} if name != first and port == ports[first] else port for name, port in ports.items()
    }


def _offer(row: Row, part_id: str, kind: str, length: str | None, settings: Settings) -> dict[str, str] | None:
    """Return the offer of a row, as the offers file writes it; None if the list has no prices.

    `length` is how long a piece is by the wording, if that says it.
    """
    if settings.currency is None:
        return None

    def text(field: str) -> str:
        return settings.columns.text(row.cells, field)

    found = figures.price(text("price"), settings.decimal)
    money = figures.in_currency(found, text("currency"), settings.currency)
    pack, amount = _pack(row, money.amount, settings)
    if pack.per is not None:
        pack = _by_length(pack, kind, length, settings.to_length, text("unit"))
    offer = {"part": part_id, "supplier": settings.supplier, "number": text("number"), "price": _money(amount, money)}
    offer["pack"] = str(pack.pieces) if pack.pieces > 1 else ""
    offer["per"] = pack.per or ""
    offer["to_length"] = "yes" if pack.running else ""
    offer["lead_time"] = figures.lead_time(text("lead_time")) or ""
    offer["valid_until"] = figures.valid_until(text("valid_until")) or ""
    return {key: value for key, value in offer.items() if value}


def _pack(row: Row, amount: Decimal, settings: Settings) -> tuple[Pack, Decimal]:
    """Return what is sold at once and its price."""
    columns = settings.columns
    unit = figures.unit(columns.text(row.cells, "unit"), settings.decimal)
    pieces = figures.pieces(columns.text(row.cells, "pack"), "pack")
    for_pieces = figures.pieces(columns.text(row.cells, "price_unit"), "price_unit")
    if unit.pieces > 1:
        if pieces not in (1, unit.pieces) or for_pieces not in (1, unit.pieces):
            raise _Refused("pack", f"the unit is of {unit.pieces} pieces, the pack of {pieces}")
        return unit, amount
    pack = unit._replace(pieces=pieces)
    if for_pieces > 1:
        return pack, amount * pieces / for_pieces
    if pieces == 1 or settings.price_for == "pack":
        return pack, amount
    if settings.price_for == "piece":
        return pack, amount * pieces
    raise _Refused("pack", f"whether the price is for 1 piece or for {pieces} is not said: give price_for in --columns")


def _by_length(pack: Pack, kind: str, length: str | None, to_length: bool, unit: str) -> Pack:
    """Return what is sold of goods by length; refuse it of others, and where two lengths of a piece are said."""
    if kind not in _BY_LENGTH:
        raise _Refused("unit", f"the price is for {short(unit)}, and {a(kind)} is not sold by length")
    if length is not None:
        if not _alike(pack.per or "", length):
            both = f"whether the price is for {pack.per} or for the {length} of the wording is not said"
            raise _Refused("unit", f"{both}: write the same length in both")
        return pack._replace(running=False)
    if not pack.running:
        return pack
    if not to_length:
        return pack._replace(running=False)
    if pack.pieces > 1:
        both = f"{pack.pieces} pieces of {pack.per} or one length"
        raise _Refused("pack", f"whether the pack is {both} is not said: write the length as the unit")
    return pack


def _alike(one: str, other: str) -> bool:
    """Return whether two lengths are one, the second perhaps converted and rounded: 25 ft and 7.6 m."""
    first, second = parse(one, "length"), parse(other, "length")
    return abs(first - second) <= SAME_SIZE * max(first, second)


def _money(amount: Decimal, money: Money) -> str:
    exact = amount.quantize(Decimal("0.0001"))
    if exact != amount or amount >= _LARGEST:
        raise _Refused(
            "price", f"the price of a pack, {amount}, is not exact to four decimals below a thousand million"
        )
    text = f"{exact:f}"
    whole, _, places = text.partition(".")
    return f"{whole}.{places.rstrip('0').ljust(2, '0')} {money.currency}"


def _add_offer(offer: Mapping[str, str] | None, seen: Seen, row: Row) -> None:
    if offer is None:
        return
    per = str(float(parse(offer["per"], "length"))) if "per" in offer else ""  # 1 m and 1000 mm are one
    before = seen.add(("offer", *(offer.get(name, "") for name in ("part", "number", "pack")), per), row.number)
    if before is not None:
        raise _Refused("offer-repeated", f"row {before.row} has a price for the same part, number and pack")
