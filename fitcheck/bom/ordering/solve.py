"""A problem solved: as little as can be goes unmet, then the cost is least, then the plan is plain."""

from math import gcd
from time import monotonic
from typing import Final

from fitcheck.bom.ordering.problem import Answer, Problem, cost
from fitcheck.bom.ordering.program import Program
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

    The solver looks for at most about so many seconds; `Answer.least` is what is proven by then.

    Raises:
        NoPlanError: it found none.
        NoSolverError: the solver is not installed.
    """
    if not problem.wants:
        return Answer((0,) * len(problem.lots), (), (), (), 0)
    until = monotonic() + seconds
    program = Program(problem, short=False)
    answer = _least_cost(program, until)
    if answer is None:
        program = Program(problem, short=True)
        shortage = program.shortage()
        solved = program.model.solve(shortage, until - monotonic())
        if solved.values is None:
            raise NoPlanError(seconds)
        least = sum(times * solved.values[variable] for variable, times in shortage.items())
        program.model.row(shortage, most=least)
        answer = _least_cost(program, until)
    if answer is None:
        raise NoPlanError(seconds)
    return _plainest(program, answer, until)


def _least_cost(program: Program, until: float) -> Answer | None:
    """Return the cheapest plan, None if the needs cannot be met or nothing was found in time."""
    aim = program.cost()
    unit = _unit(aim)
    solved = program.model.solve({key: value // unit for key, value in aim.items()}, until - monotonic())
    if solved.values is None:
        return None
    bound = max(solved.bound or 0, 0) * unit
    answer = program.answer(solved.values, bound)
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
    solved = program.model.solve(program.fuss(), max(left / 10, 0.2))
    if solved.values is None:
        return answer
    plainer = program.answer(solved.values, answer.least)
    return plainer if cost(program.problem, plainer.packs) == reached else answer


def _unit(aim: Terms) -> int:
    """Return the largest amount that every cost is a whole number of."""
    return gcd(*aim.values()) or 1
