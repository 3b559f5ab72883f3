"""The search: bound and filling first; the solver only where the two do not meet."""

from functools import partial
from time import monotonic
from typing import Final, NamedTuple

from fitcheck.bom.nesting.arc_flow import ArcFlow, arcs_of
from fitcheck.bom.nesting.assignment import Assignment, counts_of
from fitcheck.bom.nesting.bounds import Bounds, bounds, score_bound
from fitcheck.bom.nesting.fill import best_filling, better
from fitcheck.bom.nesting.grid import Packing, Problem, score, sensible
from fitcheck.bom.nesting.polish import polished
from fitcheck.bom.nesting.record import NestingError
from fitcheck.bom.nesting.shelf import least_new

SECONDS: Final = 10.0
"""How long the solver may look, all aims together."""
MOST_ARCS: Final = 20_000
"""Arcs of the largest arc-flow model that is tried; above it the pieces are assigned to bars."""
MOST_COUNTS: Final = 50_000
"""Numbers in the largest assignment model that is tried; above it the plan of filling stands, with its bounds."""
_DEALS: Final = 300
"""Deals to better a plan of the solver's."""

Proven = tuple[int, int | None, int | None]
"""The least cost, the least off new stock, the longest leftover (negative), as far as they are proven."""


class Found(NamedTuple):
    """The best plan, what is proven, and how long the solver was at it [s], None if it was not asked."""

    plan: Packing
    proven: Proven
    seconds: float | None = None


def searched(problem: Problem, seconds: float) -> Found:
    """Return the best plan that can be found, and what is proven about all plans.

    Raises:
        NestingError: there is too little stock.
        NoSolverError: the solver is needed and is not installed.
    """
    known = bounds(problem)
    plan = best_filling(problem, known, partial(_met, problem, known))
    if plan is not None and _met(problem, known, plan):
        return Found(plan, score(problem, plan))
    started = monotonic()
    offcuts = sum(kind.most for kind in problem.kinds if kind.offcut)
    small = offcuts * len(problem.widths) <= MOST_COUNTS
    if small and plan is not None and known.new < score(problem, plan).new:
        least = least_new(problem, seconds / 3)
        known = known._replace(new=max(known.new, least or 0))
    plan, proven = _solved(problem, known, plan, started + seconds)
    assert sensible(problem, plan)
    return Found(plan, proven, monotonic() - started)


def _met(problem: Problem, known: Bounds, plan: Packing) -> bool:
    """Return whether the bounds prove that no plan is better."""
    return all(_floor(problem, known, plan, place) == figure for place, figure in enumerate(score(problem, plan)))


def _floor(problem: Problem, known: Bounds, plan: Packing | None, place: int) -> int | None:
    """Return what the bounds prove of the aim in this place, `plan` having met the aims before it."""
    if place == 0 or plan is None:
        return known.cost
    if place == 1:
        return known.new
    reached = score(problem, plan)
    return score_bound(problem, known, reached.cost, reached.new)


def _model(problem: Problem, plan: Packing | None) -> ArcFlow | Assignment | None:
    """Return the model for a problem, None if it is too large for either."""
    arcs = arcs_of(problem, MOST_ARCS)
    if arcs is not None:
        return ArcFlow(problem, arcs)
    budget = score(problem, plan).cost if plan else sum(kind.cost * kind.most for kind in problem.kinds)
    return Assignment(problem, budget) if counts_of(problem, budget) <= MOST_COUNTS else None


def _solved(problem: Problem, known: Bounds, plan: Packing | None, until: float) -> tuple[Packing, Proven]:
    """Return the best plan that the solver finds, or `plan`, and what it proves: one aim after the other."""
    form = _model(problem, plan)
    proven: list[int | None] = [known.cost, None, None]
    aims = (form.cost, form.new, form.longest) if form is not None else (None, None, None)
    for place, aim_of in enumerate(aims):
        floor = _floor(problem, known, plan, place)
        reached = score(problem, plan)[place] if plan is not None else None
        if form is not None and aim_of is not None and (reached is None or reached != floor):
            solved = form.model.solve(aim_of(), until - monotonic())
            if solved.infeasible:
                raise NestingError("there is too little stock for these pieces")
            if solved.values is not None:
                found = form.packing(solved.values)
                plan = better(problem, plan, polished(problem, found, partial(_met, problem, known), _DEALS))
            floor = max((bound for bound in (floor, solved.bound) if bound is not None), default=None)
        if plan is None:
            raise NestingError("no plan was found for these pieces")
        proven[place] = floor
        if floor is None or score(problem, plan)[place] != floor:
            break
        if form is not None and aim_of is not None and place < 2:
            form.model.row(aim_of(), most=floor)
    assert plan is not None
    return plan, (known.cost if proven[0] is None else proven[0], proven[1], proven[2])
