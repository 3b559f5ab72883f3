"""Lines whose route is told in words, for all that reads routes: places, lengths, edits, variants."""

from math import dist, pi
from pathlib import Path

import pytest

from fitcheck.bom.take_off import take_off
from fitcheck.build.load import load_document
from fitcheck.build.model import RouteWords
from fitcheck.build.positions import corner_points, end_position, route_points
from fitcheck.build.runs import run_of
from fitcheck.checks.run import check
from fitcheck.cli.main import main
from fitcheck.reports.schemas import schema
from fitcheck.sources import InputError, parse
from tests.making.benches import LEVER, one_line

WORDS = '"run forward 150 mm, left 180, run 120 mm, up 90, run 80 mm"'
CORNERS = [(150.0, 0.0, 0.0), (150.0, 30.0, 0.0), (30.0, 30.0, 0.0)]


def test_corners_in_the_car() -> None:
    """Corners are those of the words from the place of `from`; without that, so that the last is at `to`."""
    near = one_line(WORDS, start="[0, 0, 0]", end="null")
    assert max(map(dist, corner_points(near, "run") or [], CORNERS)) < 1e-9
    assert (route_points(near, "run") or [])[0] == end_position(near, "run.from")
    far = one_line(WORDS, start="null", end="[30, 30, 80]")
    assert max(map(dist, corner_points(far, "run") or [], CORNERS)) < 1e-9
    assert max(map(dist, run_of(near, "run").points or (), run_of(far, "run").points or ())) < 1e-9
    assert (run_of(near, "run").misses_mm, run_of(far, "run").misses_mm) == (None, None)
    for graph in (
        one_line(WORDS, start="null", end="null"),
        one_line(WORDS.replace("forward ", "").replace("up", "left")),
    ):
        assert corner_points(graph, "run") is None
        assert (run_of(graph, "run").points, run_of(graph, "run").curve) == (None, ())


def test_the_miss_is_measured_at_the_far_end() -> None:
    """With both ends known the distance from where the words end to `to` is told."""
    run = run_of(one_line(WORDS, end="[30, 40, 80]"), "run")
    assert run.misses_mm == pytest.approx(10.0)
    assert [dist(*leg) for leg in run.legs] == pytest.approx([150.0, 120.0, 80.0])


def test_a_bender_that_cannot_be() -> None:
    """Where the radius of a U is not to be had the build is refused at the test bend."""
    bad = "tools: {benders: {lever: {test_bend: {cut: 200 mm, legs: [20 mm, 20 mm], od: 5 mm}}}}"
    with pytest.raises(InputError, match="measure cut, legs and od again"):
        one_line(WORDS, tools=bad)


def test_length_on_the_bill() -> None:
    """The bill has the developed length of the words, half a circle for the U, and both flares."""
    graph = one_line(WORDS)
    (piece,) = [piece for row in take_off(graph).rows for piece in row.pieces]
    assert piece.length.run_mm == pytest.approx(150 + 120 + 80 - 30 + 15 * pi - 30 + 7.5 * pi)
    assert piece.length.mm == pytest.approx(run_length(graph) + 6.0)


def run_length(graph) -> float:
    """Return the length of the line's straights and arcs."""
    run = run_of(graph, "run")
    return sum(run.straights_mm) + sum(bend.radius_mm * bend.angle_deg * pi / 180 for bend in run.route.bends)


def test_an_air_trap_is_seen_in_words() -> None:
    """A hump told in words is found like one drawn with points."""
    hump = '"run up 100 mm, forward 90, run 200 mm, down 90, run 100 mm"'
    findings = check(one_line(hump, end="[200, 0, 0]").build).findings
    assert [finding.message for finding in findings if finding.rule == "air-trap"] == [
        "run rises 100 mm above every way out for air; 3.39 cm3 of it stay"
    ]


def test_edits_leave_the_text_alone(tmp_path: Path) -> None:
    """A part swapped in place keeps a route in words as it is written, over two lines and with its comment."""
    text = f"""\
build: 1
components:
  a: {{part: union-3-16-inverted, at: [0, 0, 0]}}
  b: {{part: union-3-16-inverted, at: [150, 71, 150]}}
{LEVER}
lines:
  run:
    from: a.b
    to: b.a
    tube: tube-3-16-cuni
    route: run forward 220 mm, up 90,
      run 80 mm, left 45, run 100 mm   # with a tape
"""
    path = tmp_path / "build.yaml"
    path.write_text(text, encoding="utf-8")
    main(["swap", str(path), "run=tube-3-16-steel", "--write"])
    assert path.read_text(encoding="utf-8") == text.replace("cuni", "steel")


def test_a_variant_tells_another_way() -> None:
    """A variant may state another route in words; a slip in it is told where the variant states it."""
    base = "build: 1\nlines:\n  run: {from: a.b, to: b.a, tube: t, route: 'run 9 mm'}\nvariants:\n  other:\n    set:\n"
    good = f"{base}      lines.run.route: run up 90 mm, left 90, run 50 mm\n"
    route = load_document(parse(good, "build.yaml"), Path(), "other").file.lines["run"].route
    assert isinstance(route, RouteWords)
    assert route.text == "run up 90 mm, left 90, run 50 mm"
    with pytest.raises(ValueError, match="'lft' begins no step") as caught:
        load_document(parse(good.replace("left", "lft"), "build.yaml"), Path(), "other")
    assert str(caught.value).startswith("build.yaml:7:38: ")


def test_schema_takes_text_or_a_list() -> None:
    """An editor is told both forms, with an example that is read."""
    forms = schema("build")["$defs"]["Line"]["properties"]["route"]["anyOf"][0]["oneOf"]
    kinds = {form["type"]: form for form in forms}
    assert set(kinds) == {"array", "string"}
    assert len(RouteWords.read(kinds["string"]["examples"][0])) == 3
