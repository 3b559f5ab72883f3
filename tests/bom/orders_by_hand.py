"""A second, slow reading of the purchase plan for the tests: every number of packs of every lot, tried.

It is written without the program's own prices, carriage, and rules. What the wants can be given is a question of the
largest flow, answered by a general-purpose library. `random_problem` draws problems small enough for it.
"""

from collections.abc import Hashable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cache
from itertools import combinations, product
from math import ceil, prod
from random import Random

import networkx as nx
from hypothesis import strategies as st

from fitcheck.bom.ordering.problem import Amount, Lot, Problem, Seller, Step, Tier, Want

Goods = tuple[int, ...]
"""How many there are of each good."""
Best = tuple[int, Fraction]
"""The least that can be lacking, and what that costs at least."""
MOST_PLANS = 20_000
"""Plans that a drawn problem may have: with more, its last lots are left out."""


def best(problem: Problem) -> Best:
    """Return what the best of all plans comes to.

    Plans go from cheap to dear; one that brings no more of anything than a cheaper one is not looked at.
    """
    plans = sorted(every_plan(problem).items(), key=lambda plan: plan[1])
    found: Best | None = None
    seen: list[Goods] = []
    for have, spent in plans:
        if any(all(one >= other for one, other in zip(richer, have, strict=True)) for richer in seen):
            continue
        seen.append(have)
        lacking = shortage(problem, have)
        if found is None or lacking < found[0]:
            found = lacking, spent
        if not lacking:
            break
    assert found is not None, "to buy nothing is a plan"
    return found


def every_plan(problem: Problem) -> dict[Goods, Fraction]:
    """Return all that can be had with what is held, each with the least that it costs; more than is wanted left out."""
    wanted = wanted_of(problem)
    plans = {tuple(min(held, most) for held, most in zip(problem.held, wanted, strict=True)): Fraction(0)}
    for number in range(len(problem.sellers)):
        orders = every_order(problem, number)
        joined: dict[Goods, Fraction] = {}
        for (have, spent), (brought, paid) in product(plans.items(), orders.items()):
            both = tuple(min(sum(of), most) for *of, most in zip(have, brought, wanted, strict=True))
            joined[both] = min(joined.get(both, spent + paid), spent + paid)
        plans = joined
    return plans


def every_order(problem: Problem, number: int) -> dict[Goods, Fraction]:
    """Return all that one seller can be asked for, with the least that it costs, the order of nothing too."""
    lots = [lot for lot in problem.lots if lot.seller == number]
    wanted = wanted_of(problem)
    orders: dict[Goods, Fraction] = {}
    for packs in product(*(range(limit(problem, lot) + 1) for lot in lots)):
        paid = bill(problem.sellers[number], list(zip(lots, packs, strict=True)))
        if paid is not None:
            brought = [0] * len(problem.held)
            for lot, count in zip(lots, packs, strict=True):
                brought[lot.good] += lot.holds * count
            told = tuple(min(count, most) for count, most in zip(brought, wanted, strict=True))
            orders[told] = min(orders.get(told, paid), paid)
    return orders


def bill(seller: Seller, bought: Sequence[tuple[Lot, int]]) -> Fraction | None:
    """Return what a seller asks for an order at home, carriage included; None if it does not take the order."""
    bought = [(lot, count) for lot, count in bought if count]
    if not bought:
        return Fraction(0)
    own = home = Fraction(0)
    weight = seller.packing
    for lot, count in bought:
        reached = [tier for tier in lot.tiers if count >= tier.packs]
        own += Fraction(reached[-1].price.own) * count
        home += Fraction(reached[-1].price.home) * count
        weight += lot.weight * count
    sent = Fraction(seller.flat.home)
    if seller.steps:
        enough = [step.price.home for step in seller.steps if step.up_to >= weight]
        if not enough:
            return None
        sent = Fraction(enough[0])
    if own < seller.minimum:
        return None
    free = seller.free_over is not None and own >= seller.free_over
    return home if free else home + sent


