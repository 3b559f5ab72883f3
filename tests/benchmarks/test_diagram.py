"""How drawing the circuit grows with the build. Run by hand: `pytest tests/benchmarks --benchmark-only -s`."""

import gc
import math
import time
from itertools import pairwise
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load_document
from fitcheck.checks.context import Context
from fitcheck.reports.diagram.circuit import circuit_drawing, diagram
from fitcheck.reports.drawing import sheet
from fitcheck.sources import parse
from tests.benchmarks.cars import fleet

SIZES = (100, 300, 1_000, 3_000)


def tree(tees: int) -> str:
    """Return the text of one circuit that branches at so many tees, and has one wheel cylinder more than these."""
    parts = ["build: 1\nname: tree\ncomponents:\n  mc: {part: mc-3-8-24-inverted}\n"]
    parts += [f"  t{tee}: {{part: tee-3-16-inverted}}\n" for tee in range(tees)]
    parts += [f"  w{end}: {{part: wheel-cylinder-3-8-24-inverted}}\n" for end in range(tees + 1)]
    ends = ["mc.outlet", *(f"t{tee}.{side}" for tee in range(tees) for side in ("right", "top"))]
    inlets = [*(f"t{tee}.left" for tee in range(tees)), *(f"w{end}.inlet" for end in range(tees + 1))]
    parts.append("lines:\n")
    parts += [
        f"  l{number}: {{from: {end}, to: {inlet}, tube: tube-3-16-cuni}}\n"
        for number, (end, inlet) in enumerate(zip(ends, inlets, strict=True))
    ]
    return "".join(parts)


def context_of(text: str) -> Context:
    """Return a build read from its text, with what every drawing asks for asked once."""
    return Context(assemble(load_document(parse(text, "fleet.yaml"), Path())))


def drawn(text: str) -> float:
    """Return how long a build read already takes to be laid out and drawn [s], the best of three."""
    times = []
    for _ in range(3):
        context = context_of(text)
        gc.collect()
        gc.disable()  # as the command line does
        start = time.perf_counter()
        assert sheet(circuit_drawing(context)).endswith("</svg>")
        times.append(time.perf_counter() - start)
        gc.enable()
    return min(times)


@pytest.mark.parametrize("size", SIZES)
def test_circuit_by_size(benchmark: BenchmarkFixture, size: int) -> None:
    """Draws a build of `size` components in many circuits."""
    context = context_of(fleet(size))
    benchmark.pedantic(lambda: sheet(circuit_drawing(context)), rounds=3, warmup_rounds=1)


def test_growth_exponent(benchmark: BenchmarkFixture) -> None:
    """Prints the exponent of time against size, for many cars and for one circuit: 1.00 is linear."""
    steps = []
    for name, text_of in (("cars", fleet), ("one circuit", lambda size: tree(size // 2))):
        best = {size: drawn(text_of(size)) for size in SIZES}
        for small, large in pairwise(SIZES):
            ratio = best[large] / best[small]
            exponent = math.log(ratio) / math.log(large / small)
            steps.append((name, small, large, ratio, exponent))
            print(f"{name}: {small:>5} -> {large:>5} components: time x {ratio:5.2f}, exponent {exponent:.2f}")
        print(f"{name}: 1000 components {best[1_000]:.2f} s")
    benchmark.extra_info["steps"] = steps
    benchmark.pedantic(lambda: None, rounds=1)
    assert diagram(context_of(tree(500))).layout.crossings == 0
