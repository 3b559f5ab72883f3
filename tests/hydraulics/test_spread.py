"""The spread of an answer: bounded by its assumptions, exact at their ends; and what a hard line buys."""

from math import isclose
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.hydraulics.displacement import Displacement
from fitcheck.hydraulics.spread import Amount, assumed, less, sure, total
from fitcheck.standards.displacement import UnknownAssumptionError
from tests.hydraulics.plumbed import CATALOG, TRAILER, read

AREA = 2.0 * 1256.6370614359173
"""Of the caliper's two pistons [mm2]."""
OPEN_TEXT = TRAILER.replace("gap: 0.1 mm, ", "").replace("free_play: 5 mm, ", "")
OPEN_CATALOG = CATALOG.replace("    cut_off: 1 mm\n", "").replace("    give: 10 mm3/bar\n    volume: 20 cm3\n", "")
SHARES = st.floats(0.0, 1.0)


def moved(text: str, catalog: str) -> Displacement:
    """Return what the pedal of a build moves."""
    with TemporaryDirectory() as folder:
        return read(Path(folder), text, catalog).moved()


def stated(gap: float, play: float, cut_off: float, give: float, depth: float) -> Displacement:
    """Return what the trailer's pedal moves with all five figures stated, each a share of the way over its range."""
    gap_mm, play_mm, cut_mm = 0.05 + 0.25 * gap, 10.0 * play, 0.5 + 1.5 * cut_off
    text = TRAILER.replace("gap: 0.1 mm", f"gap: {gap_mm:.9f} mm").replace("play: 5 mm", f"play: {play_mm:.9f} mm")
    catalog = CATALOG.replace("cut_off: 1 mm", f"cut_off: {cut_mm:.9f} mm")
    catalog = catalog.replace("give: 10 mm3/bar\n    volume", f"give: {50.0 + 150.0 * give:.9f} mm3/MPa\n    volume")
    return moved(text, catalog.replace("volume: 20 cm3", f"volume: {AREA * (5.0 + 20.0 * depth):.6f} mm3"))


@settings(max_examples=20, deadline=None, derandomize=True)
@given(gap=SHARES, play=SHARES, cut_off=SHARES, give=SHARES, depth=SHARES)
def test_whatever_is_stated_within_the_ranges_lies_in_the_spread(
    gap: float, play: float, cut_off: float, give: float, depth: float
) -> None:
    """Any figures within the ranges give a way, with its own spread, inside that of the build that leaves them open."""
    wide, narrow = moved(OPEN_TEXT, OPEN_CATALOG).travel, stated(gap, play, cut_off, give, depth).travel
    assert wide is not None
    assert narrow is not None
    low, high = wide.spread_mm
    assert low - 1e-6 <= narrow.spread_mm[0] <= narrow.foot_mm <= narrow.spread_mm[1] <= high + 1e-6


def test_the_ends_of_the_spread_are_reached() -> None:
    """With all figures at the low ends of their ranges the low end of the spread is met, and so is the high one."""
    wide, least, most = (
        moved(OPEN_TEXT, OPEN_CATALOG).travel,
        stated(0, 0, 0, 0, 0).travel,
        stated(1, 1, 1, 1, 1).travel,
    )
    assert wide is not None
    assert least is not None
    assert most is not None
    assert isclose(least.spread_mm[0], wide.spread_mm[0], rel_tol=1e-8)
    assert isclose(most.spread_mm[1], wide.spread_mm[1], rel_tol=1e-8)


def test_what_a_hard_line_buys(tmp_path: Path) -> None:
    """A hose by the regular limit takes some fifty times what the same length of tube does, and the takes show it."""
    catalog = CATALOG.replace("    expansion: [{at: 70 bar, swelling: 0.5 cm3/m}]\n", "    expansion_limit: regular\n")
    takes = read(tmp_path, TRAILER.replace("2000 mm", "300 mm"), catalog).moved().strokes[0].takes
    by_tag = {tag: total(take for take in takes if take.tag == tag) for tag in ("hose", "run")}
    assert by_tag["hose"].upper_bound
    assert not by_tag["run"].upper_bound
    assert 30.0 < by_tag["hose"].value / by_tag["run"].value < 70.0
    assert by_tag["hose"].low < by_tag["run"].high < by_tag["hose"].value


def test_amounts() -> None:
    """Known figures have no range; what came after rest keeps a limit's whole range; unknown names are refused."""
    assert sure(2.0) == Amount(2.0, 2.0, 2.0)
    assert Amount(2.0, 1.0, 4.0).times(2.0) == Amount(4.0, 2.0, 8.0)
    assert less(Amount(5.0, 4.0, 6.0), Amount(2.0, 1.0, 3.0)) == Amount(3.0, 3.0, 3.0)
    assert less(Amount(5.0, 0.0, 6.0, True), Amount(2.0, 0.0, 3.0, True)) == Amount(3.0, 0.0, 6.0, True)
    with pytest.raises(UnknownAssumptionError):
        assumed("parts.x.give", "elbow_give")
