"""Good plans without a solver: first-fit, bars filled as full as they go, and whole purchases tried out."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from typing import Final

from fitcheck.bom.nesting.bounds import Bounds, fullest_choice
from fitcheck.bom.nesting.grid import Load, Packing, Problem, score, sensible
from fitcheck.bom.nesting.polish import STEPS, polished

_POLISHED: Final = 4


def best_filling(problem: Problem, known: Bounds, met: Callable[[Packing], bool]) -> Packing | None:
    """Return the best plan that filling finds, or None if it finds none: there may be one all the same.

    Looking ends at a plan that is `met`.
    """
    plans = sorted({plan for plan in _plans(problem, known) if sensible(problem, plan)}, key=partial(score, problem))
    best = plans[0] if plans else None
    for plan in plans[:_POLISHED]:
        if best is None or met(best) or score(problem, plan).cost > known.cost:
            break
        best = better(problem, best, polished(problem, plan, met, STEPS // _POLISHED))
    return best


def better(problem: Problem, one: Packing | None, other: Packing | None) -> Packing | None:
    """Return the better of two plans; `one` if they are equal."""
    if one is None or other is None:
        return one or other
    return other if score(problem, other) < score(problem, one) else one


def _plans(problem: Problem, known: Bounds) -> Iterator[Packing]:
    met = False
    for packs in known.purchases:
        for plan in _fill_purchase(problem, packs):
            met = True
            yield plan
    if met:
        return
    offered = [index for index, kind in enumerate(problem.kinds) if not kind.offcut and kind.most]
    for first in offered or [-1]:
        kinds = [index for index in (first, *offered) if index >= 0]
        for found in (first_fit(problem, kinds), _fill_as_needed(problem, kinds)):
            if found is not None:
                yield found
                yield _in_smaller_bars(problem, found)


def first_fit(problem: Problem, coils: Sequence[int]) -> Packing | None:
    """Return the first-fit decreasing plan: offcuts first, then the coils in the order given; None if they run out."""
    stock = _Stock(problem, coils)
    bars: list[tuple[int, list[int]]] = [(kind, []) for kind in stock.offcuts()]
    rooms = [problem.kinds[kind].room for kind, _ in bars]
    for piece, width in enumerate(problem.widths):
        place = next((place for place, room in enumerate(rooms) if room >= width), None)
        if place is None:
            opened = stock.open(width)
            if opened is None:
                return None
            bars.append((opened, []))
            rooms.append(problem.kinds[opened].room)
            place = len(bars) - 1
        bars[place][1].append(piece)
        rooms[place] -= width
    return _packing(bars)


def _fill_as_needed(problem: Problem, coils: Sequence[int]) -> Packing | None:
    """Return a plan that fills offcuts, then one coil after the other, each round the widest piece that is left."""
    stock = _Stock(problem, coils)
    left = list(range(len(problem.widths)))
    bars = [(kind, _take(problem, left, kind)) for kind in stock.offcuts()]
    while left:
        opened = stock.open(problem.widths[left[0]])
        if opened is None:
            return None
        widest = left.pop(0)
        bars.append((opened, [widest, *_take(problem, left, opened, problem.widths[widest])]))
    return _packing(bars)


def _fill_purchase(problem: Problem, packs: Sequence[int]) -> Iterator[Packing]:
    """Yield plans for what is bought, each with another bar kept for what the others do not take."""
    shelf = [index for index, kind in enumerate(problem.kinds) if kind.offcut for _ in range(kind.most)]
    new = [index for index, kind in enumerate(problem.kinds) for _ in range(packs[index] * kind.pack)]
    keepers = sorted(set(new or shelf), key=lambda index: -problem.kinds[index].length)
    for keeper in keepers:
        for backward in (False, True):
            others = list(new or shelf)
            others.remove(keeper)
            others.sort(key=lambda index: problem.kinds[index].length, reverse=backward)
            plan = _fill_in_order(problem, [*(shelf if new else []), *others, keeper])
            if plan is not None:
                yield plan


def _fill_in_order(problem: Problem, kinds: Sequence[int]) -> Packing | None:
    left = list(range(len(problem.widths)))
    bars = [(kind, _take(problem, left, kind)) for kind in kinds]
    return None if left else _packing(bars)


def _take(problem: Problem, left: list[int], kind: int, used: int = 0) -> list[int]:
    """Take the pieces out of `left` that fill a bar best, `used` of which is taken, and return them."""
    if not left:
        return []
    chosen = fullest_choice([problem.widths[piece] for piece in left], problem.kinds[kind].room - used)
    taken = [left[place] for place in chosen]
    for place in reversed(chosen):
        del left[place]
    return taken


class _Stock:
    """What can still be opened: the offcuts, then coils in an order of preference."""

    def __init__(self, problem: Problem, coils: Sequence[int]) -> None:
        self.kinds = problem.kinds
        self.coils = coils
        self.bars = {index: self.kinds[index].most * self.kinds[index].pack for index in coils}

    def offcuts(self) -> Iterator[int]:
        """Yield the kind of every offcut, shortest first."""
        return (index for index, kind in enumerate(self.kinds) if kind.offcut for _ in range(kind.most))

    def open(self, width: int) -> int | None:
        """Return the kind of a new bar that holds `width`, None if there is none."""
        for index in self.coils:
            if self.kinds[index].room >= width and self.bars[index]:
                self.bars[index] -= 1
                return index
        return None


def _in_smaller_bars(problem: Problem, plan: Packing) -> Packing:
    """Return the plan with each coil exchanged for the cheapest that holds as much, where packs are of one."""
    singles = [
        index
        for index, kind in enumerate(problem.kinds)
        if not kind.offcut and kind.pack == 1 and kind.most >= len(problem.widths)
    ]

    def cheapest(load: Load) -> Load:
        kind = problem.kinds[load[0]]
        if kind.offcut or kind.pack > 1:
            return load
        held = sum(problem.widths[piece] for piece in load[1])
        fit = [index for index in (load[0], *singles) if problem.kinds[index].room >= held]
        return min(fit, key=lambda index: problem.kinds[index].cost), load[1]

    return tuple(map(cheapest, plan))


def _packing(bars: Iterable[tuple[int, list[int]]]) -> Packing:
    return tuple((kind, tuple(sorted(pieces))) for kind, pieces in bars if pieces)
