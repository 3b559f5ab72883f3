"""Which piston presses what: every pressure outlet, its pedal, its share of the push, and what lies on the way.

Which master cylinder of a balance bar is the front one is told by the axle of the brakes that it feeds; where no axle
is stated, by circuits called `front` and `rear`; a bar that shares evenly needs neither. A build with one brake master
cylinder has no balance bar: all of the push goes to it, and both chambers of a tandem one see all of it, since the
primary piston pushes the secondary by its fluid or its stop. A master cylinder that is fed under pressure (one of a
hand lever, in series) presses nothing here: what it feeds is reached through it. Where joints say which pushrods the
pedal has, and no balance calls for two of them, the other cylinders are not the pedal's. Either is told as a gap.

Limits: quasi-static. Where fluid can go two ways to a consumer, the way with fewest joints is taken. Outlets of one
master cylinder that no passage joins are taken as chambers of their own, as everywhere in fitcheck.
"""

from collections.abc import Iterator, Mapping
from itertools import pairwise
from math import pi
from typing import Final, NamedTuple

from fitcheck.build.circuits import Circuits, Network, is_consumer
from fitcheck.build.driving import Pedal
from fitcheck.build.graph import Fitted, PortGraph
from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import BRAKES, Part
from fitcheck.hydraulics.record import Axle, Drives, Gap, Outlet

_Ways = dict[str, tuple[str, ...]]
"""By port of a consumer, or by its tag, the ends that fluid passes on its way there."""
_ON_THE_WAY: Final = frozenset({"proportioning valve", "residual valve"})
"""Kinds for which it matters that fluid passes them."""
_EVEN: Final = 0.5
_OTHER: Final[Mapping[Axle, Axle]] = {"front": "rear", "rear": "front"}


class Valve(NamedTuple):
    """What a proportioning valve does: above `setting_mpa` it lets on `slope` of each rise of pressure."""

    setting_mpa: float
    slope: float


class Outlets(NamedTuple):
    """Every outlet that is pressed by a pedal, in the order of the file.

    `networks` tells by ref which outlets share fluid: they have the same number, and one leak loses them all.
    `bar` are the front and the rear master cylinder of a balance bar, None if there is none or nobody can tell.
    `valves` are the proportioning valves on the way to any consumer, by tag, None where the catalog says too little.
    """

    outlets: tuple[Outlet, ...]
    valves: Mapping[str, Valve | None]
    networks: Mapping[str, int]
    bar: tuple[str, str] | None
    gaps: tuple[Gap, ...]

    def of(self, drives: Drives) -> tuple[Outlet, ...]:
        """Return the outlets that one pedal presses."""
        return tuple(outlet for outlet in self.outlets if outlet.drives == drives)


def area_mm2(diameter_mm: float) -> float:
    """Return the area of a round piston [mm2]; F5 of the trade: A = pi/4 d2.

    >>> round(area_mm2(25.4), 2)
    506.71
    """
    return pi / 4.0 * diameter_mm * diameter_mm


def bar_share(front_mm: float, rear_mm: float) -> float:
    """Return the share of the push that a balance bar gives the front rod, `front_mm` and `rear_mm` from its pivot.

    The moments about the pivot are equal: F_front x front = F_rear x rear. The nearer rod gets more. Source: derived.
    Limits: a bar that is square to its rods, free to tip, without friction.

    >>> bar_share(30.0, 30.0), round(bar_share(20.0, 40.0), 4)
    (0.5, 0.6667)
    """
    return rear_mm / (front_mm + rear_mm)


def outlets(graph: PortGraph, circuits: Circuits | None = None) -> Outlets:
    """Return every outlet of the build that a pedal presses, and what the build or its catalogs do not say of them."""
    return _Reading(graph, circuits or Circuits(graph)).read()


