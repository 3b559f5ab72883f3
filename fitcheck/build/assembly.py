"""In which order a line is put together: searched, so that an order is found or none exists.

Moves: put a thing on from a bare end; form an end; bend; pass a hole with one end leading. What the rules of the game
are:

- nothing goes on over a formed end, and what rides on the tube keeps its order;
- all bends are made on the bench, before the tube is in the car; marks need a finished end, so only one end may be
  formed in the car;
- once bent, an end is formed only if its straight has room for the flaring tool, the nut and what is parked there;
- what does not slide past bends is parked on one straight while they are made, and stays there;
- a formed end passes a hole only if it is smaller; a bend passes if the hole, as a bore of the panel's thickness, is
  wide enough. Either end may lead, and the tube may start between two panels.

The search is small because outside the car nothing gets harder by being done earlier, on straight tube: what rides goes
on first, then the ends are formed that are not left bare, then all bends are made. Tests compare it with trying every
order of every single move. Limits: the sheet around a hole is not looked at, nor what else is in the car; things that
ride are taken to keep clear of the holes. Lengths in mm. Source: derived.
"""

from collections.abc import Iterator, Sequence
from heapq import heappop, heappush
from itertools import combinations
from math import inf
from typing import Final, Literal, NamedTuple

Act = Literal["slide", "form", "bend", "pass"]
Side = Literal[0, 1]
FROM: Final[Side] = 0
TO: Final[Side] = 1
_SIDES: Final[tuple[Side, Side]] = (FROM, TO)


class Tip(NamedTuple):
    """One end of a tube. `across_mm` is its largest diameter once formed, `straight_mm` the straight behind it.

    `nut_mm` is what the nut takes of that straight while the end is formed.
    """

    formed: bool
    across_mm: float
    straight_mm: float
    nut_mm: float


class Ring(NamedTuple):
    """Something that rides on the tube; `parked_mm` is what it takes of a straight, 0 if it slides past every bend."""

    name: str
    parked_mm: float = 0.0


class Opening(NamedTuple):
    """A hole. `bends_mm` is the bore [mm] that the bends on its `from` side need, and those on its `to` side.

    `bends` is how many there are on both sides.
    """

    name: str
    hole_mm: float
    bends_mm: tuple[float, float] = (0.0, 0.0)
    bends: tuple[int, int] = (0, 0)


class Job(NamedTuple):
    """A line as a problem of assembly: its ends, what rides on it and its holes in order from `from`.

    `straights_mm` are those of all legs, none for a tube without bends; `grip_mm` is what the flaring tool needs.
    """

    tips: tuple[Tip, Tip]
    rings: tuple[Ring, ...] = ()
    openings: tuple[Opening, ...] = ()
    straights_mm: tuple[float, ...] = ()
    grip_mm: float = 0.0

    @property
    def bent(self) -> bool:
        """Whether there is anything to bend."""
        return len(self.straights_mm) > 1


class Move(NamedTuple):
    """One thing done: at which `end`, with which ring or hole (`which`); `in_car` if the tube is in a hole by then."""

    act: Act
    end: Side | None = None
    which: int | None = None
    in_car: bool = False


class Block(NamedTuple):
    """One thing that is in the way: `word` is `formed`, `hole`, `room`, `bend` or `long`.

    `which` is the end of `formed` and `room`, the hole of `hole` and `bend`, the ring of `long`.
    """

    word: Literal["formed", "hole", "room", "bend", "long"]
    which: int


class _Cost(NamedTuple):
    """What is avoided, the weightiest first: flaring in the car, bends pulled through holes, `to` leading."""

    in_car: int = 0
    pulled: int = 0
    turned: int = 0


_Stretch = tuple[int, int]
"""The holes that are passed, as (first, one past last): they always lie side by side."""


def order(job: Job) -> tuple[Move, ...] | None:
    """Return the plainest order in which a line can be put together, None if there is none at all.

    At most three ways of leaving the bench: both ends formed, or one still bare. For each a Dijkstra search over the
    stretches of holes passed, h^2 of them for h holes.

    >>> wide = Tip(True, 12.8, 40.0, 19.0)
    >>> order(Job((wide, wide), openings=(Opening("wall", 12.0),))) is None
    True
    >>> [move.act for move in order(Job((wide._replace(formed=False), wide), openings=(Opening("wall", 12.0),)))]
    ['pass', 'form']
    """
    if (job.rings and all(tip.formed for tip in job.tips)) or parked(job, FROM) is None:
        return None
    found = [way for late in (None, *_SIDES) if (way := _left_bare(job, late)) is not None]
    return min(found, key=lambda way: way[0])[1] if found else None


