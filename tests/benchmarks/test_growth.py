"""How checking grows with the build. Run by hand: `pytest tests/benchmarks --benchmark-only -s`."""

import gc
import math
import time
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from fitcheck.build.load import load_document
from fitcheck.checks.findings import Report
from fitcheck.checks.run import check
from fitcheck.sources import parse
from tests.benchmarks.cars import chain, fleet

SIZES = (100, 1_000, 10_000, 20_000)
KINDS: dict[str, Callable[[int], str]] = {
    "cars": fleet,
    "cars with places and pedal": lambda size: fleet(size, placed=True),
    "tees in a row": lambda size: chain(size // 2),
}


def _check(text: str) -> Report:
    return check(load_document(parse(text, "fleet.yaml"), Path()))


@pytest.mark.parametrize("size", SIZES)
def test_check_by_size(benchmark: BenchmarkFixture, size: int) -> None:
    """Reads and checks a sound build of `size` components."""
    text = fleet(size)
    assert not benchmark.pedantic(_check, args=(text,), rounds=3, warmup_rounds=1).failed


@pytest.mark.parametrize("kind", KINDS)
def test_growth_exponent(benchmark: BenchmarkFixture, kind: str) -> None:
    """Prints the exponent of time against size, as ratios within one run: 1.00 is linear."""
    best: dict[int, float] = {}
    for size in SIZES:
        text = KINDS[kind](size)
        times = []
        for _ in range(3):
            gc.collect()
            gc.disable()  # as the command line does
            start = time.process_time()  # others may use the machine meanwhile
            _check(text)
            times.append(time.process_time() - start)
            gc.enable()
        best[size] = min(times)
    steps = [
        (small, large, best[large] / best[small], math.log(best[large] / best[small]) / math.log(large / small))
        for small, large in pairwise(SIZES)
    ]
    for small, large, ratio, exponent in steps:
        print(f"{kind}: {small:>6} -> {large:>6} components: time x {ratio:5.2f}, exponent {exponent:.2f}")
    benchmark.extra_info["steps"] = steps
    benchmark.pedantic(lambda: None, rounds=1)
    assert best[20_000] > 0
