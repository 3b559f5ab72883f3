"""The purchase plan's core in figures worked by hand: plans, carriage, cost, and what is wrong with an answer."""

import pytest

from fitcheck.bom.ordering.problem import Amount, Answer, Lot, Problem, Seller, Step, Tier, Want, carriage, cost
from fitcheck.bom.ordering.solve import solve
from tests.bom.plan_faults import faults

CENT = 100


def money(cents: int) -> Amount:
    """Return so many cents, at home as abroad."""
    return Amount(cents * CENT, cents * CENT)


def lot(good: int, seller: int, cents: int, holds: int = 1, stock: int | None = None) -> Lot:
    """Return a lot with one price."""
    return Lot(good, seller, holds, (Tier(1, money(cents)),), stock)


def wants(*counts: int) -> tuple[Want, ...]:
    """Return wants for so many of the first good, the second, and so on."""
    return tuple(Want(((good,),), ((count,),)) for good, count in enumerate(counts))


def solved(problem: Problem) -> tuple[int, int]:
    """Return how much the plan for a problem lacks and what it costs, proven and without fault."""
    answer = solve(problem)
    spent = cost(problem, answer.packs)
    assert (faults(problem, answer), answer.least) == ([], spent)
    return sum(answer.short), answer.least


def test_a_price_break_makes_more_cost_less() -> None:
    """Eight are wanted at 1.00, or 0.75 from ten on: ten are bought for 7.50."""
    problem = Problem((0,), (Lot(0, 0, 1, (Tier(1, money(100)), Tier(10, money(75)))),), (Seller(),), wants(8))
    assert solve(problem).packs == (10,)
    assert solved(problem) == (0, 750 * CENT)


def test_one_more_makes_carriage_free() -> None:
    """Goods for 48.00 and carriage of 6.00, free from 50.00 on: one washer more at 2.00 saves 4.00."""
    sellers = (Seller(flat=money(600), free_over=money(5000).own),)
    problem = Problem((0, 0), (lot(0, 0, 4600), lot(1, 0, 200)), sellers, wants(1, 1))
    assert solve(problem).packs == (1, 2)
    assert solved(problem) == (0, 5000 * CENT)


def test_the_smallest_order_is_filled_up_with_what_is_cheapest() -> None:
    """One is wanted at 10.00, the smallest order is 25.00: with something for 15.00 that is cheaper than three."""
    sellers = (Seller(minimum=money(2500).own),)
    problem = Problem((0, 0), (lot(0, 0, 1000), lot(1, 0, 1500)), sellers, wants(1))
    assert solve(problem).packs == (1, 1)
    assert solved(problem) == (0, 2500 * CENT)


def test_a_lower_price_can_cost_more() -> None:
    """At 50.00 carriage is free; at 49.00, with no second one to be had, the 6.00 of carriage are due: 55.00."""
    sellers = (Seller(flat=money(600), free_over=money(5000).own),)
    dear = Problem((0,), (lot(0, 0, 5000, stock=1),), sellers, wants(1))
    cheap = dear._replace(lots=(lot(0, 0, 4900, stock=1),))
    assert (solved(dear), solved(cheap)) == ((0, 5000 * CENT), (0, 5500 * CENT))


def test_one_order_rather_than_two() -> None:
    """Each part is 0.50 cheaper at the other seller, but a second carriage is 4.00: all from one."""
    sellers = (Seller(flat=money(400)), Seller(flat=money(400)))
    lots = (lot(0, 0, 1000), lot(1, 0, 1050), lot(0, 1, 1050), lot(1, 1, 1000))
    problem = Problem((0, 0), lots, sellers, wants(1, 1))
    assert solved(problem) == (0, 2450 * CENT)
    assert len({lots[place].seller for place, count in enumerate(solve(problem).packs) if count}) == 1


def test_what_was_asked_for_before_a_substitute() -> None:
    """At the same cost a want gets the good that was asked for."""
    problem = Problem((0, 0), (lot(1, 0, 500), lot(0, 0, 500)), (Seller(),), (Want(((0, 1),), ((3,),)),))
    assert solve(problem).packs == (0, 3)


