"""Filling and bleeding: what each circuit holds, in which order bleed screws are opened, how many strokes they take.

What has most fluid between its master cylinder and itself comes first: the air there has the longest way, and what is
let out renews what the others share. That is the "farthest first" of guides to bleeding, by volume instead of by looks;
where the circuits are split diagonally it follows from the same figures. A clutch is bled by itself.

Volumes in mm3. A way holds what its lines and hoses hold, and the part that is bled (`build.volumes`); its place in the
order is by the lines and hoses alone, since a large caliper is no farther away.
Limits: fittings and valves hold a fraction of a millilitre each and are not counted.
"""

from collections.abc import Iterator, Mapping
from math import ceil
from typing import Final, NamedTuple

from fitcheck.build.circuits import Circuits, Network
from fitcheck.build.graph import PortGraph
from fitcheck.build.line_runs import hose_run, line_run
from fitcheck.build.refs import tag_of
from fitcheck.build.routes import RouteError
from fitcheck.build.trapped_air import bleeds
from fitcheck.build.volumes import Held, Holding, volumes
from fitcheck.catalog.part import CONSUMERS
from fitcheck.hydraulics.outlets import Outlets, outlets
from fitcheck.hydraulics.record import Drives, Outlet
from fitcheck.standards.bleeding import bleed_figure

_ROUND: Final = 1e-9


class Way(NamedTuple):
    """The way from a master cylinder to one bleed screw, or to the bleed screws of one part.

    Attributes:
        at: the tag of the part that is bled; `ref` is the port by which fluid comes to it.
        outlet: the outlet that pushes, `circuits` the names of what it feeds.
        drives: which pedal; None if it is neither brake nor clutch.
        screws: how many bleed screws; None if its catalog does not say that it has one.
        by_bolt: it is the banjo bolt at `ref` that has the bleed screw.
        parts: what lies on the way and holds fluid, the part that is bled last.
        swept_mm3: what one full stroke moves; None if that is not known.
    """

    at: str
    ref: str
    outlet: str
    circuits: tuple[str, ...]
    drives: Drives | None
    screws: int | None
    by_bolt: bool
    parts: tuple[Held, ...]
    swept_mm3: float | None

    @property
    def mm3(self) -> float:
        """What is known to be on the way [mm3]."""
        return sum(part.mm3 for part in self.parts if part.mm3 is not None)

    @property
    def before_mm3(self) -> float:
        """What is known to be on the way to the part that is bled [mm3]: the place in the order goes by it."""
        return sum(part.mm3 for part in self.parts if part.mm3 is not None and part.tag != self.at)

    @property
    def unknown(self) -> tuple[tuple[str, str], ...]:
        """What the volume leaves out: tags, each with the field that is missing."""
        return tuple((part.tag, part.words) for part in self.parts if part.mm3 is None)

    @property
    def flush_mm3(self) -> float:
        """How much is let out until what comes is new [mm3]."""
        return self.mm3 * bleed_figure("flush").value

    @property
    def fill_strokes(self) -> int | None:
        """Full strokes until fluid has come all the way, if nothing is lost; None if not known."""
        return strokes(self.mm3, self.swept_mm3)

    @property
    def flush_strokes(self) -> int | None:
        """Full strokes until the way is flushed; None if not known."""
        return strokes(self.flush_mm3, self.swept_mm3)


class Master(NamedTuple):
    """A master cylinder, to be bled first: what feeds it, if it has a tank of its own, and if it has a bleed screw."""

    tag: str
    drives: Drives | None
    outlets: tuple[str, ...]
    tanks: tuple[str, ...]
    own_tank: bool
    bleeder: bool


class Bleed(NamedTuple):
    """How one build is filled and bled.

    `holdings` is what it takes to fill it. `ways` are the bleed screws in the order in which they are opened, those of
    the brakes first. `doubtful` are tags whose place in that order may be another, since something on their way is not
    known. `without` are cylinders that say they have no bleed screw.
    """

    build: str
    holdings: tuple[Holding, ...]
    masters: tuple[Master, ...]
    ways: tuple[Way, ...]
    doubtful: tuple[str, ...]
    without: tuple[str, ...]

    def of(self, drives: Drives | None) -> tuple[Way, ...]:
        """Return the ways of one pedal, in order."""
        return tuple(way for way in self.ways if way.drives == drives)


def strokes(mm3: float, swept_mm3: float | None) -> int | None:
    """Return how many whole strokes move so much; None if it is not known what one moves.

    >>> strokes(30_000.0, 6_000.0), strokes(30_001.0, 6_000.0), strokes(1.0, None)
    (5, 6, None)
    """
    return ceil(mm3 / swept_mm3 - _ROUND) if swept_mm3 else None


def run_lengths(graph: PortGraph) -> dict[str, float | None]:
    """Return how long each line and hose is from seat to seat [mm], as far as the build says."""
    found: dict[str, float | None] = {}
    for tag, item in graph.fitted.items():
        if item.section == "hoses":
            found[tag] = hose_run(graph, item)[0]
        elif item.section == "lines" and item.part is not None:
            try:
                found[tag] = line_run(graph, tag, item.part)[0]
            except RouteError:
                found[tag] = None
    return found


