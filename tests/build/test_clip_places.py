"""Where clips go: as many as are bought, on straights, beside bends, clear of nuts, never too far apart."""

from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fitcheck.build.clip_places import (
    BESIDE_BEND_MM,
    MOST_MM,
    NUT_WAYS,
    ClipPlace,
    ClipPlan,
    clip_plan,
    run_length,
)
from fitcheck.build.clips import SPACING_MM, clips_along
from fitcheck.build.curves import Arc, Straight, length_of
from fitcheck.build.graph import PortGraph
from fitcheck.build.runs import Run, run_of
from tests.making.benches import NUT_MM, graph_of, one_line

KEPT_MM = NUT_WAYS * NUT_MM + BESIDE_BEND_MM
coordinate = st.integers(-12, 12).map(lambda step: 50 * step)
points = st.lists(st.tuples(coordinate, coordinate, coordinate), min_size=2, max_size=6, unique=True)


def plan_of(graph: PortGraph, tag: str = "run") -> ClipPlan:
    """Return the clips of a line, whose length must be known."""
    plan = clip_plan(graph, run_of(graph, tag))
    assert plan is not None
    return plan


def straights_of(run: Run) -> list[tuple[float, float]]:
    """Return where the straights of a line begin and end, counted along its centre-line [mm]."""
    found, here = [], 0.0
    for piece in run.curve:
        if isinstance(piece, Straight):
            found.append((here, here + length_of(piece)))
        here += length_of(piece)
    return found


def test_places_beside_the_bends_that_are_near() -> None:
    """Two clips of a line of 545.7 mm move from 136 and 409 mm to 10 mm in front of the bends at 135 and 412 mm."""
    graph = one_line("[[150, 0, 0], [150, 200, 0], [150, 200, -90]]", end="[250, 275, -90]")
    plan = plan_of(graph)
    assert plan.placed == plan.free_mm == ()
    assert (plan.spacing_mm, plan.stated) == (300.0, False)
    assert [round(place.mm, 3) for place in plan.proposed] == [125.0, 402.124]


def test_a_straight_line_has_its_clips_in_the_middle_of_equal_stretches() -> None:
    """With nothing to keep clear of, 900 mm are held at 150, 450 and 750 mm; at most 150 mm need none."""
    plan = plan_of(one_line("[[450, 0, 0]]", end="[900, 0, 0]"))
    assert plan.proposed == (ClipPlace(150.0, True), ClipPlace(450.0, True), ClipPlace(750.0, True))
    assert plan_of(one_line("[[50, 0, 0]]", end="[150, 0, 0]")).proposed == ()


def test_the_nuts_way_back_is_kept_clear() -> None:
    """Of two straights of 71 and 57 mm the first has room for a clip between two lengths of nut and the bend."""
    graph = one_line("[[86, 0, 0]]", end="[86, 72, 0]")
    (place,) = plan_of(graph).proposed
    (low, high), _ = straights_of(run_of(graph, "run"))
    assert place.straight
    assert place.mm == pytest.approx(high - BESIDE_BEND_MM)
    assert place.mm - low >= KEPT_MM


def test_no_straight_in_reach_is_said() -> None:
    """A line of short legs has no room between nuts and bends: its place is marked, not moved to where it is none."""
    graph = one_line("[[45, 0, 0], [45, 45, 0], [90, 45, 0]]", end="[90, 90, 0]")
    assert [place.straight for place in plan_of(graph).proposed] == [False]


def test_of_length_alone_no_straight_is_known() -> None:
    """A line without a route has its places by length, each marked; one without a length has no plan."""
    parts = "components: {a: {part: union-3-16-inverted}, b: {part: union-3-16-inverted}}\n"
    line = "lines:\n  run: {from: a.b, to: b.a, tube: tube-3-16-cuni%s}\n"
    assert plan_of(graph_of(parts + line % ", length: 600 mm")).proposed == (
        ClipPlace(150.0, False),
        ClipPlace(450.0, False),
    )
    graph = graph_of(parts + line % "")
    assert clip_plan(graph, run_of(graph, "run")) is None


def test_stated_spacing_and_given_spacing() -> None:
    """The build's spacing counts; one that is given goes before it."""
    graph = one_line("[[450, 0, 0]]", end="[900, 0, 0]", more="consumables: {clips: {spacing: 450 mm}}")
    plan = plan_of(graph)
    assert (plan.spacing_mm, plan.stated, [place.mm for place in plan.proposed]) == (450.0, True, [225.0, 675.0])
    other = clip_plan(graph, run_of(graph, "run"), 300.0)
    assert other is not None
    assert len(other.proposed) == 3


def test_placed_clips_leave_only_what_hangs_free() -> None:
    """Clips at 300 and 1000 mm of 1200: only between them a line hangs too long, and gets two more."""
    clips = "  c1: {part: clip-3-16, at: [300, 5, 0]}\n  c2: {part: clip-3-16, at: [1000, 0, 0]}\n"
    graph = one_line("[[600, 0, 0]]", end=f"[1200, 0, 0]}}\n{clips}  far: {{part: union-3-16-inverted, at: [0, 900, 0]")
    plan = plan_of(graph)
    assert [(clip.tag, clip.mm) for clip in plan.placed] == [("c1", 300.0), ("c2", 1000.0)]
    assert plan.free_mm == ((300.0, 1000.0),)
    assert [round(place.mm, 3) for place in plan.proposed] == [533.333, 766.667]


@given(points, st.sampled_from([200, 300, 450]))
@settings(derandomize=True, database=None, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
def test_every_plan_holds(corners: list[tuple[int, int, int]], spacing: int) -> None:
    """As many as are bought, in order, clear of bends and nuts, none further apart than 7/6 of the spacing."""
    start, *middle, end = ([float(value) for value in corner] for corner in corners)
    graph = one_line(
        str(middle), start=str(start), end=str(end), more=f"consumables: {{clips: {{spacing: {spacing} mm}}}}"
    )
    run = run_of(graph, "run")
    length = run_length(graph, run)
    if run.fault is not None or not run.curve or length is None:
        return
    plan = plan_of(graph)
    assert len(plan.proposed) == clips_along(length, spacing)
    stops = [0.0, *(place.mm for place in plan.proposed), length]
    assert all(a < b for a, b in pairwise(stops))
    assert not plan.proposed or max(b - a for a, b in pairwise(stops)) <= spacing * MOST_MM / SPACING_MM + 1e-6
    kept = straights_of(run)
    for place in plan.proposed:
        if place.straight:
            low, high = next((a, b) for a, b in kept if a <= place.mm <= b)
            assert place.mm - low >= (KEPT_MM if low == 0.0 else BESIDE_BEND_MM) - 1e-6
            assert high - place.mm >= (KEPT_MM if high == pytest.approx(length) else BESIDE_BEND_MM) - 1e-6


def test_a_bend_is_no_place_for_a_clip() -> None:
    """Where the middle of a line is in a bend its clip goes beside it."""
    graph = one_line("[[150, 0, 0]]", end="[150, 150, 0]")
    run = run_of(graph, "run")
    (place,) = plan_of(graph).proposed
    bend = next(piece for piece in run.curve if isinstance(piece, Arc))
    assert place == ClipPlace(pytest.approx(135.0 - BESIDE_BEND_MM), True)
    assert place.mm < 135.0 < 135.0 + length_of(bend)
