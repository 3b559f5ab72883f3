"""Published layouts and facts of the trade, asked of the command line: files in, `make`, `check` and `cut` out.

What is marked so is common practice, no source: the notes of somebody who plumbs cars, taken as check values.
"""

import json
from pathlib import Path

import pytest

from fitcheck.cli.main import main
from tests.checks.place.bench import CUNI, car, said

DEMO = Path(__file__).parents[2] / "demo_vehicle"
ENDS = "  a: {{part: {part}, at: {start}}}\n  b: {{part: {part}, at: {end}}}\n"
TWO_STROKES = "double-45 in two strokes, button then cone (stick out by the height of the button's shoulder)"
BROCHURE = """\
build: 1
name: layout
coordinates: in
components: {a: {part: union-1-4-inverted}, b: {part: union-1-4-inverted}}
tools:
  flaring: {grip: 3/8 in}
  benders: {lever: {radius: 9/16 in, clamp: 3/8 in, marks: corner, offset: 0 in}}
lines:
  run:
    from: a.b
    to: b.a
    tube: tube-1-4-cuni
    route:
      - {leg: 4 in, angle: 90 deg}
      - {leg: 2 in, angle: 30 deg, rotation: 0 deg}
      - {leg: 4 in, angle: 30 deg, rotation: 0 deg}
      - {leg: 2 in, angle: 90 deg, rotation: 0 deg}
      - {leg: 2 in}
"""
G1 = [[0, 0, 0], [120, 0, 0], [120, 80, 0], [200, 80, 60], [200, 160, 60], [330, 160, -20]]


@pytest.fixture
def asked(tmp_path, capsys):
    """Return a function that puts a build into a file and asks the command line about it."""

    def ask(text, verb, *options, code=0):
        (tmp_path / "build.yaml").write_text(text)
        assert main((verb, str(tmp_path), *options)) == code
        return capsys.readouterr().out

    return ask


def through(points, radius, marks="start"):
    """Return a build with one line through points, and a bender of that radius."""
    first, *corners, last = points
    ends = ENDS.format(part="union-3-16-inverted", start=first, end=last)
    lever = f"{{radius: {radius} mm, clamp: 10 mm, marks: {marks}}}"
    return (
        f"build: 1\nname: points\ncomponents:\n{ends}"
        f"tools: {{flaring: {{grip: 20 mm}}, benders: {{lever: {lever}}}}}\n"
        f"lines:\n  run: {{from: a.b, to: b.a, tube: tube-3-16-cuni, route: {corners}}}\n"
    )


def the_line(answer):
    """Return the one line of a JSON answer."""
    (line,) = json.loads(answer)["lines"]
    return line


def test_a1_brochure_by_command_line(asked):
    """Marks 4, 5-3/4, 9-3/4, 11-3/4 and 13-1/2 in, as a tube fitting installation brochure prints them (A1)."""
    text = " ".join(asked(BROCHURE, "make").split())
    marks = "4 in (bend 1), 5 3/4 in (bend 2), 9 3/4 in (bend 3), 11 3/4 in (bend 4)"
    assert f"Mark, all from the face of end A: {marks}." in text
    assert "(finished 13 1/2 in, used up by the flares 1/8 in + 1/8 in)" in text


@pytest.mark.parametrize(
    ("marks", "published"),
    [
        ("start", [105.700, 179.562, 273.425, 347.287]),
        ("corner", [120.000, 193.862, 287.725, 361.587]),
        ("middle", [116.931, 190.794, 284.656, 358.518]),
    ],
)
def test_g1_by_command_line(marks, published, asked):
    """Route G1, R 14.3 mm, marked by each of the three methods; length, angles, rotations (CAD kernel)."""
    line = the_line(asked(through(G1, 14.3, marks), "make", "--format", "json"))
    assert [bend["mark_mm"] for bend in line["bends"]] == pytest.approx(published, abs=6e-4)
    assert [bend["rotation_deg"] for bend in line["bends"]] == [None, 143.1301, 180.0, -111.5226]
    assert line["straights_mm"] == pytest.approx([105.7, 51.4, 71.4, 51.4, 138.3434], abs=1e-4)
    assert line["run_mm"] == 508.0929


@pytest.mark.parametrize(
    ("points", "published"),
    [
        ([[0, 0, 0], [100, 0, 0], [100, 100, 0]], 193.561945),  # G3
        ([[0, 0, 0], [100, 0, 0], [100, 30, 0], [0, 30, 0]], 217.123890),  # G4
    ],
)
def test_g3_and_g4_by_command_line(points, published, asked):
    """An elbow of 100 mm legs and a U whose bends touch, R 15 mm (CAD kernel)."""
    line = the_line(asked(through(points, 15), "make", "--format", "json"))
    assert line["run_mm"] == pytest.approx(published, abs=5e-5)


