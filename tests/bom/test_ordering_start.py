"""The first plan of a purchase: it keeps every rule, and the program takes it as it is."""

from math import inf
from random import Random

import pytest

from fitcheck.bom.ordering import solve as solving
from fitcheck.bom.ordering.problem import Amount, Answer, Lot, Problem, Seller, Step, Tier, Want, cost
from fitcheck.bom.ordering.program import Program
from fitcheck.bom.ordering.solve import solve
from fitcheck.bom.ordering.start import first_plan, large
from fitcheck.bom.solver import Model, Terms
from tests.benchmarks.orders import purchase
from tests.bom.orders_by_hand import random_problem
from tests.bom.plan_faults import faults

BLOCK = 100
"""Drawn problems in one test."""


class Rows(Model):
    """A model that can say which of its rows and bounds some values break."""

    def __init__(self) -> None:
        super().__init__()
        self.most: list[float] = []
        self.asked: list[tuple[Terms, float, float]] = []

    def variable(self, most: float = inf) -> int:
        """Add a variable, and remember what it can be at most."""
        self.most.append(most)
        return super().variable(most)

    def row(self, terms: Terms, least: float = -inf, most: float = inf) -> None:
        """Add a row, and remember it as it is now."""
        self.asked.append((dict(terms), least, most))
        super().row(terms, least, most)

    def broken(self, values: list[int]) -> list[str]:
        """Return what the values break."""
        assert len(values) == len(self.most)
        bounds = [
            f"variable {variable} is {value} of at most {most}"
            for variable, (value, most) in enumerate(zip(values, self.most, strict=True))
            if not 0 <= value <= most
        ]
        sums = [(sum(times * values[key] for key, times in terms.items()), *limits) for terms, *limits in self.asked]
        return bounds + [
            f"{total} is not in {least} to {most}" for total, least, most in sums if not least <= total <= most
        ]


def first(problem: Problem) -> Answer:
    """Return the first plan of a problem, without fault."""
    plan = first_plan(problem)
    assert plan is not None
    assert faults(problem, plan) == []
    assert cost(problem, plan.packs) is not None
    return plan


def worth(terms: Terms, values: list[int]) -> int:
    """Return what a sum of variables comes to."""
    return sum(times * values[variable] for variable, times in terms.items())


def assert_taken(problem: Problem, monkeypatch: pytest.MonkeyPatch) -> None:
    """Assert that the values of the first plan meet the rows of the program and cost no more than the plan."""
    plan = first(problem)
    monkeypatch.setattr("fitcheck.bom.ordering.program.Model", Rows)
    for short in {True, any(plan.short)}:
        program = Program(problem, short)
        values = program.values(plan)
        assert isinstance(program.model, Rows)
        assert program.model.broken(values) == []
        assert worth(program.shortage(), values) == sum(plan.short) * short
        again = program.answer(values, 0)
        spent, before = cost(problem, again.packs), cost(problem, plan.packs)
        assert spent is not None
        assert before is not None
        assert worth(program.cost(), values) == spent <= before
        assert faults(problem, again) == []
        assert program.values(again) == values


