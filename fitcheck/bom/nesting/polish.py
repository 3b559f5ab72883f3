"""A plan made better: the pieces of two or three bars are put together and dealt out anew, each bar as full as it goes.

Offcuts are filled before new stock, and the bar with the longest leftover last: what comes off new stock gets less, and
the longest leftover longer, never the other way. The draws are the same in every run.
"""

from collections.abc import Callable
from random import Random
from typing import Final

from fitcheck.bom.nesting.bounds import fullest_choice
from fitcheck.bom.nesting.grid import Packing, Problem, content, score, whole_bars

STEPS: Final = 6_000
"""Deals before plans are left as they are: about a second for coils of 25 ft."""


def polished(problem: Problem, plan: Packing, met: Callable[[Packing], bool], steps: int = STEPS) -> Packing:
    """Return `plan` or a better one that cuts into the same bars or fewer; stops early at a plan that is `met`."""
    draw = Random(0)
    bars = _bars_in_order(problem, plan)
    best = plan
    steps = steps * 100 // max(len(problem.widths), 100)
    for _ in range(steps if len(bars) > 1 else 0):
        if met(best):
            break
        if not _deal(problem, bars, _chosen(problem, bars, draw), draw):
            continue
        now = tuple((kind, tuple(sorted(pieces))) for kind, pieces in bars if pieces)
        if score(problem, now) < score(problem, best):
            best = now
    return best


def _bars_in_order(problem: Problem, plan: Packing) -> list[tuple[int, list[int]]]:
    """Return the bars there are, cut into or not: offcuts, then new stock, the longest leftover of either last."""
    loads = [*plan, *((kind, ()) for kind, count in enumerate(whole_bars(problem, plan)) for _ in range(count))]

    def rank(load: tuple[int, tuple[int, ...]]) -> tuple[bool, int]:
        kind = problem.kinds[load[0]]
        return not kind.offcut, kind.length - content(problem, load)

    return [(kind, list(pieces)) for kind, pieces in sorted(loads, key=rank)]


def _chosen(problem: Problem, bars: list[tuple[int, list[int]]], draw: Random) -> list[int]:
    """Return which bars are dealt anew: two or three; mostly one that is not full, another, and the last."""
    last = len(bars) - 1
    short = [place for place in range(last) if _held(problem, bars[place][1]) < problem.kinds[bars[place][0]].room]
    if short and draw.random() < 0.7:
        return sorted({draw.choice(short), draw.randrange(last), last})
    return sorted(draw.sample(range(len(bars)), min(draw.choice((2, 3, 3)), len(bars))))


def _deal(problem: Problem, bars: list[tuple[int, list[int]]], chosen: list[int], draw: Random) -> bool:
    """Deal the pieces of the chosen bars anew, and return whether one holds more or less than before.

    Either the bars are filled one after the other and the last takes the rest; or the last gets first what the others
    cannot hold. Nothing changes if a bar would be over its room, the last hold more than it does, or the
    offcuts less.
    """
    pool = [piece for place in chosen for piece in bars[place][1]]
    draw.shuffle(pool)
    rooms = [problem.kinds[bars[place][0]].room for place in chosen]
    dealt = _last_first(problem, pool, rooms) if draw.random() < 0.5 else _in_turn(problem, pool, rooms)
    held = [_held(problem, pieces) for pieces in dealt]
    before = [_held(problem, bars[place][1]) for place in chosen]
    gained = sum(
        now - then
        for place, now, then in zip(chosen, held, before, strict=True)
        if problem.kinds[bars[place][0]].offcut
    )
    if gained < 0 or held[-1] > before[-1] or any(now > room for now, room in zip(held, rooms, strict=True)):
        return False
    for place, pieces in zip(chosen, dealt, strict=True):
        bars[place][1][:] = pieces
    return held != before


def _in_turn(problem: Problem, pool: list[int], rooms: list[int]) -> list[list[int]]:
    """Return the pieces for each bar: each filled as far as it goes, the last takes the rest."""
    dealt = []
    for room in rooms[:-1]:
        taken = set(fullest_choice([problem.widths[piece] for piece in pool], room))
        dealt.append([piece for index, piece in enumerate(pool) if index in taken])
        pool = [piece for index, piece in enumerate(pool) if index not in taken]
    return [*dealt, pool]


def _last_first(problem: Problem, pool: list[int], rooms: list[int]) -> list[list[int]]:
    """Return the pieces for each bar: the last gets what the others together cannot hold, as little as goes."""
    taken = set(fullest_choice([problem.widths[piece] for piece in pool], sum(rooms[:-1])))
    kept = [piece for index, piece in enumerate(pool) if index in taken]
    last = [piece for index, piece in enumerate(pool) if index not in taken]
    return [*_in_turn(problem, kept, rooms[:-1]), last]


def _held(problem: Problem, pieces: list[int]) -> int:
    return sum(problem.widths[piece] for piece in pieces)
