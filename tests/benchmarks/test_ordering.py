"""How long a purchase plan takes. By hand: `pytest tests/benchmarks --benchmark-only -s`. No test here fails on a time."""

import os
import time
from collections.abc import Callable
from random import Random

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from fitcheck.bom.ordering.problem import Answer, Problem, cost, faults
from fitcheck.bom.ordering.solve import solve
from tests.benchmarks.orders import purchase

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
    "draw", [in_one_money, in_foreign_money, not_all_on_offer, one_car], ids=lambda draw: draw.__name__
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
        print(f"{draw.__name__} {seed}: {size}, {took:.2f} s, gap {gap:.3%}, load {os.getloadavg()[0]:.1f}")
    worst, proven = max(took for _, took in runs), sum(gap == 0 for gap, _ in runs)
    kept = sum(gap <= GAP for gap, _ in runs)
    print(f"{draw.__name__}: worst of 5 in {worst:.2f} s, {proven} of 5 proven, {kept} of 5 within {GAP:.1%}")
    benchmark.extra_info.update(worst_s=worst, proven=proven, widest_gap=max(gap for gap, _ in runs))
    benchmark.pedantic(solve, args=(draw(0), PROMISED), rounds=1)
