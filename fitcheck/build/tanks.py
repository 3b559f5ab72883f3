"""Which reservoirs serve which master cylinders, and what these move."""

from collections.abc import Iterable

from fitcheck.build.circuits import Circuits
from fitcheck.build.graph import PortGraph
from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import BRAKES
from fitcheck.naming import in_order


def tank_sets(graph: PortGraph, circuits: Circuits) -> list[tuple[list[str], list[str]]]:
    """Return sets of reservoirs with the master cylinders that they serve, each thing in one set."""
    import networkx as nx

    serves: nx.Graph[str] = nx.Graph()
    tanks: dict[str, None] = {}
    cylinders: dict[str, None] = {}
    for network in circuits.networks:
        if network.pressurised:
            continue
        for ref in network.reservoirs:
            tanks[graph.ends[ref].tag] = None
            serves.add_edge(tag_of(network.reservoirs[0]), graph.ends[ref].tag)
        for ref in network.feeds if network.reservoirs else ():
            cylinders[graph.ends[ref].tag] = None
            serves.add_edge(tag_of(network.reservoirs[0]), graph.ends[ref].tag)
    for tag, item in graph.fitted.items():
        if item.part is not None and item.part.outlets and item.part.reservoir_volume is not None:
            tanks[tag] = cylinders[tag] = None
            serves.add_node(tag)
    found = [sorted(tags, key=in_order) for tags in nx.connected_components(serves)]
    return [([t for t in tags if t in tanks], [t for t in tags if t in cylinders]) for tags in found]


def consumers_of(graph: PortGraph, circuits: Circuits, cylinders: Iterable[str]) -> tuple[list[str], list[str]]:
    """Return the tags of the brakes and of the slave cylinders on the outlets of these master cylinders."""
    brakes: dict[str, None] = {}
    clutches: dict[str, None] = {}
    for tag in cylinders:
        part = graph.fitted[tag].part
        for name in part.outlets if part is not None else ():
            network = circuits.of(f"{tag}.{name}")
            for ref in network.consumers if network is not None else ():
                fed = graph.ends[ref].fitted
                kind = fed.part.kind if fed.part is not None else ""
                (brakes if kind in BRAKES else clutches)[fed.tag] = None
    return list(brakes), list(clutches)
