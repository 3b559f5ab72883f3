"""A second, slow reading of nesting for the tests: every way to cut, tried; and first-fit decreasing, as in a textbook.

It is written without the program's own grid, bounds and scores. Lengths are whole millimetres.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from fitcheck.bom.nesting.record import Coil, Nest

Bars = list[tuple[int | None, int, list[int]]]
"""For each bar the number of its coil, None for an offcut; its length; the pieces cut from it."""


def fits(length: int, pieces: Sequence[int], kerf: int) -> bool:
    """Return whether the pieces can be cut: a kerf between each two, the cut after the last may fall off the end."""
    return sum(pieces) + (len(pieces) - 1) * kerf <= length


def every_way(pieces: Sequence[int], coils: Sequence[Coil], offcuts: Sequence[int], kerf: int) -> Iterator[Bars]:
    """Yield every way to cut the pieces, bars that are alike not told apart."""

    def place(index: int, bars: Bars) -> Iterator[Bars]:
        if index == len(pieces):
            yield [(coil, length, list(cut)) for coil, length, cut in bars]
            return
        for _, length, cut in bars:
            if fits(length, [*cut, pieces[index]], kerf):
                cut.append(pieces[index])
                yield from place(index + 1, bars)
                cut.pop()
        for number, coil in enumerate(coils):
            opened = sum(1 for of, _, _ in bars if of == number)
            limit = None if coil.available is None else coil.available * coil.pack
            if pieces[index] <= coil.mm and (limit is None or opened < limit):
                yield from place(index + 1, [*bars, (number, int(coil.mm), [pieces[index]])])

    yield from place(0, [(None, length, []) for length in offcuts])


def judged(bars: Bars, coils: Sequence[Coil], kerf: int) -> tuple[Fraction, int, int]:
    """Return cost (or length bought), what comes off new stock, and the longest leftover, negative."""
    spent, left = Fraction(0), [0]
    for number, coil in enumerate(coils):
        opened = sum(1 for of, _, _ in bars if of == number)
        packs = ceil(opened / coil.pack)
        spent += packs * (coil.cost if coil.cost is not None else Fraction(coil.mm) * coil.pack)
        if packs * coil.pack > opened:
            left.append(int(coil.mm))
    new = sum(sum(cut) + len(cut) * kerf for of, _, cut in bars if of is not None)
    left += [max(length - sum(cut) - len(cut) * kerf, 0) for _, length, cut in bars]
    return spent, new, -max(left)


def best(
    pieces: Sequence[int], coils: Sequence[Coil], offcuts: Sequence[int], kerf: int
) -> tuple[Fraction, int, int] | None:
    """Return what the best of all ways comes to, None if there is no way."""
    return min((judged(bars, coils, kerf) for bars in every_way(pieces, coils, offcuts, kerf)), default=None)


def first_fit_decreasing(pieces: Sequence[int], length: int, offcuts: Sequence[int], kerf: int) -> int:
    """Return how many new bars the rule of thumb takes, offcuts tried first, shortest first."""
    bars: list[tuple[int, list[int]]] = [(offcut, []) for offcut in sorted(offcuts)]
    for piece in sorted(pieces, reverse=True):
        for room, cut in bars:
            if fits(room, [*cut, piece], kerf):
                cut.append(piece)
                break
        else:
            bars.append((length, [piece]))
    return len(bars) - len(offcuts)


def reached(plan: Nest) -> tuple[Fraction, float, float]:
    """Return what a plan says that it comes to, in the order of `judged`."""
    return plan.spent, plan.new_mm, -plan.longest_left_mm
