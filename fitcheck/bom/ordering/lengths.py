"""Which sets of coils are enough for the pieces of a tube: all the smallest, so that a plan can weigh their prices.

A set is so many lengths of each class; a class is all coils of one length, or one reel that is cut to length in steps.
What is on the shelf is there in every set.
"""

from collections.abc import Iterator, Sequence
from itertools import islice, product
from math import ceil, inf
from time import monotonic
from typing import Final, NamedTuple

from fitcheck.bom.nesting.grid import down, up
from fitcheck.bom.nesting.nest import nest
from fitcheck.bom.nesting.record import Cut, NestingError
from fitcheck.bom.nesting.search import SECONDS

MOST_SETS: Final = 400
"""Sets that are tried: beyond that the rest is left untried, and the answer says so."""
_MOST_LISTED: Final = 50_000
"""Sets that are put in order before they are tried."""


class LengthClass(NamedTuple):
    """Coils of one length [mm], or a reel cut in steps of it. `most` can be had, None if as many as one likes.

    `name` tells reels apart: what comes off two of them is not one piece.
    """

    mm: float
    reel: bool = False
    most: int | None = None
    name: str = ""


class Sets(NamedTuple):
    """Sets of lengths that are enough, none with more than it needs: how many of each class.

    `all_tried` is True if no other set could be as good.
    """

    sets: tuple[tuple[int, ...], ...]
    all_tried: bool


def enough(
    pieces: Sequence[Cut],
    classes: Sequence[LengthClass],
    offcuts: Sequence[float],
    kerf_mm: float = 0.0,
    until: float = inf,
) -> Sets:
    """Return the smallest sets of lengths from which all pieces can be cut, offcuts given.

    Smallest: with one length less of any class the pieces could not be cut. Of a class not named here none are taken.
    No sets at all if the pieces cannot be cut from anything there is. From the moment `until` on (of the monotonic
    clock) only what a quick try fits counts as enough.
    """
    saw = _Saw(pieces, kerf_mm, until)
    if not pieces or saw.fits(offcuts):
        return Sets((tuple(0 for _ in classes),), saw.sure)
    ceilings = [_alone(pieces, each, offcuts, kerf_mm) for each in classes]
    last = max(range(len(classes)), key=lambda place: ceilings[place], default=None)
    if last is None:
        return Sets((), True)
    others = [place for place in range(len(classes)) if place != last]
    found: list[tuple[int, ...]] = []
    tried = 0
    ranges = product(*(range(ceilings[place] + 1) for place in others))
    for counts in sorted(islice(ranges, _MOST_LISTED), key=sum):
        chosen = [0] * len(classes)
        for place, count in zip(others, counts, strict=True):
            chosen[place] = count
        if any(_covers(chosen, known) for known in found):
            continue
        tried += 1
        if tried > MOST_SETS or monotonic() > until:
            break
        fewest = _fewest(saw, classes, chosen, last, ceilings[last], offcuts)
        if fewest is not None:
            chosen[last] = fewest
            found.append(tuple(chosen))
    else:
        return Sets(tuple(_smallest(found)), saw.sure and next(ranges, None) is None)
    return Sets(tuple(_smallest(found)), False)


def _covers(chosen: Sequence[int], known: Sequence[int]) -> bool:
    return all(one >= other for one, other in zip(chosen, known, strict=True))


def _smallest(found: Sequence[tuple[int, ...]]) -> Iterator[tuple[int, ...]]:
    for one in found:
        if not any(other != one and _covers(one, other) for other in found):
            yield one


def _alone(pieces: Sequence[Cut], each: LengthClass, offcuts: Sequence[float], kerf_mm: float) -> int:
    """Return more than how many of a class no set needs: what is there, or enough for every piece by itself."""
    total = sum(piece.mm + kerf_mm for piece in pieces)
    if each.reel:
        need = ceil(total / each.mm)
    else:
        fits = [piece for piece in pieces if up(piece.mm) <= down(each.mm)]
        need = _first_fit(fits, each.mm, kerf_mm)
    return need if each.most is None else min(need, each.most)


def _first_fit(pieces: Sequence[Cut], mm: float, kerf_mm: float) -> int:
    """Return how many lengths it takes if each piece goes into the first that has room, longest first."""
    left: list[int] = []
    for width in _widths(pieces):
        place = next((place for place, room in enumerate(left) if room >= width), None)
        if place is None:
            left.append(down(mm))
            place = len(left) - 1
        left[place] -= width + up(kerf_mm)
    return len(left)


def _widths(pieces: Sequence[Cut]) -> list[int]:
    """Return the pieces on the grid on which they are nested, longest first."""
    return sorted((up(piece.mm) for piece in pieces), reverse=True)


def _fewest(
    saw: "_Saw",
    classes: Sequence[LengthClass],
    chosen: Sequence[int],
    last: int,
    most: int,
    offcuts: Sequence[float],
) -> int | None:
    """Return how few of the class `last` make a set enough, None if even `most` do not."""

    def fits(count: int) -> bool:
        counts = [count if at == last else each for at, each in enumerate(chosen)]
        return saw.fits([*offcuts, *_bars(classes, counts)])

    low, high = 0, most
    if not fits(most):
        return None
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle + 1, high)
    return low


def _bars(classes: Sequence[LengthClass], counts: Sequence[int]) -> Iterator[float]:
    """Yield the lengths of a set [mm]; what comes off one reel is one piece."""
    for each, count in zip(classes, counts, strict=True):
        yield from [each.mm * count] * (count > 0) if each.reel else [each.mm] * count


class _Saw:
    """Says whether pieces can be cut from lengths: by a quick try, else by an exact plan while there is time for it.

    `sure` becomes False once an answer was no only because time had run out.
    """

    def __init__(self, pieces: Sequence[Cut], kerf_mm: float, until: float) -> None:
        self.pieces = pieces
        self.kerf_mm = kerf_mm
        self.until = until
        self.sure = True
        self._widths = _widths(pieces)

    def fits(self, bars: Sequence[float]) -> bool:
        """Return whether all pieces can be cut from these lengths [mm]."""
        left = sorted(map(down, bars))
        if not self._widths:
            return True
        if not left or self._widths[0] > left[-1] or sum(self._widths) > sum(left):
            return False
        for width in self._widths:
            place = next((place for place, room in enumerate(left) if room >= width), None)
            if place is None:
                return self._exactly(bars)
            left[place] -= width + up(self.kerf_mm)
            left.sort()
        return True

    def _exactly(self, bars: Sequence[float]) -> bool:
        left = self.until - monotonic()
        if left <= 0:
            self.sure = False
            return False
        try:
            plan = nest(self.pieces, [], bars, self.kerf_mm, min(left, SECONDS))
        except NestingError as error:
            self.sure = self.sure and "no plan" not in error.reason
            return False
        return not plan.too_long
