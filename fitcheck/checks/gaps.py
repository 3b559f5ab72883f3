"""What is not fed, and which open ends go with it: so that one missing line is one finding, not three.

A line that is left out leaves a caliper without feed, an open port on the caliper's side and another on the
side of the outlet. The builder made one slip; `Gaps` puts the three together, but only what can be two sides of
that very slip. Every other open end is a dead end of its own.

The steps, each of which leaves to the next what it does not explain:

1. *Gaps.* Networks that hold what must be fed, and no outlet; feeds of master cylinders that no reservoir reaches.
   A gap has the one open end on its own side, or all of them if it is one part that nothing is joined to.
2. *Far ends.* As many open ends on the side that should feed them as there are gaps: of the stated circuit; of the
   only network under pressure that has any, if no circuit is stated; of reservoirs, for feeds. The two sides must
   be such that a tube, a hose or nothing at all could join them.
3. *Crossings.* A branch that hangs on another circuit leaves an end open on its own that would have taken it.
4. *Ports joined more than once.* The line too many was meant for an open port of the same kind: of the same part,
   else of the same network, else of the gap that lacks its line.
5. *Swapped lines.* Feeds that an outlet fills, and as many consumers that a reservoir fills.
6. *One outlet for all brakes.* The other outlets of the same master cylinder, if nothing is joined to them.
7. *References that mean nothing.* What their joints would have gone into is not known to be open.

A part that nothing at all is joined to is a finding of its own, unless it is what is not fed (1), a reservoir with
one port, which the finding then names (2), or what a reference that means nothing was meant for (7).
"""

from collections.abc import Iterable, Iterator
from itertools import product
from typing import NamedTuple

from fitcheck.build.circuits import Circuits, Network, is_consumer, is_feed
from fitcheck.build.graph import End, Path, PortGraph
from fitcheck.catalog.part import BRAKES, LOOSE
from fitcheck.checks.circuit_words import doubt, one_joint, only_port
from fitcheck.checks.crossings import Group, crossings, groups, unsure
from fitcheck.checks.meeting import could_join, could_meet, form_of
from fitcheck.checks.reuse import Meant, reused_in, surplus
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

    @property
    def sides(self) -> tuple[str, ...]:
        """Ends of this side at which what is missing could begin: a feed that nothing is joined to is one too."""
        return self.own_ends or tuple(ref for ref in self.network.feeds if ref in self.network.open_ends)


_Unit = tuple[tuple[str, ...], Gap | None]
"""Open ends that lack one joint, and the gap they belong to, if any."""


