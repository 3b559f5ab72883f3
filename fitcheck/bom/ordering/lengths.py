"""Which sets of coils are enough for the pieces of a tube: all the smallest, so that a plan can weigh their prices.

A set is so many lengths of each class; a class is all coils of one length, or one reel that is cut to length in steps.
What is on the shelf is there in every set.
"""

from collections.abc import Iterator, Sequence
from itertools import islice, product
from math import ceil
from typing import Final, NamedTuple

from fitcheck.bom.nesting.grid import down, up
from fitcheck.bom.nesting.nest import nest
from fitcheck.bom.nesting.record import Cut, NestingError

MOST_SETS: Final = 400
"""Sets that are tried: beyond that the rest is left untried, and the answer says so."""
_MOST_LISTED: Final = 50_000
"""Sets that are put in order before they are tried."""


class LengthClass(NamedTuple):
    """Coils of one length [mm], or a reel cut in steps of it. `most` can be had, None if as many as one likes."""

    mm: float
    reel: bool = False
    most: int | None = None


class Sets(NamedTuple):
    """Sets of lengths that are enough, none with more than it needs: how many of each class.

    `all_tried` is True if no other set could be as good.
    """

    sets: tuple[tuple[int, ...], ...]
    all_tried: bool


def enough(
    pieces: Sequence[Cut], classes: Sequence[LengthClass], offcuts: Sequence[float], kerf_mm: float = 0.0
) -> Sets:
    """Return the smallest sets of lengths from which all pieces can be cut, offcuts given.

    Smallest: with one length less of any class the pieces could not be cut. Of a class not named here none are taken.
    No sets at all if the pieces cannot be cut from anything there is.
    """
    if not pieces or _fit(pieces, offcuts, kerf_mm):
        return Sets((tuple(0 for _ in classes),), True)
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
        if tried > MOST_SETS:
            break
        most = ceilings[last]
        fewest = _fewest(pieces, classes, chosen, last, most, offcuts, kerf_mm)
        if fewest is not None:
            chosen[last] = fewest
            found.append(tuple(chosen))
    all_tried = tried <= MOST_SETS and next(ranges, None) is None
    return Sets(tuple(_smallest(found)), all_tried)


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
    pieces: Sequence[Cut],
    classes: Sequence[LengthClass],
    chosen: Sequence[int],
    last: int,
    most: int,
    offcuts: Sequence[float],
    kerf_mm: float,
) -> int | None:
    """Return how few of the class `last` make a set enough, None if even `most` do not."""
    low, high = 0, most
    if not _enough(pieces, classes, _with(chosen, last, most), offcuts, kerf_mm):
        return None
    while low < high:
        middle = (low + high) // 2
        if _enough(pieces, classes, _with(chosen, last, middle), offcuts, kerf_mm):
            high = middle
        else:
            low = middle + 1
    return low


def _with(chosen: Sequence[int], place: int, count: int) -> list[int]:
    return [count if at == place else each for at, each in enumerate(chosen)]


def _enough(
    pieces: Sequence[Cut],
    classes: Sequence[LengthClass],
    chosen: Sequence[int],
    offcuts: Sequence[float],
    kerf_mm: float,
) -> bool:
    bars = list(offcuts)
    for each, count in zip(classes, chosen, strict=True):
        bars += [each.mm * count] * (count > 0) if each.reel else [each.mm] * count
    return _fit(pieces, bars, kerf_mm)


def _fit(pieces: Sequence[Cut], bars: Sequence[float], kerf_mm: float) -> bool:
    """Return whether all pieces can be cut from these lengths: by a quick try, else by an exact plan."""
    left, widths = sorted(map(down, bars)), _widths(pieces)
    if not left or widths[0] > left[-1] or sum(widths) > sum(left):
        return False
    for width in widths:
        place = next((place for place, room in enumerate(left) if room >= width), None)
        if place is None:
            return _fit_exactly(pieces, bars, kerf_mm)
        left[place] -= width + up(kerf_mm)
        left.sort()
    return True


def _fit_exactly(pieces: Sequence[Cut], bars: Sequence[float], kerf_mm: float) -> bool:
    try:
        return not nest(pieces, [], bars, kerf_mm).too_long
    except NestingError:
        return False
