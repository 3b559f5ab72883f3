"""`fitcheck make`: whole text, JSON, CSV, exit codes, requests that cannot be answered."""

import json
from pathlib import Path

import pytest

from fitcheck.cli.main import main
from tests.reports.samples import CAUTION_LINES

BUILD = """\
build: 1
name: Wren
coordinates: {unit}
components:
  a: {{part: union-3-16-inverted, at: {start}}}
  b: {{part: union-3-16-inverted, at: {end}}}
  c: {{part: union-3-16-inverted}}
tools:
  trim: 3 mm
  flaring: {{grip: 25 mm}}
  benders:
    lever: {{radius: 15 mm, clamp: 20 mm, offset: 2 mm, springback: {{copper-nickel: 2 deg}}}}
lines:
  rise: {{from: a.b, to: b.a, tube: tube-3-16-cuni, route: {route}}}
  stub:
    from: b.b
    to: c.a
    tube: tube-3-16-cuni
    route: [{{leg: 20 mm, angle: 90 deg}}, {{leg: 100 mm}}]
"""
ROUTE = "[[150, 0, 0], [150, 200, 0], [150, 200, -90]]"
RISE = """\
Wren: bench sheets, 1 line
End A is the end that all marks are measured from. Clockwise is as seen along
the tube from end A towards end B.

RISE: tube-3-16-cuni, 4.76 mm
  end A is `from` into a.b: double-45, nut-3-8-24-inverted
  end B is `to` into b.a: double-45, nut-3-8-24-inverted
   1. Cut 557.5 mm of tube-3-16-cuni (finished 545.5 mm, used up by the flares 3
      mm + 3 mm, trimmed off each end 3 mm).
   2. Make end A square, taking off 3 mm. Deburr it inside and outside, blow it
      out.
   3. Slide on from end A: nut-3-8-24-inverted, thread towards end A.
   4. Form end A: double-45 in two strokes, button then cone (stick out by the
      height of the button's shoulder).
   5. Mark, all from the face of end A: 133 mm (bend 1), 326.5 mm (bend 2), 410
      mm (bend 3).
   6. Bend 1: 90 deg in lever, end A in the clamp, mark 133 mm on the tool's
      line for the start; pull to 92 deg, it springs back. Check the angle.
   7. Turn the tube 90 deg clockwise in the tool, so that bend 2 goes 90 deg
      anticlockwise from bend 1.
   8. Bend 2: 90 deg in lever, end A in the clamp, mark 326.5 mm on the tool's
      line for the start; pull to 92 deg, it springs back. Check the angle.
   9. Turn the tube 127 deg clockwise in the tool, so that bend 3 goes 127 deg
      anticlockwise from bend 2.
  10. Bend 3: 90 deg in lever, end A in the clamp, mark 410 mm on the tool's
      line for the start; pull to 92 deg, it springs back. Check the angle.
  11. Cut end B square 113 mm from the end of bend 3. Deburr it inside and
      outside, blow it out.
  12. Slide on from end B: nut-3-8-24-inverted, thread towards end B.
  13. Form end B: double-45 in two strokes, button then cone (stick out by the
      height of the button's shoulder). Nothing more goes on after this.
  14. Check: 382.5 mm straight across from face to face. Rinse the tube through
      and blow it out.
  Clips: 2, at 125 mm and 402 mm from end A (one for each 300 mm: common
    practice, no source).
"""
HOLES = """\

HOLES (2)
  Centre-punch each hole, clamp the work, drill in the order given, deburr both
  sides, paint bare edges.
  Steps are common practice, no source: from 5 mm on a pilot hole a little wider
  than the web of the next drill; for more than 10 mm in sheet, up to 3 mm thick
  or of unknown thickness, a step drill or hole saw at the speed of the finished
  diameter.

  1. clip: 4.2 mm, tapped M5x0.8, 2 holes
     where: rise x 2
     why: to be tapped M5x0.8; source: thread: common practice, no source; tap
       drill: tap and drill charts (three that agree)
     in: metal not known
     - drill 4.2 mm: speed not known
     - countersink lightly, tap M5x0.8; deburr both sides
     look at: consumables.clips.fixed is not given. Taken to be screwed into
       holes tapped M5 (common practice, no source).
     not known: consumables.clips.fixed.material
"""
STUB = """\
STUB: tube-3-16-cuni, 4.76 mm
  end A is `from` into b.b: double-45, nut-3-8-24-inverted
  end B is `to` into c.a: double-45, nut-3-8-24-inverted
  cannot be made:
  - the straight at stub.from is 5 mm, its nut is at least 9.5 mm long: the bend
    would be inside the nut

CANNOT BE MADE (1): stub
"""


@pytest.fixture
def build(tmp_path: Path) -> str:
    """Return a build of two lines, one of which cannot be made."""
    text = BUILD.format(unit="mm", start="[0, 0, 0]", end="[250, 275, -90]", route=ROUTE)
    (tmp_path / "build.yaml").write_text(text)
    return str(tmp_path)


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return exit code, standard output and standard error of one command line."""
    code = main(("make", *words))
    out = capsys.readouterr()
    return code, out.out, out.err


def test_the_sheet_of_one_line(build: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A line that can be made is told step by step, and the exit code is 0."""
    assert run(capsys, build, "rise") == (0, f"{RISE}{HOLES}{CAUTION_LINES}\n", "")


