"""`fitcheck make` and its holes: after the sheets, alone with `--holes`, of some lines only, exit codes."""

import json
from pathlib import Path

import pytest

from fitcheck.cli.main import main

DEMO = str(Path(__file__).parents[2] / "demo_vehicle")
WORDS = ("make", DEMO, "--variant", "as_corrected")


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return exit code, standard output and standard error of one command line."""
    code = main(words)
    out = capsys.readouterr()
    return code, out.out, out.err


def test_sheets_end_with_the_holes(capsys: pytest.CaptureFixture[str]) -> None:
    """The holes come after the sheets, before the caution, and are the same as those asked for alone."""
    _, sheets, _ = run(capsys, *WORDS, "clutch_run")
    code, alone, _ = run(capsys, *WORDS, "clutch_run", "--holes")
    assert code == 0
    assert sheets.endswith(alone[alone.index("HOLES (") :])
    assert "  1. panel hole: 12 mm, 1 hole\n     where: footwell_hole (clutch_run)" in alone


def test_of_some_lines_only(capsys: pytest.CaptureFixture[str]) -> None:
    """A line that passes no panel has no panel in its schedule."""
    _, out, _ = run(capsys, *WORDS, "axle_left", "--holes")
    assert "panel hole" not in out
    assert "clip: 4.2 mm, tapped M5x0.8" in out


def test_brackets_of_a_line_and_of_a_hose(capsys: pytest.CaptureFixture[str]) -> None:
    """The bracket that a line or a hose goes into is in its schedule; of a hose there are no clips."""
    for tag in ("front_left", "hose_fl"):
        _, out, _ = run(capsys, *WORDS, tag, "--holes", "--format", "json")
        jobs = json.loads(out)["holes"]["jobs"]
        assert [(job["what"], [place["name"] for place in job["places"]]) for job in jobs][:2] == [
            ("bracket", ["bracket_fl"]),
            ("bracket screw", ["bracket_fl"]),
        ]
        assert ("clip" in {job["what"] for job in jobs}) == (tag == "front_left")


def test_json_of_the_sheets_has_the_holes(capsys: pytest.CaptureFixture[str]) -> None:
    """JSON has the same holes at its top level with and without the sheets."""
    _, sheets, _ = run(capsys, *WORDS, "--format", "json")
    _, alone, _ = run(capsys, *WORDS, "--format", "json", "--holes")
    assert json.loads(sheets)["holes"] == json.loads(alone)["holes"]
    assert "lines" not in json.loads(alone)


def test_bend_data_stays_bend_data(capsys: pytest.CaptureFixture[str]) -> None:
    """CSV without `--holes` has bends alone, with it holes alone: one table each."""
    _, bends, _ = run(capsys, *WORDS, "--format", "csv")
    _, holes, _ = run(capsys, *WORDS, "--format", "csv", "--holes")
    assert bends.startswith("line,tube,end_a,")
    assert "panel," not in bends
    assert holes.startswith("hole,where,count,diameter_mm,")


def test_pages_end_with_the_holes(capsys: pytest.CaptureFixture[str]) -> None:
    """The print has a page of the holes after all others, on the paper asked for."""
    _, sheets, _ = run(capsys, *WORDS, "--format", "html", "--paper", "letter")
    _, alone, _ = run(capsys, *WORDS, "--format", "html", "--paper", "letter", "--holes")
    page = alone[alone.index('<section class="line">') :]
    assert sheets.endswith(page)
    assert alone.count("<section") == 1


@pytest.mark.parametrize("form", ["svg", "dxf"])
def test_holes_are_not_drawn(form: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A drawing of the holes alone is refused with the forms that there are."""
    message = "fitcheck: --holes goes with --format text, json, csv or html\n"
    assert run(capsys, *WORDS, "--holes", "--format", form) == (2, "", message)


def test_to_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--output` writes the schedule to a file."""
    place = tmp_path / "holes.csv"
    assert run(capsys, *WORDS, "--holes", "--format", "csv", "--output", str(place)) == (0, "", f"{place} written\n")
    assert place.read_bytes().startswith(b"hole,where,")


@pytest.mark.parametrize(
    ("wall", "code"),
    [("hole: 12 mm, grommet: grommet-3-16", 0), ("hole: 18 mm, grommet: grommet-3-16", 1), ("note: later", 1)],
)
def test_exit_code(wall: str, code: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The schedule alone ends with 1 if a hole is wrong or nobody knows its diameter."""
    (tmp_path / "build.yaml").write_text(f"build: 1\npanels: {{wall: {{{wall}}}}}\n")
    assert run(capsys, "make", str(tmp_path), "--holes")[0] == code