class _Reading:
    def __init__(self, graph: PortGraph, circuits: Circuits) -> None:
        self.graph = graph
        self.circuits = circuits
        self.brakes = graph.build.file.brakes
        self.order = {tag: number for number, tag in enumerate(graph.fitted)}
        self.kinds = {item.part.kind for item in graph.fitted.values() if item.part is not None}
        self.gaps: dict[Gap, None] = {}
        self.valves: dict[str, Valve | None] = {}
        self.names: dict[int, list[str]] = {}
        for name, stated in graph.build.file.circuits.items():
            if (network := circuits.of(stated.from_)) is not None:
                self.names.setdefault(id(network), []).append(name)

    def read(self) -> Outlets:
        found = list(self._pedalled([self.outlet(*each) for each in self._chambers()]))
        shares = _Shares(self, found)
        shared = tuple(one._replace(share=shares.of(one)) for one in found)
        numbers = {id(network): number for number, network in enumerate(self.circuits.networks)}
        networks = {one.ref: numbers[id(self.circuits.of(one.ref))] for one in shared}
        return Outlets(shared, self.valves, networks, shares.bar, tuple(self.gaps))

    def gap(self, at: str, missing: str) -> None:
        """Note that something cannot be computed."""
        self.gaps[Gap(at, missing)] = None

    def _chambers(self) -> Iterator[tuple[Fitted, Part, int, Network]]:
        for item in self.graph.fitted.values():
            part = item.part
            for index, name in enumerate(part.outlets if part is not None else ()):
                network = self.circuits.of(f"{item.tag}.{name}")
                if part is not None and network is not None and not self._in_series(item.tag, part):
                    yield item, part, index, network

    def _in_series(self, tag: str, part: Part) -> bool:
        """Return whether a master cylinder is fed by the outlet of another, and note that its own push is not known."""
        feeding = (self.circuits.of(f"{tag}.{name}") for name in part.feeds)
        fed = any(tag_of(ref) != tag for network in feeding if network is not None for ref in network.outlets)
        if fed:
            self.gap(tag, f"a push on {tag} itself, such as by hand: only what passes through it is computed")
        return fed

    def _pedalled(self, found: list[Outlet]) -> Iterator[Outlet]:
        """Yield outlets; those of brake cylinders that joints and balance say the pedal does not push drive nothing."""
        tags = {one.tag for one in found if one.drives == "brake"}
        rods = {tag_of(ref) for joint in self.graph.joints if joint.kind == "mechanical" for ref in joint.refs}
        pedal = self.graph.build.file.pedal
        bar = pedal is not None and (pedal.balance is not None or pedal.bar is not None)
        others = set() if (bar and len(tags) == 2) or not tags & rods else tags - rods
        for one in found:
            yield one._replace(drives=None) if one.tag in others else one

    def outlet(self, item: Fitted, part: Part, index: int, network: Network) -> Outlet:
        ref = f"{item.tag}.{part.outlets[index]}"
        ways = self._ways(ref, network, {item.tag})
        first: _Ways = {}
        for end, way in ways.items():
            first.setdefault(tag_of(end), way)
        tags = sorted(first, key=self.order.__getitem__)
        if part.bore is None:
            self.gap(item.tag, f"parts.{part.id}.bore")
        return Outlet(
            ref=ref,
            tag=item.tag,
            circuits=tuple(self.names.get(id(network), ())),
            drives=self._drives(tags),
            axles=tuple(dict.fromkeys(axle for axle in map(self.axle, tags) if axle is not None)),
            area_mm2=area_mm2(part.bore) if part.bore is not None else None,
            stroke_mm=self._stroke(item.tag, part, index),
            cut_off_mm=part.cut_off,
            share=None,
            consumers=tuple(tags),
            metered={tag: tuple(self._metered(first[tag])) for tag in tags},
            residual_mpa={tag: self._residual(first[tag]) for tag in tags},
        )

    def _ways(self, ref: str, network: Network, passed: set[str]) -> _Ways:
        """Return the ways from an outlet to consumers, through master cylinders in series."""
        found = {end: self._way(ref, end) for end in network.consumers if is_consumer(self.graph.ends[end])}
        for feed in network.feeds:
            tag = tag_of(feed)
            part = self.graph.fitted[tag].part
            if tag in passed or part is None:
                continue
            way = self._way(ref, feed)
            for name in part.outlets:
                beyond = self.circuits.of(f"{tag}.{name}")
                if beyond is not None and beyond is not network:
                    further = self._ways(f"{tag}.{name}", beyond, passed | {tag})
                    found.update({end: way + rest for end, rest in further.items() if end not in found})
        return found

    def _way(self, start: str, end: str) -> tuple[str, ...]:
        """Return the way between two ends; nobody asks for it, and it stays empty, where the build has no valves."""
        return self.circuits.path(start, end) if self.kinds & _ON_THE_WAY else ()

    def _drives(self, tags: list[str]) -> Drives | None:
        kinds = {part.kind for tag in tags if (part := self.graph.fitted[tag].part) is not None}
        if kinds & BRAKES:
            return "brake"
        return "clutch" if kinds else None

    def axle(self, tag: str) -> Axle | None:
        """Return the axle that a brake is stated to be on."""
        return self.brakes[tag].axle if tag in self.brakes else None

    def _stroke(self, tag: str, part: Part, index: int) -> float | None:
        if part.chambers:
            return part.chambers[index] if index < len(part.chambers) else None
        if len({id(self.circuits.of(f"{tag}.{name}")) for name in part.outlets}) > 1:
            self.gap(tag, f"parts.{part.id}.chambers")
            return None
        if part.stroke is None:
            self.gap(tag, f"parts.{part.id}.stroke")
        return part.stroke

    def _parts_on(self, way: tuple[str, ...], kind: str) -> Iterator[tuple[str, Part]]:
        """Yield the parts of a kind that fluid flows through on its way, in the order of flow."""
        if kind not in self.kinds:
            return
        for one, other in pairwise(way):
            part = self.graph.fitted[tag_of(one)].part
            if tag_of(one) == tag_of(other) and part is not None and part.kind == kind:
                yield tag_of(one), part

    def _metered(self, way: tuple[str, ...]) -> Iterator[str]:
        for valve, part in dict(self._parts_on(way, "proportioning valve")).items():
            lacking = [name for name in ("setting", "slope") if getattr(part, name) is None]
            for name in lacking:
                self.gap(valve, f"parts.{part.id}.{name}")
            known = part.setting is not None and part.slope is not None
            self.valves[valve] = Valve(part.setting or 0.0, part.slope or 0.0) if known else None
            yield valve

    def _residual(self, way: tuple[str, ...]) -> float:
        held = 0.0
        for valve, part in self._parts_on(way, "residual valve"):
            if part.setting is None:
                self.gap(valve, f"parts.{part.id}.setting")
            held = max(held, part.setting or 0.0)
        return held


