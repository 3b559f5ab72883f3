"""The purchase plan as a mixed-integer program.

Packs that serve a need are counted apart from packs taken beyond it (for a price break, a smallest order or free
carriage): the first can be no more than the need, which ties them closely to whether their seller is bought from at
all, and makes the relaxed program nearly as strong as that of facility location. Source: derived.
"""

from collections import defaultdict
from collections.abc import Iterator
from math import inf
from typing import Final

from fitcheck.bom.ordering.problem import Answer, Lot, Problem, Want
from fitcheck.bom.solver import Model, Terms

BASE: Final = 32
"""How many values a digit of the packs beyond need has."""


class Program:
    """The program of a problem, its aims, and its solutions read back.

    `short` is True if needs may go unmet: else a problem that cannot be met in full has no solution.
    """

    def __init__(self, problem: Problem, short: bool) -> None:
        self.model = Model()
        self._size = 0
        self.problem = problem
        self._useful = _useful(problem)
        self._chosen = [[self._variable(1) for _ in want.choices] for want in problem.wants]
        self._short = [self._variable(_most_short(want)) if short else None for want in problem.wants]
        self._flows = {
            (number, good): self._variable(most)
            for number, want in enumerate(problem.wants)
            for group, most in _most(want)
            for good in group
        }
        self._open = [self._variable(1) for _ in problem.sellers]
        self._used: dict[tuple[int, int], int] = {}
        self._extra: dict[tuple[int, int], Terms] = {}
        self._tiers: dict[tuple[int, int], int] = {}
        self._carriage: Terms = {}
        self._free: dict[int, int] = {}
        self._steps: dict[int, list[int]] = defaultdict(list)
        for number, lot in enumerate(problem.lots):
            self._lot(number, lot)
        self._meet()
        self._supply()
        for seller in range(len(problem.sellers)):
            self._seller(seller)

    def cost(self) -> Terms:
        """Return what a plan costs, carriage included, in the plan's currency."""
        terms = dict(self._carriage)
        for number, tier, count, packs in self._packs():
            terms[count] = self.problem.lots[number].tiers[tier].price.home * packs
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
        return terms | {count: packs for _, _, count, packs in self._packs()}

    def answer(self, values: list[int], least: int) -> Answer:
        """Return the plan that a solution stands for."""
        packs = [0] * len(self.problem.lots)
        for number, _, count, times in self._packs():
            packs[number] += values[count] * times
        chosen = tuple(
            next((place for place, pick in enumerate(picks) if values[pick]), None) for picks in self._chosen
        )
        flows = tuple((*key, values[flow]) for key, flow in self._flows.items() if values[flow])
        short = tuple(
            0 if short is None or not values[short] else values[short] if want.counted else want.worth
            for want, short in zip(self.problem.wants, self._short, strict=True)
        )
        return Answer(tuple(packs), chosen, flows, short, least)

    def values(self, answer: Answer) -> list[int]:
        """Return the values of the variables that stand for a plan.

        They meet the rows if the plan keeps every rule, and lacks nothing if this program lets nothing be short. Packs
        that are of no use are left out.
        """
        values: Terms = {(self._flows[want, good]): count for want, good, count in answer.flows}
        for picks, chosen in zip(self._chosen, answer.chosen, strict=True):
            if chosen is not None:
                values[picks[chosen]] = 1
        for want, short, lacking in zip(self.problem.wants, self._short, answer.short, strict=True):
            if short is not None and lacking:
                values[short] = lacking if want.counted else 1
        for number, count in enumerate(answer.packs):
            if count:
                values |= self._packs_of(number, count)
        for seller, open_ in enumerate(self._open):
            if values.get(open_):
                values |= self._carriage_of(seller, values)
        return [values.get(variable, 0) for variable in range(self._size)]

    def _packs_of(self, number: int, count: int) -> Terms:
        """Return the values for so many packs of a lot: as many of use as can be."""
        lot = self.problem.lots[number]
        tier = max(place for place, tier in enumerate(lot.tiers) if tier.packs <= count)
        used = min(count, -(-self._useful[lot.good] // lot.holds))
        values = {self._open[lot.seller]: 1, self._used[number, tier]: used}
        if (number, tier) in self._tiers:
            values[self._tiers[number, tier]] = 1
        if (number, tier) in self._extra:
            values |= _in_digits(self._extra[number, tier], min(count - used, self._most_extra(lot, tier)))
        return values

    def _carriage_of(self, number: int, values: Terms) -> Terms:
        """Return the values for the carriage of an order: free if it can be, else by the first step that carries it."""
        seller = self.problem.sellers[number]
        goods, weight = (
            sum(times * values.get(count, 0) for count, times in terms.items()) for terms in self._sums(number)
        )
        if seller.free_over is not None and goods >= seller.free_over:
            return {self._free[number]: 1}
        steps = zip(self._steps[number], seller.steps, strict=True)
        return next(({pick: 1} for pick, step in steps if weight + seller.packing <= step.up_to), {})

    def _variable(self, most: float = inf) -> int:
        """Add a variable from 0 to `most`."""
        variable = self.model.variable(most)
        self._size = variable + 1
        return variable

    def _digits(self, most: int, pick: int) -> Terms:
        """Add a number up to `most` or a little more as digits, each nought if `pick` is.

        The solver is slow with whole numbers that can have very many values. A row for each digit, and none for their
        sum, keeps it from putting them together again.
        """
        digits, times = {}, 1
        while most >= times:
            highest = min(most // times, BASE - 1)
            digit = self._variable(highest)
            self.model.row({digit: 1, pick: -highest}, most=0)
            digits[digit] = times
            times *= BASE
        return digits

    def _packs(self) -> Iterator[tuple[int, int, int, int]]:
        """Yield lot, price, and variable of each count of packs, and for how many packs one of it stands."""
        for (number, tier), count in self._used.items():
            yield number, tier, count, 1
        for (number, tier), digits in self._extra.items():
            for count, times in digits.items():
                yield number, tier, count, times

    def _lot(self, number: int, lot: Lot) -> None:
        """Add the packs of one lot: tier by tier those of use and those beyond."""
        available = inf if lot.stock is None else lot.stock
        useful = min(-(-self._useful[lot.good] // lot.holds), available)
        open_ = self._open[lot.seller]
        counts: Terms = {}
        for place, tier in enumerate(lot.tiers):
            end = _end(lot, place)
            if tier.packs > available:
                break
            used = self._used[number, place] = self._variable(min(useful, end))
            here: Terms = {used: 1}
            pick = open_
            if len(lot.tiers) > 1:
                pick = self._tiers[number, place] = self._variable(1)
            self.model.row({used: 1, pick: -int(min(useful, end))}, most=0)
            most = self._most_extra(lot, place)
            if most:
                extra = self._extra[number, place] = self._digits(most, pick)
                here |= extra
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

    def _most_extra(self, lot: Lot, place: int) -> int:
        """Return how many packs beyond need there can be at one of the prices of a lot."""
        beyond, least = self._beyond(lot), lot.tiers[place].packs
        most = max(beyond, least) if beyond or least > 1 else 0
        return int(min(most, _end(lot, place), inf if lot.stock is None else lot.stock))

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
            free = self._free[number] = self._variable(1)
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
            pick = self._variable(1)
            self._steps[number].append(pick)
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
        for number, tier, count, packs in self._packs():
            lot = self.problem.lots[number]
            if lot.seller == seller:
                goods[count] = lot.tiers[tier].price.own * packs
                weight[count] = lot.weight * packs
        return goods, weight


def _in_digits(digits: Terms, number: int) -> Terms:
    """Return the values of the digits of a number."""
    return {digit: number // times % BASE for digit, times in digits.items()}


def _end(lot: Lot, place: int) -> float:
    """Return up to how many packs one of the prices of a lot holds."""
    return lot.tiers[place + 1].packs - 1 if place + 1 < len(lot.tiers) else inf


def _most_short(want: Want) -> int:
    return want.choices[0][0] if want.counted else 1


def _useful(problem: Problem) -> list[int]:
    """Return how much of each good can be of use: all that wants could take of it, less what is held."""
    useful = [0] * len(problem.held)
    for want in problem.wants:
        for goods, most in _most(want):
            for good in goods:
                useful[good] += most
    return [max(much - held, 0) for much, held in zip(useful, problem.held, strict=True)]


def _most(want: Want) -> Iterator[tuple[tuple[int, ...], int]]:
    """Yield each class of a want with how many it takes at most."""
    for place, group in enumerate(want.classes):
        yield group, max((choice[place] for choice in want.choices), default=0)
