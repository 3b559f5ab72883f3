"""A problem solved: as little as can be goes unmet, then the cost is least, then the plan is plain."""

from math import gcd
from time import monotonic
from typing import Final

from fitcheck.bom.ordering.problem import Answer, Problem, cost
from fitcheck.bom.ordering.program import Program
from fitcheck.bom.ordering.start import first_plan, large
from fitcheck.bom.solver import Terms
from fitcheck.errors import FitcheckError

SECONDS: Final = 10.0
"""How long the solver may look for a plan."""


class NoPlanError(FitcheckError, RuntimeError):
    """No plan was found in the time given: `seconds`."""

    def __init__(self, seconds: float) -> None:
        self.seconds = seconds
        super().__init__(seconds)

    def __str__(self) -> str:
        return f"no plan was found in {self.seconds:g} s; give it more time"


def solve(problem: Problem, seconds: float = SECONDS) -> Answer:
    """Return the plan that lacks least and, of those, costs least; of equal ones one with few substitutes and packs.

    The solver looks for at most about so many seconds, and half as long again where not all can be had; `Answer.least`
    is what is proven by then.

    Raises:
        NoPlanError: it found none.
        NoSolverError: the solver is not installed.
    """
    if not problem.wants:
        return Answer((0,) * len(problem.lots), (), (), (), 0)
    until = monotonic() + seconds
    start = _start(problem, seconds)
    program = Program(problem, short=False)
    answer = _least_cost(program, until, None if start is None or any(start.short) else start)
    if answer is None:
        until = max(until, monotonic() + seconds / 2)
        program = Program(problem, short=True)
        shortage = program.shortage()
        solved = program.model.solve(shortage, (until - monotonic()) / 2, _values(program, start))
        values = solved.values or _values(program, start)
        if values is None:
            raise NoPlanError(seconds)
        least = sum(times * values[variable] for variable, times in shortage.items())
        program.model.row(shortage, most=least)
        if start is None or _lacking(start) > least:
            start = program.answer(values, 0)
        answer = _least_cost(program, until, start)
        if answer is not None:
            answer = answer._replace(sure=solved.optimal or least == 0)
    if answer is None:
        raise NoPlanError(seconds)
    return _plainest(program, answer, until)


def _start(problem: Problem, seconds: float) -> Answer | None:
    """Return a first plan of a large problem: the cheapest from the offers that a search finds."""
    if not large(problem) or seconds <= 0:
        return None
    start = first_plan(problem, seconds / 4)
    return None if start is None else _with_its_lots(problem, start, seconds / 10)


def _with_its_lots(problem: Problem, start: Answer, seconds: float) -> Answer:
    """Return the cheapest plan that buys what a plan buys at the same offers, as far as it is found in time."""
    kept = [number for number, count in enumerate(start.packs) if count]
    few = problem._replace(lots=tuple(problem.lots[number] for number in kept))
    program = Program(few, short=any(start.short))
    begun = program.values(start._replace(packs=tuple(start.packs[number] for number in kept)))
    if any(start.short):
        program.model.row(program.shortage(), most=_lacking(start))
    aim = program.cost()
    unit = _unit(aim)
    solved = program.model.solve({key: value // unit for key, value in aim.items()}, seconds, begun)
    if solved.values is None:
        return start
    answer = program.answer(solved.values, 0)
    packs = dict(zip(kept, answer.packs, strict=True))
    better = answer._replace(packs=tuple(packs.get(number, 0) for number in range(len(problem.lots))))
    return _cheaper(problem, better, start)


def _cheaper(problem: Problem, one: Answer, other: Answer) -> Answer:
    """Return the cheaper of two plans, the first if they cost the same or the other is not taken."""
    costs = [cost(problem, answer.packs) for answer in (one, other)]
    return other if costs[0] is None or (costs[1] is not None and costs[1] < costs[0]) else one


def _values(program: Program, start: Answer | None) -> list[int] | None:
    return None if start is None else program.values(start)


def _lacking(answer: Answer) -> int:
    """Return how much a plan lacks."""
    return sum(answer.short)


def _least_cost(program: Program, until: float, start: Answer | None) -> Answer | None:
    """Return the cheapest plan, None if the needs cannot be met or nothing was found in time."""
    aim = program.cost()
    unit = _unit(aim)
    begun = _values(program, start)
    solved = program.model.solve({key: value // unit for key, value in aim.items()}, until - monotonic(), begun)
    if solved.infeasible or (solved.values is None and start is None):
        return None
    bound = max(solved.bound or 0, 0) * unit
    answer = start if solved.values is None else program.answer(solved.values, bound)
    assert answer is not None
    if start is not None:
        answer = _cheaper(program.problem, answer, start)
    reached = cost(program.problem, answer.packs)
    assert reached is not None
    return answer._replace(least=min(bound, reached))


def _plainest(program: Program, answer: Answer, until: float) -> Answer:
    """Return a plan of the same cost with as little fuss as can be found in a tenth of the time that is left."""
    reached = cost(program.problem, answer.packs)
    left = until - monotonic()
    if reached != answer.least or left <= 0:
        return answer
    program.model.row(program.cost(), most=reached)
    solved = program.model.solve(program.fuss(), max(left / 10, 0.2), program.values(answer))
    if solved.values is None:
        return answer
    plainer = program.answer(solved.values, answer.least)
    return plainer if cost(program.problem, plainer.packs) == reached else answer


def _unit(aim: Terms) -> int:
    """Return the largest amount that every cost is a whole number of."""
    return gcd(*aim.values()) or 1
