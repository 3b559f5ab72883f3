"""Nesting: the problem put on the grid, searched, and the plan put back into the words of the input."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from fitcheck.bom.nesting.grid import (
    PER_MM,
    Packing,
    Problem,
    content,
    down,
    gridded,
    money,
    packs_of,
    score,
    up,
    whole_bars,
)
from fitcheck.bom.nesting.record import Bar, Coil, Cut, Nest, Proof, Source, refuse_nonsense
from fitcheck.bom.nesting.search import SECONDS, Found, searched
from fitcheck.bom.record import exactly


def nest(
    pieces: Sequence[Cut],
    coils: Sequence[Coil],
    offcuts: Sequence[float] = (),
    kerf_mm: float = 0.0,
    seconds: float = SECONDS,
) -> Nest:
    """Return which piece is cut from which length: at least cost, then offcuts used first, then one long leftover.

    Least is the money for packs of `coils`, or the length bought where they have no price; among those plans least
    comes off new stock, kerf included; among those the longest single leftover is as long as can be, offcuts left
    alone and coils over from a pack counting too. Lengths [mm] are taken to tenths: pieces up, stock down. Pieces that
    fit nothing are left out and named in `too_long`. The solver looks for at most `seconds`; what is proven by then
    is in `proof`. Within a bar the longest piece is cut first: spoiled, it can still become a shorter one (common
    practice, no source).

    Raises:
        NestingError: input that makes no sense, or too little stock.
        NoSolverError: the solver is needed and is not installed.
    """
    refuse_nonsense(pieces, coils, offcuts, kerf_mm)
    there = [*offcuts, *(coil.mm for coil in coils if coil.available != 0)]
    longest = max(map(down, there), default=0)
    fits = [piece for piece in pieces if up(piece.mm) <= longest]
    problem = gridded(fits, coils, offcuts, kerf_mm)
    found = searched(problem, seconds)
    too_long = tuple(piece for piece in pieces if up(piece.mm) > longest)
    return _Answer(problem, fits, coils, offcuts).nest(found, too_long)


class _Answer:
    """Puts a plan on the grid back into the words of the input."""

    def __init__(
        self, problem: Problem, pieces: Sequence[Cut], coils: Sequence[Coil], offcuts: Sequence[float]
    ) -> None:
        self.problem = problem
        self.pieces = pieces
        self.coils = coils
        self.offcuts = offcuts

    def nest(self, found: Found, too_long: tuple[Cut, ...]) -> Nest:
        """Return the answer."""
        problem, plan = self.problem, found.plan
        reached = score(problem, plan)
        packs = packs_of(problem, plan)
        bought = [0] * len(self.coils)
        for kind, count in zip(problem.kinds, packs, strict=True):
            if not kind.offcut:
                bought[kind.members[0]] = count
        lengths = (exactly(coil.mm) * coil.pack * count for coil, count in zip(self.coils, bought, strict=True))
        length = sum(lengths, Fraction(0))
        priced = any(coil.cost is not None for coil in self.coils)
        bars, whole = self._bars(plan)
        return Nest(
            bars,
            whole,
            tuple(bought),
            money(problem, reached.cost, priced) if priced else None,
            length,
            reached.new / PER_MM,
            -reached.longest / PER_MM,
            self._proof(found, length, priced),
            too_long,
        )

    def _proof(self, found: Found, length: Fraction, priced: bool) -> Proof:
        cost, new, left = found.proven
        least = money(self.problem, cost, priced)
        if not priced and cost == score(self.problem, found.plan).cost:
            least = length  # as it is said on the offer, not rounded down
        return Proof(
            least,
            new / PER_MM if new is not None else None,
            -left / PER_MM if left is not None else None,
            found.seconds,
        )

    def _bars(self, plan: Packing) -> tuple[tuple[Bar, ...], tuple[Bar, ...]]:
        """Return the bars that are cut into and those left whole, the fuller before the emptier."""
        problem = self.problem
        members = [iter(kind.members) if kind.offcut else None for kind in problem.kinds]
        bars = []
        for load in sorted(plan, key=lambda load: (load[0], -content(problem, load), load[1])):
            source, mm = self._source(load[0], members)
            left = max(problem.kinds[load[0]].length - content(problem, load), 0) / PER_MM
            cuts = tuple(self.pieces[problem.order[piece]] for piece in sorted(load[1]))
            bars.append(Bar(source, mm, cuts, left))
        whole = []
        for index, count in enumerate(whole_bars(problem, plan)):
            for _ in range(count):
                source, mm = self._source(index, members)
                whole.append(Bar(source, mm, (), problem.kinds[index].length / PER_MM))
        return tuple(bars), tuple(whole)

    def _source(self, index: int, members: Sequence[Iterator[int] | None]) -> tuple[Source, float]:
        """Return the next bar of a kind, and its length [mm]."""
        of_kind = members[index]
        if of_kind is not None:
            number = next(of_kind)
            return Source(True, number), self.offcuts[number]
        number = self.problem.kinds[index].members[0]
        return Source(False, number), self.coils[number].mm
