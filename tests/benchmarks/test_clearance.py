"""How long looking for near misses takes. By hand: `pytest tests/benchmarks --benchmark-only -s`.

More lines make more cars one behind the other, each as crowded as the first. No test here fails on a time.
"""

import math
import time
from itertools import pairwise
from random import Random

from pytest_benchmark.fixture import BenchmarkFixture

from fitcheck.build.clearances import Gap, Solid, gaps_among, gaps_between
from fitcheck.build.curves import chain
from fitcheck.build.poses import REST
from fitcheck.build.routes import Point, RouteError
from tests.build.bent import centre_line

PROMISED = 1.0
"""Seconds for 200 lines against each other and against 20 hot things."""
SIZES = (100, 400, 1_600)
_STILL = (REST,)


def _point(draw: Random, car: int) -> Point:
    return 4500.0 * car + draw.uniform(0, 3500), draw.uniform(-700, 700), draw.uniform(150, 700)


def _line(draw: Random, car: int, name: str) -> Solid:
    """Return a line along the axes of a car with three bends, as lines run on a frame."""
    while True:
        (ax, ay, az), (bx, by, bz) = _point(draw, car), _point(draw, car)
        points = [(ax, ay, az), (bx, ay, az), (bx, by, az), (bx, by, bz), (bx + draw.choice((-90, 90)), by, bz)]
        try:
            return Solid(name, centre_line(points, [14.3] * 3), 2.4, "chassis", _STILL)
        except RouteError:
            continue


def crowd(lines: int) -> tuple[list[Solid], list[Solid]]:
    """Return so many lines, and a hot thing of some legs for every ten of them; 200 lines make four cars."""
    draw = Random(lines)
    tubes = [_line(draw, number // 50, f"line_{number}") for number in range(lines)]
    hot = [
        Solid(f"hot_{number}", chain([_point(draw, number // 5) for _ in range(3)]), 25.0, "chassis", _STILL)
        for number in range(lines // 10)
    ]
    return tubes, hot


def _looked(tubes: list[Solid], hot: list[Solid]) -> tuple[list[Gap], list[Gap]]:
    return gaps_among(tubes, 1.6), gaps_between(tubes, hot, [76.0] * len(hot))


def timed(lines: int) -> float:
    """Return the best of three times [s]."""
    tubes, hot = crowd(lines)
    times = []
    for _ in range(3):
        start = time.perf_counter()
        _looked(tubes, hot)
        times.append(time.perf_counter() - start)
    return min(times)


def test_two_hundred_lines(benchmark: BenchmarkFixture) -> None:
    """Prints the time for 200 lines and 20 hot things as a share of what is promised, and what was found."""
    tubes, hot = crowd(200)
    touching, near = benchmark.pedantic(_looked, args=(tubes, hot), rounds=3)
    took = timed(200)
    print(
        f"200 lines, 20 hot: {took:.3f} s, {took / PROMISED:.2f} of the promise; {len(touching)} and {len(near)} found"
    )
    benchmark.extra_info.update(seconds=took)
    assert near


def test_one_crowded_car(benchmark: BenchmarkFixture) -> None:
    """Prints the same for 200 lines in the space of one car."""
    draw = Random(7)
    tubes = [_line(draw, 0, f"line_{number}") for number in range(200)]
    hot = [Solid(f"hot_{n}", chain([_point(draw, 0) for _ in range(3)]), 25.0, "chassis", _STILL) for n in range(20)]
    touching, near = benchmark.pedantic(_looked, args=(tubes, hot), rounds=3)
    start = time.perf_counter()
    _looked(tubes, hot)
    took = time.perf_counter() - start
    print(f"one car of 200 lines: {took:.3f} s; {len(touching)} and {len(near)} found")
    assert near


def test_growth(benchmark: BenchmarkFixture) -> None:
    """Prints how time grows with lines, its exponent (1.00 is linear) and its share of n log n."""
    best = {size: timed(size) for size in SIZES}
    for small, large in pairwise(SIZES):
        ratio = best[large] / best[small]
        share = ratio / (large * math.log(large) / (small * math.log(small)))
        print(
            f"{small:>5} -> {large:>5} lines: time x {ratio:.2f}, exponent {math.log(ratio) / math.log(4):.2f}", end=""
        )
        print(f", {share:.2f} of n log n")
    benchmark.extra_info.update({str(size): seconds for size, seconds in best.items()})
    benchmark.pedantic(lambda: None, rounds=1)
    assert best[SIZES[-1]] > 0
