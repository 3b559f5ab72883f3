"""Price lists for tests: an invented supplier, and what take-in made of a list."""

import csv
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from fitcheck.catalog.formulas import restored
from fitcheck.catalog.offer_file import read_offers
from fitcheck.catalog.offers import Offers
from fitcheck.catalog.part import Part, Port
from fitcheck.catalog.shelf import Layer, Shelf, read_catalog
from fitcheck.catalog.take_in.run import Request, TakenIn, take_in

TEE = "Tee 3/8-24 UNF inverted flare female for 3/16"
NUT = "Bremsleitungsverschraubung M10x1 außen Bördel F 4,75"
ADAPTER = "1/8 NPT male to AN-3 male adapter"
HEADER = ("Code", "Description", "Price", "Currency")
_SIDES = {"external": "male", "internal": "female"}
_SEATS = {"cone-37": "JIC", "push-on": "barb"}


def write(path: Path, rows: Sequence[Sequence[str]], separator: str = ",", encoding: str = "utf-8") -> Path:
    """Write a list and return its path."""
    with path.open("w", encoding=encoding, newline="") as file:
        csv.writer(file, delimiter=separator).writerows(rows)
    return path


def taken(path: Path, supplier: str = "invented", **options: Any) -> TakenIn:
    """Take a list in."""
    return take_in(Request(path, supplier, **options), Shelf.generic())


def parts(folder: Path, supplier: str = "invented") -> Layer:
    """Return the catalog that was written, read as any catalog is."""
    return read_catalog(folder / f"{supplier}-parts.yaml")


def offers(folder: Path, supplier: str = "invented") -> Offers:
    """Return the offers that were written, read as any offers are."""
    return read_offers([folder / f"{supplier}-offers.yaml"])


def rejects(folder: Path, stem: str = "list", separator: str = ",") -> list[list[str]]:
    """Return the rows of the rejects, header first, cells as they were in the list."""
    with (folder / f"{stem}-rejects.csv").open(encoding="utf-8-sig", newline="") as file:
        return [list(map(restored, row)) for row in csv.reader(file, delimiter=separator)]


def files(folder: Path) -> dict[str, bytes]:
    """Return every file of a folder."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def end_words(port: Port) -> str:
    """Return how a shop would write one end: thread, seat, side, tube."""
    if port.eye is not None:
        return f"banjo {port.eye:g} mm"
    if port.hose is not None:
        return f"{port.hose:g} mm barb"
    words = [port.thread.designation] if port.thread else []
    words += [_SEATS.get(port.seat, port.seat.replace("-", " "))] if port.seat else []
    words += [_SIDES[port.gender]] if port.gender else []
    words += [f"for {port.tube:g} mm tube"] if port.tube else []
    return " ".join(words)


def wording_of(part: Part) -> str:
    """Return how a shop would describe a part, from its own ports."""
    return f"{part.kind} {' to '.join(dict.fromkeys(map(end_words, part.ports.values())))}"
