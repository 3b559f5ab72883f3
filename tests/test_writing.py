"""Writing files and changing single values in place: nothing else changes, nothing is half written."""

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.edits import replace_scalar
from fitcheck.sources import Document, InputError, Problem, parse, write_atomically

FILE = (
    "\ufeffname: Plover # the car\r\nlines:\r\n  a: {tube: 'x', note: }\r\n  b: [\"y\", é😀]\r\ntext: |\r\n  long\r\n"
)

EDITS = [
    (("name",), "Lapwing two", "Plover", "Lapwing two"),
    (("name",), "a #b", "Plover", '"a #b"'),
    (("name",), "null", "Plover", '"null"'),
    (("name",), "", "Plover", '""'),
    (("name",), "a: b", "Plover", '"a: b"'),
    (("name",), "two\nlines", "Plover", '"two\\nlines"'),
    (("lines", "a", "tube"), "it's", "'x'", "'it''s'"),
    (("lines", "a", "note"), "new", "note: }", "note: new}"),
    (("lines", "b", 0), 'say "so"', '"y"', '"say \\"so\\""'),
    (("lines", "b", 1), "a, b", "é😀", '"a, b"'),
]


@pytest.mark.parametrize(("path", "new", "old_part", "new_part"), EDITS)
def test_replace_scalar(path: tuple[str | int, ...], new: str, old_part: str, new_part: str) -> None:
    """One value is exchanged, its quoting kept where possible, and every other character stays."""
    assert replace_scalar(parse(FILE, "f"), path, new) == FILE.replace(old_part, new_part, 1)


def _refusal(document: Document, path: tuple[str | int, ...], new: str) -> str:
    with pytest.raises(InputError) as caught:
        replace_scalar(document, path, new)
    return str(caught.value)


def test_replacements_that_are_refused() -> None:
    """A block text, a list, and a text that cannot stand there are refused at their place."""
    document = parse(FILE, "f")
    assert _refusal(document, ("text",), "x") == "f:5:7: a block text (| or >) cannot be replaced in place"
    assert _refusal(document, ("lines", "b"), "x") == "f:4:6: expected a single value at lines.b"
    bad = "f:1:7: 'a\\x7f' cannot stand here without changing more than this value"
    assert _refusal(document, ("name",), "a\x7f") == bad
    bare = parse("a: {b, c: 1}", "f")
    assert _refusal(bare, ("a", "b"), "x") == "f:1:6: 'x' cannot stand here without changing more than this value"


@given(st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Zl", "Zp"), exclude_characters="\ufeff")))
def test_any_text_can_be_put_in(new: str) -> None:
    """Whatever the new text, reading the edited file gives it back and leaves its neighbours alone."""
    text = "a: 1\nb: old # kept\nc: [x, 'y', z]\n"
    changed = parse(replace_scalar(parse(text, "f"), ("b",), new), "f")
    assert changed.root == {"a": "1", "b": new, "c": ["x", "y", "z"]}
    assert changed.text.endswith(" # kept\nc: [x, 'y', z]\n")


def test_bytes_are_written_as_given(tmp_path: Path) -> None:
    """Line ends and the byte order mark are kept; no temporary file is left."""
    path = tmp_path / "f.yaml"
    write_atomically(path, FILE)
    assert path.read_bytes() == FILE.encode()
    assert [entry.name for entry in tmp_path.iterdir()] == ["f.yaml"]


def test_mode_and_link_are_kept(tmp_path: Path) -> None:
    """An existing file keeps its mode, and a symbolic link stays a link to the file that is written."""
    target, link = tmp_path / "real.yaml", tmp_path / "link.yaml"
    target.write_text("old")
    target.chmod(0o640)
    link.symlink_to(target)
    write_atomically(link, "new")
    assert link.is_symlink()
    assert target.read_text() == "new"
    assert target.stat().st_mode & 0o777 == 0o640


def test_new_file_obeys_the_umask(tmp_path: Path) -> None:
    """A new file gets the mode that the user's umask asks for."""
    before = os.umask(0o027)
    try:
        write_atomically(tmp_path / "f.yaml", "x")
    finally:
        os.umask(before)
    assert (tmp_path / "f.yaml").stat().st_mode & 0o777 == 0o640


def test_failure_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """If the disk fails, the old file is whole, the neighbour is gone and the error is plain."""
    path = tmp_path / "f.yaml"
    path.write_text("old")

    def fail(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fail)
    with pytest.raises(InputError) as caught:
        write_atomically(path, "new")
    assert caught.value.problems == (Problem(path.as_posix(), 1, 1, "cannot be written: no space left on device"),)
    assert path.read_text() == "old"
    assert list(tmp_path.iterdir()) == [path]


def test_places_that_cannot_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder, a missing folder and a read-only file are each refused in one sentence."""
    readonly = tmp_path / "locked.yaml"
    readonly.write_text("old")
    monkeypatch.setattr(os, "access", lambda path, mode: Path(path) != readonly)
    for path, message in {
        tmp_path: "cannot be written: it is not a file",
        tmp_path / "none" / "f.yaml": "cannot be written: no such file or directory",
        readonly: "cannot be written: it is read-only",
    }.items():
        with pytest.raises(InputError) as caught:
            write_atomically(path, "new")
        assert str(caught.value) == f"{path.as_posix()}:1:1: {message}"
    assert readonly.read_text() == "old"
