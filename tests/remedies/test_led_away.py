"""Lines that are led away from what is hot, or from each other: the least move, and when there is none."""

from pathlib import Path

import pytest

from fitcheck.build.routes import developed_length
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.remedies.choose import with_remedies
from tests.remedies.placed import context_of, cost, faults, healed, placed, proposed

LOOP = "route: [[0, -300, 0], [400, -300, 0]]"
PIPE = "heat: {pipe: {path: [[-500, -350, 0], [900, -350, 0]], radius: 20 mm}}\n"
END = "[400, 0, 0]"
TWO = """\
build: 1
components:
  a: {part: union-3-16-inverted, at: [0, 0, 0]}
  stop_a: {part: plug-3-8-24-inverted}
  b: {part: union-3-16-inverted, at: [400, 0, 0]}
  stop_b: {part: plug-3-8-24-inverted}
  c: {part: union-3-16-inverted, at: [150, -600, 0]}
  stop_c: {part: plug-3-8-24-inverted}
  d: {part: union-3-16-inverted, at: [150, 600, 0]}
  stop_d: {part: plug-3-8-24-inverted}
joints: [[stop_a.end, a.a], [stop_b.end, b.b], [stop_c.end, c.a], [stop_d.end, d.b]]
lines:
  one: {from: a.b, to: b.a, tube: tube-3-16-cuni, route: [[0, 0, -100], [400, 0, -100]]}
  two: {from: c.b, to: d.a, tube: tube-3-16-cuni, route: [[150, -600, -97], [150, 600, -97]]}
"""


def test_a_leg_moves_as_little_as_is_enough(tmp_path: Path) -> None:
    """27.6 mm from the pipe, 76 wanted: 48.4 mm are lacking, and 50 is the least step that has them."""
    text = placed(LOOP, PIPE, end=END)
    acts = proposed(text, "near-heat", tmp_path)
    assert acts == ["lead run 50 mm further left", "lead run 60 mm further left"]
    # two legs of 50 mm less, at 10 GBP a metre
    assert cost(text, "near-heat", tmp_path) == "1.00 GBP less than before"
    done = healed(text, "near-heat", tmp_path)
    assert "route: [[0, -250, 0], [400, -250, 0]]" in done.text
    assert done.applied[0].proven.remedy.notes == ("whether the car has room for run 50 mm further left",)


def test_a_stated_length_goes_with_the_move(tmp_path: Path) -> None:
    """The length that the file states becomes that of the new route, so that the two agree."""
    done = healed(placed(f"{LOOP}, length: 988 mm", PIPE, end=END), "near-heat", tmp_path)
    route = Context(done.after.graph).runs["run"].route
    assert route is not None
    assert done.after.file.lines["run"].length == pytest.approx(developed_length(route), abs=0.5)


def test_corners_that_are_none_go_along(tmp_path: Path) -> None:
    """A point on the straight between two corners moves with them: no bend comes in."""
    done = healed(placed(LOOP.replace("], [", "], {at: [200, -300, 0]}, ["), PIPE, end=END), "near-heat", tmp_path)
    assert "route: [[0, -250, 0], {at: [200, -250, 0]}, [400, -250, 0]]" in done.text


def test_points_in_inches(tmp_path: Path) -> None:
    """The move is made in mm and written in the file's own unit."""
    text = placed(
        "route: [[0, -12, 0], [16, -12, 0]]", PIPE.replace("-350", "-14"), "[16, 0, 0]", head="coordinates: in\n"
    )
    route = (
        healed(text.replace("[-500", "[-20").replace("[900", "[36"), "near-heat", tmp_path)
        .after.file.lines["run"]
        .route
    )
    # 2 in are 50.8 mm to the middle, less 20 and 2.38: 28.4 mm, so that 50 mm are wanted: 1.969 in
    assert [entry[1] for entry in route or () if isinstance(entry, tuple)] == [-10.031, -10.031]


def test_the_tube_leaves_its_fittings_as_it_did(tmp_path: Path) -> None:
    """A line of one corner cannot move without leaving a fitting askew: it is left as it is."""
    heat = "heat: {pipe: {path: [[-500, -80, 0], [900, -80, 0]], radius: 20 mm}}\n"
    assert proposed(placed("route: [[400, 0, 0]]", heat), "near-heat", tmp_path) == []


