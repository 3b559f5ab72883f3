"""The problem in whole tenths of a millimetre: sums are exact, and nothing marked on a tube is finer.

Pieces and kerf are rounded up, stock is rounded down: a plan on the grid is a plan on the bench. That a tenth is fine
enough is common practice, no source.

With a kerf k, pieces l fit a bar L if sum(l) and a kerf between each two are at most L; the cut that ends the last
piece may fall off the end of the bar. That is sum(l + k) <= L + k, so each piece counts as l + k (its width) and each
bar as L + k (its room). Source: derived.
"""

from collections.abc import Sequence
from fractions import Fraction
from math import ceil, floor, lcm
from typing import Final, NamedTuple

from fitcheck.bom.nesting.record import Coil, Cut
from fitcheck.bom.record import exactly

PER_MM: Final = 10
"""Grid steps in a millimetre."""


class Kind(NamedTuple):
    """Bars that are alike. `cost` is for a pack, in whole units; `most` is how many packs there can be.

    Offcuts are there already: `pack` is 1, `most` how many there are, `cost` nothing.
    """

    length: int
    room: int
    cost: int
    most: int
    pack: int
    offcut: bool
    members: tuple[int, ...]


class Problem(NamedTuple):
    """What is to be nested: widths of the pieces, widest first; `order` are their numbers in the input.

    Kinds are offcuts, shortest first, then coils. `units` are the units of cost in one of the input's.
    """

    widths: tuple[int, ...]
    order: tuple[int, ...]
    kinds: tuple[Kind, ...]
    kerf: int
    units: int

    @property
    def total(self) -> int:
        """The widths of all pieces together."""
        return sum(self.widths)


Load = tuple[int, tuple[int, ...]]
"""One bar that is cut into: its kind, and the pieces (numbers in `Problem.widths`)."""
Packing = tuple[Load, ...]


class Score(NamedTuple):
    """What a plan is judged by, in this order; less is better. `longest` is the longest leftover, negative."""

    cost: int
    new: int
    longest: int


def up(mm: float) -> int:
    """Return a length in steps, rounded up."""
    return ceil(exactly(mm) * PER_MM)


def down(mm: float) -> int:
    """Return a length in steps, rounded down."""
    return floor(exactly(mm) * PER_MM)


def gridded(pieces: Sequence[Cut], coils: Sequence[Coil], offcuts: Sequence[float], kerf_mm: float) -> Problem:
    """Return the problem on the grid. Equal bars become one kind; coils dearer than an equal one stay, unused."""
    kerf = up(kerf_mm)
    order = tuple(sorted(range(len(pieces)), key=lambda index: (-pieces[index].mm, index)))
    widths = tuple(up(pieces[index].mm) + kerf for index in order)
    units = lcm(*(coil.cost.denominator for coil in coils if coil.cost is not None))
    return Problem(widths, order, (*_shelf(offcuts, kerf), *_offers(coils, kerf, units, len(pieces))), kerf, units)


def _shelf(offcuts: Sequence[float], kerf: int) -> list[Kind]:
    alike: dict[int, list[int]] = {}
    for index, mm in enumerate(offcuts):
        alike.setdefault(down(mm), []).append(index)
    return [
        Kind(length, length + kerf, 0, len(members), 1, True, tuple(members))
        for length, members in sorted(alike.items())
    ]


def _offers(coils: Sequence[Coil], kerf: int, units: int, pieces: int) -> list[Kind]:
    """Return a kind for each coil. Nobody needs more packs than there are pieces."""
    kinds = []
    for index, coil in enumerate(coils):
        length = down(coil.mm)
        cost = length * coil.pack if coil.cost is None else int(coil.cost * units)
        packs = -(-pieces // coil.pack)
        most = packs if coil.available is None else min(coil.available, packs)
        kinds.append(Kind(length, length + kerf, cost, most, coil.pack, False, (index,)))
    return kinds


def bars_of(problem: Problem, packing: Packing) -> list[int]:
    """Return how many bars of each kind a packing cuts into."""
    used = [0] * len(problem.kinds)
    for kind, _ in packing:
        used[kind] += 1
    return used


def packs_of(problem: Problem, packing: Packing) -> list[int]:
    """Return how many packs of each kind have to be there for a packing."""
    return [-(-bars // kind.pack) for bars, kind in zip(bars_of(problem, packing), problem.kinds, strict=True)]


def content(problem: Problem, load: Load) -> int:
    """Return the widths of the pieces in one bar."""
    return sum(problem.widths[piece] for piece in load[1])


def whole_bars(problem: Problem, packing: Packing) -> list[int]:
    """Return how many bars of each kind are there and not cut into: offcuts left alone, bars over from a pack."""
    used, packs = bars_of(problem, packing), packs_of(problem, packing)
    return [
        (kind.most if kind.offcut else packs[index] * kind.pack) - used[index]
        for index, kind in enumerate(problem.kinds)
    ]


def score(problem: Problem, packing: Packing) -> Score:
    """Return what a packing is judged by."""
    kinds = problem.kinds
    packs = packs_of(problem, packing)
    cost = sum(kind.cost * packs[index] for index, kind in enumerate(kinds))
    new = sum(content(problem, load) for load in packing if not kinds[load[0]].offcut)
    left = [max(kinds[load[0]].length - content(problem, load), 0) for load in packing]
    left += [kinds[index].length for index, count in enumerate(whole_bars(problem, packing)) if count]
    return Score(cost, new, -max(left, default=0))


def sensible(problem: Problem, packing: Packing) -> bool:
    """Return whether a packing can be cut: every piece once, no bar over its room, no more bars than there are."""
    pieces = sorted(piece for _, load in packing for piece in load)
    if pieces != list(range(len(problem.widths))):
        return False
    if any(content(problem, load) > problem.kinds[load[0]].room for load in packing):
        return False
    return all(packs <= kind.most for packs, kind in zip(packs_of(problem, packing), problem.kinds, strict=True))


def money(problem: Problem, cost: int, priced: bool) -> Fraction:
    """Return a cost of the grid in the input's money, or in mm where nothing has a price."""
    return Fraction(cost, problem.units if priced else PER_MM)