@pytest.mark.parametrize("start", range(0, 400, BLOCK))
def test_drawn_problems(start: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """On hundreds of drawn problems the first plan keeps every rule, and its values meet every row of the program."""
    for seed in range(start, start + BLOCK):
        assert_taken(random_problem(Random(seed)), monkeypatch)


SIZES = [(10, 3), (45, 4), (80, 6), pytest.param(120, 12, marks=pytest.mark.slow)]


@pytest.mark.parametrize("share", [1.0, 0.1])
@pytest.mark.parametrize(("wants", "sellers"), SIZES)
def test_purchases(wants: int, sellers: int, share: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same holds of purchases of several sizes, of usual and of small sums, in moneys of four sorts."""
    for seed in range(3):
        assert_taken(purchase(seed, wants, sellers, foreign=sellers // 3, share=share), monkeypatch)


@pytest.mark.parametrize("start", range(0, 200, BLOCK))
def test_the_solver_never_ends_above_its_start(start: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is solved lacks no more than the first plan and, if as much, costs no more, with and without a start."""
    for seed in range(start, start + BLOCK):
        problem = random_problem(Random(seed))
        plan = first(problem)
        with monkeypatch.context() as patch:
            patch.setattr(solving, "large", lambda _: True)
            begun = solve(problem)
        alone = solve(problem)
        assert faults(problem, begun) == []
        assert reached(problem, begun) == reached(problem, alone) <= reached(problem, plan)
        assert begun.least == alone.least == cost(problem, begun.packs)


def reached(problem: Problem, answer: Answer) -> tuple[int, int]:
    """Return how much a plan lacks, and what it costs."""
    spent = cost(problem, answer.packs)
    assert spent is not None
    return sum(answer.short), spent


def test_with_next_to_no_time_there_is_the_first_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stopped at once, the solver has a plan no dearer than the first, and claims no more than it costs."""
    problem = purchase(1, wants=150, sellers=8, share=0.1)
    plan = first(problem)
    monkeypatch.setattr(solving, "first_plan", lambda *_: plan)
    answer = solve(problem, 0.01)
    assert faults(problem, answer) == []
    assert answer.least <= reached(problem, answer)[1] <= reached(problem, plan)[1]


def test_the_same_plan_again() -> None:
    """The same problem gives the same first plan, to the last pack."""
    problem = purchase(3, wants=100, sellers=8, share=0.1)
    assert first_plan(problem) == first_plan(problem)


def test_large_by_wants_or_by_lots() -> None:
    """A problem is large with more than 40 wants, or with more than 200 lots."""
    few = purchase(0, wants=40, sellers=3)
    assert [large(few), large(purchase(0, wants=41, sellers=3)), large(purchase(0, wants=40, sellers=12))] == [
        False,
        True,
        True,
    ]


def euros(amount: int) -> Amount:
    """Return so many whole ones of money, at home as abroad."""
    return Amount(amount * 10_000, amount * 10_000)


def lot(good: int, seller: int, price: int, stock: int | None = None, weight: int = 0) -> Lot:
    """Return a lot of single pieces at one price."""
    return Lot(good, seller, 1, (Tier(1, euros(price)),), stock, weight)


def test_all_from_one_seller() -> None:
    """Each of two goods is 1 cheaper at the other seller, but a second carriage is 5: all from one, for 26."""
    lots = (lot(0, 0, 10), lot(1, 0, 11), lot(0, 1, 11), lot(1, 1, 10))
    wants = (Want(((0,),), ((1,),)), Want(((1,),), ((1,),)))
    problem = Problem((0, 0), lots, (Seller(flat=euros(5)), Seller(flat=euros(5))), wants)
    assert cost(problem, first(problem).packs) == euros(26).home


def test_stock_is_shared_out_over_lots() -> None:
    """Seven are wanted: one is held, two are to be had for 3, four more for 4: 22 in all, nothing lacking."""
    problem = Problem((1,), (lot(0, 0, 3, stock=2), lot(0, 0, 4, stock=5)), (Seller(),), (Want(((0,),), ((7,),)),))
    plan = first(problem)
    assert (plan.packs, plan.short) == ((2, 4), (0,))


def test_a_smallest_order_is_filled_up_with_what_is_cheapest() -> None:
    """One for 10 is wanted, the smallest order is 25: it takes two more of 8 or so, not two more of 10."""
    problem = Problem(
        (0, 0), (lot(0, 0, 10), lot(1, 0, 8)), (Seller(minimum=euros(25).own),), (Want(((0,),), ((1,),)),)
    )
    assert first(problem).packs == (1, 2)


@pytest.mark.parametrize("packs", [31, 32, 33, 1023, 1024, 1500, 33_000])
def test_an_order_filled_up_with_very_many(packs: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """One for 1 is wanted, the smallest order is so many times as much: so many are bought, not one more or less."""
    problem = Problem((0,), (lot(0, 0, 1),), (Seller(minimum=euros(packs).own),), (Want(((0,),), ((1,),)),))
    assert first(problem).packs == solve(problem).packs == (packs,)
    assert_taken(problem, monkeypatch)


def test_too_heavy_for_every_step() -> None:
    """Three of 2 are wanted of a seller who takes no more than 5: two are bought where they are dearer."""
    heavy = Seller(steps=(Step(5, euros(1)),))
    wants = tuple(Want(((good,),), ((1,),)) for good in range(3))
    lots = (*(lot(good, 0, 10, weight=2) for good in range(3)), *(lot(good, 1, 20) for good in range(3)))
    plan = first(Problem((0, 0, 0), lots, (heavy, Seller()), wants))
    assert sum(plan.packs[:3]) == 2


def test_what_cannot_be_had_is_lacking() -> None:
    """What nobody offers is lacking, a part of it or the whole; the rest is bought."""
    wants = (Want(((0,),), ((5,),)), Want(((1,),), ((1,), (2,)), worth=4, whole=True), Want(((1,),), (), worth=3))
    problem = Problem((0, 0), (lot(0, 0, 10, stock=2),), (Seller(),), wants)
    plan = first(problem)
    assert (plan.packs, plan.short, plan.chosen) == ((2,), (3, 4, 3), (0, None, None))
