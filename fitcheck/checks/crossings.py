"""Where what the circuits say and what is connected differ: ends that another outlet feeds."""

from collections.abc import Iterator
from typing import NamedTuple

from fitcheck.build.circuits import Circuits, Network
from fitcheck.build.graph import Path, PortGraph
from fitcheck.checks.circuit_words import doubt, one_joint


class Crossing(NamedTuple):
    """An end that circuit `circuit` should feed from `home`, and that an outlet of `found` feeds instead."""

    ref: str
    circuit: str
    home: Network
    found: Network
    path: Path


class Group(NamedTuple):
    """Crossings that concern the same circuits: one fault.

    `names` are the circuits, by name or else by outlet. `one_way` is True if one circuit only loses ends
    to the others: then it may have open ends left over.
    """

    crossings: tuple[Crossing, ...]
    names: tuple[str, ...]
    one_way: bool


def crossings(graph: PortGraph, circuits: Circuits) -> Iterator[Crossing]:
    """Yield every end that a circuit should feed and the outlet of another one does.

    Ends that nothing feeds are gaps, not crossings; a circuit that begins at no outlet cannot be compared.
    """
    for name, stated in graph.build.file.circuits.items():
        home = circuits.of(stated.from_)
        if home is None or stated.from_ not in home.outlets:
            continue
        for index, ref in enumerate(stated.feeds):
            found = circuits.of(ref)
            if found is not None and found is not home and found.pressurised:
                yield Crossing(ref, name, home, found, ("circuits", name, "feeds", index))


def unsure(circuits: Circuits, crossing: Crossing) -> str | None:
    """Return what is missing to be sure of a crossing, None if it is beyond doubt."""
    if crossing.found.doubtful:
        return doubt(circuits.graph, crossing.found)
    reused = circuits.reused_on(circuits.way_to(crossing.ref))
    return one_joint(reused) if reused is not None else None


def groups(circuits: Circuits, found: list[Crossing]) -> list[Group]:
    """Return crossings sorted into those that concern the same circuits."""
    import networkx as nx

    touching: nx.Graph[int] = nx.Graph()
    touching.add_edges_from((id(crossing.home), id(crossing.found)) for crossing in found)
    group_of = {key: number for number, keys in enumerate(nx.connected_components(touching)) for key in keys}
    sorted_out: dict[int, list[Crossing]] = {}
    for crossing in found:
        sorted_out.setdefault(group_of[id(crossing.home)], []).append(crossing)
    return [_group(circuits, members) for members in sorted_out.values()]


def name_of(circuits: Circuits, network: Network) -> str:
    """Return what to call a network under pressure: its circuit's name, else its first outlet."""
    return circuits.name_of(network) or network.outlets[0]


def _group(circuits: Circuits, members: list[Crossing]) -> Group:
    names: dict[str, None] = {}
    for crossing in members:
        names[crossing.circuit] = None
    for crossing in members:
        names[name_of(circuits, crossing.found)] = None
    losers = {id(crossing.home) for crossing in members}
    winners = {id(crossing.found) for crossing in members}
    return Group(tuple(members), tuple(names), len(losers) == 1 and not losers & winners)
