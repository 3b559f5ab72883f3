"""The purchase plan's solver: the true optimum by two other ways, and what holds of every plan."""

from collections.abc import Callable
from fractions import Fraction
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.bom.ordering.problem import Amount, Answer, Lot, Problem, Seller, Tier, cost
from fitcheck.bom.ordering.solve import NoPlanError, solve
from tests.benchmarks.orders import purchase
from tests.bom.orders_by_hand import best, best_with_flat_carriage, problems, random_problem
from tests.bom.plan_faults import faults

briefly = settings(max_examples=40, deadline=None, derandomize=True, database=None)
long = settings(max_examples=400, deadline=None, derandomize=True, database=None)
BLOCK = 50
"""Drawn problems in one test."""


def reached(problem: Problem, answer: Answer) -> tuple[int, int]:
    """Return how much a plan lacks, and what it costs."""
    spent = cost(problem, answer.packs)
    assert spent is not None
    return sum(answer.short), spent


def solved(problem: Problem) -> tuple[int, int]:
    """Return how much the plan for a problem lacks and what it costs, proven and without fault."""
    answer = solve(problem)
    assert faults(problem, answer) == []
    lacking, spent = reached(problem, answer)
    assert (answer.least, answer.sure) == (spent, True)
    return lacking, spent


def assert_the_best_of_all(start: int) -> None:
    """Assert that plans for a block of drawn problems lack and cost what the best of all plans does."""
    for seed in range(start, start + BLOCK):
        problem = random_problem(Random(seed))
        lacking, spent = solved(problem)
        assert (seed, lacking, Fraction(spent)) == (seed, *best(problem))


@pytest.mark.parametrize("start", range(0, 300, BLOCK))
def test_the_best_of_all_plans(start: int) -> None:
    """On drawn problems what is lacking, and then the cost, are those of the best of all plans, and proven."""
    assert_the_best_of_all(start)


@pytest.mark.slow
@pytest.mark.parametrize("start", range(300, 5300, BLOCK))
def test_the_best_of_all_plans_at_length(start: int) -> None:
    """The same on thousands of problems more."""
    assert_the_best_of_all(start)


def test_drawn_problems_are_of_all_kinds() -> None:
    """Among the drawn problems are those met in full and those not, and all that can make one hard."""
    drawn = [random_problem(Random(seed)) for seed in range(400)]
    sellers = [seller for problem in drawn for seller in problem.sellers]
    lots = [lot for problem in drawn for lot in problem.lots]
    every_want = [want for problem in drawn for want in problem.wants]
    assert sum(best(problem)[0] == 0 for problem in drawn[:100]) in range(20, 80)
    for some in (
        [seller.minimum for seller in sellers],
        [seller.flat.home for seller in sellers],
        [seller.free_over for seller in sellers],
        [len(seller.steps) > 1 for seller in sellers],
        [lot.stock for lot in lots],
        [
            lot.price(count).own * count > lot.price(count + 1).own * (count + 1)
            for lot in lots
            for count in range(1, 5)
        ],
        [lot.price(1).own != lot.price(1).home for lot in lots],
        [len(want.classes[0]) > 1 for want in every_want],
        [len(want.classes) > 1 and len(want.choices) > 1 for want in every_want],
        [not want.choices for want in every_want],
    ):
        assert sum(map(bool, some)) > 20


def assert_can_be_had(problem: Problem, answer: Answer) -> None:
    """Assert that no want gets less than it should, and that what it gets is there: by plain counting."""
    for lot_, count in zip(problem.lots, answer.packs, strict=True):
        assert count >= 0
        assert lot_.stock is None or count <= lot_.stock
    for good, held in enumerate(problem.held):
        bought = sum(lot_.holds * n for lot_, n in zip(problem.lots, answer.packs, strict=True) if lot_.good == good)
        assert sum(count for _, of, count in answer.flows if of == good) <= held + bought
    for number, (want, pick, short) in enumerate(zip(problem.wants, answer.chosen, answer.short, strict=True)):
        got = [sum(n for to, good, n in answer.flows if to == number and good in group) for group in want.classes]
        if want.counted:
            assert got[0] + short >= want.choices[0][0] >= short >= 0
        elif pick is None:
            assert short == want.worth
        else:
            assert short == 0
            assert all(one >= count for one, count in zip(got, want.choices[pick], strict=True))


