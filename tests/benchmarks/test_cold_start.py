"""What a fresh process costs over a bare interpreter. Run by hand: `pytest tests/benchmarks --benchmark-only -s`.

Taken is the processor's time, the least of some runs: others may use the machine meanwhile. Modules are compiled once,
into a folder of their own, whatever the environment says about that.
"""

import os
import resource
import subprocess
import sys
from pathlib import Path

from pytest_benchmark.fixture import BenchmarkFixture

DEMO = Path(__file__).parents[2] / "demo_vehicle"
COMMANDS = {
    "bare interpreter": ["-c", "pass"],
    "its libraries alone": ["-c", "import argparse, json, yaml, networkx, pydantic; pydantic.BaseModel"],
    "fitcheck --help": ["-m", "fitcheck", "--help"],
    "fitcheck check": ["-m", "fitcheck", "check", str(DEMO)],
    "fitcheck check, nothing wrong": ["-m", "fitcheck", "check", str(DEMO), "--variant", "as_corrected"],
    "fitcheck bom": ["-m", "fitcheck", "bom", str(DEMO)],
    "fitcheck order": ["-m", "fitcheck", "order", str(DEMO), "--variant", "as_corrected", "--on", "2026-11-30"],
}
ROUNDS = 11


def _spent() -> float:
    usage = resource.getrusage(resource.RUSAGE_CHILDREN)
    return (usage.ru_utime + usage.ru_stime) * 1000


def _milliseconds(arguments: list[str], compiled: Path) -> float:
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    before = _spent()
    subprocess.run(
        [sys.executable, *arguments],
        stdout=subprocess.DEVNULL,
        check=False,
        env={**kept, "PYTHONPYCACHEPREFIX": str(compiled)},
    )
    return _spent() - before


def test_cold_start(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """Prints each command's least time over a bare interpreter's, taken in turn so that drift hits all alike."""
    taken: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for arguments in COMMANDS.values():
        _milliseconds(arguments, tmp_path)  # compiles what is not compiled yet
    for _ in range(ROUNDS):
        for name, arguments in COMMANDS.items():
            taken[name].append(_milliseconds(arguments, tmp_path))
    bare = min(taken["bare interpreter"])
    for name, times in taken.items():
        least = min(times)
        print(f"{name:<30} {least:6.0f} ms, {least - bare:5.0f} ms over bare, x {least / bare:4.1f}")
    benchmark.extra_info["least_ms"] = {name: min(times) for name, times in taken.items()}
    benchmark.pedantic(lambda: None, rounds=1)
    assert bare > 0
