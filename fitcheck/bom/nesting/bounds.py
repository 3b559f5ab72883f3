"""What no plan can better, found without a solver: by material, and by how full each bar can be made at all."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Final, NamedTuple

from fitcheck.bom.nesting.grid import Problem

_MOST_STEPS: Final = 20_000
_MOST_PURCHASES: Final = 40
_MOST_PIECES: Final = 400


def sums(widths: Sequence[int], room: int) -> int:
    """Return all sums of choices of the pieces up to `room`, as the bits of a number."""
    reach, mask = 1, (1 << (room + 1)) - 1
    for width in widths:
        reach |= (reach << width) & mask
    return reach


def fullest(reach: int, room: int) -> int:
    """Return the largest of the sums that `room` holds."""
    return (reach & ((1 << (room + 1)) - 1)).bit_length() - 1


def least_from(reach: int, least: int) -> int:
    """Return the smallest of the sums that is at least `least`; `least` itself if all are smaller."""
    above = reach >> least
    return least + ((above & -above).bit_length() - 1 if above else 0)


def fullest_choice(widths: Sequence[int], room: int) -> list[int]:
    """Return which pieces fill `room` as far as can be, of equally good choices that with the first pieces.

    Of many pieces only the first 400 are looked at: a good choice, then, not always the best.
    """
    if sum(widths) <= room:
        return list(range(len(widths)))
    looked_at = widths[:_MOST_PIECES]
    mask = (1 << (room + 1)) - 1
    reaches = [1]
    for width in reversed(looked_at):
        reaches.append(reaches[-1] | ((reaches[-1] << width) & mask))
    rest = reaches[-1].bit_length() - 1
    chosen = []
    for index, width in enumerate(looked_at):
        before = reaches[len(looked_at) - index - 1]
        if rest >= width and before >> (rest - width) & 1:
            chosen.append(index)
            rest -= width
    return chosen


class Bounds(NamedTuple):
    """What no plan betters: cost, and what comes off new stock; `fills` is each kind's fullest bar.

    `sums` has a bit for each sum of pieces.
    `purchases` are the packs of each kind that cost no more than `cost` and hold enough; `all_found` is False if
    there may be more of them.
    """

    cost: int
    new: int
    fills: tuple[int, ...]
    sums: int
    purchases: tuple[tuple[int, ...], ...]
    all_found: bool


def bounds(problem: Problem) -> Bounds:
    """Return the bounds of a problem. Source: derived; each bar holds at most its fullest choice of all pieces."""
    longest = max((kind.room for kind in problem.kinds), default=0)
    reach = sums(problem.widths, min(longest, problem.total))
    fills = tuple(fullest(reach, kind.room) for kind in problem.kinds)
    shelf = sum(fill * kind.most for fill, kind in zip(fills, problem.kinds, strict=True) if kind.offcut)
    need = max(problem.total - shelf, 0)
    search = _Purchases(problem, fills, need)
    search.look()
    return Bounds(search.bound, need, fills, reach, tuple(search.found), search.complete)


def score_bound(problem: Problem, known: Bounds, cost: int, new: int) -> int | None:
    """Return the longest leftover that a plan of this cost with so much off new stock can have, negative; or None.

    The bar that is kept holds what the fullest others cannot, and what it holds is a sum of pieces. None if not all
    purchases are known.
    """
    if not known.all_found or cost != known.cost:
        return None
    longest = max((_longest(problem, known, packs, new) for packs in known.purchases), default=0)
    return -longest


def _longest(problem: Problem, known: Bounds, packs: tuple[int, ...], new: int) -> int:
    """Return the longest leftover of plans that buy these packs."""
    longest = 0
    for offcut, held in ((True, problem.total - new), (False, new)):
        bars = [
            (kind.length, fill, kind.most if offcut else packs[index] * kind.pack)
            for index, (kind, fill) in enumerate(zip(problem.kinds, known.fills, strict=True))
            if kind.offcut == offcut
        ]
        most = sum(fill * count for _, fill, count in bars)
        for length, fill, count in bars:
            if count:
                longest = max(longest, length - least_from(known.sums, max(held - (most - fill), 0)))
    return longest


class _Purchases:
    """The cheapest packs that together hold `need`: depth first over the coils, cut off by the cost of material."""

    def __init__(self, problem: Problem, fills: Sequence[int], need: int) -> None:
        self.kinds = problem.kinds
        self.holds = [fill * kind.pack for fill, kind in zip(fills, problem.kinds, strict=True)]
        offered = [i for i, kind in enumerate(self.kinds) if not kind.offcut and self.holds[i] and kind.most]
        self.order = sorted(offered, key=self._dearness)
        self.need = need
        self.found: list[tuple[int, ...]] = []
        self.bound = 0
        self.complete = True
        self._best: int | None = None
        self._steps = 0

    def _dearness(self, index: int) -> tuple[Fraction, int]:
        return Fraction(self.kinds[index].cost, self.holds[index]), -self.holds[index]

    def look(self) -> None:
        """Find the bound, and the purchases that meet it."""
        self._down(0, self.need, 0, [0] * len(self.kinds))
        if self._steps > _MOST_STEPS or self._best is None:
            self.complete = False
            self.bound = self._material(0, self.need)
            self.found = [] if self._best != self.bound else self.found
        else:
            self.bound = self._best
            free = any(not self.kinds[index].cost for index in self.order)  # then more packs cost no more
            self.complete = len(self.found) < _MOST_PURCHASES and not free

    def _material(self, place: int, need: int) -> int:
        """Return the least cost of `need` by length alone from the coils left: a pack may be bought in part."""
        if need <= 0 or place >= len(self.order):
            return 0
        kind = self.order[place]
        return -(-need * self.kinds[kind].cost // self.holds[kind])

    def _down(self, place: int, need: int, cost: int, packs: list[int]) -> None:
        self._steps += 1
        if self._steps > _MOST_STEPS or (need > 0 and place == len(self.order)):
            return
        if self._best is not None and cost + self._material(place, need) > self._best:
            return
        if need <= 0:
            if self._best is None or cost < self._best:
                self._best, self.found = cost, []
            if len(self.found) < _MOST_PURCHASES:
                self.found.append(tuple(packs))
            return
        index = self.order[place]
        kind = self.kinds[index]
        for count in range(min(-(-need // self.holds[index]), kind.most), -1, -1):
            packs[index] = count
            self._down(place + 1, need - count * self.holds[index], cost + count * kind.cost, packs)
        packs[index] = 0
