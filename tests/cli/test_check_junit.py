"""`fitcheck check --format junit`: the exit codes are those of the other forms, and what cannot be read is told too."""

from pathlib import Path
from xml.etree import ElementTree

import pytest

from fitcheck.cli.main import main

BUILD = """\
build: 1
name: Wren
components:
  joiner: {part: tee-3-16-inverted}
  stop: {part: STOP}
  other: {part: plug-3-8-24-inverted}
  third: {part: plug-3-8-24-inverted}
joints:
  - [stop.end, joiner.left]
  - [other.end, joiner.right]
  - [third.end, joiner.top]
"""


@pytest.mark.parametrize(
    ("part", "code", "failures"), [("plug-m10x1-bubble", 1, "1"), ("plug-3-8-24-inverted", 0, "0")]
)
def test_errors_fail(tmp_path: Path, capsys: pytest.CaptureFixture[str], part: str, code: int, failures: str) -> None:
    """Each finding at level error is a failure, and the exit code is 1 as ever."""
    path = tmp_path / "build.yaml"
    path.write_text(BUILD.replace("STOP", part), encoding="utf-8")
    assert main(["check", str(path), "--format", "junit"]) == code
    suite = ElementTree.fromstring(capsys.readouterr().out).find("testsuite")
    assert suite is not None
    assert (suite.get("name"), suite.get("failures")) == ("fitcheck check Wren", failures)


def test_a_file_that_cannot_be_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The answer is a document with the problem as a case in error; standard error and exit code stay as they are."""
    path = tmp_path / "build.yaml"
    path.write_text("build: 1\nfluid: [a", encoding="utf-8")
    assert main(["check", str(path), "--format", "junit"]) == 2
    told = capsys.readouterr()
    error = ElementTree.fromstring(told.out).find("testsuite/testcase/error")
    assert error is not None
    assert error.text == f"{path}:2:10: expected ',' or ']' in the list that begins on line 2"
    assert told.err.startswith(f"{path}:2:10: ")