def limit(problem: Problem, lot: Lot) -> int:
    """Return how many packs of a lot it can be worth to take.

    That is what there is, or enough for all that wants could take of the good, or for the last price break, or for the
    smallest order or free carriage with this lot alone: one pack fewer than more than all of these would do as well.
    """
    seller = problem.sellers[lot.seller]
    useful = ceil(Fraction(wanted_of(problem)[lot.good], lot.holds))
    goal = Fraction(max(seller.minimum, seller.free_over or 0), min(tier.price.own for tier in lot.tiers))
    most = max(useful, lot.tiers[-1].packs, ceil(goal))
    return most if lot.stock is None else min(most, lot.stock)


def wanted_of(problem: Problem) -> Goods:
    """Return how many of each good all wants together could take."""
    wanted = [0] * len(problem.held)
    for want in problem.wants:
        for place, group in enumerate(want.classes):
            for good in group:
                wanted[good] += max((choice[place] for choice in want.choices), default=0)
    return tuple(wanted)


def shortage(problem: Problem, have: Goods) -> int:
    """Return how little can be lacking with what there is: every way to choose for the wants that have to be whole.

    Whole wants are served first: what can be given to some wants at all can be given to them by a largest flow too.
    """
    parts = [number for number, want in enumerate(problem.wants) if is_counted(want)]
    whole = [number for number, want in enumerate(problem.wants) if not is_counted(want)]
    by_the_piece = {(number, 0): problem.wants[number].choices[0][0] for number in parts}
    lacking = []
    for picks in product(*([None, *problem.wants[number].choices] for number in whole)):
        asked: dict[tuple[int, int], int] = {}
        missed = 0
        for number, pick in zip(whole, picks, strict=True):
            if pick is None:
                missed += problem.wants[number].worth
            else:
                asked |= {(number, place): count for place, count in enumerate(pick)}
        if given(problem, have, asked) == sum(asked.values()):
            together = asked | by_the_piece
            lacking.append(missed + sum(together.values()) - given(problem, have, together))
    return min(lacking)


def is_counted(want: Want) -> bool:
    """Return whether a part of a want helps: so many of one class, and no other way."""
    return len(want.choices) == 1 == len(want.classes)


def given(problem: Problem, have: Goods, asked: Mapping[tuple[int, int], int]) -> int:
    """Return how many pieces at most can go to the classes of the wants that ask for so many."""
    return _given(problem, have, tuple(sorted(asked.items())))


@cache
def _given(problem: Problem, have: Goods, asked: tuple[tuple[tuple[int, int], int], ...]) -> int:
    graph: nx.DiGraph[Hashable] = nx.DiGraph()
    graph.add_nodes_from(["shelf", "car"])
    for good, count in enumerate(have):
        graph.add_edge("shelf", ("good", good), capacity=count)
    for (number, place), count in asked:
        for good in problem.wants[number].classes[place]:
            graph.add_edge(("good", good), ("class", number, place))
        graph.add_edge(("class", number, place), "car", capacity=count)
    return int(nx.maximum_flow_value(graph, "shelf", "car"))


def best_with_flat_carriage(problem: Problem) -> Fraction | None:
    """Return what the best plan comes to where wants share no goods, and sellers ask one carriage and nothing else.

    Every set of sellers is tried; with it each want is met in the way that is best for it alone. None if none will do.
    """
    sets = [
        frozenset(of)
        for count in range(len(problem.sellers) + 1)
        for of in combinations(range(len(problem.sellers)), count)
    ]
    totals = {of: sum((Fraction(problem.sellers[number].flat.home) for number in of), Fraction(0)) for of in sets}
    for want in problem.wants:
        ((good,),), ((needed,),) = want.classes, want.choices
        needed = max(needed - problem.held[good], 0)
        lots = [lot for lot in problem.lots if lot.good == good]
        ways = {frozenset[int](): [Fraction(0), *[None] * needed]}
        for of in sets[1:]:
            least, last = ways[of - {max(of)}], [lot for lot in lots if lot.seller == max(of)]
            for lot in last:
                least = _with_lot(problem, lot, least)
            ways[of] = least
        totals = {of: spent + way for of, spent in totals.items() if (way := ways[of][needed]) is not None}
    return min(totals.values(), default=None)


