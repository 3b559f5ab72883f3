"""The tree that a file holds, with the position of every key and value in it."""

import re
from array import array
from bisect import bisect_right
from collections.abc import Callable
from io import StringIO
from itertools import accumulate, islice
from typing import Any, Final, NamedTuple

from fitcheck.errors import FitcheckError

MOST_LEVELS: Final = 40
"""Collections inside collections that a file may have."""
BOM: Final = "\ufeff"
_LONG: Final = 400
_ENDLESS: Final = re.compile(r"(\S{100})\S+")

Path = tuple[str | int, ...]
Spot = tuple[int, int, int, str | None]
"""Offsets of an entry's key, of its value's start and end, and the quoting: '' plain, None not a scalar."""


class Mark(NamedTuple):
    """A position: line and column from 1, offset into `Document.text` from 0."""

    line: int
    column: int
    offset: int


class Problem(NamedTuple):
    """Something that makes a file unusable, and where."""

    file: str
    line: int
    column: int
    message: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}: {self.message}"


def _without_end(message: str) -> str:
    """Return a message with names in it that are as long as a file cut short."""
    return _ENDLESS.sub(r"\1…", message) if len(message) > _LONG else message


class InputError(FitcheckError, ValueError):
    """A file that cannot be used; `problems` says why, with places. Its text has one line for each."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = tuple(problem._replace(message=_without_end(problem.message)) for problem in problems)
        super().__init__(self.problems)

    def __str__(self) -> str:
        return "\n".join(map(str, self.problems))


class Mapping(dict[str, Any]):
    """A mapping of a file: a plain dict that also knows where it, its keys and its values stand.

    Change a copy, never the tree of a document: other readers share it.
    """

    __slots__ = ("spots", "start")

    def __init__(self, start: int = 0) -> None:
        super().__init__()
        self.start = start
        self.spots: dict[str, Spot] = {}

    def copy(self) -> "Mapping":
        """Return a copy, one level deep, positions included."""
        other = Mapping(self.start)
        other.update(self)
        other.spots = self.spots.copy()
        return other

    def take(self, key: str, source: "Mapping", source_key: str) -> None:
        """Set `key` to the value that `source` has under `source_key`, with the position it has there."""
        self[key] = source[source_key]
        if source_key in source.spots:
            self.spots[key] = source.spots[source_key]

    def empty_child(self) -> "Mapping":
        """Return a new empty mapping that stands where this one stands."""
        return Mapping(self.start)


class Sequence(list[Any]):
    """A list of a file: a plain list that also knows where it and its items stand. Change a copy only."""

    __slots__ = ("spots", "start")

    def __init__(self, start: int = 0) -> None:
        super().__init__()
        self.start = start
        self.spots: list[Spot] = []

    def copy(self) -> "Sequence":
        """Return a copy, one level deep, positions included."""
        return self.keeping(lambda item: True)

    def joined(self, other: "Sequence") -> "Sequence":
        """Return a new list: the items of this one, then those of `other`, each with its position."""
        both = self.copy()
        both.extend(other)
        both.spots.extend(other.spots)
        return both

    def keeping(self, wanted: Callable[[Any], bool]) -> "Sequence":
        """Return a new list of the items that are `wanted`, each with its position."""
        kept = Sequence(self.start)
        for item, spot in zip(self, self.spots, strict=True):
            if wanted(item):
                kept.append(item)
                kept.spots.append(spot)
        return kept


Node = Mapping | Sequence | str | None


class Document:
    """A file that has been read: its name, its exact text, and the tree in it."""

    __slots__ = ("_lines", "name", "root", "root_spot", "text")

    def __init__(self, name: str, text: str, root: Node, root_spot: Spot) -> None:
        self.name = name
        self.text = text
        self.root = root
        self.root_spot = root_spot
        self._lines: array[int] | None = None

    def with_root(self, root: Node) -> "Document":
        """Return the same file with another tree, whose positions are those of this text."""
        return Document(self.name, self.text, root, self.root_spot)

    def mark(self, path: Path, key: bool = False) -> Mark:
        """Return where the value at `path` stands, or with `key` its key.

        If there is no such value the answer is the key of the nearest ancestor that exists, or its value
        where it has no key.
        """
        spot, found = self._find(path)
        return self.at(spot[0] if key or not found else spot[1])

    def inside(self, path: Path, offset: int) -> Mark:
        """Return where a character of the text at `path` stands, by its offset in that text.

        Words are counted, since line breaks and indents of the file are single blanks in the text. Where escapes
        within quotes hide the place, the answer is where the text starts.
        """
        (_, start, end, style), found = self._find(path)
        node: Any = self.root
        for step in path if found else ():
            node = node[step]
        if not isinstance(node, str) or not 0 <= offset < len(node):
            return self.at(start)
        skip = self.text.find("\n", start) + 1 if style in ("|", ">") else start + (style in ("'", '"'))
        before = node[:offset].split()
        within = bool(before) and not node[offset - 1].isspace()
        words = re.compile(r"\S+").finditer(self.text, skip, end)
        word = next(islice(words, len(before) - within, None), None)
        if word is None:
            return self.at(start)
        at = word.start() + (len(before[-1]) if within else 0)
        return self.at(at if self.text[at : at + 1] == node[offset] else start)

    def at(self, offset: int) -> Mark:
        """Return the line and column of an offset into the text."""
        if self._lines is None:
            self._lines = _line_starts(self.text)
        line = bisect_right(self._lines, offset)
        return Mark(line, offset - self._lines[line - 1] + 1, offset)

    def problem(self, path: Path, message: str, key: bool = False) -> Problem:
        """Return `message` as a problem at the place of `path`."""
        mark = self.mark(path, key)
        return Problem(self.name, mark.line, mark.column, message)

    def span(self, path: Path) -> tuple[int, int]:
        """Return the offsets where the scalar at `path` starts and ends in the text, quotes included.

        Raises:
            InputError: nothing is there, or it is a mapping or a list.
        """
        start, end, _ = self.scalar(path)
        return start, end

    def scalar(self, path: Path) -> tuple[int, int, str]:
        """Return the span of the scalar at `path` and its quoting, one of ``' " | >`` or nothing.

        Raises:
            InputError: nothing is there, or it is a mapping or a list.
        """
        (_, start, end, style), found = self._find(path)
        if not found or style is None:
            where = ".".join(map(str, path)) or "the file"
            raise InputError((self.problem(path, f"expected a single value at {where}"),))
        return start, end, style

    def _find(self, path: Path) -> tuple[Spot, bool]:
        node: Any = self.root
        spot = self.root_spot
        for step in path:
            inner = _spot_in(node, step)
            if inner is None:
                return spot, False
            node, spot = node[step], inner
        return spot, True


def _spot_in(node: Any, step: str | int) -> Spot | None:
    if isinstance(node, Mapping) and isinstance(step, str) and step in node:
        return node.spots.get(step)
    if isinstance(node, Sequence) and isinstance(step, int) and 0 <= step < len(node.spots):
        return node.spots[step]
    return None


def _line_starts(text: str) -> "array[int]":
    """Return where each line starts; a byte order mark is no column of the first."""
    starts = array("I", accumulate(map(len, StringIO(text, newline="")), initial=0))  # ends at \n, \r, \r\n
    if len(starts) > 1 and text[-1] not in "\r\n":
        starts.pop()
    starts[0] = int(text.startswith(BOM))
    return starts


def short(text: str) -> str:
    """Return `text` quoted for a message, cut after 40 characters."""
    return repr(text if len(text) <= 40 else text[:39] + "…")
