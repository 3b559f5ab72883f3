"""Everything that has to be there before the car is whole: the bill, its spares, and what the work uses up."""

from collections.abc import Iterator
from typing import Final

from fitcheck.bom.consumables import consumables as work_needs
from fitcheck.bom.need import Need, Use, merged
from fitcheck.bom.nesting.record import Cut
from fitcheck.bom.record import Bom, Row
from fitcheck.bom.spares import spares as spare_needs
from fitcheck.build.graph import PortGraph
from fitcheck.catalog.part import KINDS

_KIND_ORDER: Final = {kind: index for index, kind in enumerate(KINDS)}


def needs(graph: PortGraph, bom: Bom, *, spares: bool = True, consumables: bool = True) -> tuple[Need, ...]:
    """Return what a build needs, one need for each part: what its bill `bom` counts, and unless not wanted the rest.

    Parts that catalogs have come first, by kind and id; then stated ids that mean nothing, then what is only known in
    words, and last the joints whose fixings the bill could not count.
    """
    found = [_of_row(row) for row in bom.rows]
    if spares:
        found += spare_needs(graph, bom)
    if consumables:
        found += work_needs(graph, {piece.tag: piece.length for row in bom.rows for piece in row.pieces})
    wanted = (need for need in merged(found) if need.uses or need.pieces or need.unknown)
    return (*sorted(wanted, key=_order), *_not_counted(bom))


def _of_row(row: Row) -> Need:
    """Return a row of the bill as a need: how many each place takes, or what is cut; lengths not known stand apart."""
    counts = zip(row.places, row.counts, strict=True) if row.unit == "each" else ()
    lengths = [(piece.tag, piece.length) for piece in row.pieces]
    return Need(
        row.part,
        row.kind,
        row.description,
        row.unit,
        tuple(Use(place, count) for place, count in counts if count),
        tuple(Cut(tag, length.mm) for tag, length in lengths if length.mm is not None),
        tuple((tag, length.unknown or "") for tag, length in lengths if length.mm is None),
        unlisted=row.unknown,
    )


def _not_counted(bom: Bom) -> Iterator[Need]:
    """Yield what the bill does not know of its joints, so that nobody takes silence for nothing."""
    unknown = tuple((" and ".join(place.at), place.reason) for place in bom.not_counted)
    if unknown:
        yield Need(None, "fixing", "fixings of joints that cannot be told", "each", unknown=unknown)


def _order(need: Need) -> tuple[bool, bool, int, str, str]:
    """Return what needs are sorted by, as a bill's rows are: known parts first, by kind, then by id."""
    kind = _KIND_ORDER.get(need.kind, len(_KIND_ORDER))
    return need.unlisted or need.part is None, need.part is None, kind, need.part or need.description, need.unit
