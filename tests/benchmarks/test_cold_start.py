"""What a fresh process costs over a bare interpreter. Run by hand: `pytest tests/benchmarks --benchmark-only -s`."""

import statistics
import subprocess
import sys
import time
from pathlib import Path

from pytest_benchmark.fixture import BenchmarkFixture

DEMO = Path(__file__).parents[2] / "demo_vehicle"
COMMANDS = {
    "bare interpreter": ["-c", "pass"],
    "its libraries alone": ["-c", "import argparse, json, yaml, networkx, pydantic; pydantic.BaseModel"],
    "fitcheck --help": ["-m", "fitcheck", "--help"],
    "fitcheck check": ["-m", "fitcheck", "check", str(DEMO)],
    "fitcheck bom": ["-m", "fitcheck", "bom", str(DEMO)],
    "fitcheck order": ["-m", "fitcheck", "order", str(DEMO), "--variant", "as_corrected", "--on", "2026-11-30"],
}
ROUNDS = 11


def _milliseconds(arguments: list[str]) -> float:
    start = time.perf_counter()
    subprocess.run([sys.executable, *arguments], stdout=subprocess.DEVNULL, check=False)
    return (time.perf_counter() - start) * 1000


def test_cold_start(benchmark: BenchmarkFixture) -> None:
    """Prints each command's median over a bare interpreter's, taken in turn so that drift hits all alike."""
    taken: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for arguments in COMMANDS.values():
        _milliseconds(arguments)  # compiles what is not compiled yet
    for _ in range(ROUNDS):
        for name, arguments in COMMANDS.items():
            taken[name].append(_milliseconds(arguments))
    bare = statistics.median(taken["bare interpreter"])
    for name, times in taken.items():
        median = statistics.median(times)
        print(f"{name:<22} {median:6.0f} ms, {median - bare:5.0f} ms over bare, x {median / bare:4.1f}")
    benchmark.extra_info["medians_ms"] = {name: statistics.median(times) for name, times in taken.items()}
    benchmark.pedantic(lambda: None, rounds=1)
    assert bare > 0
