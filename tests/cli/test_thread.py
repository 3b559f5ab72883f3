"""`fitcheck thread` with its options as a user meets it."""

import json
from xml.etree import ElementTree

import pytest

from tests.cli.test_main import run


def test_reverse_ends_with_1_if_either_way_does_not_mate(capsys: pytest.CaptureFixture[str]) -> None:
    """UN in UNJ mates, the reverse may bind: 0 for both. 3/8-24 and M10x1 mate neither way: 1."""
    assert run(capsys, "thread", "3/8-24", "3/8-24 UNJF", "--reverse")[0] == 0
    code, out, _ = run(capsys, "thread", "3/8-24", "M10x1", "--reverse")
    assert code == 1
    assert "\nM10x1 into 3/8-24 UNF: will not start\n" in out


def test_engagement_is_taken_with_its_unit(capsys: pytest.CaptureFixture[str]) -> None:
    """3/8-24 goes home in M10x1.25 over one turn, and binds over more."""
    _, short, _ = run(capsys, "thread", "3/8-24", "M10x1.25", "--engagement", "1.5mm", "--format", "json")
    _, usual, _ = run(capsys, "thread", "3/8-24", "M10x1.25", "--format", "json")
    assert json.loads(short)["fit"]["verdict"] == "runs-in-loose"
    assert json.loads(usual)["fit"]["verdict"] == "starts-then-binds"
    assert (json.loads(short)["fit"]["engagement_mm"], json.loads(usual)["fit"]["engagement_mm"]) == (1.5, 6.0)


def test_explain_gives_the_formula_of_each_figure(capsys: pytest.CaptureFixture[str]) -> None:
    """`--explain` adds formulas to the text and to the JSON."""
    assert "      overlap_mm: derived: (d - D1) / 2\n" in run(capsys, "thread", "3/8-24", "M10x1", "--explain")[1]
    _, out, _ = run(capsys, "thread", "3/8-24", "M10x1", "--explain", "--format", "json")
    assert json.loads(out)["figure_sources"]["overlap_mm"] == "derived: (d - D1) / 2"


def test_table_is_text_or_json(capsys: pytest.CaptureFixture[str]) -> None:
    """`--table` prints the look-alikes of the trade, at the engagement asked for."""
    code, out, _ = run(capsys, "thread", "--table")
    assert code == 0
    assert "\n3/8-24 UNF: flares for 3/16 in tube, banjo bolt, pushrod\n  GOES HOME, DOES NOT HOLD: M10x1 (" in out
    _, out, _ = run(capsys, "thread", "--table", "--engagement", "8mm", "--format", "json")
    assert json.loads(out)["engagement_mm"] == 8.0


def test_drawing_is_xml(capsys: pytest.CaptureFixture[str]) -> None:
    """`--format svg` prints one well-formed drawing; the exit code is that of the pair."""
    code, out, _ = run(capsys, "thread", "3/8-24", "M10x1", "--format", "svg")
    assert code == 1
    assert ElementTree.fromstring(out).tag.endswith("svg")


WRONG = [
    ([], "expected a thread, such as '3/8-24 UNF', or --table"),
    (["M10x1", "--reverse"], "--reverse needs two threads: fitcheck thread A B --reverse"),
    (["M10x1", "--format", "svg"], "--format svg needs two threads: fitcheck thread A B --format svg"),
    (["M10x1", "--table"], "--table is of every thread: it goes with --engagement and --format text, json or html"),
    (
        ["--table", "--format", "svg"],
        "--table is of every thread: it goes with --engagement and --format text, json or html",
    ),
    (
        ["M10x1", "M10x1", "--explain", "--format", "svg"],
        "a drawing shows A into B alone: leave out --reverse and --explain",
    ),
    (
        ["M10x1", "M10x1", "--engagement", "8"],
        "--engagement: a bare number where a length is needed: write '25 mm' or '1 in'",
    ),
    (["M10x1", "M10x1", "--engagement", "9 m"], "--engagement: expected at most 100 mm, got 9 m"),
    (["M10x1", "M10x1", "--engagement", "0mm"], "a length of engagement must be above 0 mm, got 0 mm"),
    (
        ["M10x1", "M10x9"],
        "'M10x9' is not a thread designation: 9 mm is no pitch of M10; nearest is M10x1.5",
    ),
]


@pytest.mark.parametrize(("words", "expected"), WRONG)
def test_what_cannot_be_is_told(capsys: pytest.CaptureFixture[str], words: list[str], expected: str) -> None:
    """Options that do not go together, and text that is none, are one line on standard error and exit code 2."""
    assert run(capsys, "thread", *words) == (2, "", f"fitcheck: {expected}\n")
