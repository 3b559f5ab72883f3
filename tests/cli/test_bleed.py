"""`fitcheck bleed`: exit codes, formats, files, circuits by name, requests that cannot be answered."""

import json
from pathlib import Path

import pytest

from fitcheck.cli.main import main
from tests.hydraulics.bleed_cars import car


def answer(capsys: pytest.CaptureFixture[str], *argv: str) -> tuple[int, str, str]:
    """Return the exit code and what the verb prints."""
    code = main(["bleed", *argv])
    done = capsys.readouterr()
    return code, done.out, done.err


def test_text_of_one_circuit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A circuit by name comes alone, before and after options; 0 where everything can be bled."""
    car(tmp_path)
    code, out, err = answer(capsys, str(tmp_path), "--on", "2026-12-01", "clutch")
    assert (code, err) == (0, "")
    assert out.startswith("Redshank: filling, bleeding, leak test\n")
    assert "LEAK TEST: clutch\n" in out
    assert "LEAK TEST: rear\n" not in out
    assert out.endswith("\n")


@pytest.mark.parametrize(("rear", "expected"), [("drum", 0), ("plain", 1)])
def test_a_cylinder_without_bleed_screw_is_not_well(
    rear: str, expected: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The exit code is 1 where a cylinder says that it has no bleed screw."""
    car(tmp_path, rear=rear)
    code, out, _ = answer(capsys, str(tmp_path), "--format", "json")
    assert code == expected
    assert json.loads(out)["without_bleed_screw"] == (["rl", "rr"] if expected else [])


def test_page_into_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The page is written whole to the file, and standard output stays empty."""
    car(tmp_path)
    target = tmp_path / "bleed.html"
    code, out, err = answer(capsys, str(tmp_path), "--format", "html", "--paper", "letter", "--output", str(target))
    assert (code, out, err) == (0, "", f"{target} written\n")
    assert target.read_text(encoding="utf-8").startswith("<!DOCTYPE html>\n")


@pytest.mark.parametrize(
    ("argv", "message"),
    [
        (["--paper", "a4"], "--paper goes with --format html"),
        (["clucth"], "no circuit is called 'clucth'; nearest is 'clutch'"),
        (["--on", "soon"], "--on: expected a date such as 2026-12-31, got 'soon'"),
    ],
)
def test_wrong_requests(argv: list[str], message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What cannot be answered is told in one line, with exit code 2."""
    car(tmp_path)
    assert answer(capsys, str(tmp_path), *argv) == (2, "", f"fitcheck: {message}\n")


def test_no_input_is_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A file that the build is read from is refused as output."""
    car(tmp_path)
    code, _, err = answer(capsys, str(tmp_path), "--output", str(tmp_path / "build.yaml"))
    assert code == 2
    assert "is a file that the build is read from" in err
    assert (tmp_path / "build.yaml").read_text(encoding="utf-8").startswith("build: 1\n")


def test_a_build_without_pressure_is_told_as_such(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where no master cylinder reaches a bleed screw there is no order, and the exit code is 1."""
    (tmp_path / "build.yaml").write_text("build: 1\ncomponents: {a: {part: union-m10x1-bubble}}\n", encoding="utf-8")
    code, out, _ = answer(capsys, str(tmp_path))
    assert code == 1
    assert "  no bleed screw is reached from a master cylinder\n" in out
