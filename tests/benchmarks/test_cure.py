"""How long a cure takes. Run by hand: `pytest tests/benchmarks --benchmark-only -s`."""

import time
from pathlib import Path

from pytest_benchmark.fixture import BenchmarkFixture

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load_document
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.remedies.cure import Cured, cure
from fitcheck.sources import parse
from tests.benchmarks.cars import fleet

COMPONENTS, FAULTS = 300, 30
_HOSE = "hose-braided-350-3-8-24-inverted-male-banjo-10mm"
_FAULTS = (
    (f"hose_r_{{n}}: {{{{part: {_HOSE}", "hose_r_{n}: {{part: hose-braided-350-m10x1-bubble-female-banjo-10mm"),
    ("to: tee_f_{n}.left, tube: tube-3-16-cuni", "to: tee_f_{n}.left, tube: tube-3-16-copper"),
    ("  feed_2_{n}: {{part: feed-hose-8mm, from: tank_{n}.rear, to: mc_r_{n}.feed, length: 300 mm}}\n", ""),
    ("fl_{n}: {{part: caliper-m10x1-washer}}", "fl_{n}: {{part: caliper-7-16-20-washer}}"),
    ("to: rl_{n}.inlet, tube: tube-3-16-cuni", "to: rl_{n}.inlet, tube: tube-1-4-cuni"),
    (
        "to: rr_{n}.inlet, tube: tube-3-16-cuni, length: 600 mm",
        "to: rr_{n}.inlet, tube: tube-3-16-cuni, length: 600 mm, ends: {{to: {{flare: single-45}}}}",
    ),
)
"""What is right, and what a builder in a hurry made of it."""


def faulty(components: int, faults: int) -> str:
    """Return the text of a build with this many components in which so many entries are wrong, one in each car."""
    text = fleet(components)
    for n in range(faults):
        right, wrong = (each.format(n=n) for each in _FAULTS[n % len(_FAULTS)])
        assert right in text, right
        text = text.replace(right, wrong)
    return text


def _cure(text: str) -> Cured:
    context = Context(assemble(load_document(parse(text, "fleet.yaml"), Path())))
    return cure(context, check_context(context))


def test_cure_of_thirty_faults(benchmark: BenchmarkFixture) -> None:
    """Cures a build of 300 components with 30 faults, and prints its time as a ratio to one check of that build."""
    text = faulty(COMPONENTS, FAULTS)
    start = time.perf_counter()
    context = Context(assemble(load_document(parse(text, "fleet.yaml"), Path())))
    before = check_context(context)
    once = time.perf_counter() - start
    cured = benchmark.pedantic(_cure, args=(text,), rounds=3, warmup_rounds=1)
    print(
        f"\n{len(before.findings)} findings, {len(cured.left)} left, cure in {benchmark.stats['min'] / once:.1f} checks"
    )
    assert before.failed
    assert not cured.report_after.failed
