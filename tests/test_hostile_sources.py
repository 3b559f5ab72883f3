"""Texts made to hurt: the answer comes in bounded time and memory, and says what is wrong."""

import gc
import time
from collections.abc import Callable
from contextlib import suppress

import pytest

from fitcheck import sources
from fitcheck.sources import InputError, parse

_DEEP = "nested deeper than 40 levels"


def _refusal(text: str) -> str:
    with pytest.raises(InputError) as caught:
        parse(text, "f")
    return caught.value.problems[0].message


@pytest.mark.parametrize("opening", ["[", "- ", "{a: "])
def test_depth_is_bounded(opening: str) -> None:
    """A hundred thousand collections inside each other are refused at the forty-first."""
    assert _refusal(opening * 100_000) == _DEEP


def test_depth_by_indent_is_bounded() -> None:
    """Mappings nested by indent alone have the same limit."""
    assert _refusal("".join(" " * level + "a:\n" for level in range(200))) == _DEEP


def test_forty_levels_are_taken() -> None:
    """The limit itself is inside: forty lists are read, forty-one are not."""
    assert parse("[" * 40 + "]" * 40, "f").root is not None
    assert _refusal("[" * 41 + "]" * 41) == _DEEP


def test_billion_laughs() -> None:
    """A chain of aliases that would unfold to a thousand million values is refused at its first anchor."""
    text = "a0: &a0 [x, x]\n" + "".join(f"a{i}: &a{i} [*a{i - 1}, *a{i - 1}]\n" for i in range(1, 30))
    assert _refusal(text).startswith("anchors and aliases")


def test_directives_never_reach_the_parser() -> None:
    """The parser compares each directive with all before it, so they are refused by looking at the text."""
    directives = "".join(f"%TAG !a{i}! x\n" for i in range(200_000))
    assert _refusal(directives) == "directives (a line that begins with '%') are not taken here"
    assert _refusal("a: 1\n---\n" + directives) == "a second document begins here; a file holds one"


def test_number_of_values_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    """A file of nothing but tiny values is refused before it fills the memory."""
    monkeypatch.setattr(sources, "MOST_VALUES", 1000)
    assert _refusal("[" + "a," * 2000 + "]") == "more than 1000 keys and values; split the file"


def test_collection_is_resumed_after_a_refusal() -> None:
    """Reading pauses the garbage collector and always starts it again."""
    assert gc.isenabled()
    _refusal("[")
    assert gc.isenabled()


HOSTILE: dict[str, Callable[[int], str]] = {
    "one line": lambda n: "x" * n * 40,
    "one quoted text": lambda n: '"' + "x" * n * 40 + '"',
    "a quoted key": lambda n: '"' + "x" * n * 40 + '": 1',
    "an open quote": lambda n: '"' + "x\n" * n * 10,
    "many keys": lambda n: "".join(f"key{i}: 1\n" for i in range(n)),
    "the same key": lambda n: "a: 1\n" * n,
    "question marks": lambda n: "? " * n * 20,
    "blank lines": lambda n: "\n" * n * 20,
    "blank lines and a directive": lambda n: "\r\n" * n * 20 + "%",
    "comments": lambda n: "# x\n" * n * 5,
    "a flow list": lambda n: "[" + "a," * n + "]",
    "colons": lambda n: "a:" * n * 20,
    "a folded text": lambda n: "a: >\n" + " x\n" * n * 10,
    "escapes": lambda n: '"' + "\\n" * n * 20 + '"',
    "commas": lambda n: "[" + "," * n,
    "control characters": lambda n: "a" * n * 40 + "\x00",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_time_is_linear(name: str) -> None:
    """Eight times the text takes nowhere near the sixty-four times of a quadratic reader."""
    small, large = HOSTILE[name](1_000), HOSTILE[name](8_000)
    assert _seconds(large) <= 25 * _seconds(small) + 0.25


def _seconds(text: str) -> float:
    return min(_once(text) for _ in range(3))


def _once(text: str) -> float:
    start = time.process_time()
    with suppress(InputError):
        parse(text, "f")
    return time.process_time() - start
