"""How long a verdict on two threads takes. Run by hand: `pytest tests/benchmarks/test_threads.py --benchmark-only -s`.

Aims: any pair under 50 microseconds once parsed, the table of 60 threads by 60 under half a second.
"""

import time

from pytest_benchmark.fixture import BenchmarkFixture

from fitcheck.standards.threads import fit, known_threads, limits
from fitcheck.standards.threads.fit import meet

KNOWN = known_threads()
LIMITS = [limits(thread) for thread in KNOWN]


def test_one_pair(benchmark: BenchmarkFixture) -> None:
    """Judges one pair with its limits at hand, nothing cached: 3/8-24 UNF in M10x1."""
    by_name = {found.thread.designation: found for found in LIMITS}
    result = benchmark(meet, by_name["3/8-24 UNF"], by_name["M10x1"], 6.0)
    assert result.verdict == "runs-in-loose"


def test_slowest_pair(benchmark: BenchmarkFixture) -> None:
    """Prints the slowest and the mean pair of the trade's list, each the best of five."""
    times = []
    for external in LIMITS:
        for internal in LIMITS:
            best = float("inf")
            for _ in range(5):
                start = time.perf_counter()
                meet(external, internal, 6.0)
                best = min(best, time.perf_counter() - start)
            times.append((best, external.thread.designation, internal.thread.designation))
    slowest = max(times)
    mean = sum(best for best, *_ in times) / len(times)
    best, *names = slowest
    print(f"{len(times)} pairs: mean {1e6 * mean:.1f} us, slowest {1e6 * best:.1f} us ({' in '.join(names)})")
    print(f"60 by 60 at the mean: {3600 * mean:.3f} s; aim 0.5 s is {0.5 / (3600 * mean):.1f} times as long")
    benchmark.extra_info.update(mean_us=1e6 * mean, slowest_us=1e6 * best)
    benchmark.pedantic(lambda: None, rounds=1)
    assert len(times) == len(KNOWN) ** 2


def test_full_table(benchmark: BenchmarkFixture) -> None:
    """Judges every thread of the trade's list in every other, with the cache of verdicts empty."""

    def table() -> int:
        fit.cache_clear()
        return sum(1 for external in KNOWN for internal in KNOWN if fit(external, internal).verdict)

    assert benchmark.pedantic(table, rounds=5) == len(KNOWN) ** 2
