"""Ends that are joined more than once, and what the joint too many was meant for."""

from collections.abc import Hashable, Iterable
from itertools import islice
from typing import Generic, TypeVar

from fitcheck.build.circuits import Network
from fitcheck.build.graph import PortGraph
from fitcheck.checks.meeting import form_of, kind_of
from fitcheck.naming import in_order

Unit = TypeVar("Unit")


def reused_in(graph: PortGraph, network: Network) -> str | None:
    """Return an end of `network` that is joined more than once, or None."""
    reused = (ref for ref in network.ends if len(graph.joints_at.get(ref, ())) > 1)
    return min(reused, key=in_order, default=None)


def surplus(graph: PortGraph) -> dict[str, int]:
    """Return how many joints each end has more than the one it can take, in the order of their names.

    A joint of an end with itself is none to spare: it was not meant for another end that this one knows of.
    """
    found: dict[str, int] = {}
    for ref, joints in graph.joints_at.items():
        port = graph.ends[ref].port
        if len(joints) < 2 or (port is not None and port.mechanical):
            continue
        others = {id(joint) for joint in joints if len(set(joint.refs)) > 1}
        if len(others) > 1:
            found[ref] = len(others) - 1
    return {ref: found[ref] for ref in sorted(found, key=in_order)}


class Meant(Generic[Unit]):
    """Things that lack a joint, each by the places where it may be looked for and the kind of its ends."""

    def __init__(self, graph: PortGraph) -> None:
        self._graph = graph
        self._found: dict[Hashable, dict[int, Unit]] = {}
        self._keys: list[list[Hashable]] = []

    def add(self, unit: Unit, refs: Iterable[str], places: Iterable[Hashable]) -> None:
        """Add what lacks a joint at one of `refs`, to be found at any of `places`."""
        kinds = dict.fromkeys(self._kind(ref) for ref in refs)
        keys: list[Hashable] = [(place, kind) for place in dict.fromkeys(places) for kind in kinds]
        for key in keys:
            self._found.setdefault(key, {})[len(self._keys)] = unit
        self._keys.append(keys)

    def take(self, place: Hashable, ref: str, most: int) -> list[Unit]:
        """Return and forget what is at this place and of the kind of `ref`; nothing if it is more than `most`."""
        numbers = list(islice(self._found.get((place, self._kind(ref)), {}), most + 1))
        return [self._forget(number) for number in numbers] if len(numbers) <= most else []

    def _forget(self, number: int) -> Unit:
        same = [self._found[key].pop(number) for key in self._keys[number]]
        return same[0]

    def _kind(self, ref: str) -> Hashable:
        return kind_of(form_of(self._graph.ends[ref]))
