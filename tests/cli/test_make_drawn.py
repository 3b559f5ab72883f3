"""`fitcheck make` drawn: SVG, pages to print, DXF, files written, requests that cannot be answered."""

import sys
from pathlib import Path

import pytest

from fitcheck.cli.main import main

BUILD = """\
build: 1
name: Wren
components:
  a: {part: union-3-16-inverted, at: [0, 0, 0]}
  b: {part: union-3-16-inverted, at: [150, 200, 0]}
  c: {part: union-3-16-inverted}
tools: {flaring: {grip: 25 mm}, benders: {lever: {radius: 15 mm, clamp: 20 mm, offset: 2 mm}}}
lines:
  rise: {from: a.b, to: b.a, tube: tube-3-16-cuni, route: [[150, 0, 0]]}
  coil: {from: b.b, to: c.a, tube: tube-3-16-cuni, length: 500 mm}
"""


@pytest.fixture
def build(tmp_path: Path) -> str:
    """Return a build of two lines, one of which has a length only."""
    (tmp_path / "build.yaml").write_text(BUILD)
    return str(tmp_path)


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return exit code, standard output and standard error of one command line."""
    code = main(("make", *words))
    out = capsys.readouterr()
    return code, out.out, out.err


def test_svg_draws_the_lines_named(build: str, capsys: pytest.CaptureFixture[str]) -> None:
    """One line, or all in one picture."""
    code, one, _ = run(capsys, build, "rise", "--format", "svg")
    assert (code, one.startswith("<?xml"), one.endswith("</svg>\n")) == (0, True, True)
    assert (">rise: tube-3-16-cuni" in one, ">coil: tube-3-16-cuni" in one) == (True, False)
    _, both, _ = run(capsys, build, "--format", "svg")
    assert both.index(">rise: tube-3-16-cuni") < both.index(">coil: tube-3-16-cuni")


@pytest.mark.parametrize(("words", "size"), [((), "A4"), (("--paper", "a4"), "A4"), (("--paper", "letter"), "letter")])
def test_html_is_for_the_paper_asked_for(
    build: str, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], size: str
) -> None:
    """Pages are set for A4 unless letter is asked for."""
    code, out, _ = run(capsys, build, "--format", "html", *words)
    assert (code, f"@page{{size:{size} portrait;" in out) == (0, True)


def test_output_is_written_to_a_file(build: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """`--output` writes what would have been printed, and says so on standard error."""
    _, printed, _ = run(capsys, build, "--format", "html")
    target = tmp_path / "sheets.html"
    assert run(capsys, build, "--format", "html", "--output", str(target)) == (0, "", f"{target} written\n")
    assert target.read_text(encoding="utf-8") == printed


def test_no_input_is_written_over(build: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A file that the build is read from is not a place for the answer."""
    target = Path(build) / "build.yaml"
    told = f"fitcheck: --output: {target} is a file that the build is read from\n"
    assert run(capsys, build, "--output", str(target)) == (2, "", told)
    assert target.read_text() == BUILD


def test_paper_is_of_html_only(build: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A paper asked for in another form is a mistake."""
    told = "fitcheck: --paper goes with --format html\n"
    assert run(capsys, build, "--format", "svg", "--paper", "letter") == (2, "", told)


def test_dxf_names_what_it_leaves_out(build: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A line without a shape in space is named on standard error; if there is no other, that is an error."""
    pytest.importorskip("ezdxf", reason="ezdxf is not installed: drawings of centre-lines were not made")
    code, out, told = run(capsys, build, "--format", "dxf")
    assert (code, out.endswith("EOF\n"), told) == (0, True, "not drawn, no shape in space: coil\n")
    told = "fitcheck: no line to draw: the shape in space of none of them is known\n"
    assert run(capsys, build, "coil", "--format", "dxf") == (2, "", told)


def test_dxf_without_its_library(
    build: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without the library the extra that brings it is named."""
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    told = 'fitcheck: this report needs a library that is not installed: pip install "fitcheck[cad]"\n'
    assert run(capsys, build, "--format", "dxf") == (2, "", told)
