"""How long a purchase plan takes. By hand: `pytest tests/benchmarks --benchmark-only -s`. No test fails on a time."""

import os
import time
from collections.abc import Callable
from math import nan
from random import Random

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from fitcheck.bom.ordering.problem import Answer, Problem, cost
from fitcheck.bom.ordering.solve import solve
from tests.benchmarks.orders import purchase
from tests.bom.plan_faults import faults

PROMISED = 10.0
"""Seconds for 400 wants at 12 sellers: proven by then, or no plan is cheaper by more than the gap."""
GAP = 0.005


def in_one_money(seed: int) -> Problem:
    """Return 400 wants at 12 sellers."""
    return purchase(seed)


def in_foreign_money(seed: int) -> Problem:
    """Return the like with four sellers whose prices are in other currencies."""
    return purchase(seed, foreign=4)


def not_all_on_offer(seed: int) -> Problem:
    """Return the like with every twentieth good offered by nobody."""
    problem = purchase(seed)
    gone = set(Random(seed).sample(range(len(problem.held)), len(problem.held) // 20))
    return problem._replace(lots=tuple(lot for lot in problem.lots if lot.good not in gone))


def of_small_sums(seed: int) -> Problem:
    """Return the like at a tenth of the prices: carriage and smallest orders decide where to buy."""
    return purchase(seed, share=0.1)


def at_many_sellers(seed: int) -> Problem:
    """Return the like at 20 sellers: more than is promised."""
    return purchase(seed, sellers=20, share=0.1)


def one_car(seed: int) -> Problem:
    """Return 80 wants at 6 sellers."""
    return purchase(seed, wants=80, sellers=6)


def timed(problem: Problem) -> tuple[Answer, float, float]:
    """Return the plan, the gap that is left, and the seconds that it took."""
    start = time.perf_counter()
    answer = solve(problem, PROMISED)
    took = time.perf_counter() - start
    spent = cost(problem, answer.packs)
    assert spent is not None
    return answer, (spent - answer.least) / max(spent, 1), took


@pytest.mark.parametrize(
    "draw",
    [in_one_money, in_foreign_money, not_all_on_offer, of_small_sums, at_many_sellers, one_car],
    ids=lambda draw: draw.__name__,
)
def test_purchases(benchmark: BenchmarkFixture, draw: Callable[[int], Problem]) -> None:
    """Prints time, gap and proof of five purchases, and the load of the machine; every plan is without fault."""
    runs = []
    for seed in range(5):
        problem = draw(seed)
        answer, gap, took = timed(problem)
        assert faults(problem, answer) == []
        runs.append((gap, took))
        size = f"{len(problem.wants)} wants, {len(problem.lots)} lots"
        load = os.getloadavg()[0] if hasattr(os, "getloadavg") else nan
        print(f"{draw.__name__} {seed}: {size}, {took:.2f} s, gap {gap:.3%}, load {load:.1f}")
    worst, widest = max(took for _, took in runs), max(gap for gap, _ in runs)
    proven, kept = sum(gap == 0 for gap, _ in runs), sum(gap <= GAP for gap, _ in runs)
    print(f"worst of 5 in {worst:.2f} s of {PROMISED:g}, {proven} proven, {kept} within {GAP:.1%}, widest {widest:.2%}")
    benchmark.extra_info.update(worst_s=worst, proven=proven, widest_gap=widest)
    benchmark.pedantic(solve, args=(draw(0), PROMISED), rounds=1)
