"""The model for many positions and few bars: how many of each piece are cut from each bar.

Bars that are alike come in order of what they hold, so that plans which differ in names alone count once. Source: the
assignment formulation of the cutting stock problem, common practice, no source.
"""

from collections import defaultdict

from fitcheck.bom.nesting.grid import Kind, Packing, Problem
from fitcheck.bom.solver import Model, Terms


class Assignment:
    """The model, its aims as sums of variables, and its solution read back."""

    def __init__(self, problem: Problem, budget: int) -> None:
        """Build the model for plans that cost no more than `budget`."""
        self.model = Model()
        self._problem = problem
        self._wanted = {width: problem.widths.count(width) for width in sorted(set(problem.widths), reverse=True)}
        self._packs: dict[int, int] = {}
        self._bars: list[tuple[int, int, Terms, dict[int, int]]] = []
        for index, kind in enumerate(problem.kinds):
            packs = _packs(kind, budget)
            if packs:
                self._kind(index, packs)
        for width, wanted in self._wanted.items():
            terms = {counts[width]: 1 for _, _, _, counts in self._bars if width in counts}
            self.model.row(terms, wanted, wanted)

    def _kind(self, index: int, packs: int) -> None:
        """Add the bars of one kind: those that are there come first, the fuller before the emptier."""
        kind = self._problem.kinds[index]
        there, before = [], None
        for _ in range(packs * kind.pack):
            bought = self.model.variable(1)
            counts = {
                width: self.model.variable(min(wanted, kind.room // width))
                for width, wanted in self._wanted.items()
                if width <= kind.room
            }
            held = {count: width for width, count in counts.items()}
            self.model.row({**held, bought: -kind.room}, most=0)
            if before is not None:
                self.model.row({there[-1]: 1, bought: -1}, least=0)
                self.model.row({**before, **{count: -width for count, width in held.items()}}, least=0)
            there.append(bought)
            before = held
            self._bars.append((index, bought, held, counts))
        if kind.offcut:
            self.model.row(dict.fromkeys(there, 1), packs, packs)
        else:
            self._packs[index] = self.model.variable(packs)
            self.model.row({**dict.fromkeys(there, 1), self._packs[index]: -kind.pack}, 0, 0)

    def cost(self) -> Terms:
        """Return the cost of what is bought."""
        return {packs: self._problem.kinds[index].cost for index, packs in self._packs.items()}

    def new(self) -> Terms:
        """Return what comes off new stock."""
        new: Terms = {}
        for index, _, held, _ in self._bars:
            if not self._problem.kinds[index].offcut:
                new |= held
        return new

    def longest(self) -> Terms:
        """Return the longest leftover, negative; adds the choice of the bar that it is left of."""
        longest = max(self._problem.kinds[index].length for index, _, _, _ in self._bars)
        left = self.model.variable(longest)
        picks = []
        for index, bought, held, _ in self._bars:
            kind = self._problem.kinds[index]
            pick = self.model.variable(1)
            much = longest + kind.room
            self.model.row({left: 1, **held, pick: much}, most=kind.length + much)
            self.model.row({pick: 1, bought: -1}, most=0)
            picks.append(pick)
        self.model.row(dict.fromkeys(picks, 1), 1, 1)
        return {left: -1}

    def packing(self, values: list[int]) -> Packing:
        """Return the plan that a solution stands for."""
        pieces: dict[int, list[int]] = defaultdict(list)
        for piece, width in enumerate(self._problem.widths):
            pieces[width].append(piece)
        loads = []
        for index, _, _, counts in self._bars:
            load = [pieces[width].pop() for width, count in counts.items() for _ in range(values[count])]
            if load:
                loads.append((index, tuple(sorted(load))))
        return tuple(loads)


def _packs(kind: Kind, budget: int) -> int:
    """Return how many packs of a kind a plan within the budget can have."""
    return kind.most if kind.offcut or not kind.cost else min(kind.most, budget // kind.cost)


def counts_of(problem: Problem, budget: int) -> int:
    """Return how many numbers the model needs: one for each width of piece in each bar."""
    bars = sum(_packs(kind, budget) * kind.pack for kind in problem.kinds)
    return bars * len(set(problem.widths))
