"""Where the cursor is in a file that is being typed: what the reader says where files are whole, what is meant else."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.service.editor.cursor import cursor_at
from fitcheck.sources import parse
from fitcheck.trees import Mapping, Sequence

ROOT = Path(__file__).parents[2]
FILES = ["demo_vehicle/build.yaml", "demo_vehicle/house_parts.yaml", "demo_vehicle/offers.yaml"]
HEAD = "build: 1\ncomponents:\n  a: {part: tee}\n"


def scalars(node: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    """Yield every single value of a tree with its path."""
    if isinstance(node, (Mapping, Sequence)):
        items = node.items() if isinstance(node, Mapping) else enumerate(node)
        for step, inner in items:
            yield from scalars(inner, (*path, step))
    else:
        yield path, node


def offset_of(text: str) -> tuple[str, int]:
    """Return a text without its mark, and where that stood."""
    before, _, after = text.partition("|")
    return before + after, len(before)


@pytest.mark.parametrize("name", FILES)
def test_agrees_with_the_reader(name: str) -> None:
    """In a whole file every value is found at its path, from the text before it alone, and its key in its mapping."""
    text = (ROOT / name).read_text(encoding="utf-8")
    document = parse(text, name)
    compared = 0
    for path, _ in scalars(document.root):
        start, end, style = document.scalar(path)
        if style in ("|", ">") or start == end:
            continue
        for offset in {start + 1, end}:
            cursor = cursor_at(text, offset)
            assert (cursor.path, cursor.role) in ((path, "value"), (path, "either")), text[:offset][-80:]
        if isinstance(path[-1], str):
            key = cursor_at(text, document.mark(path, key=True).offset + 1)
            assert (key.path, key.role) in ((path[:-1], "key"), (path[:-1], "either")), text[:offset][-80:]
        compared += 1
    assert compared > 100


@pytest.mark.parametrize(
    ("text", "path", "role", "typed"),
    [
        ("bu|", (), "key", "bu"),
        ("build: 1\nfl|uid: x", (), "key", "fl"),
        ("build: 1\nfluid: DOT |", ("fluid",), "value", "DOT "),
        (HEAD + "  b|", ("components",), "key", "b"),
        (HEAD + "  b: {p|", ("components", "b"), "key", "p"),
        (HEAD + "  b: {part: te|", ("components", "b", "part"), "value", "te"),
        (HEAD + "  b: {part: tee, |", ("components", "b"), "key", ""),
        (HEAD + "  b:\n    |", ("components", "b"), "key", ""),
        (HEAD + "joints:\n  - [a.l|", ("joints", 0, 0), "value", "a.l"),
        (HEAD + "joints:\n- [a.left, b|", ("joints", 0, 1), "value", "b"),
        (HEAD + "joints:\n  - {port: a.left, eyes: [b.|", ("joints", 0, "eyes", 0), "value", "b."),
        (HEAD + "joints:\n  - port: a.left\n    ey|", ("joints", 0), "key", "ey"),
        (HEAD + "joints:\n  - |", ("joints", 0), "either", ""),
        (HEAD + "joints:\n  - [a.left, b.left]\n  - [a|", ("joints", 1, 0), "value", "a"),
        (HEAD + "lines:\n  f: {from: a.left\n  g: {from: |", ("lines", "g", "from"), "value", ""),
        (HEAD + "lines:\n  f:\n    route:\n      - {at: [1], bend: |", ("lines", "f", "route", 0, "bend"), "value", ""),
        (HEAD + "lines:\n  f:\n    from: a.left\n  |", ("lines",), "key", ""),
        (HEAD + "lines:\n  f:\n    from: a.left\n|", (), "key", ""),
        (HEAD + 'accept:\n  - {why: "a, b: c", |', ("accept", 0), "key", ""),
        (HEAD + "note: >\n  lines:\n    x|", ("note",), "value", "x"),
        ("# only this\r\nbuild: 1\r\ncomponents:\r\n  b: {part: t|", ("components", "b", "part"), "value", "t"),
        ("|", (), "key", ""),
    ],
)
def test_half_typed(text: str, path: tuple[str | int, ...], role: str, typed: str) -> None:
    """Where brackets are open, values missing or a line has only begun, the place is the one that is meant."""
    cursor = cursor_at(*offset_of(text))
    assert (cursor.path, cursor.role, cursor.typed) == (path, role, typed)


def test_what_a_choice_would_replace() -> None:
    """The word is replaced up to its end, also what stands behind the cursor, and nothing more."""
    text, offset = offset_of("lines:\n  f: {from: tee_fr|ont.left, to: x}\n")
    cursor = cursor_at(text, offset)
    assert text[cursor.start : cursor.end] == "tee_front.left"


@settings(derandomize=True, max_examples=300)
@given(st.text(alphabet="ab:-{}[],#'\"|>\n \t", max_size=80), st.integers(0, 80))
def test_never_refuses(text: str, offset: int) -> None:
    """Any text and any place in it has an answer that lies within the text."""
    offset = min(offset, len(text))
    cursor = cursor_at(text, offset)
    assert 0 <= cursor.start <= offset <= cursor.end <= len(text)
    assert text[cursor.start : offset] == cursor.typed


def test_time_goes_with_the_section() -> None:
    """Lines before the section of the cursor are not looked at: what is wrong in them changes nothing."""
    broken = "lines:\n  f: {from: [[[{\n" * 3
    assert cursor_at(*offset_of(broken + "hoses:\n  h: {part: |")).path == ("hoses", "h", "part")
