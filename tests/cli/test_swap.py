"""`fitcheck swap`: what changes, and the file edited in place without touching another byte."""

import json
import shutil
from pathlib import Path

import pytest

from fitcheck.cli.main import main

DEMO = Path(__file__).parents[2] / "demo_vehicle"
SWAP = "bracket_fr=bulkhead-union-3-16-inverted"


@pytest.fixture
def car(tmp_path: Path) -> Path:
    """A copy of the demo car that may be written to."""
    return Path(shutil.copytree(DEMO, tmp_path / "car"))


def test_swap_shows_only_what_changes(capsys: pytest.CaptureFixture[str], car: Path) -> None:
    """The finding that the swap cures is gone, none is new, and the bill of materials differs by these parts."""
    assert main(["swap", str(car), SWAP, "--format", "json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert [finding["rule"] for finding in found["gone"]] == ["thread-mismatch"]
    assert found["new"] == []


def test_write_changes_one_word_and_nothing_else(capsys: pytest.CaptureFixture[str], car: Path) -> None:
    """After `--write` the file is the old one with that one part id replaced, comments and all."""
    before = (car / "build.yaml").read_bytes()
    main(["swap", str(car), SWAP, "--write"])
    after = (car / "build.yaml").read_bytes()
    assert after == before.replace(b"part: bulkhead-union-m10x1-bubble", b"part: bulkhead-union-3-16-inverted")
    assert after != before
    assert sorted(path.name for path in car.iterdir()) == ["build.yaml", "house_parts.yaml"]
    assert main(["check", str(car), "--format", "json"]) == 1
    out = capsys.readouterr().out
    assert "thread-mismatch" not in out[out.rindex('{\n  "build"') : out.rindex('"checked"')]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_write_keeps_line_ends_and_marks(car: Path, end: str) -> None:
    """Line ends, a byte order mark, odd spacing and quotes elsewhere survive the edit."""
    text = (car / "build.yaml").read_text(encoding="utf-8").replace("\n", end)
    raw = b"\xef\xbb\xbf" + text.replace("name: Dunlin", 'name:   "Dunlin"   # hers').encode()
    (car / "build.yaml").write_bytes(raw)
    main(["swap", str(car), SWAP, "--write"])
    expected = raw.replace(b"part: bulkhead-union-m10x1-bubble", b"part: bulkhead-union-3-16-inverted")
    assert (car / "build.yaml").read_bytes() == expected


def test_a_line_is_swapped_by_its_tube(car: Path) -> None:
    """The tag of a line stands for its tube."""
    before = (car / "build.yaml").read_text(encoding="utf-8")
    main(["swap", str(car), "axle_right=tube-3-16-steel", "--write"])
    assert (car / "build.yaml").read_text(encoding="utf-8") == before.replace("tube-3-16-copper", "tube-3-16-steel")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["bracket_fr=bulkhead-union-3-16-inverte"], "no catalog has a part 'bulkhead-union-3-16-inverte'"),
        (["bracket=tee-an3"], "nothing here has the tag 'bracket'; nearest is 'bracket_fl'"),
        (["bracket_fr="], "expected TAG=PART, got 'bracket_fr='"),
        (["tank=reservoir-2-outlet", "tank=reservoir-1-outlet"], "tank is to be exchanged twice"),
        ([], "say what to exchange: TAG=PART"),
        (["other", SWAP], "expected TAG=PART, got 'other'"),
        ([SWAP, "--write", "--variant", "as_corrected"], "--write edits the build itself"),
    ],
)
def test_what_cannot_be_swapped_is_refused(
    capsys: pytest.CaptureFixture[str], car: Path, words: list[str], told: str
) -> None:
    """A wrong request ends with exit code 2, says why, and leaves the file alone."""
    before = (car / "build.yaml").read_bytes()
    assert main(["swap", str(car), *words]) == 2
    assert told in capsys.readouterr().err
    assert (car / "build.yaml").read_bytes() == before


def test_swap_and_swap_back_changes_nothing(car: Path) -> None:
    """Two swaps that undo each other leave the file byte for byte as it was."""
    before = (car / "build.yaml").read_bytes()
    main(["swap", str(car), SWAP, "--write"])
    main(["swap", str(car), "bracket_fr=bulkhead-union-m10x1-bubble", "--write"])
    assert (car / "build.yaml").read_bytes() == before
