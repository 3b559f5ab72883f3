"""Odd places to write to: no name, files for folders, links, folders that are not there or may not be written to."""

import os
from pathlib import Path

import pytest

from fitcheck.cli import pack
from fitcheck.cli.main import main

SMALL = "build: 1\nname: Small\ncomponents:\n  tank: {part: reservoir-2-outlet}\n"


@pytest.fixture
def small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a build in the current folder."""
    monkeypatch.chdir(tmp_path)
    build = tmp_path / "build.yaml"
    build.write_text(SMALL)
    return build


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """Return what a verb that writes nothing says."""
    before = sorted(Path().rglob("*"))
    assert main(list(words)) == 2
    assert sorted(Path().rglob("*")) == before
    told = capsys.readouterr()
    assert told.out == ""
    return told.err


def packing(capsys: pytest.CaptureFixture[str], out: str) -> str:
    """Return what `pack` says of a folder that it refuses."""
    return refused(capsys, "pack", "build.yaml", "--out", out, "--only", "html")


def test_a_pack_without_a_folder(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An empty name is no current folder."""
    assert packing(capsys, "") == "fitcheck: --out: expected the name of a folder, got ''\n"


def test_a_pack_through_links(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A link to a folder is that folder; one that leads nowhere or to itself is refused."""
    Path("real").mkdir()
    Path("link").symlink_to("real")
    Path("gone").symlink_to("nowhere")
    Path("round").symlink_to("round")
    for name in ("gone", "round"):
        assert packing(capsys, name) == f"fitcheck: --out: {name} is a link that leads nowhere\n"
    main(["pack", "build.yaml", "--out", "link/in/it", "--only", "html"])
    assert [path.as_posix() for path in Path("real").rglob("*.html")] == ["real/in/it/pack.html"]


def test_a_pack_over_the_build_through_a_link(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A file of the pack that is a link to the build is not written over, forced or not."""
    Path("out").mkdir()
    Path("out/pack.html").symlink_to("../build.yaml")
    wanted = "fitcheck: --output: out/pack.html is a file that the build is read from\n"
    assert packing(capsys, "out") == wanted
    assert refused(capsys, "pack", "build.yaml", "--out", "out", "--only", "html", "--force") == wanted


def test_a_pack_in_a_folder_that_is_not_its_own(
    small: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A folder that may not be written to is refused before the work, and so is a new one within it."""
    Path("locked").mkdir()
    allowed = os.access
    monkeypatch.setattr(pack.os, "access", lambda path, mode: "locked" not in str(path) and allowed(path, mode))
    assert packing(capsys, "locked") == "fitcheck: --out: locked may not be written to\n"
    folder = small.parent / "locked"
    assert packing(capsys, "locked/a/b") == f"fitcheck: --out: {folder} may not be written to\n"


def test_a_pack_with_a_name_that_is_too_long(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A name that the file system refuses is told with its reason."""
    name = 300 * "x"
    assert packing(capsys, name) == f"fitcheck: --out: {name} cannot be looked at: file name too long\n"


@pytest.mark.parametrize("verb", ["draw", "make", "bleed"])
def test_an_answer_without_a_name(verb: str, small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An empty `--output` is refused by every verb that has one."""
    assert (
        refused(capsys, verb, "build.yaml", "--output", "")
        == "fitcheck: --output: expected the name of a file, got ''\n"
    )


def test_a_drawing_in_a_folder_that_is_not_there(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """No folders are made for one file: the one that is missing is named."""
    told = refused(capsys, "draw", "build.yaml", "--output", "a/b/c.svg")
    assert told == "fitcheck: a/b/c.svg cannot be written: there is no folder a/b\n"


def test_a_drawing_over_a_folder_or_below_a_file(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder is no file, and nothing is below a file."""
    Path("folder").mkdir()
    last = "1 problem; nothing was checked and no file was changed\n"
    told = refused(capsys, "draw", "build.yaml", "--output", "folder")
    assert told == f"folder:1:1: cannot be written: it is not a file\n{last}"
    told = refused(capsys, "draw", "build.yaml", "--output", "build.yaml/x.svg")
    assert told == f"build.yaml/x.svg:1:1: cannot be written: not a directory\n{last}"


def test_a_drawing_through_links(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What a link leads to is written and the link stays; one that leads to the build is refused."""
    Path("link.svg").symlink_to("real.svg")
    Path("own.svg").symlink_to("build.yaml")
    main(["draw", "build.yaml", "--output", "link.svg"])
    assert Path("link.svg").is_symlink()
    assert Path("real.svg").read_text().startswith("<?xml")
    capsys.readouterr()
    told = refused(capsys, "draw", "build.yaml", "--output", "own.svg")
    assert told == "fitcheck: --output: own.svg is a file that the build is read from\n"
    assert small.read_text() == SMALL


def test_a_drawing_over_another_one(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A file that is there already is replaced whole."""
    Path("old.svg").write_text(100_000 * "x")
    main(["draw", "build.yaml", "--output", "old.svg"])
    assert Path("old.svg").read_text().endswith("</svg>\n")
    assert capsys.readouterr().err == "old.svg written\n"
