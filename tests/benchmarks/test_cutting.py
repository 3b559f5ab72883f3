"""How long nesting takes. By hand: `pytest tests/benchmarks --benchmark-only -s`. No test here fails on a time."""

import time
from random import Random

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from fitcheck.bom.nesting.nest import nest
from fitcheck.bom.nesting.record import Coil, Cut, Nest

PROMISED = 5.0
"""Seconds for 200 pieces onto coils, to the proven optimum."""
COIL = Coil(7620.0)


def lengths(seed: int, pieces: int) -> list[Cut]:
    """Return pieces as long as a car's lines are: two of three from 80 to 600 mm, the third up to 2.8 m."""
    draw = Random(seed)
    spans = [draw.choice(((80, 600), (80, 600), (600, 2800))) for _ in range(pieces)]
    return [Cut(f"line_{number}", round(draw.uniform(*span), 1)) for number, span in enumerate(spans)]


def timed(pieces: list[Cut], offcuts: list[float], kerf: float) -> tuple[Nest, float]:
    """Return the plan and the seconds that it took."""
    start = time.perf_counter()
    plan = nest(pieces, [COIL], offcuts, kerf)
    return plan, time.perf_counter() - start


@pytest.mark.parametrize(
    ("offcuts", "kerf"), [([], 0.0), ([1200.0, 900.0], 0.0), ([1200.0, 900.0], 1.0)], ids=["coils", "offcuts", "kerf"]
)
def test_two_hundred_pieces(benchmark: BenchmarkFixture, offcuts: list[float], kerf: float) -> None:
    """Prints the worst of ten draws of 200 pieces as a share of what is promised, and how many were proven."""
    runs = [timed(lengths(seed, 200), offcuts, kerf) for seed in range(10)]
    worst, proven = max(took for _, took in runs), sum(plan.optimal for plan, _ in runs)
    print(f"200 pieces: worst of 10 in {worst:.2f} s, {worst / PROMISED:.2f} of the promise; {proven} of 10 proven")
    benchmark.extra_info.update(worst_s=worst, proven=proven)
    plan = benchmark.pedantic(nest, args=(lengths(0, 200), [COIL], offcuts, kerf), rounds=3)
    assert sum(len(bar.cuts) for bar in plan.bars) == 200


@pytest.mark.parametrize("pieces", [10, 20, 30, 60])
def test_one_car(benchmark: BenchmarkFixture, pieces: int) -> None:
    """Prints the worst of five cars with two offcuts on the shelf, and how many were proven, cost and all."""
    runs = [timed(lengths(seed, pieces), [1200.0, 900.0], 0.0) for seed in range(5)]
    worst = max(took for _, took in runs)
    cost, proven = (sum(getattr(plan, of) for plan, _ in runs) for of in ("cost_proven", "optimal"))
    print(f"{pieces} pieces: worst of 5 in {worst:.2f} s; cost proven {cost} of 5, everything {proven} of 5")
    benchmark.extra_info.update(worst_s=worst, cost_proven=cost, proven=proven)
    plan = benchmark.pedantic(nest, args=(lengths(0, pieces), [COIL], [1200.0, 900.0]), rounds=1)
    assert plan.cost_proven
