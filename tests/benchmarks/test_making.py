"""How long the bench sheets of a car take. By hand: `pytest tests/benchmarks --benchmark-only -s`.

Cars here are crowded: every line has three to six bends on a frame's axes, one in five goes through a panel, and ten
hoses hang between chassis and axle. No test here fails on a time.
"""

import contextlib
import io
import math
import time
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from random import Random

from pytest_benchmark.fixture import BenchmarkFixture

from fitcheck.build.assemble import assemble
from fitcheck.build.graph import PortGraph
from fitcheck.build.load import load_document
from fitcheck.build.routes import Point, RouteError, straights, through_points
from fitcheck.cli.main import main
from fitcheck.making.make import sheets
from fitcheck.sources import parse

PROMISED = 0.3
"""Seconds for all sheets of a car of 40 lines, in process."""
LINES = 40
SIZES = (40, 160, 640)
FORMS = ("text", "json", "csv", "svg", "html")
_HEAD = """\
build: 1
name: car
coordinates: mm
bodies: {axle: {poses: {bump: {shift: [0, 0, 60]}, droop: {shift: [0, 0, -80]}}}}
tools:
  trim: 2 mm
  flaring: {grip: 25 mm}
  benders: {lever: {radius: 14.3 mm, clamp: 12 mm, offset: 2 mm, springback: {copper-nickel: 2 deg}}}
"""
_PANEL = "  wall_{n}: {{hole: 12 mm, thickness: 1.5 mm, grommet: grommet-3-16}}\n"
_HOSE = "{{part: hose-braided-350-3-8-24-inverted-male-banjo-10mm, from: hang_{n}.a, to: wheel_{n}.inlet}}"


def corners_of(draw: Random) -> list[Point]:
    """Return the corners of a line that runs along axes, its ends included."""
    while True:
        here = [draw.uniform(0, 3500), draw.uniform(-700, 700), draw.uniform(150, 700)]
        points = [(here[0], here[1], here[2])]
        axes = [draw.randrange(3)]
        for _ in range(draw.randint(3, 6)):
            axes.append(draw.choice([axis for axis in range(3) if axis != axes[-1]]))
        for axis in axes:
            here[axis] += draw.choice((-1, 1)) * draw.uniform(70, 500)
            points.append((here[0], here[1], here[2]))
        with contextlib.suppress(RouteError):
            straights(through_points(points, [14.3] * (len(points) - 2)))
            return points


def car(lines: int) -> str:
    """Return the text of a car with so many lines, and a hose for every four of them."""
    draw = Random(lines)
    components, panels, runs, hoses = [], [], [], []
    for n in range(lines):
        places = [[round(value, 1) for value in point] for point in corners_of(draw)]
        for name, place in (("a", places[0]), ("b", places[-1])):
            components.append(f"  {name}_{n}: {{part: union-3-16-inverted, at: {place}}}\n")
        route = [str(place) for place in places[1:-1]]
        if n % 5 == 0:
            half = [round((a + b) / 2, 3) for a, b in zip(places[1], places[2], strict=True)]
            route.insert(1, f"{{at: {half}, through: wall_{n}}}")
            panels.append(_PANEL.format(n=n))
        runs.append(f"  run_{n}: {{from: a_{n}.b, to: b_{n}.a, tube: tube-3-16-cuni, route: [{', '.join(route)}]}}\n")
        if n % 4 == 0:
            x = round(draw.uniform(0, 3500))
            components.append(f"  hang_{n}: {{part: union-3-16-inverted, at: [{x}, 400, 300]}}\n")
            components.append(f"  wheel_{n}: {{part: caliper-banjo-10mm, on: axle, at: [{x}, 650, 250]}}\n")
            hoses.append(f"  hose_{n}: {_HOSE.format(n=n)}\n")
    sections = {"panels": panels, "components": components, "lines": runs, "hoses": hoses}
    return _HEAD + "".join(f"{name}:\n{''.join(rows)}" for name, rows in sections.items())


def graph_of(text: str) -> PortGraph:
    """Return the graph of a car."""
    return assemble(load_document(parse(text, "build.yaml"), Path()))


def best(what: Callable[[], object], rounds: int = 5) -> float:
    """Return the best of some times [s]."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        what()
        times.append(time.perf_counter() - start)
    return min(times)


def test_sheets_of_forty_lines(benchmark: BenchmarkFixture) -> None:
    """Prints the time of all sheets of a car of 40 lines, the graph being there, as a share of what is promised."""
    graph = graph_of(car(LINES))
    made = benchmark.pedantic(sheets, args=(graph,), rounds=5)
    took = best(lambda: sheets(graph))
    bends = sum(len(sheet.bends) for sheet in made.sheets)
    print(f"{LINES} lines, {bends} bends: sheets in {took:.3f} s, {took / PROMISED:.2f} of the promise")
    benchmark.extra_info.update(seconds=took)
    assert len(made.sheets) == LINES
    assert sum(not sheet.faults for sheet in made.sheets) == LINES


def test_the_verb_in_process(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """Prints the time of the whole verb, reading and writing included, in each form, once everything is imported."""
    (tmp_path / "build.yaml").write_text(car(LINES))

    def asked(form: str) -> int:
        with contextlib.redirect_stdout(io.StringIO()):
            return main(("make", str(tmp_path), "--format", form))

    for form in FORMS:
        assert asked(form) in (0, 1)  # 1 where a hose is too short: its sheet is made all the same
        took = best(lambda form=form: asked(form), rounds=3)  # type: ignore[misc]
        print(f"make --format {form}, {LINES} lines: {took:.3f} s, {took / PROMISED:.2f} of the promise")
        benchmark.extra_info[form] = took
    benchmark.pedantic(asked, args=("text",), rounds=3)


def test_growth(benchmark: BenchmarkFixture) -> None:
    """Prints how the time of the sheets grows with the number of lines, and the exponent: 1.00 is linear."""
    times = {}
    for size in SIZES:
        graph = graph_of(car(size))
        times[size] = best(lambda graph=graph: sheets(graph), rounds=3)  # type: ignore[misc]
    for small, large in pairwise(SIZES):
        ratio = times[large] / times[small]
        print(f"{small:>4} -> {large:>4} lines: time x {ratio:5.2f}, exponent {math.log(ratio) / math.log(4):.2f}")
    benchmark.extra_info.update({str(size): seconds for size, seconds in times.items()})
    benchmark.pedantic(lambda: None, rounds=1)
    assert times[SIZES[-1]] > 0