def _with_lot(problem: Problem, lot: Lot, least: Sequence[Fraction | None]) -> list[Fraction | None]:
    """Return what it costs to have 0, 1, 2, ... of a good, given what it costs without this lot."""
    found = list(least)
    for packs in range(1, limit(problem, lot) + 1):
        paid = bill(Seller(), [(lot, packs)])
        for count, before in enumerate(least):
            if before is not None and paid is not None:
                for reached in range(min(count + packs * lot.holds, len(least) - 1) + 1):
                    known = found[reached]
                    found[reached] = before + paid if known is None else min(known, before + paid)
    return found


def random_problem(draw: Random) -> Problem:
    """Return a problem of up to four goods, three sellers, five lots and four wants."""
    goods, sellers = draw.randint(1, 4), draw.randint(1, 3)
    rates = [draw.choice((Fraction(1), Fraction(1), Fraction(4, 5), Fraction(13, 10))) for _ in range(sellers)]
    lots = tuple(_lot(draw, goods, rates) for _ in range(draw.randint(1, 5)))
    held = tuple(draw.choice((0, 0, 0, 1, 2)) for _ in range(goods))
    wants = tuple(_want(draw, goods) for _ in range(draw.randint(1, 4)))
    problem = Problem(held, lots, tuple(_seller(draw, rate) for rate in rates), wants)
    while prod(limit(problem, lot) + 1 for lot in problem.lots) > MOST_PLANS:
        problem = problem._replace(lots=problem.lots[:-1])
    return problem


problems = st.randoms(use_true_random=False).map(random_problem)
"""Problems for properties."""


def _amount(own: int, rate: Fraction) -> Amount:
    return Amount(own, round(own * rate))


def _lot(draw: Random, goods: int, rates: Sequence[Fraction]) -> Lot:
    seller = draw.randrange(len(rates))
    stock = draw.choice((None, None, None, 0, 1, 2, 4))
    tiers = tuple(Tier(packs, _amount(price, rates[seller])) for packs, price in _breaks(draw))
    return Lot(draw.randrange(goods), seller, draw.choice((1, 1, 1, 2, 3, 5)), tiers, stock, draw.randint(0, 6))


def _breaks(draw: Random) -> Iterator[tuple[int, int]]:
    """Yield prices of a lot: some fall so far that more packs cost less in all, and a few rise."""
    packs, price = 1, draw.randint(60, 140)
    yield packs, price
    while packs < 4 and draw.random() < 0.35:
        packs += draw.randint(1, 2)
        price = round(price * draw.choice((0.95, 0.8, 0.6, 1.1)))
        yield packs, price


def _seller(draw: Random, rate: Fraction) -> Seller:
    minimum = draw.choice((0, 0, 0, 60, 150, 250))
    free = draw.choice((None, None, 100, 200, 300))
    flat, steps, packing = Amount(0, 0), [], 0
    kind = draw.choice(("none", "flat", "flat", "weight", "weight"))
    if kind == "flat":
        flat = _amount(draw.randint(1, 200), rate)
    elif kind == "weight":
        packing, weight, price = draw.randint(0, 3), 0, 0
        for _ in range(draw.randint(1, 3)):
            weight, price = weight + draw.randint(3, 12), price + draw.randint(0, 100)
            steps.append(Step(weight, _amount(price, rate)))
    return Seller(minimum, flat, tuple(steps), free, packing)


def _want(draw: Random, goods: int) -> Want:
    """Return a want for one class, or for lengths: sets of one or two classes that are enough, now and then none."""
    order = draw.sample(range(goods), goods)
    if goods == 1 or draw.random() < 0.6:
        return Want((tuple(order[: draw.choice((1, 1, 2))]),), ((draw.randint(1, 5),),))
    middle = draw.randint(1, goods - 1)
    classes = [tuple(order[:middle][:2]), tuple(order[middle:][:2])][: draw.choice((1, 2, 2))]
    choices = {tuple(draw.randint(0, 3) for _ in classes) for _ in range(draw.choice((0, 1, 1, 2, 2, 3, 3)))}
    return Want(tuple(classes), tuple(sorted(choices)), draw.randint(1, 5))