@briefly
@given(problems)
def test_nothing_is_given_that_is_not_there(problem: Problem) -> None:
    """No want gets fewer than it needs unless that is said, no lot is bought over its stock."""
    assert_can_be_had(problem, solve(problem))


@briefly
@given(problems)
def test_never_dearer_than_one_seller(problem: Problem) -> None:
    """Against buying everything from any one seller a plan lacks no more, and if as much then it costs no more."""
    alone = [
        solved(problem._replace(lots=tuple(lot for lot in problem.lots if lot.seller == number)))
        for number in range(len(problem.sellers))
    ]
    assert solved(problem) <= min(alone)


def with_one_more_lot(problem: Problem, draw: Random) -> Problem:
    """Return a problem with one more offer."""
    good, seller, price = draw.randrange(len(problem.held)), draw.randrange(len(problem.sellers)), draw.randint(1, 200)
    return problem._replace(
        lots=(*problem.lots, Lot(good, seller, draw.randint(1, 4), (Tier(1, Amount(price, price)),)))
    )


def cheaper_at_home(problem: Problem, draw: Random) -> Problem:
    """Return a problem with a better rate for one lot: at the seller's its goods are worth what they were."""
    if not problem.lots:
        return problem
    place, share = draw.randrange(len(problem.lots)), draw.choice((Fraction(1, 2), Fraction(9, 10)))
    old = problem.lots[place]
    tiers = tuple(tier._replace(price=tier.price._replace(home=int(tier.price.home * share))) for tier in old.tiers)
    return problem._replace(lots=(*problem.lots[:place], old._replace(tiers=tiers), *problem.lots[place + 1 :]))


def with_more_stock(problem: Problem, draw: Random) -> Problem:
    """Return a problem in which sellers have all that anybody wants."""
    return problem._replace(lots=tuple(lot._replace(stock=None) for lot in problem.lots))


def with_more_held(problem: Problem, draw: Random) -> Problem:
    """Return a problem with one more of one good on the shelf."""
    place = draw.randrange(len(problem.held))
    return problem._replace(held=tuple(held + (good == place) for good, held in enumerate(problem.held)))


def without_minimums(problem: Problem, draw: Random) -> Problem:
    """Return a problem in which every seller takes the smallest order."""
    return problem._replace(sellers=tuple(seller._replace(minimum=0) for seller in problem.sellers))


