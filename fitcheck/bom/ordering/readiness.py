"""When each circuit can be finished and filled, and what can be made with what is here.

Each circuit is looked at by itself, as if it were made first: it is ready on the first day on which all that it takes
is here, of each part as much as its places take. Spares hold nothing up, and neither does fluid of which nobody knows
how much it takes; every other amount that is not known does. Parts and pieces to cut are counted; of fluid only that it
is short. What belongs to which circuit is said in `belonging`, what comes when in `supply` and `pieces`.

What can be made now is counted piece by piece: first whole circuits, in the order in which they can be ready, each with
what those before have left; then components, lines and hoses of the other circuits, in the order of the file. A line
takes its tube, and the nuts and sleeves at both its ends; a hose and a component take themselves.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import Final, NamedTuple

from fitcheck.bom.need import SPARE, Need
from fitcheck.bom.ordering.belonging import NO_CIRCUIT, Belonging
from fitcheck.bom.ordering.pieces import Pieces, Rack
from fitcheck.bom.ordering.record import CircuitReady, Doable, Plan, Readiness
from fitcheck.bom.ordering.supply import Supplies, Wait, together, waited, words
from fitcheck.build.graph import PortGraph
from fitcheck.catalog.stock import Stock

_WORK: Final = frozenset({"clip", "fluid", "sealant", "dust cap"})
"""Kinds that the work uses up: a line is made without them."""


class _Entry(NamedTuple):
    """What one place takes of the need with this number: so much, or why nobody knows how much."""

    need: int
    places: tuple[str, ...]
    quantity: int
    unknown: str | None = None
    work: bool = False


def readiness(graph: PortGraph, plan: Plan, stock: Stock) -> Readiness:
    """Return when each circuit can be finished under a plan, and what can be made with what is on the shelf.

    `stock` is what the plan was made with: what it takes from there it says itself, and the rest counts as well.
    """
    work = _Work(graph, plan, stock)
    found = [work.ready(name) for name in work.belonging.names]
    order = sorted(range(len(found)), key=lambda number: _by_day(found[number].day, number))
    circuits = [found[number] for number in order]
    doable = _doable(work, [each.circuit for each in circuits])
    if work.of_circuit[NO_CIRCUIT]:
        circuits.append(work.ready(NO_CIRCUIT))
    return Readiness(tuple(circuits), doable)


def _by_day(day: date | None, number: int) -> tuple[bool, date, int]:
    return day is None, day or date.max, number


class _Work:
    """A plan's needs taken apart: what each place takes, by circuit and by place, and what there is for it."""

    def __init__(self, graph: PortGraph, plan: Plan, stock: Stock) -> None:
        self.graph = graph
        self.plan = plan
        self.belonging = Belonging(graph)
        self.supplies = Supplies(graph.build.shelf, plan, stock)
        self.pieces = {number: Pieces(plan, stock, need) for number, need in enumerate(plan.needs) if need.unit == "mm"}
        self.entries = [entry for number, need in enumerate(plan.needs) for entry in _entries(number, need)]
        self.of_circuit: dict[str, list[int]] = defaultdict(list)
        self.of_place: dict[str, list[int]] = defaultdict(list)
        for number, entry in enumerate(self.entries):
            for name in {name for place in entry.places for name in self.belonging.of(place)}:
                self.of_circuit[name].append(number)
            for place in entry.places:
                self.of_place[place].append(number)

    def ready(self, name: str) -> CircuitReady:
        """Return when a circuit can be finished if it is made before all others."""
        waits = list(self._waits(self.of_circuit[name]))
        if name in self.belonging.unfound:
            waits.append(Wait(None, gate=(self.belonging.unfound[name],)))
        wait = together(self.plan.on, waits)
        return CircuitReady(name, wait.day, wait.gate, wait.here, wait.coming, wait.short)

    def _waits(self, numbers: Iterable[int]) -> Iterator[Wait]:
        for number, entries in self.by_need(numbers).items():
            need = self.plan.needs[number]
            unknown = [entry.unknown for entry in entries if entry.unknown is not None]
            if unknown:
                yield Wait(None, gate=tuple((words(need), why) for why in dict.fromkeys(unknown)))
            known = [entry for entry in entries if entry.unknown is None]
            if number in self.pieces:
                yield self._cut(number, [entry.places[0] for entry in known])
            elif known:
                wait = self.supplies.wait(need, sum(entry.quantity for entry in known))
                yield wait if need.unit == "each" else wait._replace(here=0, coming=0, short=min(wait.short, 1))

    def _cut(self, number: int, tags: Sequence[str]) -> Wait:
        """Return how long the pieces for these tags take."""
        need, pieces = self.plan.needs[number], self.pieces[number]
        found = pieces.supplies(tags)
        lost = [tag for tag in tags if tag not in found]
        told = [pieces.left_out[tag] for tag in lost if tag in pieces.left_out]
        reason = told[0] if told else self.supplies.reason(need)
        used = [found[tag]._replace(quantity=1) for tag in tags if tag in found]
        return waited(self.plan.on, used, len(lost), (words(need), reason))

    def by_need(self, numbers: Iterable[int]) -> dict[int, list[_Entry]]:
        """Return entries by the number of their need."""
        found: dict[int, list[_Entry]] = defaultdict(list)
        for number in numbers:
            found[self.entries[number].need].append(self.entries[number])
        return dict(sorted(found.items()))


