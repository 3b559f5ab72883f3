"""A check takes work in proportion to the build: counted in lines of code that are run, not in seconds."""

import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

import fitcheck
from fitcheck.build.load import load_document
from fitcheck.checks.run import check
from fitcheck.sources import parse
from tests.benchmarks.cars import chain, fleet

MOST = 2.5
"""What a function may run for a build of twice the size; sorting takes a little more than twice."""
FEW = 400
"""Lines below which nothing is said of how a function grows."""
OURS = str(Path(fitcheck.__file__).parent)
BUILDS: dict[str, Callable[[int], str]] = {
    "cars": lambda size: fleet(10 * size),
    "cars with places and pedal": lambda size: fleet(10 * size, placed=True),
    "tees in a row": chain,
}


def lines_run(text: str) -> Counter[str]:
    """Return how many lines each of our functions runs while a build is checked."""
    build = load_document(parse(text, "build.yaml"), Path())
    check(build)  # tables are read, and what is remembered is remembered
    count: Counter[str] = Counter()

    def traced(frame: FrameType, event: str, _: object) -> Any:
        name = frame.f_code.co_filename
        if not name.startswith(OURS):
            return None
        if event == "line":
            count[f"{Path(name).stem}.{frame.f_code.co_qualname}"] += 1
        return traced

    before = sys.gettrace()
    sys.settrace(traced)
    try:
        check(build)
    finally:
        sys.settrace(before)
    return count


@pytest.mark.parametrize("kind", BUILDS)
def test_no_function_grows_faster_than_the_build(kind: str) -> None:
    """For a build of twice the size no function of a check runs more than two and a half times the lines."""
    small, large = (lines_run(BUILDS[kind](size)) for size in (12, 24))
    assert large.total() > 20 * FEW
    fast = {name: (small[name], count) for name, count in large.items() if count > max(FEW, MOST * small[name])}
    assert fast == {}
