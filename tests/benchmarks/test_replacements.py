"""How long `swap` takes to list what could replace a part. By hand: `pytest tests/benchmarks --benchmark-only -s`."""

import time
from collections.abc import Callable
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.remedies.exchange import Exchange, judged
from fitcheck.remedies.replacements import like_for_like, replacements

MANY = 5_000
_FORMS = ("3/8-24 UNF", "M10x1", "7/16-24 UNS", "1/2-20 UNF", "M12x1")
_HOUSE = """\
  tee-{n}:
    kind: tee
    description: Tee {n}
    max_pressure: {rating} MPa
    ports:
      left: {{thread: {thread}, gender: internal, seat: inverted-flare, tube: 3/16 in, depth: {depth} mm}}
      right: {{same as: left}}
      top: {{thread: {top}, gender: internal, seat: inverted-flare, tube: 3/16 in, depth: 11 mm}}
"""
_CAR = """\
build: 1
name: Plover
catalogs: [house.yaml]
components:
  mc: {part: mc-3-8-24-inverted}
  tee: {part: tee-0}
  left: {part: wheel-cylinder-3-8-24-inverted}
  right: {part: wheel-cylinder-3-8-24-inverted}
lines:
  feed: {from: mc.outlet, to: tee.top, tube: tube-3-16-cuni}
  one: {from: tee.left, to: left.inlet, tube: tube-3-16-cuni}
  two: {from: tee.right, to: right.inlet, tube: tube-3-16-cuni}
"""


@pytest.fixture(scope="module")
def car(tmp_path_factory: pytest.TempPathFactory) -> Context:
    """A car with one tee, and a catalog with five thousand others: five threads on either side, some forty forms."""
    folder: Path = tmp_path_factory.mktemp("car")
    parts = (
        _HOUSE.format(n=n, thread=_FORMS[n % 5], top=_FORMS[n // 5 % 5], depth=10 + n % 2, rating=20 + n % 3)
        for n in range(MANY + 1)
    )
    (folder / "house.yaml").write_text(f"catalog: 1\nparts:\n{''.join(parts)}", encoding="utf-8")
    (folder / "build.yaml").write_text(_CAR, encoding="utf-8")
    context = Context(assemble(load(folder)))
    assert len(context.graph.build.shelf.of_kind("tee")) > MANY  # the catalog is made up before anything is timed
    return context


def _best(work: Callable[[], object], times: int = 5) -> float:
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def test_five_thousand_parts_of_one_kind(benchmark: BenchmarkFixture, car: Context) -> None:
    """Prints the time for all tees as so many times the judging of one joint, the first time and with forms known."""
    joint = Exchange(car, "tee").joints[0]
    one = _best(lambda: judged(car.graph, joint, "mc.outlet"), 200)
    first = _best(lambda: replacements(car, "tee"), 1)
    again = _best(lambda: replacements(car, "tee"))
    alike = _best(lambda: list(like_for_like(car, "tee")))
    tried = len(replacements(car, "tee"))
    for name, took in (("first", first), ("again", again), ("like for like", alike)):
        ratio = took / one
        print(
            f"{name}: {tried} parts in {1e3 * took:.0f} ms, {ratio:.0f} joints judged, {ratio / tried:.2f} for a part"
        )
    benchmark.extra_info.update(one_joint_us=1e6 * one, first_ms=1e3 * first, again_ms=1e3 * again)
    found = benchmark.pedantic(replacements, args=(car, "tee"), rounds=3)
    assert len(found) == tried >= MANY
