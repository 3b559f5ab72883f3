"""Texts line by line: how two versions differ, and line ends as the file has them."""

import re
from collections import Counter
from collections.abc import Iterator
from difflib import SequenceMatcher
from typing import Final, Literal, NamedTuple

_ENDS: Final = re.compile(r"(?<=\n)|(?<=\r)(?!\n)")
_AROUND: Final = 3
_MOST_LINES: Final = 6000
"""Lines up to which two texts are compared: beyond that it takes seconds."""


class Row(NamedTuple):
    """A line of a comparison: `same`, `out` or `in`, its number in either text (None if it is not there), its words."""

    kind: Literal["same", "out", "in", "gap"]
    old: int | None
    new: int | None
    words: str


def lines_of(text: str) -> list[str]:
    r"""Return the lines of a text, each with its end.

    >>> lines_of("a\r\nb\rc")
    ['a\r\n', 'b\r', 'c']
    """
    return [line for line in _ENDS.split(text) if line]


def compared(old: str, new: str) -> list[Row]:
    """Return how a text differs from another: what goes, what comes, and a few lines around."""
    before, after = ([line.rstrip("\r\n") for line in lines_of(text)] for text in (old, new))
    if len(before) + len(after) > _MOST_LINES:
        words = f"too long to be compared line by line: {len(before)} lines, now {len(after)}"
        return [Row("gap", None, None, words)]
    return list(_rows(before, after))


def _rows(before: list[str], after: list[str]) -> Iterator[Row]:
    matcher = SequenceMatcher(None, before, after, autojunk=False)
    for place, group in enumerate(matcher.get_grouped_opcodes(_AROUND)):
        if place:
            yield Row("gap", None, None, "")
        for kind, a, b, c, d in group:
            if kind == "equal":
                yield from (Row("same", a + i + 1, c + i + 1, before[a + i]) for i in range(b - a))
                continue
            yield from (Row("out", i + 1, None, before[i]) for i in range(a, b))
            yield from (Row("in", None, i + 1, after[i]) for i in range(c, d))


def as_written(typed: str, there: str) -> str:
    r"""Return a text that came through a browser, which writes every line end alike, with the ends of `there`.

    A line that is as it was keeps its end; a new one gets the end that most have.

    >>> as_written("a\r\nnew\r\nb", "a\nb")
    'a\nnew\nb'
    """
    lines = typed.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    old = lines_of(there)
    ends = Counter(end for line in old if (end := line[len(line.rstrip("\r\n")) :]))
    if len(ends) < 2 or len(lines) + len(old) > _MOST_LINES:
        usual = ends.most_common(1)[0][0] if ends else "\n"
        return usual.join(lines)
    return "".join(_with_ends(lines, old, ends.most_common(1)[0][0]))


def _with_ends(lines: list[str], old: list[str], usual: str) -> Iterator[str]:
    bare = [line.rstrip("\r\n") for line in old]
    last = len(lines) - 1
    matcher = SequenceMatcher(None, bare, lines, autojunk=False)
    for kind, a, _, c, d in matcher.get_opcodes():
        for place in range(c, d):
            own = old[a + place - c] if kind == "equal" else ""
            end = own[len(own.rstrip("\r\n")) :] or usual
            yield lines[place] + (end if place < last else "")
