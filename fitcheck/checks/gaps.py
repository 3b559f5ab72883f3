"""What is not fed, and which open ends that explains: so that one missing line is one finding, not three.

A line that is left out leaves a caliper without feed, an open port on the caliper's side and another on the
side of the outlet. The builder made one slip; `Gaps` puts the three together. Only where the numbers match
exactly is an open end explained; otherwise it stays a dead end of its own.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from fitcheck.build.circuits import Circuits, Network, is_consumer, is_feed
from fitcheck.build.graph import End, Path, PortGraph
from fitcheck.catalog.part import BRAKES, LOOSE
from fitcheck.checks.circuit_words import doubt, one_joint
from fitcheck.checks.crossings import Group, crossings, groups, unsure
from fitcheck.naming import in_order


class Gap(NamedTuple):
    """A network that nothing feeds.

    `at` are the ends that lack it: consumers, ends that a circuit should feed, or feeds of master cylinders.
    `circuit` should feed it, and says so at `stated`. `own_ends` are open ends on this side that the gap
    explains, `far_ends` those on the feeding side. `swapped` are feeds that pressure reaches instead.
    """

    network: Network
    at: tuple[str, ...]
    circuit: str | None = None
    stated: Path | None = None
    own_ends: tuple[str, ...] = ()
    far_ends: tuple[str, ...] = ()
    swapped: tuple[str, ...] = ()

    @property
    def open_ends(self) -> tuple[str, ...]:
        """All open ends that this gap explains."""
        return (*self.own_ends, *self.far_ends)

    @property
    def places(self) -> tuple[str, ...]:
        """What lacks its feed and every end that goes with it, each once."""
        return tuple(dict.fromkeys((*self.at, *self.open_ends, *self.swapped)))


class _Ledger:
    """Open ends still to be explained, in the order of the file, and those that are."""

    def __init__(self, loose: Iterable[str]) -> None:
        self.loose = dict.fromkeys(loose)
        self.explained: dict[str, None] = {}

    def left(self, refs: Iterable[str]) -> tuple[str, ...]:
        return tuple(ref for ref in refs if ref in self.loose)

    def take(self, refs: Iterable[str]) -> tuple[str, ...]:
        taken = tuple(refs)
        for ref in taken:
            del self.loose[ref]
            self.explained[ref] = None
        return taken


class Gaps:
    """All gaps of a build.

    `unfed`: networks without outlet that hold a consumer, or an end that a stated circuit should feed.
    `unserved`: networks of master cylinder feeds without reservoir; `backfed`: those that an outlet fills
    instead. `unsure`: what may be such a gap, or only the other side of a part, a reference or a joint that is
    wrong, with what is missing to be sure; `unsure_ends`: what may be a dead end likewise.
    `explained`: open ends that a gap, a crossing or a port used twice accounts for; `dead_ends`: the rest.
    `by_reuse`: what a port that is joined more than once leaves open elsewhere; `by_crossing`: what the
    crossing that begins at this end does. `single` is the network with one outlet that all brakes hang on, if
    so; `by_single` the outlet left open for that reason.
    """

    def __init__(self, graph: PortGraph, circuits: Circuits) -> None:
        self.graph = graph
        self.circuits = circuits
        self._ledger = _Ledger(ref for ref, end in graph.ends.items() if _can_be_loose(graph, end))
        self._claims = _claims(graph, circuits)
        self.crossings: tuple[Group, ...] = tuple(groups(circuits, list(crossings(graph, circuits))))
        self.by_reuse: dict[str, tuple[str, ...]] = {}
        self.by_crossing: dict[str, tuple[str, ...]] = {}
        self.unsure: tuple[tuple[Gap, str], ...] = ()
        self.unsure_ends: tuple[str, ...] = ()
        surplus = self._reused_in_one_component()
        self.unfed = self._with_far_ends([self._with_own_ends(gap) for gap in self._find_unfed()])
        self.unserved = self._with_reservoirs([self._with_own_ends(gap) for gap in self._find_unserved()])
        self._explain_crossings()
        self._explain_reused(surplus)
        self._explain_held()
        self.backfed = self._explain_swapped()
        self.single = self._single()
        self.by_single = self._explain_single() if self.single is not None else ()
        self._leave_unsure()
        self.explained = frozenset(self._ledger.explained)
        self.dead_ends = tuple(self._ledger.loose)

    def _reused_in_one_component(self) -> Counter[str]:
        """Explain open ports of a part that has another one used too often; return what is over elsewhere."""
        ends = self.graph.ends
        surplus = Counter({ref: n - 1 for ref, n in _times_joined(self.graph) if n > 1 and not _mechanical(ends[ref])})
        by_tag: dict[str, list[str]] = {}
        for ref in surplus:
            by_tag.setdefault(ends[ref].tag, []).append(ref)
        for tag, refs in by_tag.items():
            part = self.graph.fitted[tag].part
            names = part.ports if part is not None else ()
            loose = self._ledger.left(f"{tag}.{name}" for name in names)
            if loose and len(loose) == sum(surplus[ref] for ref in refs):
                self.by_reuse[min(refs, key=in_order)] = self._ledger.take(loose)
                for ref in refs:
                    del surplus[ref]
        return surplus

    def _find_unfed(self) -> Iterator[Gap]:
        for network in self.circuits.networks:
            claims = self._claims.get(id(network), {})
            if network.outlets or not (network.consumers or claims):
                continue
            at = network.consumers or tuple(sorted({ref for refs in claims.values() for ref in refs}, key=in_order))
            gap = Gap(network, at)
            if len(claims) == 1:
                name, refs = next(iter(claims.items()))
                gap = Gap(network, at, name, ("circuits", name, "feeds", next(iter(refs.values()))))
            if network.doubtful:
                self.unsure += ((gap, doubt(self.graph, network)),)
            else:
                yield gap

    def _find_unserved(self) -> Iterator[Gap]:
        told = set(map(_key, (*self.unfed, *(gap for gap, _ in self.unsure))))
        for network in self.circuits.networks:
            if not network.feeds or network.reservoirs or network.outlets or id(network) in told:
                continue
            gap = Gap(network, network.feeds)
            if network.doubtful:
                self.unsure += ((gap, doubt(self.graph, network)),)
            elif not self._idle(network):
                yield gap

    def _idle(self, network: Network) -> bool:
        """Return whether this is the feed of a master cylinder that nothing at all is joined to."""
        item = self.graph.ends[network.ends[0]].fitted
        if len(network.ends) > 1 or item.part is None:
            return False
        fluid = [f"{item.tag}.{port.name}" for port in item.part.fluid_ports()]
        others = [ref for ref in fluid if not is_feed(self.graph.ends[ref])]
        return bool(others) and len(self._ledger.left(others)) == len(others) and not any(map(self._used, fluid))

    def _used(self, ref: str) -> bool:
        return self.graph.joined(ref) or ref in self.graph.excused

    def _with_own_ends(self, gap: Gap) -> Gap:
        """Return the gap with its one open end, or all of them if it is one part that nothing is joined to."""
        loose = self._ledger.left(gap.network.open_ends)
        alone = len(gap.network.open_ends) == len(gap.network.ends)
        if len(loose) != 1 and not alone:
            return gap
        return gap._replace(own_ends=self._ledger.take(loose))

    def _with_far_ends(self, gaps: list[Gap]) -> tuple[Gap, ...]:
        """Return unfed gaps with the open ends of the circuits that should feed them, if as many."""
        stated = self.graph.build.file.circuits
        by_source: dict[int, list[int]] = {}
        sources: dict[int, Network] = {}
        nowhere: list[int] = []
        for number, gap in enumerate(gaps):
            source = self.circuits.of(stated[gap.circuit].from_) if gap.circuit else None
            if source is None or not source.pressurised:
                nowhere.append(number)
                continue
            sources[id(source)] = source
            by_source.setdefault(id(source), []).append(number)
        for key, numbers in by_source.items():
            self._pair(gaps, numbers, sources[key].open_ends)
        if nowhere:
            pressurised = self.circuits.pressurised()
            self._pair(gaps, nowhere, (ref for network in pressurised for ref in network.open_ends))
        return tuple(gaps)

    def _with_reservoirs(self, gaps: list[Gap]) -> tuple[Gap, ...]:
        """Return unserved gaps with the open ends of reservoirs, if as many as feeds lack one."""
        fed_wrong = [gap for gap in self.unfed if gap.network.feeds and not gap.network.reservoirs]
        lacking = [*gaps, *fed_wrong]
        if lacking:
            serving = (net for net in self.circuits.networks if net.reservoirs and not net.outlets)
            self._pair(lacking, range(len(lacking)), (ref for net in serving for ref in net.open_ends))
        changed = dict(zip(map(_key, fed_wrong), lacking[len(gaps) :], strict=True))
        self.unfed = tuple(changed.get(_key(gap), gap) for gap in self.unfed)
        return tuple(lacking[: len(gaps)])

    def _pair(self, gaps: list[Gap], numbers: Iterable[int], refs: Iterable[str]) -> None:
        numbers = sorted(numbers, key=lambda number: in_order(gaps[number].at[0]))
        loose = sorted(self._ledger.left(refs), key=in_order)
        if len(numbers) == len(loose):
            self._ledger.take(loose)
            for number, ref in zip(numbers, loose, strict=True):
                gaps[number] = gaps[number]._replace(far_ends=(*gaps[number].far_ends, ref))

    def _explain_crossings(self) -> None:
        """Explain the open end that a branch leaves on its own circuit when it is moved to another."""
        for group in self.crossings:
            first = group.crossings[0]
            loose = self._ledger.left(first.home.open_ends)
            doubtful = any(unsure(self.circuits, crossing) is not None for crossing in group.crossings)
            if group.one_way and not doubtful and len(loose) <= len(group.crossings):
                self.by_crossing[first.ref] = self._ledger.take(loose)

    def _single(self) -> Network | None:
        """Return the network that feeds every brake from one outlet, if it is beyond doubt and there are two brakes."""
        brakes: set[str] = set()
        networks: dict[int, Network | None] = {}
        for ref, end in self.graph.ends.items():
            if is_consumer(end) and end.fitted.part is not None and end.fitted.part.kind in BRAKES:
                brakes.add(end.tag)
                network = self.circuits.of(ref)
                networks[id(network)] = network
        network = next(iter(networks.values()), None)
        if network is None or len(networks) > 1 or len(brakes) < 2 or len(network.outlets) != 1 or network.doubtful:
            return None
        crossed = any(network in (one.home, one.found) for group in self.crossings for one in group.crossings)
        return None if crossed or reused_in(self.graph, network) is not None else network

    def _explain_single(self) -> tuple[str, ...]:
        """Where all brakes hang on one outlet, the other one, which should have had its share, is open."""
        lone = [net.ends[0] for net in self.circuits.pressurised() if len(net.ends) == 1]
        open_outlets = [ref for ref in self._ledger.left(lone) if self._at_work(ref)]
        return self._ledger.take(open_outlets) if len(open_outlets) == 1 else ()

    def _at_work(self, outlet: str) -> bool:
        """Return whether anything is joined to the fluid ports of this outlet's master cylinder."""
        item = self.graph.ends[outlet].fitted
        return item.part is not None and any(self._used(f"{item.tag}.{p.name}") for p in item.part.fluid_ports())

    def _explain_reused(self, surplus: Counter[str]) -> None:
        """Explain what is open because a line goes to a port in use instead of its own: one fault, not two."""
        lonely = [gap for gap in (*self.unfed, *self.unserved) if _one_sided(gap, surplus)]
        left_open = [*(gap.open_ends or gap.at for gap in lonely), *((ref,) for ref in self._ledger.loose)]
        if not left_open or len(left_open) != sum(surplus.values()):
            return
        self._ledger.take(tuple(self._ledger.loose))
        self._drop(lonely)
        queue = iter(sorted(left_open, key=lambda refs: in_order(refs[0])))
        for ref, count in sorted(surplus.items(), key=lambda item: in_order(item[0])):
            self.by_reuse[ref] = tuple(end for _ in range(count) for end in next(queue))
        self.unsure += tuple((gap, one_joint(min(surplus, key=in_order))) for gap in lonely)

    def _explain_held(self) -> None:
        """Leave to a port used twice what is not fed because its line goes to that port of the same part."""
        told = []
        for gap in self.unfed:
            held = next((ref for ref in gap.network.ends if ref in self.by_reuse), None)
            if held is not None and not gap.open_ends:
                self.by_reuse[held] += gap.at
                told.append((gap, one_joint(held)))
        self.unsure += tuple(told)
        self._drop([gap for gap, _ in told])

    def _explain_swapped(self) -> tuple[Network, ...]:
        """Put feeds that an outlet fills to the consumers that a reservoir fills, if as many: two lines swapped."""
        backfed = [net for net in self.circuits.networks if net.feeds and net.outlets and not net.reservoirs]
        backfed.sort(key=lambda network: in_order(network.feeds[0]))
        filled = [gap for gap in self.unfed if not gap.open_ends and gap.network.reservoirs]
        filled.sort(key=lambda gap: in_order(gap.at[0]))
        if len(backfed) != len(filled):
            return tuple(backfed)
        paired = {_key(gap): gap._replace(swapped=net.feeds) for gap, net in zip(filled, backfed, strict=True)}
        self.unfed = tuple(paired.get(_key(gap), gap) for gap in self.unfed)
        return ()

    def _leave_unsure(self) -> None:
        """Set aside what may be open only because a reference means nothing: its joint is missing."""
        lost = [ref for ref in self.graph.unknown_refs if ref.assumed is None and ref.path[0] != "circuits"]
        lonely = [gap for gap in (*self.unfed, *self.unserved) if not gap.far_ends]
        if len(lonely) + len(self._ledger.loose) > len(lost):
            return
        self.unsure += tuple((gap, "a port that exists") for gap in lonely)
        self.unsure_ends = self._ledger.take(tuple(self._ledger.loose))
        self._drop(lonely)

    def _drop(self, gaps: list[Gap]) -> None:
        gone = set(map(_key, gaps))
        self.unfed = tuple(gap for gap in self.unfed if _key(gap) not in gone)
        self.unserved = tuple(gap for gap in self.unserved if _key(gap) not in gone)


