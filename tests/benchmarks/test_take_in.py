"""Rows a second and memory of taking a price list in. By hand: `pytest tests/benchmarks --benchmark-only -s`."""

import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from fitcheck.catalog.shelf import Shelf
from tests.catalog.take_in.lists import wording_of

SMALL, LARGE = 10_000, 100_000
_EXTRAS = ("", " steel", " brass", " zinc plated", " black", " new", ", rubber")
_ONCE = """
import gc, resource, sys
gc.disable()  # as the command line does
from pathlib import Path
from fitcheck.catalog.shelf import Shelf
from fitcheck.catalog.take_in.run import Request, take_in
found = take_in(Request(Path(sys.argv[1])), Shelf.generic())
assert found.taken + found.rejected + found.repeated == found.rows == int(sys.argv[2])
used = resource.getrusage(resource.RUSAGE_SELF)
print(used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)
"""


def price_list(path: Path, rows: int) -> Path:
    """Write a list of worded parts, every row with words of its own, one in five not to be understood."""
    rng = random.Random(5)
    parts = [part for part in map(Shelf.generic().get, Shelf.generic().ids()) if part is not None]
    wordings = [wording_of(part) for part in parts if any(port.thread for port in part.ports.values())]
    with path.open("w", encoding="utf-8") as file:
        file.write("Code;Description;Pack size;Price each;Currency\n")
        for number in range(rows):
            extra = f" batch {number}" if number % 5 == 0 else rng.choice(_EXTRAS)
            amount = f"{rng.randint(1, 9999) / 100:.2f}"
            file.write(f"Q{number};{rng.choice(wordings)}{extra};{rng.choice((1, 5, 10))};{amount};GBP\n")
    return path


def taken_in(path: Path, rows: int) -> tuple[float, float, float]:
    """Return seconds by the clock, seconds of processor and the most memory [MiB] of a process that takes a list in."""
    start = time.perf_counter()
    done = subprocess.run([sys.executable, "-c", _ONCE, path, str(rows)], capture_output=True, text=True, check=True)
    processor, memory = map(float, done.stdout.split())
    return time.perf_counter() - start, processor, memory


def test_a_long_list(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """Prints rows a second and how much more memory ten times the rows take."""
    pytest.importorskip("resource", reason="memory is measured where the system counts it")
    seconds, processor, small = taken_in(price_list(tmp_path / "small.csv", SMALL), SMALL)
    print(f"\n{SMALL:>7} rows: {seconds:6.2f} s ({processor:.2f} s of processor), {small:.0f} MiB at most")
    path = price_list(tmp_path / "large.csv", LARGE)
    seconds, processor, large = benchmark.pedantic(taken_in, args=(path, LARGE), rounds=1)
    print(f"{LARGE:>7} rows: {seconds:6.2f} s ({processor:.2f} s of processor), {large:.0f} MiB at most")
    print(f"{LARGE / seconds:.0f} rows/s; {large - small:+.1f} MiB for {LARGE - SMALL} more rows")
    benchmark.extra_info["memory growth MiB"] = large - small
    assert large > 0
