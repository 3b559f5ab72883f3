"""What the bill, the rules, the hole schedule and the bench sheets say of one line is the same."""

from typing import Any

import pytest

from fitcheck.bom.consumables import consumables
from fitcheck.bom.take_off import take_off
from fitcheck.build.clip_places import BESIDE_PANEL_MM, MOST_CLIPS, clip_plan
from fitcheck.build.graph import PortGraph
from fitcheck.build.runs import run_of
from fitcheck.checks.run import check
from fitcheck.making.holes import hole_schedule
from fitcheck.making.make import sheet, sheets
from fitcheck.reports.hole_words import title, total
from fitcheck.reports.make_page import make_html
from fitcheck.reports.make_text import make_text
from fitcheck.reports.make_words import concern_text
from tests.making.benches import graph_of, one_line

PARTS = "components: {a: {part: union-3-16-inverted}, b: {part: union-3-16-inverted}}\n"


def findings(graph: PortGraph, rule: str) -> list[tuple[str, str]]:
    """Return level and message of each finding of a rule."""
    return [(each.level, each.message) for each in check(graph.build).findings if each.rule == rule]


def pieces(graph: PortGraph, tag: str) -> list[float | None]:
    """Return how long the bill has the pieces of a line [mm]."""
    return [piece.length.mm for row in take_off(graph).rows for piece in row.pieces if piece.tag == tag]


def clips(graph: PortGraph) -> float:
    """Return how many clips are bought."""
    lengths = {piece.tag: piece.length for row in take_off(graph).rows for piece in row.pieces}
    needs = consumables(graph, lengths)
    return sum(use.quantity for need in needs if need.kind == "clip" for use in need.uses)


@pytest.mark.parametrize("length", ["490 mm", "498 mm", "470 mm", "905 mm"])
def test_bill_and_sheet_cut_one_length_and_count_the_same_clips(length: str) -> None:
    """A line of both length and route is cut for its route by both, so that its bends fit on what was cut."""
    graph = one_line("[[300, 0, 0]]", line=f", length: {length}")
    one = sheet(graph, "run")
    assert pieces(graph, "run") == [pytest.approx(one.cut_mm)]
    assert one.clips is not None
    assert clips(graph) == len(one.clips.clips) == 2


def test_no_clip_sits_in_a_panel() -> None:
    """A clip whose place would be the hole goes beside it: half the panel, its grommet and half a clip away."""
    panels = "panels: {wall: {hole: 12 mm, thickness: 2 mm, grommet: grommet-3-16}}"
    graph = one_line("[{at: [150, 0, 0], through: wall}]", end="[300, 0, 0]", more=panels)
    plan = clip_plan(graph, run_of(graph, "run"))
    assert plan is not None
    (place,) = plan.proposed
    assert (place.straight, place.mm) == (True, 150.0 - 1.0 - BESIDE_PANEL_MM)
    bare = one_line("[[150, 0, 0]]", end="[300, 0, 0]")
    without = clip_plan(bare, run_of(bare, "run"))
    assert without is not None
    assert [each.mm for each in without.proposed] == [150.0]


def test_a_route_in_words_passes_no_panel() -> None:
    """A route in words, which has no entries for its corners, has its clips as well."""
    graph = one_line('"run forward 300 mm, left 90, run 200 mm"')
    plan = clip_plan(graph, run_of(graph, "run"))
    assert plan is not None
    assert all(place.straight for place in plan.proposed)


@pytest.mark.parametrize("more", ["length: 900000000 mm", "length: 3 m"])
def test_the_places_of_clips_are_bounded(more: str) -> None:
    """Neither a line as long as a country nor a spacing of a hair makes a list of millions: the sheet says so."""
    spacing = "consumables: {clips: {spacing: 0.0001 mm}}\n" if "3 m" in more else ""
    line = f"lines:\n  run: {{from: a.b, to: b.a, tube: tube-3-16-cuni, {more}}}\n"
    graph = graph_of(PARTS + spacing + line)
    one = sheet(graph, "run")
    assert one.clips is None
    assert "has room for so many clips" in concern_text(one.concerns[-1], "mm")
    (job,) = hole_schedule(graph).jobs
    assert (job.many, job.unknown[0]) == (None, "consumables.clips.spacing")
    most = graph_of(PARTS + line.replace(more, f"length: {MOST_CLIPS * 300} mm"))
    plan = clip_plan(most, run_of(most, "run"))
    assert plan is not None
    assert len(plan.proposed) == MOST_CLIPS


def test_clips_of_a_line_of_unknown_length_stay_named() -> None:
    """The hole schedule says that a line's clips are not counted, even if it is the only line."""
    graph = graph_of(PARTS + "lines:\n  run: {from: a.b, to: b.a, tube: tube-3-16-cuni}\n")
    made = hole_schedule(graph)
    (job,) = made.jobs
    assert title(job, "mm") == "clip: 4.2 mm, tapped M5x0.8, holes, number not known"
    assert (total(made), job.unknown[0]) == ("0 and more", "lines.run.length")


def test_no_block_of_holes_where_there_are_none() -> None:
    """A build without a hole has no empty section of them, in text or on paper."""
    graph = graph_of("components: {a: {part: union-3-16-inverted}}\n")
    made, holes = sheets(graph), hole_schedule(graph)
    assert "HOLES" not in make_text(made, holes)
    assert "Holes" not in make_html(made, "a4", holes)


@pytest.mark.parametrize(
    ("wanted", "rule", "found"),
    [
        (
            {"route": "[{at: [300, 0, 0], bend: 25 mm}]"},
            "bend-tight",
            ("note", "run bends to 25 mm at (300, 0, 0) mm; no listed bender makes it: lever"),
        ),
        (
            {"route": "[[300, 0, 0]]", "tools": "tools: {benders: {lever: {radius: 15 mm, tubes: [1/4 in]}}}"},
            "bend-tight",
            ("error", "run is to be bent with lever, which does not take tube of 4.76 mm"),
        ),
        (
            {"route": "[[20, 0, 0]]", "end": "[20, 200, 0]", "tools": ""},
            "bend-crowded",
            ("error", "run is straight for 5.7 mm before run.from, its nut, nut-3-8-24-inverted, needs 9.53 mm"),
        ),
    ],
)
def test_what_a_sheet_refuses_a_rule_has_found(wanted: dict[str, Any], rule: str, found: tuple[str, str]) -> None:
    """A line that cannot be made is never passed over by `check`, and it is one finding."""
    line = ", bender: lever" if "1/4 in" in wanted.get("tools", "") else ""
    graph = one_line(**wanted, line=line)
    assert sheet(graph, "run").faults
    assert findings(graph, rule) == [found]