def with_carriage_sooner_free(problem: Problem, draw: Random) -> Problem:
    """Return a problem in which every seller that sends free of charge does so from half the sum on."""
    half = tuple(
        seller if seller.free_over is None else seller._replace(free_over=seller.free_over // 2)
        for seller in problem.sellers
    )
    return problem._replace(sellers=half)


def with_a_substitute(problem: Problem, draw: Random) -> Problem:
    """Return a problem in which the first want may be met by one good more, if it is in none of its classes."""
    first = problem.wants[0]
    others = [good for good in range(len(problem.held)) if not any(good in group for group in first.classes)]
    if not others:
        return problem
    classes = ((*first.classes[0], draw.choice(others)), *first.classes[1:])
    return problem._replace(wants=(first._replace(classes=classes), *problem.wants[1:]))


EASIER = (
    with_one_more_lot,
    cheaper_at_home,
    with_more_stock,
    with_more_held,
    without_minimums,
    with_carriage_sooner_free,
    with_a_substitute,
)


@pytest.mark.parametrize("ease", EASIER, ids=lambda ease: ease.__name__)
@briefly
@given(problems, st.randoms(use_true_random=False))
def test_what_is_easier_is_never_worse(
    ease: Callable[[Problem, Random], Problem], problem: Problem, draw: Random
) -> None:
    """An offer more, a better rate, more stock, easier terms: never more is lacking, nor with as much a higher cost."""
    assert solved(ease(problem, draw)) <= solved(problem)


@pytest.mark.slow
@pytest.mark.parametrize("ease", EASIER, ids=lambda ease: ease.__name__)
@long
@given(problems, st.randoms(use_true_random=False))
def test_what_is_easier_is_never_worse_at_length(
    ease: Callable[[Problem, Random], Problem], problem: Problem, draw: Random
) -> None:
    """The same, looked at for longer."""
    assert solved(ease(problem, draw)) <= solved(problem)


def shuffled(problem: Problem, draw: Random) -> Problem:
    """Return the same problem with goods, sellers, lots and wants in another order."""
    goods = draw.sample(range(len(problem.held)), len(problem.held))
    sellers = draw.sample(range(len(problem.sellers)), len(problem.sellers))
    lots = [lot._replace(good=goods.index(lot.good), seller=sellers.index(lot.seller)) for lot in problem.lots]
    every_want = [
        want._replace(classes=tuple(tuple(goods.index(good) for good in group) for group in want.classes))
        for want in problem.wants
    ]
    return Problem(
        tuple(problem.held[good] for good in goods),
        tuple(draw.sample(lots, len(lots))),
        tuple(problem.sellers[number] for number in sellers),
        tuple(draw.sample(every_want, len(every_want))),
    )


@briefly
@given(problems, st.randoms(use_true_random=False))
def test_order_does_not_matter(problem: Problem, draw: Random) -> None:
    """In which order lots, sellers, goods and wants stand changes neither what is lacking nor the cost."""
    assert solved(shuffled(problem, draw)) == solved(problem)


def times(problem: Problem, factor: int) -> Problem:
    """Return a problem with all money so many times as much."""

    def much(price: Amount) -> Amount:
        return Amount(price.own * factor, price.home * factor)

    lots = tuple(
        lot._replace(tiers=tuple(tier._replace(price=much(tier.price)) for tier in lot.tiers)) for lot in problem.lots
    )
    sellers = tuple(
        seller._replace(
            minimum=seller.minimum * factor,
            flat=much(seller.flat),
            steps=tuple(step._replace(price=much(step.price)) for step in seller.steps),
            free_over=None if seller.free_over is None else seller.free_over * factor,
        )
        for seller in problem.sellers
    )
    return problem._replace(lots=lots, sellers=sellers)


@briefly
@given(problems, st.sampled_from((2, 7, 100, 10_000)))
def test_the_cost_goes_with_the_money(problem: Problem, factor: int) -> None:
    """With all money so many times as much the plan lacks as much and costs so many times as much."""
    lacking, spent = solved(problem)
    assert solved(times(problem, factor)) == (lacking, spent * factor)


@briefly
@given(problems)
def test_the_same_plan_again(problem: Problem) -> None:
    """The same problem gives the same plan, to the last pack."""
    assert solve(problem) == solve(problem)


def answered(problem: Problem, seconds: float) -> Answer | str:
    """Return the plan that is found in so many seconds, or what the solver says."""
    try:
        return solve(problem, seconds)
    except NoPlanError as error:
        return str(error)


@pytest.mark.parametrize("seconds", [0.0, *(pytest.param(each, marks=pytest.mark.slow) for each in (0.05, 0.3))])
def test_stopped_early(seconds: float) -> None:
    """Stopped before its time the solver says so, or gives a plan without fault that claims no more than is proven."""
    problem = purchase(0, wants=150, sellers=8)
    _, least = reached(problem, solve(problem, 60.0))
    answer = answered(problem, seconds)
    if isinstance(answer, str):
        assert answer == f"no plan was found in {seconds:g} s; give it more time"
    else:
        assert faults(problem, answer) == []
        assert answer.least <= least <= reached(problem, answer)[1]


def with_flat_carriage(problem: Problem) -> Problem:
    """Return a purchase without substitutes, with one carriage for each order and nothing else that a seller asks."""
    flat = tuple(Seller(flat=seller.steps[0].price if seller.steps else seller.flat) for seller in problem.sellers)
    plain = tuple(want._replace(classes=(want.classes[0][:1],)) for want in problem.wants)
    return problem._replace(sellers=flat, wants=plain)


@pytest.mark.parametrize("seed", [0, *(pytest.param(seed, marks=pytest.mark.slow) for seed in (1, 2, 3))])
def test_the_best_of_every_set_of_sellers(seed: int) -> None:
    """With many wants, packs, breaks and stock the cost is that of the best set of sellers, each set tried."""
    problem = with_flat_carriage(purchase(seed, wants=40, sellers=6, foreign=2))
    lacking, spent = solved(problem)
    assert (lacking, Fraction(spent)) == (0, best_with_flat_carriage(problem))