def test_less_lacking_comes_before_less_cost() -> None:
    """A dear pack is bought if it leaves less unmet, and no more of it than helps."""
    problem = Problem((1,), (lot(0, 0, 100, stock=2), lot(0, 0, 9900, stock=3)), (Seller(),), wants(8))
    answer = solve(problem)
    assert (answer.packs, answer.short) == ((2, 3), (2,))
    assert solved(problem) == (2, (200 + 3 * 9900) * CENT)


def test_coils_whole_or_not_at_all() -> None:
    """A want for lengths that is not met in full gets nothing bought, and lacks what it is worth."""
    coils = Want(((0,), (1,)), ((2, 0), (0, 1)), worth=5)
    sold_out = Problem((0, 0), (lot(0, 0, 100, stock=1), lot(1, 0, 100, stock=0)), (Seller(),), (coils,))
    assert (solve(sold_out).packs, solved(sold_out)) == ((0, 0), (5, 0))
    one_held = sold_out._replace(held=(1, 0))
    assert (solve(one_held).packs, solved(one_held)) == ((1, 0), (0, 100 * CENT))


def test_nothing_to_buy() -> None:
    """What is held is enough, or nobody sells what is wanted: nothing is ordered."""
    assert solved(Problem((3,), (lot(0, 0, 100),), (Seller(flat=money(100)),), wants(3))) == (0, 0)
    assert solved(Problem((0,), (), (), wants(3))) == (3, 0)
    assert solved(Problem((), (), (), ())) == (0, 0)


BREAKS = Lot(0, 0, 5, (Tier(1, money(100)), Tier(3, money(80)), Tier(10, money(90))))


@pytest.mark.parametrize(("packs", "cents"), [(0, 100), (1, 100), (2, 100), (3, 80), (9, 80), (10, 90), (99, 90)])
def test_price_by_number_of_packs(packs: int, cents: int) -> None:
    """The price is that of the last break that is reached, dearer or not."""
    assert BREAKS.price(packs) == money(cents)


WEIGHED = Seller(minimum=20, steps=(Step(1000, Amount(4, 5)), Step(2500, Amount(7, 9))), free_over=100, packing=150)


@pytest.mark.parametrize(
    ("seller", "goods", "weight", "asked"),
    [
        (Seller(), 1, 10**9, Amount(0, 0)),
        (Seller(flat=Amount(4, 5)), 1, 10**9, Amount(4, 5)),
        (Seller(minimum=20, flat=Amount(4, 5)), 19, 0, None),
        (Seller(minimum=20, flat=Amount(4, 5)), 20, 0, Amount(4, 5)),
        (Seller(flat=Amount(4, 5), free_over=100), 99, 0, Amount(4, 5)),
        (Seller(flat=Amount(4, 5), free_over=100), 100, 0, Amount(0, 0)),
        (WEIGHED, 20, 850, Amount(4, 5)),
        (WEIGHED, 20, 851, Amount(7, 9)),
        (WEIGHED, 20, 2350, Amount(7, 9)),
        (WEIGHED, 20, 2351, None),
        (WEIGHED, 100, 2350, Amount(0, 0)),
        (WEIGHED, 100, 2351, None),
        (WEIGHED, 19, 0, None),
    ],
)
def test_carriage(seller: Seller, goods: int, weight: int, asked: Amount | None) -> None:
    """By weight with packing, up to each step's own weight; free from a sum on; None if too little or too heavy."""
    assert carriage(Problem((), (), (seller,), ()), 0, goods, weight) == asked


