"""Which circuits each part of a build serves, and with which fluid each of them is filled."""

from fitcheck.build.circuits import Circuits, Network
from fitcheck.build.graph import PortGraph
from fitcheck.build.refs import tag_of
from fitcheck.standards.fluids import fluid as fluid_named

Use = tuple[str, str | None]
"""A circuit and its fluid."""


class FluidUses:
    """Which circuits, filled with what, each part holds fluid for.

    A circuit's fluid goes for what its outlet reaches and for what feeds that master cylinder; the build's for all
    that no circuit speaks of. An outlet stands for a circuit without a name.
    """

    def __init__(self, graph: PortGraph, circuits: Circuits) -> None:
        self.graph = graph
        self.usual = known_fluid(graph.build.file.fluid)
        self._names: dict[str, None] = {}
        self._networks: dict[int, dict[Use, None]] = {}
        self._by_tag: dict[str, dict[Use, None]] = {}
        for name, stated in graph.build.file.circuits.items():
            network = circuits.of(stated.from_)
            if network is not None:
                self._serves(network, (name, known_fluid(stated.fluid) or self.usual))
        for network in circuits.pressurised():
            if id(network) not in self._networks:
                for outlet in network.outlets:
                    self._serves(network, (outlet, self.usual))
        for network in circuits.pressurised():
            self._feed(network, circuits)
        for network in circuits.networks:
            for ref in network.ends:
                self._by_tag.setdefault(tag_of(ref), {}).update(self._networks.get(id(network), {}))
        self.order = {name: index for index, name in enumerate(self._names)}

    def of(self, tag: str) -> dict[str | None, tuple[str, ...]]:
        """Return the circuits that a part serves, by their fluid; empty for a part that holds no fluid."""
        if tag not in self._by_tag:
            return {}
        found: dict[str | None, list[str]] = {}
        for name, fluid in self._by_tag[tag]:
            found.setdefault(fluid, []).append(name)
        if not found:
            return {self.usual: ()}
        return {fluid: tuple(sorted(names, key=self.order.__getitem__)) for fluid, names in found.items()}

    def in_network(self, network: Network) -> tuple[str, ...]:
        """Return the fluids that are filled into a network, in order of name; none if the build does not say."""
        fluids = {fluid for _, fluid in self._networks.get(id(network), {("", self.usual): None}) if fluid is not None}
        return tuple(sorted(fluids))

    def _serves(self, network: Network, use: Use) -> None:
        self._names[use[0]] = None
        self._networks.setdefault(id(network), {})[use] = None

    def _feed(self, network: Network, circuits: Circuits) -> None:
        """Note that what feeds a master cylinder serves the circuits of its outlets."""
        for outlet in network.outlets:
            part = self.graph.fitted[tag_of(outlet)].part
            for name in part.feeds if part is not None else ():
                feeding = circuits.of(f"{tag_of(outlet)}.{name}")
                if feeding is not None:
                    self._networks.setdefault(id(feeding), {}).update(self._networks[id(network)])


def known_fluid(name: str | None) -> str | None:
    """Return a fluid's own name; None for none."""
    return fluid_named(name).name if name is not None else None
