"""Which circuits each place of a build is for: what has to be there before they can be finished.

- A circuit is what the build states under `circuits`, by its name; else what one outlet feeds, by that outlet.
- The reservoir's side belongs to every circuit whose master cylinder it feeds.
- What carries no fluid (a pedal box, a bracket) is for every circuit that hangs on it by mechanical joints.
- What guards a panel is for the circuits of the lines that pass through it.
- What is for the build as a whole is for every circuit; everything else is for none.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import Final

from fitcheck.build.circuits import Circuits, Network
from fitcheck.build.graph import PortGraph
from fitcheck.build.model import Corner
from fitcheck.build.refs import tag_of

NO_CIRCUIT: Final = ""
"""The name under which goes what is for no circuit."""
_NONE: Final = frozenset[str]()


class Belonging:
    """The circuits of a build, and which of them each place is for.

    `names` are those that the build states, in its order, then the outlets of the others. `unfound` are stated circuits
    that begin nowhere, with the reference that means nothing and why.
    """

    def __init__(self, graph: PortGraph) -> None:
        self._graph = graph
        circuits = Circuits(graph)
        named = dict(_named(graph, circuits))
        stated = tuple(graph.build.file.circuits)
        self.names = tuple(dict.fromkeys((*stated, *(name for names in named.values() for name in sorted(names)))))
        self.unfound = dict(_unfound(graph, circuits))
        self._of_end = {
            ref: names
            for network in circuits.networks
            for names in [named.get(network.ends[0]) or _fed(graph, circuits, named, network)]
            for ref in network.ends
        }
        self._of_tag = self._tags()
        self._of_panel = self._panels()

    def of(self, place: str) -> frozenset[str]:
        """Return the circuits that a place is for: a tag, an end, a panel, or "" for the build as a whole.

        What is for none of them is for `NO_CIRCUIT`, as everything is in a build without circuits.
        """
        names = self._of_end.get(place) or self._of_tag.get(tag_of(place)) or self._of_panel.get(place)
        if not names and not place:
            names = frozenset(self.names)
        return names or frozenset((NO_CIRCUIT,))

    def _tags(self) -> dict[str, frozenset[str]]:
        found: dict[str, frozenset[str]] = dict.fromkeys(self._graph.fitted, _NONE)
        for end in self._graph.ends.values():
            found[end.tag] |= self._of_end.get(end.ref, _NONE)
        return found | dict(_hung(self._graph, found))

    def _panels(self) -> dict[str, frozenset[str]]:
        found: dict[str, frozenset[str]] = defaultdict(frozenset)
        for tag, line in self._graph.build.file.lines.items():
            for corner in line.route or ():
                if isinstance(corner, Corner) and corner.through is not None:
                    found[corner.through] |= self._of_tag[tag]
        return dict(found)


def _named(graph: PortGraph, circuits: Circuits) -> Iterator[tuple[str, frozenset[str]]]:
    """Yield the names of each network that has any, by its first end."""
    stated: dict[str, set[str]] = defaultdict(set)
    for name, circuit in graph.build.file.circuits.items():
        network = circuits.of(circuit.from_)
        if network is not None:
            stated[network.ends[0]].add(name)
    yield from ((end, frozenset(names)) for end, names in stated.items())
    for network in circuits.pressurised():
        if network.ends[0] not in stated:
            yield network.ends[0], frozenset(network.outlets[:1])


def _unfound(graph: PortGraph, circuits: Circuits) -> Iterator[tuple[str, tuple[str, str]]]:
    reasons = {unknown.path: unknown.reason for unknown in graph.unknown_refs}
    for name, circuit in graph.build.file.circuits.items():
        if circuits.of(circuit.from_) is None:
            reason = reasons.get(("circuits", name, "from"), f"{circuit.from_} carries force, not fluid")
            yield name, (circuit.from_, reason)


def _fed(graph: PortGraph, circuits: Circuits, named: dict[str, frozenset[str]], network: Network) -> frozenset[str]:
    """Return the circuits whose master cylinders a network without pressure feeds."""
    found = _NONE
    for tag in map(tag_of, network.feeds):
        part = graph.fitted[tag].part
        for outlet in part.outlets if part is not None else ():
            pressed = circuits.of(f"{tag}.{outlet}")
            found |= named.get(pressed.ends[0], _NONE) if pressed is not None else _NONE
    return found


def _hung(graph: PortGraph, known: dict[str, frozenset[str]]) -> Iterator[tuple[str, frozenset[str]]]:
    """Yield tags that are in no circuit, with the circuits of all that they and their like are bolted to."""
    beside: dict[str, set[str]] = defaultdict(set)
    for joint in graph.joints:
        if joint.kind == "mechanical":
            tags = {end.tag for end in joint.ends}
            for tag in tags:
                beside[tag] |= tags - {tag}
    seen: set[str] = set()
    for tag in beside:
        if not known[tag] and tag not in seen:
            group = _flood(tag, beside, known)
            seen |= group
            names = _union(known[other] for member in group for other in beside[member])
            yield from ((member, names) for member in group)


def _flood(tag: str, beside: dict[str, set[str]], known: dict[str, frozenset[str]]) -> set[str]:
    """Return the tags that hang together with one, all of them in no circuit."""
    group, queue = {tag}, [tag]
    while queue:
        new = {other for other in beside[queue.pop()] if not known[other]} - group
        group |= new
        queue += new
    return group


def _union(sets: Iterable[frozenset[str]]) -> frozenset[str]:
    return frozenset(name for names in sets for name in names)
