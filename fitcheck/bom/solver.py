"""The mixed-integer solver: whole numbers, rows between limits, one aim after the other.

The solver takes a quarter of a second to import: it is imported when a plan needs it and not before.
"""

from collections.abc import Mapping, Sequence
from itertools import accumulate
from math import ceil, inf, isfinite
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from fitcheck.bom.nesting.record import NoSolverError
from fitcheck.progress import step, watched

if TYPE_CHECKING:
    from highspy import HighsLp

Terms = dict[int, int]
"""A sum of variables, each times a whole number."""
_SLACK: Final = 1e-5
_OPTIONS: Final[dict[str, bool | int | float]] = {
    "output_flag": False,
    "log_to_console": False,
    "threads": 1,  # the same plan on every machine
    "mip_rel_gap": 0.0,
    "mip_abs_gap": 0.9,  # aims are whole numbers
}


def _tell(state: Any, seconds: float) -> None:
    """Tell how far the solver is: of the time that it may take, and how near its best solution is to proven."""
    near = f"at most {state.mip_gap:.2%} above the least" if isfinite(state.mip_gap) else "no solution yet"
    step(state.running_time, max(seconds, state.running_time), f"of the time there is; {near}")


class Solved(NamedTuple):
    """What the solver says: values of the best solution or None, and the least that the aim can be.

    `infeasible` is True if it is proven that no values meet the rows.
    """

    values: list[int] | None
    bound: int | None
    optimal: bool
    infeasible: bool = False


class Model:
    """A model in whole numbers, built up variable by variable and row by row."""

    def __init__(self) -> None:
        self._upper: list[float] = []
        self._rows: list[Terms] = []
        self._limits: list[tuple[float, float]] = []

    def variable(self, most: float = inf) -> int:
        """Add a whole number from 0 to `most` and return its number."""
        self._upper.append(most)
        return len(self._upper) - 1

    def row(self, terms: Terms, least: float = -inf, most: float = inf) -> None:
        """Ask that a sum lie between two limits."""
        self._rows.append(terms)
        self._limits.append((least, most))

    def solve(self, aim: Mapping[int, int], seconds: float, start: Sequence[int] | None = None) -> Solved:
        """Return the values that make `aim` least, as far as the solver comes in so many seconds.

        `start` are values that meet the rows, to begin from.

        Raises:
            NoSolverError: the solver is not installed.
        """
        try:
            import highspy
        except ImportError as error:
            raise NoSolverError from error
        solver = highspy.Highs()  # type: ignore[no-untyped-call, unused-ignore]
        for option, value in _OPTIONS.items():
            solver.setOptionValue(option, value)
        solver.setOptionValue("time_limit", max(seconds, 0.01))
        solver.passModel(self._program(aim))
        if watched():
            solver.cbMipInterrupt.subscribe(lambda event: _tell(event.data_out, seconds))
        if start is not None:
            solution = highspy.HighsSolution()
            solution.col_value = [float(value) for value in start]
            solver.setSolution(solution)
        solver.run()
        status, found = solver.getModelStatus(), solver.getInfo()
        if status in (highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kUnboundedOrInfeasible):
            return Solved(None, None, False, True)
        feasible = found.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
        values = [round(value) for value in solver.getSolution().col_value] if feasible else None
        bound = found.mip_dual_bound
        whole = ceil(bound - _SLACK) if isfinite(bound) else None
        return Solved(values, whole, status == highspy.HighsModelStatus.kOptimal)

    def _program(self, aim: Mapping[int, int]) -> "HighsLp":
        """Return the model in the solver's own form, rows one after the other."""
        import highspy

        program = highspy.HighsLp()
        size = len(self._upper)
        program.num_col_, program.num_row_ = size, len(self._rows)
        program.col_cost_ = [float(aim.get(index, 0)) for index in range(size)]
        program.col_lower_ = [0.0] * size
        program.col_upper_ = [float(most) for most in self._upper]
        program.integrality_ = [highspy.HighsVarType.kInteger] * size
        program.row_lower_ = [float(least) for least, _ in self._limits]
        program.row_upper_ = [float(most) for _, most in self._limits]
        matrix = program.a_matrix_
        matrix.format_ = highspy.MatrixFormat.kRowwise
        matrix.start_ = [0, *accumulate(map(len, self._rows))]
        matrix.index_ = [column for row in self._rows for column in row]
        matrix.value_ = [float(figure) for row in self._rows for figure in row.values()]
        return program
