"""Counting a build: every component, line, hose and fixing, grouped by part."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import Final

from fitcheck.bom.lengths import hose_length, line_length
from fitcheck.bom.prices import priced, totals
from fitcheck.bom.reasons import why_not_counted
from fitcheck.bom.record import Bom, Length, NotCounted, Piece, Row, Unit
from fitcheck.build.fixings import Fixing, fixings
from fitcheck.build.graph import Fitted, Joint, PortGraph
from fitcheck.catalog.offers import Offers
from fitcheck.catalog.part import KINDS, Part

_KIND_ORDER: Final = {kind: index for index, kind in enumerate(KINDS)}


def take_off(graph: PortGraph, on: date | None = None, offers: Offers | None = None) -> Bom:
    """Return the bill of materials of a build: what to buy, how much of it, and what for.

    Counted are components, the tube of lines, hoses, the nuts, sleeves, banjo bolts and washers that joints
    need, what slides onto lines, and the grommets of panels. Where the build names offers each row has the cheapest
    unit price; offers that have run out on the day `on` are left out, none are if no day is given. `offers` are those
    of the build, for those who have read them already.

    Raises:
        InputError: an offer file cannot be read.
    """
    count = _Count(graph)
    rows: tuple[Row, ...] = tuple(sorted(count.rows(), key=_order))
    name = graph.build.file.name
    if not graph.build.file.offers:
        return Bom(name, rows, tuple(count.not_counted), told_in=graph.unit)
    rows = tuple(priced(rows, graph.build.offers() if offers is None else offers, graph.build.shelf, on))
    return Bom(name, rows, tuple(count.not_counted), True, totals(rows), graph.unit)


@dataclass(slots=True)
class _Tally:
    """One row as it fills."""

    part_id: str | None
    kind: str
    description: str
    unit: Unit
    unknown: bool
    quantity: int = 0
    places: dict[str, int] = field(default_factory=dict)
    pieces: list[Piece] = field(default_factory=list)

    def add(self, place: str, quantity: int) -> None:
        self.quantity += quantity
        self.places[place] = self.places.get(place, 0) + quantity

    def row(self) -> Row:
        places = tuple(self.places)
        if self.unit == "each":
            counts = tuple(self.places.values())
            return Row(
                self.part_id,
                self.kind,
                self.description,
                self.quantity,
                "each",
                places,
                unknown=self.unknown,
                counts=counts,
            )
        lengths = [piece.length.mm for piece in self.pieces]
        known = [length for length in lengths if length is not None]
        whole = sum(known) if len(known) == len(lengths) else None
        pieces = tuple(self.pieces)
        return Row(self.part_id, self.kind, self.description, whole, "mm", places, pieces, sum(known), self.unknown)


class _Count:
    """Counts a build, component by component and joint by joint, in time linear in it."""

    def __init__(self, graph: PortGraph) -> None:
        self.graph = graph
        self.not_counted: list[NotCounted] = []
        self._tallies: dict[tuple[str | None, str, Unit], _Tally] = {}
        self._reasons = {(item.tag, item.part_id): item.reason for item in graph.unknown_parts}
        self._flares: dict[str, str | None] = {}
        for joint in graph.joints:
            self._joint(joint)
        for item in graph.fitted.values():
            self._fitted(item)
        for tag, line in graph.build.file.lines.items():
            for part_id in line.slides:
                self._stated(part_id, tag, "spring guard", 1)
        for tag, panel in graph.build.file.panels.items():
            if panel.grommet is not None:
                self._stated(panel.grommet, tag, "grommet", 1)
        for unknown in graph.unknown_refs:
            if unknown.assumed is None and unknown.path[0] != "circuits":
                self.not_counted.append(NotCounted((unknown.ref,), unknown.reason))

    def rows(self) -> Iterator[Row]:
        return (tally.row() for tally in self._tallies.values())

    def _fitted(self, item: Fitted) -> None:
        length = self._length(item)
        tally = self._tally(item, "mm" if length is not None else "each")
        if length is None:
            tally.add(item.tag, 1)
        else:
            tally.places[item.tag] = 0
            tally.pieces.append(Piece(item.tag, length))

    def _tally(self, item: Fitted, unit: Unit) -> _Tally:
        kind = {"lines": "tube", "hoses": "hose", "components": ""}[item.section]
        reason = self._reasons.get((item.tag, item.part_id))
        return self._open(item.part_id, item.part, kind, reason or "no catalog has it", unit)

    def _length(self, item: Fitted) -> Length | None:
        """Return the length to cut, None for what is bought whole."""
        if item.section == "lines":
            return line_length(self.graph, item, self._flares)
        return hose_length(self.graph, item) if item.section == "hoses" else None

    def _joint(self, joint: Joint) -> None:
        reason = why_not_counted(joint)
        if reason is not None:
            self.not_counted.append(NotCounted(joint.refs, reason))
        needed = fixings(self.graph, joint)
        at = joint.refs[1] if joint.kind == "tube" else joint.refs[0]
        if joint.kind == "tube":
            self._flares[at] = needed.flare
        for fixing in needed.items:
            self._fixing(fixing, joint, at)

    def _fixing(self, fixing: Fixing, joint: Joint, at: str) -> None:
        stated = _stated_id(fixing, joint)
        if fixing.part is None and stated is None:
            tally = self._open(None, None, fixing.word, fixing.wanted, "each")
            tally.add(at, fixing.quantity)
        else:
            part_id = fixing.part.id if fixing.part is not None else stated
            assert part_id is not None
            self._stated(part_id, at, fixing.word, fixing.quantity)

    def _stated(self, part_id: str, at: str, word: str, quantity: int) -> None:
        part = self.graph.build.shelf.get(part_id)
        reason = self._reasons.get((at, part_id)) or f"no catalog has a part {part_id!r}"
        tally = self._open(part_id, part, word, reason, "each")
        tally.add(at, quantity)

    def _open(self, part_id: str | None, part: Part | None, kind: str, words: str, unit: Unit) -> _Tally:
        """Return the tally of a part, or of a need in words, opened at first use."""
        key = (part_id, "" if part_id is not None else words, unit)
        tally = self._tallies.get(key)
        if tally is None:
            kind = part.kind if part is not None else kind
            words = part.description if part is not None else words
            unknown = part is None and part_id is not None
            tally = self._tallies[key] = _Tally(part_id, kind, words, unit, unknown)
        return tally


def _stated_id(fixing: Fixing, joint: Joint) -> str | None:
    """Return the part id that the file states for a fixing, if it states one."""
    if fixing.word == "banjo bolt":
        return joint.bolt
    stated = joint.ends[-1].stated
    if stated is None or fixing.word == "washer":
        return None
    return stated.nut if fixing.word == "nut" else stated.sleeve


def _order(row: Row) -> tuple[bool, bool, int, str, str]:
    """Return what rows are sorted by: known parts first, by kind, then by id."""
    kind = _KIND_ORDER.get(row.kind, len(_KIND_ORDER))
    return row.unknown or row.part is None, row.part is None, kind, row.part or row.description, row.unit