def _key(gap: Gap) -> int:
    return id(gap.network)


def _one_sided(gap: Gap, surplus: Counter[str]) -> bool:
    """Return whether a line is there but has one end in the wrong place: at a port that is joined too often."""
    if not gap.far_ends:
        return True
    return not gap.own_ends and len(gap.far_ends) == 1 and any(ref in surplus for ref in gap.network.ends)


def reused_in(graph: PortGraph, network: Network) -> str | None:
    """Return an end of `network` that is joined more than once, or None."""
    reused = (ref for ref in network.ends if len(graph.joints_at.get(ref, ())) > 1)
    return min(reused, key=in_order, default=None)


def _times_joined(graph: PortGraph) -> Iterator[tuple[str, int]]:
    return ((ref, len(joints)) for ref, joints in graph.joints_at.items())


def _mechanical(end: End) -> bool:
    return end.port is not None and end.port.mechanical


def _claims(graph: PortGraph, circuits: Circuits) -> dict[int, dict[str, dict[str, int]]]:
    """Return, by network, which circuits say that they feed it, at which ends, and where in their list."""
    found: dict[int, dict[str, dict[str, int]]] = {}
    for name, stated in graph.build.file.circuits.items():
        for index, ref in enumerate(stated.feeds):
            network = circuits.of(ref)
            if network is not None:
                found.setdefault(id(network), {}).setdefault(name, {}).setdefault(ref, index)
    return found


def _can_be_loose(graph: PortGraph, end: End) -> bool:
    """Return whether this end needs a joint and has none. A feed's is the reservoir rule's to ask for."""
    part = end.fitted.part
    if part is None or _mechanical(end) or is_feed(end):
        return False
    if not end.tube_end and part.kind in LOOSE:
        return False
    return not graph.joined(end.ref) and end.ref not in graph.excused
