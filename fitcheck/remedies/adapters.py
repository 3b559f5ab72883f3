"""Chains of adapters from the catalog between the ends of a build. `fitcheck.remedies.bridge` looks for them."""

from collections.abc import Mapping
from typing import Final, NamedTuple

from fitcheck.bom.record import Price
from fitcheck.build.graph import End, PortGraph
from fitcheck.remedies.bridge import LONGEST, Bridge, Chain, Duty, Step
from fitcheck.remedies.interfaces import adapters_of
from fitcheck.standards.fluids import fluid

MOST_SHOWN: Final = 3


class AdapterChain(NamedTuple):
    """A remedy: these adapters, in this order from the first end named in the finding to the second.

    Each step has the part and the names of its ports that face the first end and the second. `added_joints` counts
    the leak paths that the chain adds.
    """

    steps: tuple[Step, ...]

    @property
    def parts(self) -> tuple[str, ...]:
        """The ids of the adapters, in order."""
        return tuple(step.part for step in self.steps)

    @property
    def added_joints(self) -> int:
        """How many more joints there are than before."""
        return len(self.steps)


class Bridges:
    """Finds adapter chains between the ends of one build; which interfaces join is remembered for its shelf.

    `prices` are those of one piece by part id; the ones in `currency` are compared.
    """

    def __init__(
        self, graph: PortGraph, prices: Mapping[str, Price] | None = None, currency: str | None = None
    ) -> None:
        self.graph = graph
        self.adapters = adapters_of(graph, prices, currency)
        name = graph.build.file.fluid
        self.family = fluid(name).family if name is not None else None

    def between(
        self, first: End, second: End, pressure: float | None = None, most: int = MOST_SHOWN, longest: int = LONGEST
    ) -> list[AdapterChain]:
        """Return the best of the shortest chains that join the two ends, at most `most`, none if there are none.

        Parts below `pressure` [MPa], or made for another fluid than the build's, are in none. They are in the order of
        `fitcheck.remedies.bridge.Rank`. Two ends that join as they are get none either.
        """
        return [AdapterChain(chain.steps) for chain in self.ranked(first, second, pressure, most, longest)]

    def ranked(
        self, first: End, second: End, pressure: float | None = None, most: int = MOST_SHOWN, longest: int = LONGEST
    ) -> list[Chain]:
        """Do what `between` does, and return the chains with their price, rating and rank."""
        bridge = Bridge(self.adapters, first, second, Duty.between(first, second, pressure, self.family), longest)
        return list(bridge.shortest(most))
