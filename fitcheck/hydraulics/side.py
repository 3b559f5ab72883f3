"""What one outlet pushes into: the parts that share its fluid, and which pressure each of them sees."""

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from fitcheck.build.circuits import Circuits, Network
from fitcheck.build.graph import Fitted, PortGraph
from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import CONSUMERS
from fitcheck.hydraulics.record import Outlet

_METERING = frozenset({"proportioning valve", "residual valve"})


class Seen(NamedTuple):
    """One part on an outlet's side.

    `like` is a consumer behind the same valves, whose pressure it sees; empty for the outlet's own pressure.
    `share` is the part of it that this side fills: a half of a caliper that two circuits feed.
    """

    item: Fitted
    like: str
    share: float


class Side(NamedTuple):
    """All parts on an outlet's side in the order of the file, and other master cylinders that press into it too."""

    outlet: Outlet
    parts: tuple[Seen, ...]
    rivals: tuple[str, ...]


def side(graph: PortGraph, circuits: Circuits, outlet: Outlet) -> Side:
    """Return what an outlet pushes into, its own master cylinder left out.

    A master cylinder in series passes pressure on: what it feeds counts too. Time is linear in what is pushed into, but
    for what is behind valves.
    """
    networks = list(_networks(graph, circuits, outlet))
    refs: dict[str, list[str]] = {}
    for ref in (ref for network in networks for ref in network.ends):
        refs.setdefault(tag_of(ref), []).append(ref)
    refs.pop(outlet.tag, None)
    like = _like(graph, circuits, outlet, refs)
    parts = [Seen(graph.fitted[tag], like.get(tag, ""), _share(circuits, graph.fitted[tag], networks)) for tag in refs]
    rivals = dict.fromkeys(tag_of(ref) for ref in networks[0].outlets) if networks else {}
    return Side(outlet, tuple(parts), tuple(tag for tag in rivals if tag != outlet.tag))


def _networks(graph: PortGraph, circuits: Circuits, outlet: Outlet) -> Iterator[Network]:
    """Yield the outlet's network, then those behind master cylinders in series, each once."""
    waiting, seen = [outlet.ref], {outlet.tag}
    while waiting:
        network = circuits.of(waiting.pop(0))
        if network is None:
            continue
        yield network
        for feed in network.feeds:
            part = graph.ends[feed].fitted.part
            if part is not None and tag_of(feed) not in seen:
                seen.add(tag_of(feed))
                waiting += [f"{tag_of(feed)}.{name}" for name in part.outlets]


def _like(graph: PortGraph, circuits: Circuits, outlet: Outlet, refs: Mapping[str, Sequence[str]]) -> dict[str, str]:
    """Return for each part behind a valve the consumer that is behind the same valves."""
    consumers = {tag: tag for tag in outlet.consumers}
    if not any(outlet.metered.values()) and not any(outlet.residual_mpa.values()):
        return consumers
    passed = {tag: _valves(graph, circuits, tag, ends) for tag, ends in refs.items()}
    behind = {passed[tag]: tag for tag in reversed(outlet.consumers) if tag in passed}
    return {tag: behind[valves] for tag, valves in passed.items() if valves and valves in behind} | consumers


def _valves(graph: PortGraph, circuits: Circuits, tag: str, ends: Sequence[str]) -> tuple[str, ...]:
    """Return the valves on the way to a part, itself left out."""
    reached = [ref for ref in ends if ref in circuits.distance]
    nearest = min(reached, key=circuits.distance.__getitem__, default=None)
    way = circuits.way_to(nearest) if nearest is not None else ()
    passed = dict.fromkeys(tag_of(ref) for ref in way if tag_of(ref) != tag)
    parts = ((name, graph.fitted[name].part) for name in passed)
    return tuple(name for name, part in parts if part is not None and part.kind in _METERING)


def _share(circuits: Circuits, item: Fitted, networks: list[Network]) -> float:
    part = item.part
    if part is None or part.kind not in CONSUMERS:
        return 1.0
    reaching = (circuits.of(f"{item.tag}.{name}") for name in part.ports)
    fed = {id(network): network for network in reaching if network is not None and network.pressurised}
    mine = sum(any(network is one for one in networks) for network in fed.values())
    return mine / len(fed) if fed else 1.0