def test_a_hole_in_a_panel_does_not_move(tmp_path: Path) -> None:
    """A leg with a panel hole in it stays, for the hole is there."""
    panel = "panels: {wall: {hole: 12 mm, thickness: 1 mm, grommet: grommet-3-16}}\n"
    line = "route: [[0, -300, 0], {at: [200, -300, 0], through: wall}, [400, -300, 0]]"
    assert proposed(placed(line, PIPE + panel, end=END), "near-heat", tmp_path) == []


def test_no_move_into_something_else(tmp_path: Path) -> None:
    """With a second pipe on the other side there is no room between the two, and the line rises or sinks."""
    both = "heat:\n  pipe: {path: [[-500, -350, 0], [900, -350, 0]], radius: 20 mm}\n"
    both += "  stack: {path: [[-500, -180, 0], [900, -180, 0]], radius: 20 mm}\n"
    acts = proposed(placed(LOOP, both, end=END), "near-heat", tmp_path)
    assert acts == []


def test_of_two_lines_either_may_move(tmp_path: Path) -> None:
    """Two lines that touch are led apart by 5 mm, and both ways of it are proposed."""
    acts = proposed(TWO, "lines-touching", tmp_path, most=4)
    assert acts == [
        "lead one 5 mm lower",
        "lead one 10 mm higher",
        "lead two 5 mm higher",
        "lead two 10 mm higher",
    ]
    healed(TWO, "lines-touching", tmp_path)


def test_a_move_that_makes_an_air_trap_is_none(tmp_path: Path) -> None:
    """What rises above both its ends after the move is refused by the re-check."""
    text = TWO.replace("-100]", "0]").replace(
        "one: {from: a.b, to: b.a, tube: tube-3-16-cuni, route: [[0, 0, 0], [400, 0, 0]]",
        "one: {from: a.b, to: b.a, tube: tube-3-16-cuni, route: [[0, -50, 0], [400, -50, 0]]",
    )
    text = (
        text.replace("-97]", "3]")
        .replace("at: [150, -600, 0]", "at: [150, -600, 90]")
        .replace("at: [150, 600, 0]", "at: [150, 600, 90]")
    )
    acts = proposed(text, "lines-touching", tmp_path, most=4)
    assert acts
    assert not any(act.startswith("lead one") and act.endswith("higher") for act in acts)
    assert faults(context_of(text, tmp_path)) == ["lines-touching"]


def test_the_search_is_bounded(tmp_path: Path) -> None:
    """A search that finds nothing looks at no more than three groups of points, ten directions and all steps."""
    from fitcheck.remedies.bench import Bench
    from fitcheck.remedies.cures import cures, shifts

    wide = "heat: {pipe: {path: [[-500, -350, 0], [900, -350, 0]], radius: 400 mm, clearance: 300 mm}}\n"
    context = context_of(placed(LOOP, wide, end=END), tmp_path)
    report = check_context(context)
    (finding,) = [each for each in report.findings if each.rule == "near-heat"]
    bench = Bench(context, report)
    asked = 0
    clear_of = bench.room.clear_of

    def counted(*args: str) -> bool:
        nonlocal asked
        asked += 1
        return clear_of(*args)  # type: ignore[arg-type]

    bench.room.clear_of = counted  # type: ignore[method-assign,assignment]
    assert list(cures(bench, finding)) == []
    assert 0 < asked <= 3 * 10 * len(shifts.STEPS_MM)


def test_in_a_tangle_most_lines_are_left_where_they_are(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of too many lines that touch something only the first are led another way; of the rest it is said."""
    context = context_of(TWO, tmp_path)
    report = check_context(context)
    (touching,) = [finding for finding in report.findings if finding.rule == "lines-touching"]
    for most, moves in ((1, 40), (5, 40), (1, 0), (5, 0)):
        monkeypatch.setattr("fitcheck.remedies.bench.MOST_MOVES", moves)
        told = with_remedies(context, report, most)
        remedies = next(finding.remedies for finding in told.findings if finding.message == touching.message)
        assert bool(remedies) == bool(moves)
        assert told.unproven == sum(not each.remedies for each in told.findings if each.level != "note") * (not moves)
