"""The model for few positions: a bar is a path from its end over the pieces cut from it.

Nodes are positions along a bar, arcs are pieces; a path ends in a bar of some kind that is at least as long. Its linear
relaxation is as strong as that over all cutting patterns. Source: the arc-flow formulation of the cutting stock
problem, "Exact solution of bin-packing problems using column generation and branch-and-bound", Annals of Operations
Research 86 (1999), from memory.
"""

from collections import defaultdict

from fitcheck.bom.nesting.grid import Packing, Problem
from fitcheck.bom.solver import Model, Terms


class ArcFlow:
    """The model, its aims as sums of variables, and its solution read back."""

    def __init__(self, problem: Problem, arcs: list[tuple[int, int]]) -> None:
        """Build the model over `arcs`, each a position and the width of the piece that begins there."""
        self.model = Model()
        self._problem = problem
        self._flows = {arc: self.model.variable() for arc in arcs}
        nodes = sorted({0} | {position + width for position, width in arcs})
        self._ends = {
            (node, index): self.model.variable()
            for index, kind in enumerate(problem.kinds)
            for node in nodes
            if node <= kind.room and kind.most
        }
        self._packs = {index: self.model.variable(kind.most) for index, kind in enumerate(problem.kinds) if kind.most}
        self._conserve(nodes)
        self._demand()
        for index, packs in self._packs.items():
            kind = problem.kinds[index]
            terms = {end: 1 for (_, of), end in self._ends.items() if of == index}
            if kind.offcut:  # every offcut is there, cut into or not
                self.model.row(terms, kind.most, kind.most)
            else:
                self.model.row({**terms, packs: -kind.pack}, 0, 0)

    def _conserve(self, nodes: list[int]) -> None:
        """Ask that what comes to a node goes on from it or ends there."""
        rows: dict[int, Terms] = {node: {} for node in nodes}
        for (position, width), flow in self._flows.items():
            rows[position + width][flow] = 1
            rows[position][flow] = -1
        for (node, _), end in self._ends.items():
            rows[node][end] = -1
        for node in nodes[1:]:
            self.model.row(rows[node], 0, 0)

    def _demand(self) -> None:
        rows: dict[int, Terms] = defaultdict(dict)
        for (_, width), flow in self._flows.items():
            rows[width][flow] = 1
        for width, terms in rows.items():
            wanted = self._problem.widths.count(width)
            self.model.row(terms, wanted, wanted)

    def cost(self) -> Terms:
        """Return the cost of what is bought."""
        return {packs: self._problem.kinds[index].cost for index, packs in self._packs.items()}

    def new(self) -> Terms:
        """Return what comes off new stock."""
        return {
            end: node for (node, index), end in self._ends.items() if node and not self._problem.kinds[index].offcut
        }

    def longest(self) -> Terms:
        """Return the longest leftover, negative; adds the choice of the bar that it is left of."""
        chosen: Terms = {}
        for (node, index), end in self._ends.items():
            pick = self.model.variable(1)
            self.model.row({pick: 1, end: -1}, most=0)
            chosen[pick] = -max(self._problem.kinds[index].length - node, 0)
        self.model.row(dict.fromkeys(chosen, 1), 1, 1)
        return chosen

    def packing(self, values: list[int]) -> Packing:
        """Return the plan that a solution stands for: its flow taken apart into paths."""
        onward: dict[int, list[int]] = defaultdict(list)
        for (position, width), flow in self._flows.items():
            onward[position] += [width] * values[flow]
        ends: dict[int, list[int]] = defaultdict(list)
        for (node, index), end in self._ends.items():
            ends[node] += [index] * values[end]
        pieces: dict[int, list[int]] = defaultdict(list)
        for piece, width in enumerate(self._problem.widths):
            pieces[width].append(piece)
        loads = []
        while onward[0]:
            node, load = 0, []
            while onward[node]:
                width = onward[node].pop()
                load.append(pieces[width].pop())
                node += width
            loads.append((ends[node].pop(), tuple(sorted(load))))
        return tuple(loads)


def arcs_of(problem: Problem, most: int) -> list[tuple[int, int]] | None:
    """Return the arcs that plans need, or None if they are more than `most`.

    The widest piece of a bar comes first, so an arc begins only where wider or equal pieces can end.
    """
    room = max((kind.room for kind in problem.kinds if kind.most), default=0)
    nodes = {0}
    arcs: dict[tuple[int, int], None] = {}
    for width in sorted(set(problem.widths), reverse=True):
        reached = set()
        for start in nodes:
            position = start
            for _ in range(problem.widths.count(width)):
                if position + width > room:
                    break
                arcs[position, width] = None
                position += width
                reached.add(position)
            if len(arcs) > most:
                return None
        nodes |= reached
    return list(arcs)
