"""How much the offcuts can hold together: a small model that settles what has to come off new stock."""

from collections import Counter

from fitcheck.bom.nesting.grid import Problem
from fitcheck.bom.solver import Model, Terms


def least_new(problem: Problem, seconds: float) -> int | None:
    """Return the least that any plan takes off new stock, or what is proven of it in so many seconds; None if nothing.

    Source: derived; whatever else a plan does, its offcuts hold pieces that fit them, each piece once.

    Raises:
        NoSolverError: the solver is not installed.
    """
    model = Model()
    held: Terms = {}
    wanted = Counter(problem.widths)
    rows: dict[int, Terms] = {width: {} for width in wanted}
    for kind in problem.kinds:
        for _ in range(kind.most if kind.offcut else 0):
            counts = {width: model.variable(wanted[width]) for width in rows if width <= kind.room}
            if counts:
                model.row({count: width for width, count in counts.items()}, most=kind.room)
            for width, count in counts.items():
                rows[width][count] = 1
                held[count] = -width
    for width, terms in rows.items():
        if terms:
            model.row(terms, most=wanted[width])
    if not held:
        return problem.total
    bound = model.solve(held, seconds).bound
    return None if bound is None else max(problem.total + bound, 0)
