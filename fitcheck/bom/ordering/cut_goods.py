"""Needs for cut goods: from which sets of lengths their pieces can be cut, offcuts and what is coming given.

Where not all pieces can be cut from what can be had, as many as can be are planned for: spares are left out first, then
what is longer than every length, then the longest.
"""

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import inf
from time import monotonic
from typing import Final, NamedTuple

from fitcheck.bom.need import SPARE
from fitcheck.bom.nesting.grid import down, up
from fitcheck.bom.nesting.nest import nest
from fitcheck.bom.nesting.record import Coil, Cut, NestingError
from fitcheck.bom.ordering.lengths import LengthClass, Sets, enough
from fitcheck.catalog.stock import Coming

SECONDS: Final = 3.0
"""How long the sets of one need may be looked for."""


class Offcut(NamedTuple):
    """A length [mm] of `part` that is on the shelf, or in what is coming."""

    mm: float
    part: str
    coming: Coming | None = None


class CutWant(NamedTuple):
    """What a need for lengths can be met from.

    `pieces` can be cut from the `sets` of lengths of `classes`, and from the `offcuts`. `dropped` cannot; `spared` are
    spare pieces that cannot. `others` are other needs whose pieces could share a length with these.
    """

    pieces: tuple[Cut, ...]
    classes: tuple[LengthClass, ...]
    offcuts: tuple[Offcut, ...]
    sets: Sets
    dropped: tuple[Cut, ...] = ()
    spared: tuple[Cut, ...] = ()
    others: tuple[str, ...] = ()

    @property
    def all_tried(self) -> bool:
        """True if no other way of cutting could be cheaper."""
        return self.sets.all_tried and not self.others


def cut_want(
    pieces: Sequence[Cut],
    classes: Sequence[LengthClass],
    offcuts: Sequence[Offcut],
    price: Callable[[LengthClass], int | None],
    kerf_mm: float = 0.0,
) -> CutWant:
    """Return what can be cut from lengths of these classes.

    `price` says what one of a class costs at least, None if nobody knows: where there are too many sets to try them
    all, the one that is cheapest by it is among those tried.
    """
    until = monotonic() + SECONDS
    kept, dropped = list(pieces), []
    longest = max([*(cut.mm for cut in offcuts), *(_reach(each, pieces, kerf_mm) for each in classes)], default=0.0)
    for piece in pieces:
        if piece.mm > longest:
            kept.remove(piece)
            dropped.append(piece)
    free = [cut.mm for cut in offcuts]
    room = sum(map(down, free)) + sum(inf if each.most is None else down(each.mm) * each.most for each in classes)
    sets = _sets(kept, classes, free, price, kerf_mm, until)
    while not sets.sets and kept:
        worst = max(kept, key=lambda piece: (piece.tag == SPARE, piece.mm))
        kept.remove(worst)
        dropped.append(worst)
        if sum(up(piece.mm) for piece in kept) <= room:
            sets = _sets(kept, classes, free, price, kerf_mm, until)
    spared = tuple(piece for piece in dropped if piece.tag == SPARE)
    lost = tuple(piece for piece in dropped if piece.tag != SPARE)
    return CutWant(tuple(kept), tuple(classes), tuple(offcuts), sets, lost, spared)


def _reach(each: LengthClass, pieces: Sequence[Cut], kerf_mm: float) -> float:
    """Return the longest piece that a class can give [mm]."""
    if not each.reel:
        return each.mm if each.most != 0 else 0.0
    wanted = sum(piece.mm + kerf_mm for piece in pieces) + each.mm
    return wanted if each.most is None else min(wanted, each.mm * each.most)


def _sets(
    pieces: Sequence[Cut],
    classes: Sequence[LengthClass],
    offcuts: Sequence[float],
    price: Callable[[LengthClass], int | None],
    kerf_mm: float,
    until: float,
) -> Sets:
    found = enough(pieces, classes, offcuts, kerf_mm, until)
    if found.all_tried:
        return found
    in_time = monotonic() <= until + SECONDS
    cheapest = _cheapest(pieces, classes, offcuts, price, kerf_mm) if in_time else None
    cheapest = cheapest or _first_fit(pieces, classes, offcuts, price, kerf_mm)
    if cheapest is None or cheapest in found.sets:
        return found
    return Sets((*found.sets, cheapest), False)


def _cheapest(
    pieces: Sequence[Cut],
    classes: Sequence[LengthClass],
    offcuts: Sequence[float],
    price: Callable[[LengthClass], int | None],
    kerf_mm: float,
) -> tuple[int, ...] | None:
    """Return the set of coils that one plan of cutting by price alone takes, None if it finds none."""
    coils = [
        Coil(each.mm, Fraction(cost), each.most)
        for each in classes
        if not each.reel and (cost := price(each)) is not None
    ]
    places = [place for place, each in enumerate(classes) if not each.reel and price(each) is not None]
    try:
        plan = nest(pieces, coils, offcuts, kerf_mm, 1.0)
    except NestingError:
        return None
    if plan.too_long:
        return None
    counts = dict(zip(places, plan.bought, strict=True))
    return tuple(counts.get(place, 0) for place in range(len(classes)))


def _first_fit(
    pieces: Sequence[Cut],
    classes: Sequence[LengthClass],
    offcuts: Sequence[float],
    price: Callable[[LengthClass], int | None],
    kerf_mm: float,
) -> tuple[int, ...] | None:
    """Return the set that it takes if each piece goes into the first length that has room, None if some find none.

    Offcuts come first, then coils that are cheap for their length. It takes no time, and may miss a way there is.
    """
    coils = [place for place, each in enumerate(classes) if not each.reel and price(each) is not None]
    coils.sort(key=lambda place: (price(classes[place]) or 0) / classes[place].mm)
    counts = [0] * len(classes)
    rooms = sorted(map(down, offcuts))
    for width in sorted((up(piece.mm) for piece in pieces), reverse=True):
        at = next((at for at, room in enumerate(rooms) if room >= width), None)
        if at is None:
            place = next((place for place in coils if _left(classes[place], counts[place], width)), None)
            if place is None:
                return None
            counts[place] += 1
            rooms.append(down(classes[place].mm))
            at = len(rooms) - 1
        rooms[at] -= width + up(kerf_mm)
    return tuple(counts)


def _left(each: LengthClass, taken: int, width: int) -> bool:
    """Return whether one more of a class can be had, and has room."""
    return down(each.mm) >= width and (each.most is None or taken < each.most)
