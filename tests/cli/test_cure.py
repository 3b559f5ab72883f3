"""`fitcheck cure`: whole text, what is written, what is left, requests that cannot be answered."""

import json
from pathlib import Path

import pytest

from fitcheck.cli.main import main
from tests.reports.samples import CAUTION_LINES

BUILD = """\
# an invented stub of a car
build: 1
name: Wren
components:
  joiner: {part: tee-3-16-inverted}   # from the drawer
  stop_a: {part: plug-3-8-24-inverted}
  stop_b: {part: plug-m10x1-bubble}   # looked the same

joints:
  - [stop_a.end, joiner.left]
  - [stop_b.end, joiner.right]
"""
TEXT = """\
Wren: 2 findings put right, 0 findings left; checked again: no error

PUT RIGHT (2)

  thread-mismatch: stop_b.end (M10x1) will not start in joiner.right (3/8-24
    UNF)
    exchange stop_b for plug-3-8-24-inverted
  dead-end: joiner.top is open
    close it with plug-3-8-24-inverted (1 more joint)

BUY

  2 plug-3-8-24-inverted

TAKE OFF THE ORDER

  1 plug-m10x1-bubble

EDIT

--- {path}
+++ {path}
@@ -6,3 +6,4 @@
   stop_a: {{part: plug-3-8-24-inverted}}
-  stop_b: {{part: plug-m10x1-bubble}}   # looked the same
+  stop_b: {{part: plug-3-8-24-inverted}}   # looked the same
+  plug_joiner_top: {{part: plug-3-8-24-inverted}}
{space}
@@ -11 +12,2 @@
   - [stop_b.end, joiner.right]
+  - [plug_joiner_top.end, joiner.top]
"""
CURED = BUILD.replace("plug-m10x1-bubble}   #", "plug-3-8-24-inverted}   #").replace(
    "# looked the same\n", "# looked the same\n  plug_joiner_top: {part: plug-3-8-24-inverted}\n"
)
CURED += "  - [plug_joiner_top.end, joiner.top]\n"


def write(folder: Path, text: str = BUILD) -> Path:
    """Return a build file with this text."""
    path = folder / "build.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_whole_text_and_nothing_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The acts, the order, the difference of the file; the file is as it was."""
    path = write(tmp_path)
    assert main(["cure", str(path)]) == 0
    assert capsys.readouterr().out == TEXT.format(path=path, space=" ") + CAUTION_LINES + "\n"
    assert path.read_text(encoding="utf-8") == BUILD


def test_write_edits_in_place_and_a_second_cure_finds_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is written is what was shown, comments and all; the cured file is clean and is not changed again."""
    path = write(tmp_path)
    assert main(["cure", str(path), "--write"]) == 0
    assert path.read_text(encoding="utf-8") == CURED
    assert capsys.readouterr().err == f"{path} now says so\n"
    assert main(["check", str(path)]) == 0
    capsys.readouterr()
    assert main(["cure", str(path), "--write"]) == 0
    assert capsys.readouterr().out.startswith("Wren: nothing to cure\n")
    assert path.read_text(encoding="utf-8") == CURED


def test_only_one_tag(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With --only the rest is left as it is, and the exit code tells that errors stand."""
    path = write(tmp_path)
    assert main(["cure", str(path), "--only", "stop_b", "--write"]) == 1
    assert path.read_text(encoding="utf-8") == BUILD.replace("plug-m10x1-bubble", "plug-3-8-24-inverted")
    assert "1 finding put right, 0 findings left; checked again: 1 error" in capsys.readouterr().out


def test_json_says_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The JSON has the findings with their remedies, the order and the difference as a list of lines."""
    path = write(tmp_path)
    assert main(["cure", str(path), "--format", "json"]) == 0
    value = json.loads(capsys.readouterr().out)
    assert list(value) == ["build", "put_right", "buy", "take_off", "cost", "edit", "left", "errors_after", "caution"]
    assert [each["finding"]["rule"] for each in value["put_right"]] == ["thread-mismatch", "dead-end"]
    assert value["put_right"][0]["remedy"]["changes"] == [
        {"change": "put", "path": ["components", "stop_b", "part"], "value": "plug-3-8-24-inverted"}
    ]
    assert (value["buy"], value["take_off"]) == (["2 plug-3-8-24-inverted"], ["1 plug-m10x1-bubble"])
    assert (value["cost"], value["left"], value["errors_after"]) == (None, [], 0)
    assert value["edit"][0] == f"--- {path}"


def test_bill_with_remedies(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The bill of the cured build has three plugs; that of the build as it is has the wrong one."""
    path = write(tmp_path)
    assert main(["bom", str(path), "--with-remedies", "--format", "json"]) == 0
    rows = {row["part"]: row["quantity"] for row in json.loads(capsys.readouterr().out)["lines"]}
    assert rows == {"tee-3-16-inverted": 1, "plug-3-8-24-inverted": 3}
    assert path.read_text(encoding="utf-8") == BUILD


ASKED_WRONGLY = [
    (["--only", "stop_c"], "fitcheck: nothing here has the tag 'stop_c'; nearest is 'stop_a'\n"),
    (["--write", "--variant", "any"], "fitcheck: --write edits the build itself, so it does not go with --variant\n"),
]


@pytest.mark.parametrize(("more", "told"), ASKED_WRONGLY)
def test_asked_wrongly(more: list[str], told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A tag that is not there and a variant that would be written are refused, and nothing is changed."""
    path = write(tmp_path)
    assert main(["cure", str(path), *more]) == 2
    assert capsys.readouterr().err == told
    assert path.read_text(encoding="utf-8") == BUILD