def test_nut_goes_on_before_the_flare(asked, capsys):
    """Common practice, no source: on every sheet of the demo the nut of an end is on before that end is formed."""
    assert main(("make", str(DEMO), "--format", "json")) in (0, 1)
    lines = [line for line in json.loads(capsys.readouterr().out)["lines"] if line["can_be_made"]]
    assert len(lines) >= 8
    for line in lines:
        for end in ("A", "B"):
            acts = [(step["act"], step["end"]) for step in line["steps"]]
            on = next(step for step in line["steps"] if step["act"] == "slide" and step["end"] == end)
            assert any(part.startswith("nut") for part in on["parts"]), line["line"]
            assert acts.index(("slide", end)) < acts.index(("flare", end)), line["line"]


def test_inverted_flare_is_made_in_two_strokes(asked):
    """Common practice, no source: first with the button, then with the cone; a bubble is the first stroke only."""
    told = asked(through(G1, 14.3), "make", "--format", "json")
    flares = [step["text"] for step in the_line(told)["steps"] if step["act"] == "flare"]
    assert flares == [
        f"Form end A: {TWO_STROKES}.",
        f"Form end B: {TWO_STROKES}. Nothing more goes on after this.",
    ]
    bubble = through(G1, 14.3).replace("union-3-16-inverted", "union-m10x1-bubble")
    flares = [step["text"] for step in the_line(asked(bubble, "make", "--format", "json"))["steps"]]
    assert "Form end A: bubble (tube flush with the top of the bar)." in flares


def test_bend_hard_against_the_nut(asked):
    """Common practice, no source: no bender holds it; it is pulled round a clamped die, and marked at its start."""
    points = [[0, 0, 0], [36, 0, 0], [36, 200, 0], [236, 200, 0]]
    line = the_line(asked(through(points, 14.3, "corner"), "make", "--format", "json"))
    told = [step["text"] for step in line["steps"] if step["act"] == "bend"]
    assert told[0] == (
        "Bend 1: 90 deg, turned by hand round a clamped die of radius 14.3 mm, starting at 21.5 mm: there are 2.5 mm of"
        " straight to hold, the tool needs 10 mm. Check the angle."
    )
    assert [bend["hand"] for bend in line["bends"]] == [True, False]
    assert "in lever, end A in the clamp" in told[1]


def test_long_rear_line(asked):
    """Common practice, no source: it starts as about 1.8 m of straightened coil, flared at one end, bent on the car."""
    text = (
        "build: 1\nname: rear\ncomponents: {tee: {part: tee-3-16-inverted}, rear: {part: tee-3-16-inverted}}\n"
        "lines:\n  rear_run: {from: tee.left, to: rear.top, tube: tube-3-16-cuni, length: 1.8 m}\n"
    )
    line = the_line(asked(text, "make", "--format", "json"))
    assert line["cut_length_mm"] == 1806.0
    assert [step["act"] for step in line["steps"]] == [
        "cut", "square", "slide", "flare", "fit", "trim", "slide", "flare", "check",
    ]  # fmt: skip
    assert line["steps"][4]["text"] == "Bend the tube to fit on the car with end A in tee.left: no bends are given."
    assert "rear_run 1806 mm" in " ".join(asked(text, "cut", "--stock", "25ft").split())


@pytest.mark.parametrize(("hole", "findings"), [("14 mm", 0), ("13.5 mm", 1), ("16 mm", 1)])
def test_hole_of_an_inverted_flare_union_body(hole, findings):
    """Common practice, no source: a 3/8-24 inverted-flare bulkhead union goes through a hole of 14 mm."""
    text = car(
        f"{CUNI}, route: [[400, 0, 0]]", f"panels: {{wall: {{hole: {hole}, thickness: 2 mm, at: [400, 310, 0]}}}}\n"
    )
    text = text.replace("far: {part: union-3-16-inverted", "far: {part: bulkhead-union-3-16-inverted")
    text = text.replace("far.b", "far.outside").replace("far.a", "far.inside")
    assert len(said(text, "panel-misfit")) == findings


@pytest.mark.parametrize(
    ("leaves_at", "message"),
    [(300, None), (420, "run comes within 52.6 mm of exhaust: it needs 76 mm, by the usual figure")],
)
def test_lines_leave_a_bulkhead_clear_of_the_exhaust(leaves_at, message):
    """Common practice, no source: a line that comes out of the bulkhead beside the exhaust is told, further off not."""
    route = f"{CUNI}, route: [{{at: [{leaves_at}, 0, 100], through: wall}}, [{leaves_at}, 0, 0]]"
    wall = "panels: {wall: {hole: 12 mm, thickness: 1.5 mm, grommet: grommet-3-16}}\n"
    heat = "heat: {exhaust: {path: [[500, -300, 60], [500, 300, 60]], radius: 25 mm}}\n"
    text = car(route, wall + heat, start="[0, 0, 100]")
    expected = [("warning", message, ("run", "exhaust"))] if message is not None else []
    assert said(text, "near-heat") == expected
