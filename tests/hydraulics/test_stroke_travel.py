"""Strokes and the foot's way: balance bars, tandems, lost circuits, curves, and how wide the answer is."""

from itertools import pairwise
from math import isclose, pi
from pathlib import Path

import pytest

from fitcheck.hydraulics.push import Lever, press
from fitcheck.hydraulics.stroke import stroke
from fitcheck.hydraulics.travel import curves, foot_mm, lost_travel, reach, travel
from tests.hydraulics.plumbed import CATALOG, TANDEM, TRAILER, TWO, read

AREA = pi / 4.0 * 20.0**2


def test_a_stroke_is_the_sum_over_the_area(tmp_path: Path) -> None:
    """The trailer's stroke is the sum of its takes over the piston's area, and its range that of their ranges."""
    one = read(tmp_path).moved().strokes[0]
    assert isclose(one.pressure_mpa, 2000.0 / AREA, rel_tol=1e-12)
    assert isclose(one.used_mm, sum(take.mm3 for take in one.takes) / AREA, rel_tol=1e-12)
    assert isclose(one.spread_mm[0], sum(take.low_mm3 for take in one.takes) / AREA, rel_tol=1e-12)
    assert isclose(one.spread_mm[1], sum(take.high_mm3 for take in one.takes) / AREA, rel_tol=1e-12)
    assert one.spread_mm[0] < one.used_mm < one.spread_mm[1]
    assert one.complete
    assert one.reserve is not None
    assert isclose(one.reserve, 1.0 - one.used_mm / 30.0, rel_tol=1e-12)


def test_friction_that_nobody_states_widens_the_low_end(tmp_path: Path) -> None:
    """Without `efficiency` the low end of the stroke is taken at the least pressure that friction may leave."""
    stated = read(tmp_path).moved().strokes[0]
    open_ = read(tmp_path, TRAILER.replace(", efficiency: 1", "")).moved().strokes[0]
    assert open_.used_mm == stated.used_mm
    assert open_.spread_mm[1] == stated.spread_mm[1]
    assert open_.spread_mm[0] < stated.spread_mm[0]
    weaker = read(tmp_path, TRAILER.replace("efficiency: 1", "efficiency: 0.8")).moved().strokes[0]
    assert isclose(open_.spread_mm[0], weaker.spread_mm[0], rel_tol=1e-9)


def test_the_foot_of_one_cylinder(tmp_path: Path) -> None:
    """The foot goes five times the stroke and the free play; what is left of the way to the floor is told."""
    moved = read(tmp_path).moved()
    assert moved.travel is not None
    assert isclose(moved.travel.foot_mm, 5.0 * moved.strokes[0].used_mm + 5.0, rel_tol=1e-12)
    assert moved.travel.reserve is not None
    assert isclose(moved.travel.reserve, 1.0 - moved.travel.foot_mm / 150.0, rel_tol=1e-12)


def test_a_bar_carries_its_pivot_by_the_shares(tmp_path: Path) -> None:
    """With 0.6 of the push on the front rod the pivot goes 0.6 of the front stroke and 0.4 of the rear one.

    That is the lever's geometry: the work of the pedal's rod is that of the two rods, to a millionth.
    """
    found = read(tmp_path, TWO)
    moved = found.moved()
    front, rear = moved.strokes
    assert moved.travel is not None
    assert moved.push is not None
    rod = 0.6 * front.used_mm + 0.4 * rear.used_mm
    assert isclose(moved.travel.foot_mm, foot_mm(rod, 5.0, 5.0), rel_tol=1e-12)
    work = moved.push.forces_n["one"] * front.used_mm + moved.push.forces_n["two"] * rear.used_mm
    assert isclose(moved.push.rod_n * rod, work, rel_tol=1e-12)


def test_a_tandem_adds_its_chambers(tmp_path: Path) -> None:
    """The rod of a tandem goes as far as both chambers together, both at the pressure of the whole push."""
    moved = read(tmp_path, TANDEM).moved()
    one, two = moved.strokes
    assert isclose(one.pressure_mpa, two.pressure_mpa, rel_tol=1e-12)
    assert moved.travel is not None
    assert isclose(moved.travel.foot_mm, 5.0 * (one.used_mm + two.used_mm) + 5.0, rel_tol=1e-12)


@pytest.mark.parametrize(
    ("text", "lost", "left", "stop", "share"),
    [(TWO, "one.out", "two.out", 30.0, 0.6), (TWO, "two.out", "one.out", 30.0, 0.4),
     (TANDEM, "mc.one", "mc.two", 14.0, 1.0), (TANDEM, "mc.two", "mc.one", 16.0, 1.0)],
)  # fmt: skip
def test_a_lost_circuit_goes_to_its_stop(
    text: str, lost: str, left: str, stop: float, share: float, tmp_path: Path
) -> None:
    """The lost piston runs to the end of its stroke, the other makes its pressure: the foot's way by hand."""
    found = read(tmp_path, text)
    moved, budgets = found.moved(), found.budgets()
    assert moved.push is not None
    gone = lost_travel(found.file, found.found, budgets, moved.push, frozenset([lost]))
    rest = next(one for one in moved.strokes if one.outlet == left)
    other = 1.0 if share == 1.0 else 1.0 - share
    assert gone is not None
    assert isclose(gone.foot_mm, 5.0 * (share * stop + other * rest.used_mm) + 5.0, rel_tol=1e-12)
    idle = sum(take.mm3 for take in budgets[left].takes(0.0)) / AREA
    assert isclose(gone.before_mm, 5.0 * (share * stop + other * idle) + 5.0, rel_tol=1e-12)
    assert gone.left is (gone.foot_mm < 200.0)


