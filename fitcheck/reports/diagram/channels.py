"""How wires change height between two columns: each on an upright track of its own, in an order that adds no crossing.

Of two wires whose uprights overlap in height, the one goes further left that thereby crosses the other less; where a
wire ends at the height at which another begins, that other turns first, or both would lie on one line. Wires that would
change places with each other cannot all do so: one of them goes by way of a height of its own.
"""

from collections.abc import Sequence
from typing import NamedTuple

Level = float
"""A height, in steps of the grid; one between two steps is a wire's own."""


class Turn(NamedTuple):
    """An upright: on which track, counted from the left, and to which height."""

    track: int
    to: Level


class _Item(NamedTuple):
    """An upright that is to get a track."""

    wire: int
    start: Level
    end: Level

    @property
    def low(self) -> Level:
        return min(self.start, self.end)

    @property
    def high(self) -> Level:
        return max(self.start, self.end)


def turns(wires: Sequence[tuple[int, int]]) -> tuple[list[list[Turn]], int]:
    """Return the turns of each wire from its height on the left to its height on the right, and the number of tracks.

    No two wires begin at one height, and no two end at one.
    """
    items = _items(wires)
    tracks = _tracks(items)
    found: list[list[Turn]] = [[] for _ in wires]
    for item, track in zip(items, tracks, strict=True):
        found[item.wire].append(Turn(track, item.end))
    return found, max(tracks, default=-1) + 1


def _items(wires: Sequence[tuple[int, int]]) -> list[_Item]:
    """Return the uprights of all wires, two for one wire of each circle that changes places."""
    begins = {start: wire for wire, (start, end) in enumerate(wires) if start != end}
    items: list[_Item] = []
    circled: set[int] = set()
    done: set[int] = set()
    own: set[Level] = set()
    for wire, (start, end) in enumerate(wires):
        if start == end:
            continue
        way = [wire]
        while way[-1] not in done and (after := begins.get(wires[way[-1]][1])) is not None and after != wire:
            if after in way:
                break
            way.append(after)
        closes = begins.get(wires[way[-1]][1]) == wire and not circled.intersection(way)
        done.update(way)
        if closes:
            circled.update(way)
            between = _own_level(start, end, own)
            items += [_Item(wire, start, between), _Item(wire, between, end)]
        else:
            items.append(_Item(wire, start, end))
    return items


def _own_level(start: int, end: int, own: set[Level]) -> Level:
    """Return a height between two others that no wire has: half a step beside the grid."""
    level = (start + end) // 2 + 0.5
    while level in own:
        level += 1.0
    own.add(level)
    return level


def _tracks(items: Sequence[_Item]) -> list[int]:
    """Return a track for each upright: those that overlap have different ones, in the better order."""
    by_height = sorted(range(len(items)), key=lambda index: (items[index].low, index))
    overlaps: list[list[int]] = [[] for _ in items]
    must: list[set[int]] = [set() for _ in items]
    should: list[set[int]] = [set() for _ in items]
    open_: list[int] = []
    for here in by_height:
        open_ = [other for other in open_ if items[other].high >= items[here].low]
        for other in open_:
            overlaps[here].append(other)
            overlaps[other].append(here)
            _compare(items, here, other, must, should)
        open_.append(here)
    tracks = [-1] * len(items)
    for here in _in_line(must, should):
        taken = [tracks[other] for other in overlaps[here]]
        tracks[here] = max(taken, default=-1) + 1
    return tracks


def _compare(items: Sequence[_Item], a: int, b: int, must: list[set[int]], should: list[set[int]]) -> None:
    """Note which of two overlapping uprights stands further left: `must[b]` holds what stands left of `b`."""
    first, second = _cost(items[a], items[b]), _cost(items[b], items[a])
    if first is None or (items[a].wire == items[b].wire and items[b].end == items[a].start):
        must[a].add(b)
    elif second is None or items[a].wire == items[b].wire:
        must[b].add(a)
    elif first < second:
        should[b].add(a)
    elif second < first:
        should[a].add(b)


def _cost(left: _Item, right: _Item) -> int | None:
    """Return how often two wires cross if the one stands left of the other; None if they would lie on one line."""
    if right.start == left.end and left.wire != right.wire:
        return None
    return int(left.low < right.start < left.high) + int(right.low < left.end < right.high)


def _in_line(must: Sequence[set[int]], should: Sequence[set[int]]) -> list[int]:
    """Return all uprights from left to right; what `must` stand left of another does, what `should` does if it can."""
    left = set(range(len(must)))
    line: list[int] = []
    after: list[list[int]] = [[] for _ in must]
    for here in left:
        for other in must[here] | should[here]:
            after[other].append(here)
    waits = [len(must[here]) for here in range(len(must))]
    wishes = [len(should[here] - must[here]) for here in range(len(must))]
    free = {here for here in left if not waits[here]}
    while free:
        here = min(free, key=lambda index: (wishes[index], index))
        free.remove(here)
        left.remove(here)
        line.append(here)
        for other in after[here]:
            if here in must[other]:
                waits[other] -= 1
            else:
                wishes[other] -= 1
            if other in left and not waits[other]:
                free.add(other)
    return line