class Gaps:
    """All gaps of a build.

    `unfed`: networks without outlet that hold a consumer, or an end that a stated circuit should feed.
    `unserved`: networks of master cylinder feeds without reservoir; `backfed`: those that an outlet fills
    instead. `unsure`: what may be such a gap, or only the other side of a part, a reference or a joint that is
    wrong, with what is missing to be sure; `unsure_ends`: what may be a dead end likewise; `by_lost`: all open ends
    that a reference which means nothing may account for.
    `dead_ends`: open ends that nothing accounts for. `by_reuse`: what a port that is joined more than once leaves
    open or unfed elsewhere, `held` the gap among it that has no open end; `by_crossing`: what the crossing that
    begins at this end leaves open. `common` is the network with one outlet that all brakes hang on; `single` is
    the same if that is no crossing and beyond doubt; `by_single` the other outlets of that cylinder, left open.
    """

    def __init__(self, graph: PortGraph, circuits: Circuits) -> None:
        self.graph = graph
        self.circuits = circuits
        self._loose = dict.fromkeys(ref for ref, end in graph.ends.items() if _can_be_loose(graph, end))
        self._claims = _claims(graph, circuits)
        self.crossings: tuple[Group, ...] = tuple(groups(circuits, list(crossings(graph, circuits))))
        self.by_crossing: dict[str, tuple[str, ...]] = {}
        self.by_reuse: dict[str, tuple[str, ...]] = {}
        self.by_lost: tuple[str, ...] = ()
        self.held: dict[str, Gap] = {}
        self.unsure: tuple[tuple[Gap, str], ...] = ()
        self.unfed = tuple(map(self._with_own_ends, self._find_unfed()))
        self.unserved = tuple(map(self._with_own_ends, self._find_unserved()))
        self._find_far_ends()
        self._explain_crossings()
        self._explain_reused()
        self.backfed = self._explain_swapped()
        self.common = _common(graph, circuits)
        self.single = self._single()
        self.by_single = self._explain_single() if self.single is not None else ()
        self.unsure_ends = self._leave_unsure()
        self.dead_ends = tuple(self._loose)

    def _left(self, refs: Iterable[str], also: tuple[str, ...] = ()) -> tuple[str, ...]:
        """Return those of `refs` that are open, not explained, and of a part in use; or among `also`."""
        return tuple(ref for ref in refs if ref in self._loose and (ref in also or self._in_use(ref)))

    def _take(self, refs: Iterable[str]) -> tuple[str, ...]:
        taken = tuple(refs)
        for ref in taken:
            self._loose.pop(ref, None)
        return taken

    def _in_use(self, ref: str) -> bool:
        """Return whether anything is joined to the part of this end."""
        item = self.graph.ends[ref].fitted
        if item.section == "lines":
            names: tuple[str, ...] = ("from", "to")
        else:
            names = tuple(port.name for port in item.part.fluid_ports()) if item.part is not None else ()
        return any(self._used(f"{item.tag}.{name}") for name in names)

    def _used(self, ref: str) -> bool:
        return self.graph.joined(ref) or ref in self.graph.excused

    # 1: gaps

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
        """Return whether this is the feed of a master cylinder that nothing is joined to: a dead end tells that."""
        item = self.graph.ends[network.ends[0]].fitted
        if len(network.ends) > 1 or item.part is None or self._in_use(network.ends[0]):
            return False
        return any(f"{item.tag}.{port.name}" in self._loose for port in item.part.fluid_ports())

    def _with_own_ends(self, gap: Gap) -> Gap:
        alone = len(gap.network.open_ends) == len(gap.network.ends)
        loose = self._left(gap.network.open_ends, gap.network.ends if alone else ())
        return gap._replace(own_ends=self._take(loose)) if alone or len(loose) == 1 else gap

    # 2: far ends

    def _find_far_ends(self) -> None:
        stated = self.graph.build.file.circuits
        by_source: dict[int, list[Gap]] = {}
        nowhere: list[Gap] = []
        for gap in self.unfed:
            source = self.circuits.of(stated[gap.circuit].from_) if gap.circuit else None
            known = source is not None and source.pressurised
            (by_source.setdefault(id(source), []) if known else nowhere).append(gap)
        for network in self.circuits.pressurised():
            if id(network) in by_source:
                self._pair(by_source[id(network)], network.open_ends)
        facing = self._facing(nowhere, (ref for network in self.circuits.pressurised() for ref in network.open_ends))
        if len({id(self.circuits.of(ref)) for ref in facing}) == 1:
            self._pair(nowhere, facing)
        serving = [network for network in self.circuits.networks if network.reservoirs and not network.outlets]
        tanks = tuple(
            network.ends[0] for network in serving if len(network.ends) == 1 and only_port(self.graph, network.ends[0])
        )
        self._pair(list(self.unserved), [ref for network in serving for ref in network.open_ends], tanks)

    def _facing(self, gaps: list[Gap], refs: Iterable[str], also: tuple[str, ...] = ()) -> list[str]:
        """Return those of `refs` that could be brought together with an end of one of the gaps, sorted."""
        ends = self.graph.ends
        wanted = {form_of(ends[own]) for gap in gaps for own in gap.sides}
        loose = ((ref, form_of(ends[ref])) for ref in self._left(refs, also))
        return sorted((ref for ref, form in loose if any(could_meet(form, one) for one in wanted)), key=in_order)

    def _pair(self, gaps: list[Gap], refs: Iterable[str], also: tuple[str, ...] = ()) -> None:
        """Give each gap the end of `refs` that faces it, if there are as many of them and each finds one."""
        facing = dict.fromkeys(self._facing(gaps, refs, also))
        if len(facing) != len(gaps):
            return
        found: dict[int, Gap] = {}
        for gap in sorted(gaps, key=lambda gap: in_order(gap.at[0])):
            ref = next((ref for ref in facing if self._could_meet(gap, ref)), None)
            if ref is None:
                return
            del facing[ref]
            found[_key(gap)] = gap._replace(far_ends=(ref,))
        self._take(ref for gap in found.values() for ref in gap.far_ends)
        self._replace(found)

    def _could_meet(self, gap: Gap, ref: str) -> bool:
        far = form_of(self.graph.ends[ref])
        return any(could_meet(form_of(self.graph.ends[own]), far) for own in gap.sides)

    def _replace(self, changed: dict[int, Gap]) -> None:
        self.unfed = tuple(changed.get(_key(gap), gap) for gap in self.unfed)
        self.unserved = tuple(changed.get(_key(gap), gap) for gap in self.unserved)

    # 3: crossings

    def _explain_crossings(self) -> None:
        for group in self.crossings:
            first = group.crossings[0]
            if not group.one_way or any(unsure(self.circuits, crossing) for crossing in group.crossings):
                continue
            way = {form_of(self.graph.ends[ref]) for one in group.crossings for ref in self.circuits.way_to(one.ref)}
            loose = self._left(first.home.open_ends)
            taking = [ref for ref in loose if any(could_join(form_of(self.graph.ends[ref]), form) for form in way)]
            if len(taking) <= len(group.crossings):
                self.by_crossing[first.ref] = self._take(taking)

    # 4: ports joined more than once

    def _explain_reused(self) -> None:
        meant = self._meant()
        gap_of = {_key(gap): gap for gap in self.unfed}
        for ref, spare in surplus(self.graph).items():
            gap = gap_of.get(id(self.circuits.of(ref)))
            homes = (id(self.circuits.of(ref)), *((self._source_of(gap),) if gap is not None and gap.circuit else ()))
            taken: list[_Unit] = []
            for where in (("tag", self.graph.ends[ref].tag), *product(("network", "gap"), homes), ("gap", None)):
                taken += meant.take(where, ref, spare - len(taken))
            if taken:
                closed = gap_of.pop(_key(gap)) if gap is not None and not gap.open_ends else None
                self._reuse(ref, taken, closed)
        self._set_aside()

    def _meant(self) -> Meant[_Unit]:
        """Return what lacks a joint: open ends by part and network, gaps by part and what should feed them."""
        meant: Meant[_Unit] = Meant(self.graph)
        for ref in self._left(self._loose):
            places = (("tag", self.graph.ends[ref].tag), ("network", id(self.circuits.of(ref))))
            meant.add(((ref,), None), (ref,), places)
        for gap in (*self.unfed, *self.unserved):
            if gap.sides and not gap.far_ends:
                beside = ("tag", self.graph.ends[gap.sides[0]].tag)
                meant.add((gap.sides, gap), gap.sides, (beside, ("gap", self._source_of(gap))))
        return meant

    def _source_of(self, gap: Gap) -> int | None:
        """Return the network that the stated circuit of a gap begins in, None if no circuit is stated."""
        stated = self.graph.build.file.circuits
        return id(self.circuits.of(stated[gap.circuit].from_)) if gap.circuit else None

    def _reuse(self, ref: str, taken: list[_Unit], closed: Gap | None) -> None:
        """Leave to the port at `ref` what it accounts for, and the gap without open end that it is in itself."""
        left_out = [end for refs, _ in taken for end in self._take(refs)]
        told = [gap for _, gap in taken if gap is not None]
        if closed is not None:
            left_out += closed.at
            told.append(closed)
            self.held[ref] = closed
        self.by_reuse[ref] = tuple(left_out)
        self.unsure += tuple((gap, one_joint(ref)) for gap in told)

    def _set_aside(self) -> None:
        """Take gaps that are not sure out of those that are."""
        gone = {_key(gap) for gap, _ in self.unsure}
        self.unfed = tuple(gap for gap in self.unfed if _key(gap) not in gone)
        self.unserved = tuple(gap for gap in self.unserved if _key(gap) not in gone)

    # 5: swapped lines

    def _explain_swapped(self) -> tuple[Network, ...]:
        backfed = [
            network
            for network in self.circuits.networks
            if network.feeds and network.outlets and not network.reservoirs
        ]
        backfed.sort(key=lambda network: in_order(network.feeds[0]))
        filled = [gap for gap in self.unfed if not gap.open_ends and gap.network.reservoirs]
        filled.sort(key=lambda gap: in_order(gap.at[0]))
        if len(backfed) != len(filled):
            return tuple(backfed)
        pairs = zip(filled, backfed, strict=True)
        self._replace({_key(gap): gap._replace(swapped=network.feeds) for gap, network in pairs})
        return ()

    # 6: one outlet for all brakes

    def _single(self) -> Network | None:
        crossed = any(self.common in (one.home, one.found) for group in self.crossings for one in group.crossings)
        if self.common is None or self.common.doubtful or crossed or reused_in(self.graph, self.common) is not None:
            return None
        if any(network.doubtful for network in self.circuits.pressurised()):
            return None  # an unknown part may be the brake that hangs on another outlet
        return self.common

    def _explain_single(self) -> tuple[str, ...]:
        assert self.single is not None
        item = self.graph.ends[self.single.outlets[0]].fitted
        others = (f"{item.tag}.{name}" for name in item.part.outlets) if item.part is not None else ()
        networks = [network for ref in others if (network := self.circuits.of(ref)) is not None]
        return self._take(self._left(network.ends[0] for network in networks if len(network.ends) == 1))

    # 7: references that mean nothing

    def _leave_unsure(self) -> tuple[str, ...]:
        ends = self.graph.ends
        lost = {form_of(ends[ref]) for ref in self.graph.excused}
        slips = [ref for ref in self.graph.unknown_refs if ref.assumed is None and ref.path[0] != "circuits"]

        def meant(refs: Iterable[str]) -> bool:
            return any(could_join(form_of(ends[ref]), form) for ref in refs for form in lost)

        lonely = [gap for gap in (*self.unfed, *self.unserved) if not gap.far_ends and meant(gap.sides)]
        loose = [ref for ref in self._loose if meant((ref,))]
        if len(lonely) + len(loose) > len(slips):
            return ()
        self.unsure += tuple((gap, "a port that exists") for gap in lonely)
        self._set_aside()
        self.by_lost = (*loose, *(ref for gap in lonely for ref in gap.own_ends))
        return self._take(loose)


def _key(gap: Gap) -> int:
    return id(gap.network)


def _common(graph: PortGraph, circuits: Circuits) -> Network | None:
    """Return the network that feeds every brake from one outlet, if there are two brakes or more."""
    brakes = [end for end in graph.ends.values() if is_consumer(end) and _is_brake(end)]
    networks = {id(network): network for network in (circuits.of(end.ref) for end in brakes)}
    network = next(iter(networks.values()), None)
    if network is None or len(networks) > 1 or len({end.tag for end in brakes}) < 2 or len(network.outlets) != 1:
        return None
    return network


def _is_brake(end: End) -> bool:
    return end.fitted.part is not None and end.fitted.part.kind in BRAKES


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