def bleed(graph: PortGraph, circuits: Circuits | None = None, found: Outlets | None = None) -> Bleed:
    """Return how a build is filled and bled. Time is linear in the build, times the bleed screws for their ways."""
    circuits = circuits or Circuits(graph)
    found = found or outlets(graph, circuits)
    holdings = volumes(graph, run_lengths(graph), circuits)
    held = {part.tag: part for one in holdings for part in one.parts}
    reading = _Reading(graph, circuits, {outlet.ref: outlet for outlet in found.outlets}, held)
    ways = sorted(reading.ways(), key=lambda way: (_rank(way.drives), -round(way.before_mm3, 6)))
    doubtful = tuple(way.at for way in ways if _in_doubt(way, ways))
    return Bleed(graph.build.file.name, holdings, tuple(reading.masters()), tuple(ways), doubtful, reading.without)


def _rank(drives: Drives | None) -> int:
    return {"brake": 0, None: 1, "clutch": 2}[drives]


def _in_doubt(way: Way, ways: list[Way]) -> bool:
    """Return whether a way could come earlier: something on it is not known, and it is not first already."""
    first = next(other for other in ways if other.drives == way.drives)
    return way is not first and any(tag != way.at for tag, _ in way.unknown)


class _Reading:
    def __init__(
        self, graph: PortGraph, circuits: Circuits, by_ref: Mapping[str, Outlet], held: Mapping[str, Held]
    ) -> None:
        self.graph = graph
        self.circuits = circuits
        self.by_ref = by_ref
        self.held = held
        self.without: tuple[str, ...] = ()

    def ways(self) -> Iterator[Way]:
        """Yield the way to each bleed screw, in the order of the file, and note what has none."""
        without: dict[str, None] = {}
        for network in self.circuits.pressurised():
            bolts = dict(self._bolts(network))
            for ref in self._bled(network):
                tag, part = tag_of(ref), self.graph.ends[ref].fitted.part
                own = part is not None and (part.bleeder is None or bleeds(part))
                if part is not None and own:
                    screws = None if part.bleeder is None else part.bleed_screws or 1
                    yield self._way(tag, ref, screws, by_bolt=False)
                elif tag not in bolts.values():
                    without[tag] = None
            for ref, tag in bolts.items():
                yield self._way(tag, ref, 1, by_bolt=True)
        self.without = tuple(without)

    def _bled(self, network: Network) -> Iterator[str]:
        """Yield of each part that is bled the port that fluid comes to first."""
        refs: dict[str, list[str]] = {}
        for ref in network.ends:
            part = self.graph.ends[ref].fitted.part
            if part is not None and (part.kind in CONSUMERS or bleeds(part)) and not part.outlets:
                refs.setdefault(tag_of(ref), []).append(ref)
        for ends in refs.values():
            yield min(ends, key=self.circuits.distance.__getitem__)

    def _bolts(self, network: Network) -> Iterator[tuple[str, str]]:
        """Yield the ports whose banjo bolt has a bleed screw, with the tag of their part."""
        for ref in network.ends:
            for joint in self.graph.joints_at.get(ref, ()):
                if joint.bolt and joint.refs[0] == ref and bleeds(self.graph.build.shelf.get(joint.bolt)):
                    yield ref, tag_of(ref)

    def _way(self, tag: str, ref: str, screws: int | None, *, by_bolt: bool) -> Way:
        ends = self.circuits.way_to(ref)
        outlet = self.by_ref.get(ends[0])
        tags = [passed for passed in dict.fromkeys(map(tag_of, ends)) if passed != tag_of(ends[0])]
        parts = tuple(self.held[passed] for passed in dict.fromkeys([*tags, tag]) if passed in self.held)
        circuits = outlet.circuits if outlet is not None else ()
        drives = outlet.drives if outlet is not None else None
        return Way(tag, ref, ends[0], circuits, drives, screws, by_bolt, parts, self._swept(outlet))

    def _swept(self, outlet: Outlet | None) -> float | None:
        """Return what a stroke moves: the area times the stroke behind the cut-off, no longer than the pedal's way."""
        if outlet is None or outlet.area_mm2 is None or outlet.stroke_mm is None:
            return None
        file = self.graph.build.file
        pedal = file.pedal if outlet.drives == "brake" else file.clutch if outlet.drives == "clutch" else None
        stroke = outlet.stroke_mm
        if pedal is not None and pedal.travel is not None and pedal.ratio is not None:
            stroke = min(stroke, (pedal.travel - (pedal.free_play or 0.0)) / pedal.ratio)
        moved = outlet.area_mm2 * (stroke - (outlet.cut_off_mm or 0.0))
        return moved if moved > 0.0 else None

    def masters(self) -> Iterator[Master]:
        """Yield the master cylinders in the order of the file."""
        refs: dict[str, list[str]] = {}
        for ref in self.by_ref:
            refs.setdefault(tag_of(ref), []).append(ref)
        for tag, own in refs.items():
            part = self.graph.fitted[tag].part
            feeding = [self.circuits.of(f"{tag}.{name}") for name in (part.feeds if part is not None else ())]
            tanks = [tag_of(ref) for network in feeding if network is not None for ref in network.reservoirs]
            built_in = part is not None and part.reservoir_volume is not None
            others = tuple(dict.fromkeys(name for name in tanks if name != tag))
            yield Master(tag, self.by_ref[own[0]].drives, tuple(own), others, built_in, bleeds(part))
