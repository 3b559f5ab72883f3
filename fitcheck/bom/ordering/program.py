"""The purchase plan as a mixed-integer program.

Packs that serve a need are counted apart from packs taken beyond it (for a price break, a smallest order or free
carriage): the first can be no more than the need, which ties them closely to whether their seller is bought from at
all, and makes the relaxed program nearly as strong as that of facility location. Source: derived.
"""

from collections import defaultdict
from collections.abc import Iterator
from math import inf

from fitcheck.bom.ordering.problem import Answer, Lot, Problem, Want
from fitcheck.bom.solver import Model, Terms


class Program:
    """The program of a problem, its aims, and its solutions read back.

    `short` is True if needs may go unmet: else a problem that cannot be met in full has no solution.
    """

    def __init__(self, problem: Problem, short: bool) -> None:
        self.model = Model()
        self.problem = problem
        self._useful = _useful(problem)
        self._chosen = [[self.model.variable(1) for _ in want.choices] for want in problem.wants]
        self._short = [self.model.variable(_most_short(want)) if short else None for want in problem.wants]
        self._flows = {
            (number, good): self.model.variable()
            for number, want in enumerate(problem.wants)
            for group in want.classes
            for good in group
        }
        self._open = [self.model.variable(1) for _ in problem.sellers]
        self._used: dict[tuple[int, int], int] = {}
        self._extra: dict[tuple[int, int], int] = {}
        self._tiers: dict[tuple[int, int], int] = {}
        self._carriage: Terms = {}
        for number, lot in enumerate(problem.lots):
            self._lot(number, lot)
        self._meet()
        self._supply()
        for seller in range(len(problem.sellers)):
            self._seller(seller)

    def cost(self) -> Terms:
        """Return what a plan costs, carriage included, in the plan's currency."""
        terms = dict(self._carriage)
        for packs in (self._used, self._extra):
            for (number, tier), count in packs.items():
                terms[count] = self.problem.lots[number].tiers[tier].price.home
        return terms

    def shortage(self) -> Terms:
        """Return how much goes unmet."""
        terms: Terms = {}
        for want, short in zip(self.problem.wants, self._short, strict=True):
            if short is not None:
                terms[short] = 1 if want.counted else want.worth
        return terms

    def fuss(self) -> Terms:
        """Return what makes one plan plainer than another of the same cost: few substitutes, orders, packs too many."""
        terms: Terms = dict.fromkeys(self._open, 20)
        for (want, good), flow in self._flows.items():
            if all(good != group[0] for group in self.problem.wants[want].classes):
                terms[flow] = 5
        for packs in (self._used, self._extra):
            terms |= dict.fromkeys(packs.values(), 1)
        return terms

    def answer(self, values: list[int], least: int) -> Answer:
        """Return the plan that a solution stands for."""
        packs = [0] * len(self.problem.lots)
        for counts in (self._used, self._extra):
            for (number, _), count in counts.items():
                packs[number] += values[count]
        chosen = tuple(
            next((place for place, pick in enumerate(picks) if values[pick]), None) for picks in self._chosen
        )
        flows = tuple((*key, values[flow]) for key, flow in self._flows.items() if values[flow])
        short = tuple(
            0 if short is None or not values[short] else values[short] if want.counted else want.worth
            for want, short in zip(self.problem.wants, self._short, strict=True)
        )
        return Answer(tuple(packs), chosen, flows, short, least)

    def _lot(self, number: int, lot: Lot) -> None:
        """Add the packs of one lot: tier by tier those of use and those beyond."""
        available = inf if lot.stock is None else lot.stock
        useful = min(-(-self._useful[lot.good] // lot.holds), available)
        beyond = self._beyond(lot)
        open_ = self._open[lot.seller]
        ends = [tier.packs - 1 for tier in lot.tiers[1:]] + [inf]
        counts: Terms = {}
        for place, (tier, end) in enumerate(zip(lot.tiers, ends, strict=True)):
            if tier.packs > available:
                break
            used = self._used[number, place] = self.model.variable(min(useful, end))
            here: Terms = {used: 1}
            pick = open_
            if len(lot.tiers) > 1:
                pick = self._tiers[number, place] = self.model.variable(1)
            self.model.row({used: 1, pick: -int(min(useful, end))}, most=0)
            most = min(max(beyond, tier.packs), end, available)
            if beyond or tier.packs > 1:
                extra = self._extra[number, place] = self.model.variable(most)
                self.model.row({extra: 1, pick: -int(most)}, most=0)
                here[extra] = 1
            if tier.packs > 1:
                self.model.row({**here, pick: -tier.packs}, least=0)
            if len(here) > 1 and end < inf:
                self.model.row({**here, pick: -int(end)}, most=0)
            counts |= here
        picks: Terms = {pick: 1 for (lot_, _), pick in self._tiers.items() if lot_ == number}
        if picks:
            self.model.row({**picks, open_: -1}, most=0)
        if lot.stock is not None and len(counts) > 1:
            self.model.row(counts, most=lot.stock)

    def _beyond(self, lot: Lot) -> int:
        """Return how many packs it can be worth to take beyond need, to reach a sum of goods."""
        seller = self.problem.sellers[lot.seller]
        goal = max(seller.minimum, seller.free_over or 0)
        if not goal:
            return 0
        cheapest = min(tier.price.own for tier in lot.tiers)
        most = -(-goal // cheapest) if cheapest else 0
        return min(most, lot.stock) if lot.stock is not None else most

    def _meet(self) -> None:
        """Ask that each want is met by one of its choices, or said to be short."""
        for number, want in enumerate(self.problem.wants):
            short, picks = self._short[number], self._chosen[number]
            one: Terms = dict.fromkeys(picks, 1)
            if short is not None and not want.counted:
                one[short] = 1
            self.model.row(one, 1, 1)
            for place, group in enumerate(want.classes):
                terms: Terms = {self._flows[number, good]: 1 for good in group}
                for pick, choice in zip(picks, want.choices, strict=True):
                    terms[pick] = -choice[place]
                if short is not None and want.counted:
                    terms[short] = 1
                self.model.row(terms, least=0)

    def _supply(self) -> None:
        """Ask that no more of a good goes out than is held and bought for use."""
        out: dict[int, Terms] = defaultdict(dict)
        for (_, good), flow in self._flows.items():
            out[good][flow] = 1
        for (number, _), used in self._used.items():
            lot = self.problem.lots[number]
            out[lot.good][used] = -lot.holds
        for good, terms in out.items():
            self.model.row(terms, most=self.problem.held[good])

    def _seller(self, number: int) -> None:
        """Add a seller's smallest order and carriage."""
        seller, open_ = self.problem.sellers[number], self._open[number]
        goods, weight = self._sums(number)
        if seller.minimum:
            self.model.row({**goods, open_: -seller.minimum}, least=0)
        free = None
        if seller.free_over is not None:
            free = self.model.variable(1)
            self.model.row({**goods, free: -seller.free_over}, least=0)
            self.model.row({free: 1, open_: -1}, most=0)
        if not seller.steps:
            if seller.flat.home:
                self._carriage[open_] = seller.flat.home
                if free is not None:
                    self._carriage[free] = -seller.flat.home
            return
        room: Terms = {}
        taken: Terms = {open_: -1}
        for step in seller.steps:
            pick = self.model.variable(1)
            room[pick] = -step.up_to
            taken[pick] = 1
            self._carriage[pick] = step.price.home
        if free is not None:
            room[free] = -seller.steps[-1].up_to
            taken[free] = 1
        self.model.row(taken, 0, 0)
        self.model.row({**weight, **room, open_: seller.packing}, most=0)

    def _sums(self, seller: int) -> tuple[Terms, Terms]:
        """Return the worth of the goods bought from a seller, in its own currency, and their weight."""
        goods, weight = {}, {}
        for packs in (self._used, self._extra):
            for (number, tier), count in packs.items():
                lot = self.problem.lots[number]
                if lot.seller == seller:
                    goods[count] = lot.tiers[tier].price.own
                    weight[count] = lot.weight
        return goods, weight


def _most_short(want: Want) -> int:
    return want.choices[0][0] if want.counted else 1


def _useful(problem: Problem) -> list[int]:
    """Return how much of each good can be of use: all that wants could take of it, less what is held."""
    useful = [0] * len(problem.held)
    for goods, most in _takers(problem):
        for good in goods:
            useful[good] += most
    return [max(much - held, 0) for much, held in zip(useful, problem.held, strict=True)]


def _takers(problem: Problem) -> Iterator[tuple[tuple[int, ...], int]]:
    for want in problem.wants:
        for place, group in enumerate(want.classes):
            yield group, max((choice[place] for choice in want.choices), default=0)