TWO = Problem(
    held=(1, 0, 0),
    lots=(
        Lot(0, 0, 5, (Tier(1, Amount(10, 12)), Tier(4, Amount(8, 9))), stock=6, weight=300),
        Lot(1, 0, 1, (Tier(1, Amount(30, 35)),), weight=100),
        Lot(0, 1, 1, (Tier(1, Amount(3, 3)),)),
    ),
    sellers=(WEIGHED, Seller(flat=Amount(2, 2), free_over=9)),
    wants=(Want(((0, 1),), ((7,),)), Want(((1,), (2,)), ((2, 0), (0, 1)), worth=4)),
)
"""Two sellers, the first in a currency of its own."""


@pytest.mark.parametrize(
    ("packs", "spent"),
    [
        ((0, 0, 0), 0),
        ((1, 0, 0), None),  # 10 is below the smallest order
        ((2, 0, 0), 2 * 12 + 5),  # 600 and 150 weigh up to 1000
        ((3, 0, 0), 3 * 12 + 9),  # 1050
        ((4, 0, 0), 4 * 9 + 9),  # 32 at the break's price, 1350
        ((6, 0, 0), 6 * 9 + 9),  # 1950
        ((7, 0, 0), None),  # there are six
        ((4, 3, 0), 4 * 9 + 3 * 35),  # 122 is over 100
        ((0, 1, 0), 35 + 5),
        ((0, 23, 0), 23 * 35),  # 2450
        ((0, 24, 0), None),  # 2550 is too heavy, though free
        ((0, 0, 2), 2 * 3 + 2),
        ((0, 0, 3), 3 * 3),
        ((2, 0, 2), 2 * 12 + 5 + 2 * 3 + 2),
    ],
)
def test_cost(packs: tuple[int, ...], spent: int | None) -> None:
    """Prices and carriage are summed at home; smallest order and free carriage go by the seller's own money."""
    assert cost(TWO, packs) == spent


GOOD = Answer(packs=(2, 2, 0), chosen=(0, 0), flows=((0, 0, 7), (1, 1, 2)), short=(0, 0), least=0)
"""Ten and one held, seven of them to the first want; two to the second."""


def test_no_faults() -> None:
    """Nothing is wrong with plans that keep every rule: met in full, in part, or not at all."""
    assert faults(TWO, GOOD) == []
    part = Answer((0, 0, 0), (0, None), ((0, 0, 1),), (6, 4), 0)
    assert faults(TWO, part) == []
    substitute = GOOD._replace(packs=(1, 4, 0), flows=((0, 0, 6), (0, 1, 1), (1, 1, 2)))
    assert faults(TWO, substitute) == []


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"flows": ((0, 0, 7), (1, 1, 1))}, ["want 1 gets [1, 0] of [2, 0]"]),
        ({"flows": ((0, 0, 6), (1, 1, 2))}, ["want 0 gets [6] of [7]"]),
        ({"flows": ((0, 0, 5), (1, 1, 2)), "short": (1, 0)}, ["want 0 gets [5] of [6]"]),
        ({"flows": ((0, 0, 7), (0, 2, 0), (1, 1, 2))}, ["want 0 is given 0 of good 2"]),
        ({"flows": ((0, 0, 8), (0, 1, -1), (1, 1, 2))}, ["want 0 is given -1 of good 1"]),
        ({"flows": ((0, 0, 12), (1, 1, 2))}, ["good 0 is given out 1 times too often"]),
        ({"packs": (1, 2, 0)}, ["good 0 is given out 1 times too often"]),
        ({"chosen": (0, None), "flows": ((0, 0, 7),)}, ["want 1 is not met, and nothing says so"]),
        ({"chosen": (0, 1)}, ["want 1 gets [2, 0] of [0, 1]"]),
        ({"packs": (7, 2, 0)}, ["a seller does not take this order"]),
        ({"packs": (2, 20, 0)}, ["a seller does not take this order"]),
        (
            {"packs": (1, 0, 5)},
            ["good 1 is given out 2 times too often", "a seller does not take this order"],
        ),
    ],
)
def test_faults(wrong: dict[str, tuple[object, ...]], said: list[str]) -> None:
    """Each way to break a rule is told, and nothing else."""
    assert faults(TWO, GOOD._replace(**wrong)) == said  # type: ignore[arg-type]
