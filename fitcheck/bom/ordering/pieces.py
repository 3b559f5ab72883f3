"""When each piece of cut goods can be cut, and which can be cut from what is on the shelf.

A piece is here when its length is: the plan's cutting list says which is cut from which. Another cutting could have a
piece sooner; this is the one that the plan buys for. Of equal lengths the first that is here is cut first.

Where a plan has no lengths for a need, what is on the shelf is still cut from, without loss: the longest piece first,
from the shortest length that has room. Some other way may get one more piece out of it.
"""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterator
from typing import Final, NamedTuple

from fitcheck.bom.need import Need
from fitcheck.bom.ordering.record import Plan
from fitcheck.bom.ordering.supply import Supply, in_order, ordered, taken
from fitcheck.catalog.stock import Stock

_DUST: Final = 1e-9


class Length(NamedTuple):
    """One length that a plan cuts into [mm], and the tags that its pieces are for."""

    mm: float
    tags: frozenset[str]


class Pieces:
    """The pieces of one need for cut goods.

    `lengths` are cut into; `there` says when those of each length are here, the first first. `loose` is what is on the
    shelf [mm] where the plan cuts into nothing.
    """

    def __init__(self, plan: Plan, stock: Stock, need: Need) -> None:
        cut = next((cut for cut in plan.cuts if cut.part == need.part), None)
        self.need = need
        self.on = plan.on
        bars = cut.nest.bars if cut is not None and cut.nest is not None else ()
        self.lengths = tuple(Length(bar.mm, frozenset(piece.tag for piece in bar.cuts)) for bar in bars)
        self.there = {mm: in_order(supplies) for mm, supplies in _there(plan, need).items()}
        self.loose = stock.lengths(need.part) if need.part is not None and not self.lengths else ()
        self.left_out = {left.what: left.reason for left in cut.left_out} if cut is not None else {}

    def supplies(self, tags: Collection[str]) -> dict[str, Supply]:
        """Return what the pieces for these tags are cut from, if they are cut before all others; some may never be."""
        found: dict[str, Supply] = {}
        used = Counter[float]()
        for length in self.lengths:
            mine, there = length.tags.intersection(tags), self.there.get(length.mm, [])
            if mine and used[length.mm] < len(there):
                found |= dict.fromkeys(mine, there[used[length.mm]])
                used[length.mm] += 1
        here = Supply(self.need.part or "", 1, self.on, here=True)
        return found | dict.fromkeys(Rack(self).can(tags) if self.loose else (), here)


class Rack:
    """What is on the shelf for one need for cut goods, and what has been cut from it so far."""

    def __init__(self, pieces: Pieces) -> None:
        self.pieces = pieces
        self._into = frozenset[int]()
        self._free = list(pieces.loose)

    def can(self, tags: Collection[str]) -> set[str]:
        """Return for which of these tags the pieces can be cut too."""
        return {tag for _, mine in self._bars(tags) for tag in mine} | self._loosely(tags, list(self._free))

    def cut(self, tags: Collection[str]) -> set[str]:
        """Cut the pieces for these tags, as far as they can be, and return for which they could."""
        found = self.can(tags)
        self._into |= {number for number, _ in self._bars(tags)}
        self._loosely(tags, self._free)
        return found

    def _bars(self, tags: Collection[str]) -> Iterator[tuple[int, frozenset[str]]]:
        """Yield which of the plan's lengths on the shelf would be cut into, and what for."""
        used = Counter(self.pieces.lengths[number].mm for number in self._into)
        for number, (mm, on_it) in enumerate(self.pieces.lengths):
            mine = on_it.intersection(tags)
            here = sum(supply.here for supply in self.pieces.there.get(mm, ()))
            if mine and (number in self._into or used[mm] < here):
                used[mm] += number not in self._into
                yield number, mine

    def _loosely(self, tags: Collection[str], free: list[float]) -> set[str]:
        """Cut pieces from what is `free` [mm] and in no plan, and return for which tags; a cut takes nothing away."""
        found = set()
        pieces = [piece for piece in self.pieces.need.pieces if piece.tag in tags] if free else []
        for piece in sorted(pieces, key=lambda piece: -piece.mm):
            room = min((mm for mm in free if mm >= piece.mm - _DUST), default=None)
            if room is not None:
                free.remove(room)
                free.append(room - piece.mm)
                found.add(piece.tag)
        return found


def _there(plan: Plan, need: Need) -> dict[float, list[Supply]]:
    """Return what the plan has for a need, by length [mm], and when it is here."""
    found: dict[float, list[Supply]] = defaultdict(list)
    for entry in plan.stock:
        if entry.serves.part == need.part:
            for mm in entry.lengths:
                found[mm].append(taken(plan.on, entry, 1))
    for order in plan.orders:
        for line in order.lines:
            if any(serves.part == need.part for serves in line.serves):
                for mm in line.lengths:
                    found[mm].append(ordered(plan.on, order, line, 1))
    return found