def _entries(number: int, need: Need) -> Iterator[_Entry]:
    """Yield what each place takes of a need; spares are for no place."""
    for use in need.uses:
        if use.origin != "spare":
            yield _Entry(number, (use.place,), use.quantity, None, use.origin == "work")
    for piece in need.pieces:
        if piece.tag != SPARE:
            yield _Entry(number, (piece.tag,), 1)
    for place, reason in need.unknown if need.unit != "ml" else ():
        yield _Entry(number, tuple(place.split(" and ")), 0, reason, need.kind in _WORK)


class _Bench:
    """What is on the shelf, and what has been made from it so far."""

    def __init__(self, work: _Work) -> None:
        self.work = work
        self.made: set[int] = set()
        self._left = {number: work.supplies.here(need) for number, need in enumerate(work.plan.needs)}
        self._racks = {number: Rack(pieces) for number, pieces in work.pieces.items()}

    def make(self, numbers: Iterable[int]) -> tuple[str, ...]:
        """Make what these entries are for, or return what it lacks and leave all as it is."""
        open_ = [number for number in numbers if number not in self.made]
        by_need = self.work.by_need(open_)
        lacking = [words(self.work.plan.needs[number]) for number in by_need if self._lacks(number, by_need[number])]
        if not lacking:
            self.made.update(open_)
            for number, entries in by_need.items():
                self._left[number] -= sum(entry.quantity for entry in entries)
                if number in self._racks:
                    self._racks[number].cut([entry.places[0] for entry in entries])
        return tuple(dict.fromkeys(lacking))

    def _lacks(self, number: int, entries: Sequence[_Entry]) -> bool:
        if any(entry.unknown is not None for entry in entries):
            return True
        if number in self._racks:
            tags = {entry.places[0] for entry in entries}
            return self._racks[number].can(tags) != tags
        return sum(entry.quantity for entry in entries) > self._left[number]


def _doable(work: _Work, names: Sequence[str]) -> Doable:
    """Return what can be made with what is on the shelf: circuits in the order of `names`, then single places."""
    bench = _Bench(work)
    whole = [name for name in names if name not in work.belonging.unfound and not bench.make(work.of_circuit[name])]
    single, lacking = [], []
    for tag in work.graph.fitted:
        own = [number for number in _own(work, tag) if number not in bench.made]
        if not own:
            continue
        lacks = bench.make(own)
        if lacks:
            lacking.append((tag, lacks))
        else:
            single.append(tag)
    return Doable(tuple(whole), tuple(single), tuple(lacking))


def _own(work: _Work, tag: str) -> list[int]:
    """Return what a component, line or hose takes by itself."""
    ends = (f"{tag}.from", f"{tag}.to") if work.graph.fitted[tag].section == "lines" else ()
    numbers = dict.fromkeys(number for place in (tag, *ends) for number in work.of_place[place])
    return [number for number in numbers if not work.entries[number].work]