def test_failures_are_told_the_foots_way(tmp_path: Path) -> None:
    """The function that failures ask gives the way before there is pressure, and whether the floor is missed."""
    found = read(tmp_path, TWO)
    told = reach(found.file, found.found, found.budgets(), Lever(5.0))
    way = told(found.found.outlets[0], 500.0)
    assert way is not None
    idle = 1.0 + 2.0 * pi / 4.0 * 40.0**2 * 0.2 / AREA
    assert isclose(way.before_mm, 5.0 * (0.6 * 30.0 + 0.4 * idle) + 5.0, rel_tol=1e-9)
    assert way.left is True
    short = read(tmp_path, TWO.replace("travel: 200 mm", "travel: 100 mm"))
    lost = reach(short.file, short.found, short.budgets(), Lever(5.0))(short.found.outlets[0], 500.0)
    assert lost is not None
    assert lost.left is False


def test_nothing_is_left_of_one_circuit(tmp_path: Path) -> None:
    """With the only circuit lost the foot meets nothing: no way is told, and none is made up."""
    found = read(tmp_path)
    told = reach(found.file, found.found, found.budgets(), Lever(5.0))
    assert told(found.found.outlets[0], 400.0) is None


def test_a_curve_has_twenty_points_and_begins_with_the_gaps(tmp_path: Path) -> None:
    """From 0 N, where gaps, cut-off and free play are taken up, to the stated push; each point is a push of its own."""
    found = read(tmp_path)
    budgets = found.budgets()
    (points,) = curves(found.file, found.found, budgets, Lever(5.0), 400.0).values()
    assert len(points) == 20
    assert points[0][:2] == (0.0, 0.0)
    assert isclose(points[0][2], 5.0 * (1.0 + 2.0 * pi / 4.0 * 40.0**2 * 0.1 / AREA) + 5.0, rel_tol=1e-9)
    assert points[-1][0] == 400.0
    moved = found.moved()
    assert moved.travel is not None
    assert isclose(points[-1][2], moved.travel.foot_mm, rel_tol=1e-12)
    assert all(a[2] < b[2] and a[1] < b[1] for a, b in pairwise(points))
    push = press(points[7][0], "brake", Lever(5.0), found.found)
    one = stroke(budgets["mc.out"], push)
    assert one is not None
    seventh = travel(found.file, found.found, push, [one])
    assert seventh is not None
    assert points[7][1:] == (one.pressure_mpa, seventh.foot_mm)


def test_what_is_not_known_is_not_told(tmp_path: Path) -> None:
    """Without ratio, share or bore there is no travel; without a length it is told as incomplete, and too little."""
    assert read(tmp_path, TRAILER.replace("ratio: 5, ", "")).moved().travel is None
    assert read(tmp_path, TWO.replace("balance: 0.6, ", "")).moved().travel is None
    assert read(tmp_path, catalog=CATALOG.replace("    bore: 20 mm\n", "")).moved().strokes == ()
    whole = read(tmp_path).moved()
    less = read(tmp_path, TRAILER.replace(", length: 2000 mm", "")).moved()
    assert whole.travel is not None
    assert less.travel is not None
    assert whole.travel.complete
    assert not less.travel.complete
    assert not less.strokes[0].complete
    assert less.travel.foot_mm < whole.travel.foot_mm


def test_missing_fields_of_the_pedal_are_gaps(tmp_path: Path) -> None:
    """Force, ratio and travel that the pedal does not state are told."""
    moved = read(tmp_path, TRAILER[: TRAILER.index("pedal:")]).moved()
    assert [gap.missing for gap in moved.gaps] == ["pedal.ratio", "pedal.force", "pedal.travel"]


def test_free_play_that_nobody_states_is_assumed(tmp_path: Path) -> None:
    """3 mm, from none to 10, and the travel's range is that much wider on either side."""
    stated = read(tmp_path).moved()
    open_ = read(tmp_path, TRAILER.replace("free_play: 5 mm, ", "")).moved()
    assert stated.travel is not None
    assert open_.travel is not None
    assert isclose(open_.travel.foot_mm, stated.travel.foot_mm - 2.0, rel_tol=1e-12)
    assert isclose(open_.travel.spread_mm[0], stated.travel.spread_mm[0] - 5.0, rel_tol=1e-12)
    assert isclose(open_.travel.spread_mm[1], stated.travel.spread_mm[1] + 5.0, rel_tol=1e-12)
    told = {figure.key: figure for figure in open_.figures}
    assert told["pedal.free_play"][1:] == (3.0, "mm", "assumed", "common practice, no source", 0.0, 10.0)
