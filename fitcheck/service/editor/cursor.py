"""Where in a file the cursor is, in text that need not be whole: a person is typing it.

A reader of YAML says nothing of `front: {from: tee.` before the brace is closed. This one looks at what stands before
the cursor only, goes by indents and brackets, and never refuses anything. It begins at the last line without an
indent, so that its time goes with the section that the cursor is in, not with the file.
"""

import re
from typing import Final, Literal, NamedTuple

Path = tuple[str | int, ...]
Role = Literal["key", "value", "either"]
_KEY: Final = re.compile(
    r"""("(?:[^"\\]|\\.)*"|'[^']*'|[^\s#{}\[\],"'&*!|>%@`-][^:#{}\[\],]*?|-[^\s:,]+)[ \t]*:(?=\s|$)"""
)
_TOKEN: Final = re.compile(r"[\w./+-]*")
_BLOCK: Final = re.compile(r"[|>][-+0-9]*\s*(#.*)?$")


class Cursor(NamedTuple):
    """A place in a tree that is being typed.

    Of a key `path` is that of the mapping that it is in; of a value it is the value's own. `typed` is what stands
    before the cursor of the word or value there, `start` and `end` are the offsets of all of it.
    """

    path: Path
    role: Role
    typed: str
    start: int
    end: int


class _Level(NamedTuple):
    """A collection that is open at the cursor: its indent (that of a bracket is -1), its key or number so far."""

    indent: int
    listed: bool
    step: str | int | None


def cursor_at(text: str, offset: int) -> Cursor:
    """Return where the cursor is that stands before the character at `offset`."""
    reader = _Reader(text, offset)
    lines = text[_section(text, offset) : offset].split("\n")
    position = offset - sum(map(len, lines)) - len(lines) + 1
    for number, line in enumerate(lines):
        reader.line(line.removesuffix("\r"), position, number == len(lines) - 1)
        position += len(line) + 1
    return reader.cursor()


def _section(text: str, offset: int) -> int:
    """Return where the last line begins, at or before the cursor, that starts something at the outermost level."""
    start = text.rfind("\n", 0, offset) + 1
    while start > 0:
        if text[start : start + 1].isalnum() or text[start : start + 1] in ("{", '"', "'"):
            return start
        start = text.rfind("\n", 0, start - 1) + 1
    return start


