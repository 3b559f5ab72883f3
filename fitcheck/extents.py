"""Where the parts of a file begin and end in its text: values, lines, keys, and the comments that go with them."""

import re
from typing import Any, Final

from fitcheck.trees import Document, Mapping, Sequence

_LINE: Final = re.compile(r"[^\r\n]*+(?:\r\n|\r|\n)?")
_BETWEEN: Final = re.compile(r"(?:[\s,:?]++|#[^\r\n]*+)*+")
_KEY: Final = re.compile(r""""(?:[^"\\]|\\.)*+"|'(?:[^']|'')*+'|(?:[^:\r\n]|:(?!\s|\Z))*+""", re.DOTALL)
_COLON: Final = re.compile(r"\s*+:")
_KEEPS: Final = re.compile(r"[|>]\d?\+")
_CLIPS: Final = re.compile(r"[|>]\d?")
_ENDS_LINE: Final = re.compile(r"[ \t]*+(,?)[ \t]*+(?:#[^\r\n]*+)?(?=[\r\n]|\Z)")


class Extents:
    """Answers questions about the text of one document, which `text` may continue by a line end."""

    def __init__(self, document: Document, text: str) -> None:
        self.document = document
        self.text = text

    def braced(self, node: Mapping | Sequence) -> bool:
        """Return whether a collection is written in braces or brackets."""
        return self.text[node.start] in "{["

    def end(self, node: Any, start: int, end: int, style: str | None) -> int:
        """Return where a value ends: for a collection where its last bracket or its last entry does."""
        if not isinstance(node, (Mapping, Sequence)):
            return self._scalar_end(start, end, style)
        after = node.start + 1
        if node:
            last: Any = next(reversed(node.spots)) if isinstance(node, Mapping) else len(node) - 1
            after = self.end(node[last], *node.spots[last][1:])
        return self.between(after) + 1 if self.braced(node) else after

    def _scalar_end(self, start: int, end: int, style: str | None) -> int:
        if start == end:  # nothing is written: the place is that of what comes next
            back = self.back(start)
            return back + (back < start and self.text[back - 1] == ":")
        if style in ("|", ">"):
            return end - 1 if _KEEPS.match(self.text, start) else self.back(end)
        return end

    def last_header(self) -> tuple[int, int, str] | None:
        """Return the edit that lets a block text at the end of the file stay as it is if a line follows it."""
        node, spot = self.document.root, self.document.root_spot
        while isinstance(node, (Mapping, Sequence)) and node:
            last: Any = next(reversed(node.spots)) if isinstance(node, Mapping) else len(node) - 1
            node, spot = node[last], node.spots[last]
        found = _CLIPS.match(self.text, spot[1]) if spot[3] in ("|", ">") else None
        return (found.end(), found.end(), "-") if found else None

    def between(self, offset: int) -> int:
        """Return where after blanks, commas, colons and comments something else begins."""
        return self._past(_BETWEEN, offset)

    def back(self, offset: int) -> int:
        """Return where the blanks and line ends before an offset begin."""
        while offset and self.text[offset - 1] in " \t\r\n":
            offset -= 1
        return offset

    def line(self, offset: int) -> int:
        """Return where the line of an offset begins."""
        return offset - self.column(offset)

    def column(self, offset: int) -> int:
        """Return the column of an offset, counted from 0."""
        return self.document.at(offset).column - 1

    def next_line(self, offset: int) -> int:
        """Return where the line after that of an offset begins."""
        return self._past(_LINE, offset)

    def first(self, offset: int) -> bool:
        """Return whether nothing but blanks stands before an offset on its line."""
        return not self.text[self.line(offset) : offset].strip(" \t")

    def comments(self, offset: int, least: int) -> int:
        """Return where the comment lines that begin at an offset end; each is indented by `least` or more."""
        pattern = re.compile(rf" {{{least},}}#[^\r\n]*+(?:\r\n|\r|\n)?")
        while found := pattern.match(self.text, offset):
            offset = found.end()
        return offset

    def blank_line(self, start: int, end: int) -> bool:
        """Return whether an empty line stands between the line of an offset and another offset."""
        start = self.next_line(start)
        return any(not line.strip() for line in self.text[start : self.line(end)].splitlines())

    def after_colon(self, key: int, value: int) -> int:
        """Return where the colon of the key at `key` ends, or where its value begins if there is none."""
        found = _COLON.match(self.text, self._past(_KEY, key))
        return found.end() if found else value

    def hangs(self, node: Any, after: int) -> bool:
        """Return whether a collection begins on a later line than the colon or dash that ends at `after`."""
        collection = isinstance(node, (Mapping, Sequence)) and bool(node) and not self.braced(node)
        return collection and self.next_line(after) <= node.start

    def own_line(self, head: int, end: int) -> str | None:
        """Return the comma, or nothing, after an entry in brackets that has lines of its own; else None."""
        found = _ENDS_LINE.match(self.text, end) if self.first(head) else None
        return found.group(1) if found else None

    def value_column(self, node: Mapping) -> int:
        """Return the column in which all values of a block mapping are aligned, or 0 if they are not."""
        columns, wide = set(), False
        for key, start, _, _ in node.spots.values():
            if start < self.next_line(key):
                columns.add(self.column(start))
                wide = wide or self.text.startswith("  ", start - 2)
        return columns.pop() if wide and len(columns) == 1 else 0

    def blanks(self, start: int, end: int) -> str:
        """Return the blanks between a dash and its item, or one if the item is not on the dash's line."""
        found = self.text[start:end]
        return found if found and not found.strip(" ") else " "

    def _past(self, pattern: re.Pattern[str], offset: int) -> int:
        """Return where a pattern that also matches nothing ends."""
        found = pattern.match(self.text, offset)
        return found.end() if found else offset
