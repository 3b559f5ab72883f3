"""What feeds what: the parts of the graph that share fluid.

A *network* is a largest set of ends that fluid can pass between. A master cylinder's feed and outlet are
no passage, so what it pressurises and what feeds it are different networks.
"""

from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

import networkx as nx

from fitcheck.build.graph import End, PortGraph
from fitcheck.catalog.part import CONSUMERS
from fitcheck.naming import in_order


class Network(NamedTuple):
    """Ends that share fluid. `ends` are in the order of the file, all others in the order of their names.

    `outlets` make its pressure; `consumers` use it; `feeds` are inlets of master cylinders that it serves;
    `open_ends` have nothing joined to them. `doubtful` is True if an unknown part or a guessed reference
    is in it, so that what it lacks may only be unknown.
    """

    ends: tuple[str, ...]
    outlets: tuple[str, ...]
    consumers: tuple[str, ...]
    feeds: tuple[str, ...]
    reservoirs: tuple[str, ...]
    open_ends: tuple[str, ...]
    doubtful: bool

    @property
    def pressurised(self) -> bool:
        """True if some outlet makes pressure here."""
        return bool(self.outlets)


class Circuits:
    """All networks of a build, each end's network, and each end's distance from the nearest outlet."""

    def __init__(self, graph: PortGraph) -> None:
        self.graph = graph
        self.networks = tuple(_networks(graph))
        self._of = {ref: network for network in self.networks for ref in network.ends}
        self.distance = _distances(graph, self.networks)
        self._circular: dict[int, bool] = {}
        self._next: dict[str, str] = {}
        self._names: dict[int, list[str]] = {}
        for name, stated in graph.build.file.circuits.items():
            if (network := self.of(stated.from_)) is not None:
                self._names.setdefault(id(network), []).append(name)

    def of(self, ref: str) -> Network | None:
        """Return the network that an end belongs to; None for mechanical ports and unknown references."""
        return self._of.get(ref)

    def pressurised(self) -> tuple[Network, ...]:
        """Return the networks in which pressure is made."""
        return tuple(network for network in self.networks if network.pressurised)

    def circular(self, network: Network) -> bool:
        """Return whether fluid can go round in a circle in `network`: then no way to an end is the only one."""
        if id(network) not in self._circular:
            edges = sum(len(self.graph.graph[ref]) for ref in network.ends) // 2
            self._circular[id(network)] = edges >= len(network.ends)
        return self._circular[id(network)]

    def path(self, start: str, end: str) -> tuple[str, ...]:
        """Return the shortest way for fluid between two ends of one network, both included."""
        return tuple(nx.shortest_path(self.graph.graph, start, end))

    def name_of(self, network: Network) -> str | None:
        """Return the name of the stated circuit that begins in `network`, if just one does."""
        names = self._names.get(id(network), [])
        return names[0] if len(names) == 1 else None

    def way_to(self, ref: str) -> tuple[str, ...]:
        """Return a shortest way for fluid from the nearest outlet to an end; empty if none feeds it."""
        if ref not in self.distance:
            return ()
        way = [ref]
        while self.distance[way[-1]]:
            way.append(self._nearer(way[-1]))
        return tuple(reversed(way))

    def _nearer(self, ref: str) -> str:
        """Return the first end next to this one that is nearer to an outlet; looked for once, as ways share it."""
        found = self._next.get(ref)
        if found is None:
            nearer = self.distance[ref] - 1
            found = self._next[ref] = next(end for end in self.graph.graph[ref] if self.distance[end] == nearer)
        return found

    def reused_on(self, way: Sequence[str]) -> str | None:
        """Return an end at which `way` takes one joint of several, the first by name, or None.

        One opening takes one joint: what rests on such a way may not be so on the car.
        """
        edges, joints_at = self.graph.graph.edges, self.graph.joints_at
        joints = (pair for pair in pairwise(way) if edges[pair]["kind"] == "joint")
        reused = [ref for pair in joints for ref in pair if len(joints_at.get(ref, ())) > 1]
        return min(reused, key=in_order, default=None)


def is_feed(end: End) -> bool:
    """Return whether this end is where a master cylinder takes in fluid."""
    return end.port is not None and end.fitted.part is not None and end.port.name in end.fitted.part.feeds


def is_outlet(end: End) -> bool:
    """Return whether pressure is made at this end."""
    return end.port is not None and end.fitted.part is not None and end.port.name in end.fitted.part.outlets


def is_consumer(end: End) -> bool:
    """Return whether this end is a fluid port of a caliper, wheel cylinder or slave cylinder."""
    return end.port is not None and end.fitted.part is not None and end.fitted.part.kind in CONSUMERS


def _is_reservoir(end: End) -> bool:
    part = end.fitted.part
    return part is not None and (part.kind == "reservoir" or part.reservoir_volume is not None)


def _sorted(refs: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(refs, key=in_order))


def _networks(graph: PortGraph) -> Iterator[Network]:
    order = {ref: index for index, ref in enumerate(graph.ends)}
    for found in nx.connected_components(graph.graph):
        refs = sorted(found, key=order.__getitem__)
        ends = [graph.ends[ref] for ref in refs]
        ports = [end for end in ends if end.port is not None]
        if any(end.port is not None and end.port.mechanical for end in ports):
            continue
        yield Network(
            ends=tuple(refs),
            outlets=_sorted(end.ref for end in ports if is_outlet(end)),
            consumers=_sorted(end.ref for end in ports if is_consumer(end)),
            feeds=_sorted(end.ref for end in ports if is_feed(end)),
            reservoirs=_sorted(end.ref for end in ends if _is_reservoir(end) and not is_outlet(end)),
            open_ends=_sorted(ref for ref in refs if ref not in graph.joints_at),
            doubtful=any(end.fitted.part is None or end.ref in graph.excused for end in ends),
        )


def _distances(graph: PortGraph, networks: tuple[Network, ...]) -> dict[str, int]:
    """Return how many edges lie between each end and the nearest outlet: breadth first, linear."""
    distance = {ref: 0 for network in networks for ref in network.outlets}
    queue = deque(distance)
    while queue:
        here = queue.popleft()
        for neighbour in graph.graph[here]:
            if neighbour not in distance:
                distance[neighbour] = distance[here] + 1
                queue.append(neighbour)
    return distance
