"""Rewriting a file so that it holds another tree: comments, quoting, order and line ends stay as they are.

The old and the new tree are compared, and only the text of what differs is touched. The result is read again. Where
the tidy way does not read as wanted (few files are written so), an entry or a section is written anew, in one style.
"""

from collections.abc import Iterator
from typing import Any, Final, NamedTuple

from fitcheck.extents import Extents
from fitcheck.layout import is_section, layout_of
from fitcheck.sources import parse
from fitcheck.trees import Document, InputError, Mapping, Node, Sequence

_TIDY: Final = 1000
_LEVELS: Final = (_TIDY, 2, 1)
"""How deep to look for what differs: all the way, down to the entries of a section, or to whole sections."""


def rewritten(document: Document, root: Node) -> Document:
    """Return the file with the tree `root`, its text changed as little as can be, and read again.

    Raises:
        InputError: it cannot be written here, such as a control character.
    """
    original = parse(document.text, document.name)
    found = _attempt(original, root, {})
    if found is None:
        found = _attempt(original, root, _levels(original, root))
    if found is None:
        raise _refusal(original, ())
    return found


def _levels(original: Document, root: Node) -> dict[str, int]:
    """Return how deep to look in each section that differs: as deep as reads right when it alone is changed."""
    if not isinstance(original.root, Mapping) or not isinstance(root, Mapping):
        return {}
    levels = {}
    for key in dict.fromkeys((*original.root, *root)):
        if original.root.get(key) == root.get(key) and (key in original.root) == (key in root):
            continue
        only = original.root.copy()
        if key in root:
            only[key] = root[key]
        else:
            del only[key]
        good = (level for level in _LEVELS if _attempt(original, only, {key: level}))
        level = next(good, None)
        if level is None:
            raise _refusal(original, (key,))
        levels[key] = level
    return levels


def _attempt(original: Document, root: Node, levels: dict[str, int]) -> Document | None:
    writer = _Writer(original, levels)
    _, start, end, style = original.root_spot
    writer.value(original.root, root, _Place(start, end, style, start, start, False, 0, _TIDY))
    for text in writer.texts():
        try:
            changed = parse(text, original.name)
        except InputError:
            continue
        if changed.root == root:
            return changed
    return None


def _refusal(document: Document, path: tuple[str, ...]) -> InputError:
    message = "the change cannot be written here without changing more of the file"
    return InputError((document.problem(path, message),))


class _Place(NamedTuple):
    """Where a value stands: its span and quoting, its key, where its colon or dash ends, and what is around it."""

    start: int
    end: int
    style: str | None
    key: int
    after: int
    flow: bool
    depth: int
    level: int


class _Entry(NamedTuple):
    """An entry of a collection: where its key, dash or item begins and its value ends; `new` is None if it goes."""

    old: Any
    new: Any
    head: int
    end: int