class _Shares:
    """How the push is shared between the master cylinders of one pedal."""

    def __init__(self, reading: _Reading, found: list[Outlet]) -> None:
        self.reading = reading
        self.found = found
        self.tags = {
            drives: tuple(dict.fromkeys(one.tag for one in found if one.drives == drives))
            for drives in ("brake", "clutch")
        }
        self.bar = self._bar()
        self._by_tag = self._brakes()

    def of(self, outlet: Outlet) -> float | None:
        """Return the share of the push on the master cylinder of an outlet."""
        if outlet.drives is None:
            return None
        if outlet.drives == "clutch":
            return 1.0 if len(self.tags["clutch"]) == 1 else None
        return self._by_tag.get(outlet.tag)

    def _brakes(self) -> dict[str, float]:
        tags = self.tags["brake"]
        pedal = self.reading.graph.build.file.pedal
        share = front_share(pedal)
        if len(tags) < 2:
            if share is not None and tags:
                self.reading.gap("pedal", "a second master cylinder for pedal.balance or pedal.bar to share with")
            return dict.fromkeys(tags, 1.0)
        if len(tags) > 2:
            self.reading.gap("pedal", "pedal.balance: it shares between two master cylinders, and there are more")
            return {}
        if share is None:
            tandem = sum(one.tag in tags for one in self.found) > len(tags)
            other = ", or a joint of the pedal with the one pushrod that it pushes" if tandem else ""
            self.reading.gap("pedal", f"pedal.balance or pedal.bar{other}")
        if share == _EVEN:
            return dict.fromkeys(tags, _EVEN)
        if self.bar is None:
            self.reading.gap("pedal", self._unknown_front(tags))
        if share is None or self.bar is None:
            return {}
        return {self.bar[0]: share, self.bar[1]: 1.0 - share}

    def _unknown_front(self, tags: tuple[str, ...]) -> str:
        fed = (tag for one in self.found if one.tag in tags for tag in one.consumers)
        silent = next((tag for tag in fed if self.reading.axle(tag) is None), None)
        if silent is not None:
            return f"brakes.{silent}.axle"
        return f"circuits called front and rear, to say which of {' and '.join(tags)} is the front master cylinder"

    def _bar(self) -> tuple[str, str] | None:
        tags = self.tags["brake"]
        front = self._front(tags) if len(tags) == 2 else None
        return None if front is None else (front, next(tag for tag in tags if tag != front))

    def _front(self, tags: tuple[str, ...]) -> str | None:
        """Return which of two master cylinders is the front one; None if that is not known."""
        axles = {tag: {axle for one in self.found if one.tag == tag for axle in one.axles} for tag in tags}
        named = {tag: {name for one in self.found if one.tag == tag for name in one.circuits} for tag in tags}
        for known in (axles, named):
            for axle in ("front", "rear"):
                fits = [tag for tag in tags if axle in known[tag] and _OTHER[axle] not in known[tag]]
                if len(fits) == 1:
                    other = next(tag for tag in tags if tag != fits[0])
                    return fits[0] if axle == "front" else other
        return None


def idle(outlet: Outlet) -> Gap:
    """Return what is missing for an outlet that no pedal presses."""
    if outlet.consumers:
        return Gap(outlet.ref, f"a joint of the pedal with the pushrod of {outlet.tag}: without one it is not pressed")
    return Gap(outlet.ref, f"a brake or slave cylinder behind {outlet.ref}")


def front_share(pedal: Pedal | None) -> float | None:
    """Return the share of the push that the pedal gives the front master cylinder; None if it does not say."""
    if pedal is None:
        return None
    if pedal.bar is not None:
        return bar_share(pedal.bar.front, pedal.bar.rear)
    return pedal.balance