def in_the_way(job: Job) -> tuple[tuple[Block, ...], ...]:
    """Return the smallest sets of things without which there would be an order, for a line that has none.

    Sets of one, else of two, else of three; empty if not even those help.
    """
    blocks = tuple(_blocks(job))
    for size in (1, 2, 3):
        found = tuple(some for some in combinations(blocks, size) if order(_without(job, some)) is not None)
        if found:
            return found
    return ()


def _left_bare(job: Job, late: Side | None) -> tuple[_Cost, tuple[Move, ...]] | None:
    """Return the plainest order in which only the end `late`, if any, is formed in the car; None if none does it."""
    if late is not None and (job.tips[late].formed or not job.openings or not _has_room(job, late)):
        return None
    passed = _passed(job, late)
    if passed is None:
        return None
    cost, passes = passed
    finished = (Move("form", late, None, True),) if late is not None else ()
    return cost._replace(in_car=len(finished)), (*_bench(job, late), *passes, *finished)


def _bench(job: Job, late: Side | None) -> Iterator[Move]:
    """Yield all that is done before the tube is in the car."""
    count = len(job.rings)
    side = FROM if not job.tips[FROM].formed else TO
    for index in range(count)[:: -1 if side == FROM else 1]:
        yield Move("slide", side, index)
    yield from (Move("form", end) for end in _SIDES if end != late and not job.tips[end].formed)
    if job.bent:
        yield Move("bend")


def _has_room(job: Job, side: Side) -> bool:
    """Return whether the flaring tool has room at an end whose next bend is made."""
    tip = job.tips[side]
    return not job.bent or tip.straight_mm - tip.nut_mm - (parked(job, side) or 0.0) >= job.grip_mm


def _passed(job: Job, late: Side | None) -> tuple[_Cost, tuple[Move, ...]] | None:
    """Return how a bent tube goes through all its holes, None if it does not; its end `late` is bare."""
    whole = (0, len(job.openings))
    queue: list[tuple[_Cost, _Stretch, tuple[Move, ...]]] = [
        (_Cost(), (start, start), ()) for start in range(len(job.openings) + 1)
    ]
    seen: set[_Stretch] = set()
    while queue:
        cost, stretch, way = heappop(queue)
        if stretch == whole:
            return cost, way
        if stretch in seen:
            continue
        seen.add(stretch)
        first, past = stretch
        for side, which in zip(_SIDES, (first - 1, past), strict=True):
            if 0 <= which < len(job.openings) and _goes(job, side, which, late):
                pulled = cost.pulled + job.openings[which].bends[side]
                dearer = _Cost(0, pulled, cost.turned + (side == TO))
                move = Move("pass", side, which, first < past)
                heappush(queue, (dearer, (min(first, which), max(past, which + 1)), (*way, move)))
    return None


def _goes(job: Job, side: Side, which: int, late: Side | None) -> bool:
    hole = job.openings[which]
    small = side == late or job.tips[side].across_mm < hole.hole_mm
    return small and hole.bends_mm[side] <= hole.hole_mm


def parked(job: Job, side: Side) -> float | None:
    """Return the least that has to be parked next to an end [mm], None if it does not all go onto the straights."""
    rings = [ring.parked_mm for ring in job.rings if ring.parked_mm]
    straights = job.straights_mm if side == TO else job.straights_mm[::-1]
    rings = rings if side == TO else rings[::-1]
    if not rings or not job.bent:
        return 0.0
    for straight in straights[:-1]:
        room = straight
        while rings and rings[0] <= room:
            room -= rings.pop(0)
    left = sum(rings)
    return left if left <= straights[-1] else None


def _blocks(job: Job) -> Iterator[Block]:
    yield from (Block("formed", side) for side in _SIDES if job.tips[side].formed)
    yield from (Block("hole", index) for index in range(len(job.openings)))
    yield from (Block("room", side) for side in _SIDES if not job.tips[side].formed)
    yield from (Block("bend", index) for index, hole in enumerate(job.openings) if max(hole.bends_mm) > hole.hole_mm)
    yield from (Block("long", index) for index, ring in enumerate(job.rings) if ring.parked_mm)


def _without(job: Job, blocks: Sequence[Block]) -> Job:
    """Return a job in which some things are no longer in the way."""
    tips, openings, rings = list(job.tips), list(job.openings), list(job.rings)
    for word, index in blocks:
        if word == "formed":
            tips[index] = tips[index]._replace(formed=False)
        elif word == "room":
            tips[index] = tips[index]._replace(straight_mm=inf)
        elif word == "hole":
            openings[index] = openings[index]._replace(hole_mm=inf)
        elif word == "bend":
            openings[index] = openings[index]._replace(bends_mm=(0.0, 0.0))
        else:
            rings[index] = rings[index]._replace(parked_mm=0.0)
    return job._replace(tips=(tips[0], tips[1]), openings=tuple(openings), rings=tuple(rings))