class _Writer:
    """Collects the edits of one text."""

    def __init__(self, document: Document, levels: dict[str, int]) -> None:
        self.document = document
        self.levels = levels
        self.layout = layout_of(document)
        self.ended = document.text.endswith(("\n", "\r"))
        self.text = document.text if self.ended else document.text + self.layout.newline
        self.at = Extents(document, self.text)
        self.edits: list[tuple[int, int, str]] = []

    def _edit(self, start: int, end: int, written: str) -> None:
        self.edits.append((start, end, written))

    def texts(self) -> Iterator[str]:
        """Yield the text with all edits made, first with the last line ended as it was."""
        text = self._text()
        if not self.ended:
            yield text.removesuffix(self.layout.newline)
        yield text
        if not self.ended and (header := self.at.last_header()):
            self._edit(*header)
            yield self._text().removesuffix(self.layout.newline)

    def _text(self) -> str:
        pieces: list[str] = []
        at = 0
        for start, end, new in sorted(self.edits, key=lambda edit: (edit[0], edit[1] > edit[0])):
            pieces += self.text[at:start], new
            at = max(at, end)
        return "".join((*pieces, self.text[at:]))

    def value(self, old: Any, new: Any, place: _Place) -> None:
        """Note the edits that make `new` of the value `old`, which stands at `place`."""
        if old == new:
            return
        alike = type(old) is type(new) and isinstance(old, (Mapping, Sequence))
        if not alike or not old or place.depth >= place.level:
            self._replace(old, new, place)
        elif self.at.braced(old):
            self._flow(old, new, place)
        elif place.flow:
            self._replace(old, new, place)
        elif not new:
            self._empty(old, new, place)
        else:
            self._block(old, new, place)

    def _replace(self, old: Any, new: Any, place: _Place) -> None:
        """Write a value anew, whole."""
        start, end, after = place.start, self.at.end(old, *place[:3]), place.after
        lines = not place.flow and place.depth < 2 and bool(new) and is_section(new)
        if not lines:
            written = self.layout.inline(new, place.flow, (place.style or "").strip("|>"))
        elif place.depth == 0 and isinstance(new, dict):
            written = "".join(self._section(0, key, " ", value) for key, value in new.items())
        else:
            written = self.layout.section(self.at.column(place.key), new)
        if self.at.hangs(old, place.after):
            below = self.at.next_line(after)
            self._edit(below, self.at.comments(self.at.next_line(end), self._least(old, place)), "")
            self._edit(*((below, below, written) if lines else (after, after, " " + written)))
        elif lines:
            at = self.at.next_line(end if end > start else self.at.back(start))
            self._edit(self.at.back(start), end, "")
            self._edit(at, at, written)
        elif start < end:
            self._edit(start, end, written)
        else:
            self._fill(written, place)

    def _section(self, column: int, key: str, gap: str, value: Any) -> str:
        """Return the lines of a new entry of the file's own mapping."""
        if not is_section(value):
            return self.layout.entry(column, key, gap, value)
        return f"{' ' * column}{self.layout.key(key)}:{self.layout.newline}{self.layout.section(column, value)}"

    def _fill(self, written: str, place: _Place) -> None:
        """Write a value where there is none yet."""
        at = self.at.back(place.start) if place.flow else place.after
        if not place.flow or self.text[at - 1] == ":":
            ready = place.flow and self.text[at] == " "
            self._edit(at + ready, at + ready, written if ready else " " + written)
        else:
            self._edit(at, at, ": " + written)

    def _empty(self, old: Any, new: Any, place: _Place) -> None:
        """Leave an empty collection where there were lines; comments between them stay."""
        if not self.at.hangs(old, place.after):
            return self._edit(place.start, self.at.end(old, *place[:3]), self.layout.inline(new))
        entries, _ = self._entries(old, new, place.key)
        self._cut_lines(entries, self.at.column(old.start))
        return self._edit(place.after, place.after, " " + self.layout.inline(new))

    def _block(self, old: Any, new: Any, place: _Place) -> None:
        entries, added = self._entries(old, new, place.key)
        self._inner(old, new, entries, place, False)
        column = self.at.column(old.start)
        self._cut_lines(entries, column)
        if not added:
            return
        at = self.at.comments(self.at.next_line(entries[-1].end), self._least(old, place))
        if isinstance(old, Sequence):
            gap = self.at.blanks(entries[0].head + 1, old.spots[0][1])
            written = "".join(self.layout.item(column, gap, new[step]) for step in added)
        else:
            width = self.at.value_column(old) - column
            written = "".join(self._new_entry(column, key, width, new[key], place, entries) for key in added)
        self._edit(at, at, written)

    def _least(self, old: Any, place: _Place) -> int:
        """Return how far a comment below a collection is indented if it belongs to it, and not to what follows."""
        column = self.at.column(old.start)
        return column + (self.at.column(place.key) == column)

    def _new_entry(self, column: int, key: str, width: int, value: Any, place: _Place, entries: list[_Entry]) -> str:
        gap = " " * max(1, width - len(self.layout.key(key)) - 1)
        if place.depth or not is_section(value):
            return self.layout.entry(column, key, gap, value)
        apart = len(entries) > 1 and self.at.blank_line(entries[-2].end, entries[-1].head)
        return (self.layout.newline if apart else "") + self._section(column, key, gap, value)

    def _flow(self, old: Any, new: Any, place: _Place) -> None:
        entries, added = self._entries(old, new, place.key)
        self._inner(old, new, entries, place, True)
        kept = [entry for entry in entries if entry.new is not None]
        written = [self._flow_entry(new, step) for step in added]
        if not kept:
            inner = ", ".join(written)
            whole = self.layout.mapping(inner) if isinstance(new, Mapping) else self.layout.sequence(inner)
            return self._edit(old.start, self.at.end(old, *place[:3]), whole)
        if written:
            self._add_flow(kept[-1], written)
        return self._cut_flow(entries)

    def _flow_entry(self, new: Any, step: Any) -> str:
        written = self.layout.inline(new[step], True)
        return f"{self.layout.key(step, True)}: {written}" if isinstance(new, Mapping) else written

    def _add_flow(self, last: _Entry, written: list[str]) -> None:
        """Add entries after the last one that stays: on lines of their own if it has one."""
        rest = self.at.own_line(last.head, last.end)
        if rest is None:
            return self._edit(last.end, last.end, "".join(", " + one for one in written))
        if not rest:
            self._edit(last.end, last.end, ",")
        at, indent = self.at.next_line(last.end), self.text[self.at.line(last.head) : last.head]
        lines = f",{self.layout.newline}".join(indent + one for one in written)
        return self._edit(at, at, lines + rest + self.layout.newline)

    def _inner(self, old: Any, new: Any, entries: list[_Entry], place: _Place, flow: bool) -> None:
        """Go into what is in the old and the new collection and differs."""
        for entry in entries:
            if entry.new is None or old[entry.old] == new[entry.new]:
                continue
            key, start, end, style = old.spots[entry.old]
            after = start if flow else entry.head + 1 if isinstance(old, Sequence) else self.at.after_colon(key, start)
            level = self.levels.get(entry.old, _TIDY) if place.depth == 0 else place.level
            inner = _Place(start, end, style, key, after, flow, place.depth + 1, level)
            self.value(old[entry.old], new[entry.new], inner)

    def _entries(self, old: Any, new: Any, key: int) -> tuple[list[_Entry], list[Any]]:
        """Return the entries of a collection, and the keys or indices that only the new one has."""
        if isinstance(old, Mapping):
            entries = [
                _Entry(key, key if key in new else None, spot[0], self.at.end(old[key], *spot[1:]))
                for key, spot in old.spots.items()
            ]
            return entries, [key for key in new if key not in old]
        entries, head, braced = [], old.start, self.at.braced(old)
        pairs = _aligned(old, new, key)
        for index, spot in enumerate(old.spots):
            end = self.at.end(old[index], *spot[1:])
            entries.append(_Entry(index, pairs[index], spot[1] if braced else head, end))
            head = self.at.between(end)
        taken = set(pairs)
        return entries, [index for index in range(len(new)) if index not in taken]

    def _cut_lines(self, entries: list[_Entry], column: int) -> None:
        """Take out whole lines; of an entry that shares its first line with a dash around it, the rest of it."""
        for index, entry in enumerate(entries):
            if entry.new is not None:
                continue
            after = self.at.comments(self.at.next_line(entry.end), column + 1)
            if self.at.first(entry.head):
                self._edit(self.at.line(entry.head), after, "")
                continue
            kept = next((number for number in range(index, len(entries)) if entries[number].new is not None), None)
            if kept is not None and self.text[entries[kept - 1].end : entries[kept].head].isspace():
                self._edit(entry.head, entries[kept].head, "")
            else:
                self._edit(self.at.back(entry.head), self.at.back(self.at.next_line(entry.end)), "")

    def _cut_flow(self, entries: list[_Entry]) -> None:
        """Take out entries in brackets with one comma each; at least one entry stays."""
        index = 0
        while index < len(entries):
            first = index
            while index < len(entries) and entries[index].new is None:
                index += 1
            if first < index:
                self._cut_run(entries, first, index)
            index += 1

    def _cut_run(self, entries: list[_Entry], first: int, after: int) -> None:
        run = entries[first:after]
        if all(self.at.own_line(entry.head, entry.end) is not None for entry in run):
            for entry in run:
                self._edit(self.at.line(entry.head), self.at.next_line(entry.end), "")
            return
        follows = after < len(entries)
        if first == 0 or (follows and self.at.next_line(run[-1].end) > entries[after].head):
            self._edit(run[0].head, entries[after].head, "")
        else:
            self._edit(entries[first - 1].end, run[-1].end, "")


def _aligned(old: Sequence, new: Sequence, key: int) -> list[int | None]:
    """Return for each old item the index it has in the new list, or None if it is gone.

    An item that was kept has its position still, and so has its list. A list put anew stands where the key of the old
    one does: equal items at its start and its end are the old ones, and those between replace each other in order.
    """
    standing = {spot[1]: index for index, spot in enumerate(new.spots)}
    pairs = [standing.get(spot[1]) for spot in old.spots]
    if new.start == old.start != key or any(index is not None for index in pairs):
        return pairs
    fewer = len(old) - len(new)
    front = 0
    while front < min(len(old), len(new)) and old[front] == new[front]:
        front += 1
    back = 0
    while fewer > 0 and back < len(new) - front and old[-1 - back] == new[-1 - back]:
        back += 1
    middle = len(new) - back
    return [
        index if index < middle else index - fewer if index >= middle + fewer else None for index in range(len(old))
    ]