class _Reader:
    def __init__(self, text: str, offset: int) -> None:
        self.text, self.offset = text, offset
        self.levels: list[_Level] = []
        self.role: Role = "key"
        self.start = offset
        self.base = 0  # indent of the entry that opened the brackets
        self.block_text: int | None = None  # indent of the key whose text goes on over lines

    def line(self, line: str, position: int, last: bool) -> None:
        """Read one line up to its end or the cursor; `position` is where it starts."""
        content = line.lstrip(" ")
        indent = len(line) - len(content)
        if self._in_brackets() and content and indent <= self.base and _KEY.match(content):
            self._leave_brackets()  # whoever typed it forgot to close them
        if self._in_brackets():
            self._flow(line, position)
        elif (content and not content.startswith("#")) or last:
            self._block(content, indent, position + indent, last)

    def _in_brackets(self) -> bool:
        return bool(self.levels) and self.levels[-1].indent < 0

    def _leave_brackets(self) -> None:
        while self._in_brackets():
            self.levels.pop()

    def _block(self, content: str, indent: int, position: int, last: bool) -> None:
        if self.block_text is not None and (indent > self.block_text or not content):
            self.role, self.start = "value", position
            return
        self.block_text = None
        while content.startswith("- ") or content == "-":
            self._item(indent)
            rest = content[1:].lstrip(" ")
            wide = len(content) - len(rest)
            content, indent, position = rest, indent + wide, position + wide
            self.role, self.start = "either", position
        found = _KEY.match(content)
        if found is not None:
            self._key(found[1].strip("\"'"), indent)
            self._value(content, found.end(), position, indent)
        elif content[:1] in ("{", "["):
            self._close_deeper(indent, items=False)
            self.base = indent
            self._flow(content, position)
        elif last:
            self._unfinished(content, indent, position)

    def _item(self, indent: int) -> None:
        """Begin the next item of the list at an indent."""
        while self.levels and (self.levels[-1].indent > indent or self._map_over_list(indent)):
            self.levels.pop()
        top = self.levels[-1] if self.levels else None
        if top is not None and top.listed and top.indent == indent and isinstance(top.step, int):
            self.levels[-1] = top._replace(step=top.step + 1)
        else:
            self.levels.append(_Level(indent, True, 0))

    def _map_over_list(self, indent: int) -> bool:
        top = self.levels[-1]
        below = self.levels[-2] if len(self.levels) > 1 else None
        return not top.listed and top.indent == indent and below is not None and below.listed and below.indent == indent

    def _key(self, key: str, indent: int) -> None:
        self._close_deeper(indent, items=True)
        if self.levels and not self.levels[-1].listed and self.levels[-1].indent == indent:
            self.levels.pop()
        self.levels.append(_Level(indent, False, key))

    def _close_deeper(self, indent: int, items: bool) -> None:
        """Leave what is further in than an indent, and with `items` the list that is as far in."""
        while self.levels and (
            self.levels[-1].indent > indent or (items and self.levels[-1].listed and self.levels[-1].indent == indent)
        ):
            self.levels.pop()

    def _value(self, content: str, end: int, position: int, indent: int) -> None:
        rest = content[end:].lstrip(" ")
        begin = position + len(content) - len(rest)
        self.role, self.start = "value", begin
        if rest[:1] in ("{", "["):
            self.base = indent
            self._flow(rest, begin)
        elif _BLOCK.match(rest):
            self.block_text = indent

    def _unfinished(self, content: str, indent: int, position: int) -> None:
        """Take the cursor's own line, which has no colon yet, for the beginning of a key."""
        if self.role == "either" and self.start == position:
            return
        self._close_deeper(indent, items=True)
        if self.levels and not self.levels[-1].listed and self.levels[-1].indent == indent:
            self.levels.pop()
        self.role, self.start = "key", position

    def _flow(self, text: str, position: int) -> None:
        """Read what stands in brackets, and the brackets themselves."""
        index = 0
        while index < len(text):
            char = text[index]
            if char in "\"'":
                index = _past_quotes(text, index)
                continue
            if char == "#" and (index == 0 or text[index - 1] in " \t"):
                break
            index += 1
            if char in "{[":
                self.levels.append(_Level(-1, char == "[", 0 if char == "[" else None))
            elif char in "}]":
                if self._in_brackets():
                    self.levels.pop()
            elif char == "," and self._in_brackets():
                self._next()
            elif not (char == ":" and self._colon(text, index, position)):
                continue
            self.start = position + index + len(text[index:]) - len(text[index:].lstrip(" "))
            self._flow_role()

    def _next(self) -> None:
        top = self.levels[-1]
        self.levels[-1] = top._replace(step=top.step + 1 if isinstance(top.step, int) else None)

    def _colon(self, text: str, index: int, position: int) -> bool:
        """Take what stands before a colon for a key; False if it is part of a value."""
        top = self.levels[-1] if self.levels else None
        if (
            top is None
            or top.indent >= 0
            or top.listed
            or top.step is not None
            or text[index : index + 1] not in (" ", "")
        ):
            return False
        key = text[max(self.start - position, 0) : index - 1].strip().strip("\"'")
        self.levels[-1] = top._replace(step=key)
        return True

    def _flow_role(self) -> None:
        top = self.levels[-1] if self.levels else None
        in_mapping = top is not None and top.indent < 0 and not top.listed
        self.role = "key" if in_mapping and top is not None and top.step is None else "value"

    def cursor(self) -> Cursor:
        start = min(self.start, self.offset)
        typed = self.text[start : self.offset].lstrip(" \t\r\n\"'")
        start = self.offset - len(typed)
        end = self.offset + len(_TOKEN.match(self.text, self.offset)[0])  # type: ignore[index]  # it matches nothing, too
        return Cursor(
            tuple(level.step for level in self.levels if level.step is not None), self.role, typed, start, end
        )


def _past_quotes(text: str, index: int) -> int:
    """Return the index behind the quoted text that begins at `index`, or the end."""
    quote = text[index]
    end = text.find(quote, index + 1)
    while quote == '"' and end > 0 and text[end - 1] == "\\":
        end = text.find(quote, end + 1)
    return len(text) if end < 0 else end + 1