def test_all_lines_and_one_that_cannot_be_made(build: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A line that cannot be made says why, has no steps, and makes the exit code 1."""
    code, out, _ = run(capsys, build)
    assert code == 1
    assert out == f"{RISE.replace('1 line', '2 lines')}\n{STUB}{HOLES}{CAUTION_LINES}\n"


def test_json_has_exact_figures(build: str, capsys: pytest.CaptureFixture[str]) -> None:
    """JSON keeps what text rounds: cut length, ends, straights, and each bend's mark, angle, rotation and radius."""
    code, out, _ = run(capsys, build, "--format", "json")
    answer = json.loads(out)
    rise, stub = answer["lines"]
    assert (code, answer["build"], answer["unit"]) == (1, "Wren", "mm")
    assert rise["cut_length_mm"] == pytest.approx(rise["run_mm"] + 12.0, abs=2e-4)
    assert [end["end"] for end in rise["ends"]] == ["from", "to"]
    assert rise["straights_mm"] == pytest.approx([135.0, 170.0, 60.0, 110.0])
    assert [list(bend)[:4] for bend in rise["bends"]] == [["mark_mm", "angle_deg", "rotation_deg", "radius_mm"]] * 3
    assert [bend["mark_mm"] for bend in rise["bends"]] == [133.0, 326.5619, 410.1239]
    assert [bend["mark_on_tape_mm"] for bend in rise["bends"]] == [133.0, 326.5, 410.0]
    assert [bend["rotation_deg"] for bend in rise["bends"]] == [None, -90.0, -126.8699]
    assert [step["act"] for step in rise["steps"]][:4] == ["cut", "square", "slide", "flare"]
    assert (stub["can_be_made"], stub["cut_length_mm"], stub["steps"]) == (False, None, [])
    assert [fault["word"] for fault in stub["faults"]] == ["nut-in-bend"]
    assert answer["caution"].startswith("Brakes hurt people")


def test_csv_has_a_bend_in_each_row(build: str, capsys: pytest.CaptureFixture[str]) -> None:
    """CSV is one row for each bend; the line that cannot be made has one that says why, and no figure."""
    _, out, _ = run(capsys, build, "--format", "csv")
    assert out.replace("\r\n", "\n") == (
        "line,tube,end_a,cut_length_mm,bend,straight_before_mm,mark_mm,angle_deg,pull_deg,rotation_deg,radius_mm,"
        "start_mm,corner_mm,middle_mm,straight_after_mm,bender,by_hand,cannot_be_made\n"
        "rise,tube-3-16-cuni,from,557.6858,1,135,133,90,92,,15,135,150,146.781,,lever,,\n"
        "rise,tube-3-16-cuni,from,557.6858,2,170,326.5619,90,92,-90,15,328.5619,343.5619,340.3429,,lever,,\n"
        "rise,tube-3-16-cuni,from,557.6858,3,60,410.1239,90,92,-126.8699,15,412.1239,427.1239,423.9049,110,lever,,\n"
        'stub,tube-3-16-cuni,,,,,,,,,,,,,,,,"the straight at stub.from is 5 mm, its nut is at least 9.5 mm long: the'
        ' bend would be inside the nut"\n'
    )


def test_inches(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A build measured in inches is told in inches to 1/32, with the given sizes as they are."""
    text = BUILD.format(unit="in", start="[0, 0, 0]", end="[12, 6, 0]", route="[[6, 0, 0], [6, 6, 0]]")
    (tmp_path / "build.yaml").write_text(text)
    code, out, _ = run(capsys, str(tmp_path), "rise")
    assert code == 0
    assert "\nRISE: tube-3-16-cuni, 3/16 in\n" in out
    assert "   5. Mark, all from the face of end A: 5 11/32 in (bend 1), 11 1/16 in (bend\n      2).\n" in out


def test_a_line_that_is_none(build: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A slip in a line's name is answered with the one that was probably meant."""
    assert run(capsys, build, "rice") == (2, "", "fitcheck: no line or hose is called 'rice'; nearest is 'rise'\n")


def test_a_bender_that_cannot_be(build: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A test bend that no tube could have is an error of the file at its place, and no sheet is printed."""
    path = Path(build) / "build.yaml"
    test = "test_bend: {cut: 300 mm, legs: [140 mm, 150 mm], od: 4.75 mm}"
    path.write_text(path.read_text().replace("radius: 15 mm", test))
    message = "these legs come to a radius of -34.4 mm: measure cut, legs and od again"
    told = f"{path}:12:24: {message}\n1 problem; nothing was checked and no file was changed\n"
    assert run(capsys, build) == (2, "", told)


def test_lines_may_be_named_after_options(capsys: pytest.CaptureFixture[str]) -> None:
    """The build before the options and lines behind them mean the same as all of them in a row."""
    demo = str(Path(__file__).parents[2] / "demo_vehicle")
    assert main(["make", demo, "clutch_run", "--variant", "as_corrected"]) == 0
    in_a_row = capsys.readouterr().out
    assert main(["make", demo, "--variant", "as_corrected", "clutch_run"]) == 0
    assert capsys.readouterr().out == in_a_row
