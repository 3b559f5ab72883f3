"""In which column each symbol stands: from the pedals on the left to the wheels on the right.

Every wire runs from a column to one further right. Which of its ends is the left one: pedals come before all else; what
feeds a cylinder comes before it, the nearer the later; what a cylinder presses comes behind it, by the number of joints
to the nearest outlet. Columns are the longest way from the left, so that each symbol stands as far left as it can; then
what feeds is moved up to what it feeds, brakes and slaves go to the far side, and hoses and adapters up to them.
"""

from collections import deque
from collections.abc import Callable, Iterable, Sequence
from typing import Final, NamedTuple

from fitcheck.catalog.part import CONSUMERS
from fitcheck.reports.diagram.gather import HUB
from fitcheck.reports.diagram.record import Node, Scheme, Wire

PEDALS: Final = "pedal box"
_FIRST: Final = -1_000_000
_MOST_MOVED: Final = 12
"""Columns that a brake is moved at most to stand on the far side: further off its line would say nothing."""
_GO_ALONG: Final = frozenset({"hose", "feed hose", "adapter", HUB})


class Columns(NamedTuple):
    """The column of each node, and each wire as (node on the left, its pin, node on the right, its pin)."""

    of: tuple[int, ...]
    wires: tuple[tuple[int, int, int, int], ...]


def columns(scheme: Scheme) -> Columns:
    """Return the columns of a scheme: linear in its size."""
    keys = _keys(scheme)
    wires = tuple(_directed(wire, keys) for wire in scheme.wires)
    before: list[list[int]] = [[] for _ in scheme.nodes]
    behind: list[list[int]] = [[] for _ in scheme.nodes]
    for a, _, b, _ in wires:
        before[b].append(a)
        behind[a].append(b)
    order = sorted(range(len(keys)), key=lambda place: (keys[place], place))
    least = [int(keys[place] != _FIRST and _FIRST in keys) for place in range(len(keys))]
    masters = [place for place, node in enumerate(scheme.nodes) if _is_master(node)]
    found = _longest(order, before, least)
    line_up = max((found[place] for place in masters), default=0)
    for place in masters:
        least[place] = line_up
    found = _longest(order, before, least)
    for place in reversed(order):
        if _FIRST < keys[place] < 0 and behind[place]:
            found[place] = min(found[other] for other in behind[place]) - 1
    _to_the_far_side(scheme.nodes, order, before, behind, found)
    return Columns(tuple(found), wires)


def _longest(order: Sequence[int], before: list[list[int]], least: list[int]) -> list[int]:
    found = list(least)
    for place in order:
        for other in before[place]:
            found[place] = max(found[place], found[other] + 1)
    return found


def _to_the_far_side(
    nodes: Sequence[Node], order: Sequence[int], before: list[list[int]], behind: list[list[int]], found: list[int]
) -> None:
    """Move brakes and slaves to the last column, and what hangs on one of them alone up to it."""
    last = max(found, default=0)
    for place in reversed(order):
        if nodes[place].kind in CONSUMERS and not behind[place] and last - found[place] <= _MOST_MOVED:
            found[place] = last
        elif nodes[place].kind in _GO_ALONG and len(behind[place]) == 1 and before[place]:
            other = behind[place][0]
            if nodes[other].kind in CONSUMERS | _GO_ALONG and found[other] - 1 > found[place]:
                found[place] = found[other] - 1


def _is_master(node: Node) -> bool:
    return node.part is not None and bool(node.part.outlets)


def _keys(scheme: Scheme) -> list[int]:
    """Return how far downstream each node stands: below 0 what feeds, 0 the cylinders that make pressure."""
    nodes = scheme.nodes
    keys: dict[int, int] = {place: _FIRST for place, node in enumerate(nodes) if node.kind == PEDALS}
    masters = [place for place, node in enumerate(nodes) if _is_master(node) and place not in keys]
    keys |= dict.fromkeys(masters, 0)
    pressed, other, rods = _neighbours(scheme)
    _spread(masters, pressed, keys, 1)
    _spread(masters, other, keys, -1)
    for place in sorted(range(len(nodes)), key=lambda place: _rank(nodes[place])):
        if place not in keys:
            keys[place] = 0
            _spread([place], lambda here: [*pressed(here), *other(here), *rods(here)], keys, 1)
    return [keys[place] for place in range(len(nodes))]


def _rank(node: Node) -> int:
    """Return what a system that nothing presses is read from: reservoirs first, brakes last."""
    if node.kind == "reservoir":
        return 0
    return 2 if node.kind in CONSUMERS or node.room != "components" else 1


def _spread(starts: Iterable[int], near: Callable[[int], Iterable[int]], keys: dict[int, int], step: int) -> None:
    """Give keys to all that is reached from some nodes, breadth first."""
    queue = deque(starts)
    while queue:
        here = queue.popleft()
        for place in near(here):
            if place not in keys:
                keys[place] = keys[here] + step
                queue.append(place)


def _neighbours(scheme: Scheme) -> tuple[Callable[[int], list[int]], ...]:
    """Return what is joined to a node under pressure, without pressure, and by rods."""
    lists: tuple[list[list[int]], ...] = tuple([[] for _ in scheme.nodes] for _ in range(3))
    for wire in scheme.wires:
        pin = scheme.nodes[wire.a].pins[wire.a_pin]
        which = 2 if pin.mechanical else 0 if pin.colour != "ink" else 1
        lists[which][wire.a].append(wire.b)
        lists[which][wire.b].append(wire.a)
    return lists[0].__getitem__, lists[1].__getitem__, lists[2].__getitem__


def _directed(wire: Wire, keys: Sequence[int]) -> tuple[int, int, int, int]:
    if (keys[wire.a], wire.a) < (keys[wire.b], wire.b):
        return wire.a, wire.a_pin, wire.b, wire.b_pin
    return wire.b, wire.b_pin, wire.a, wire.a_pin
