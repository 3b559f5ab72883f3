"""How a file is laid out, so that what is added to it looks like the rest of it."""

import json
import re
from functools import lru_cache
from typing import Any, Final, NamedTuple

from fitcheck.sources import parse
from fitcheck.trees import Document, InputError, Mapping, Sequence

_PLAIN: Final = re.compile(r"[^\s\x00-\x1f](?:.*[^\s])?")
_BRACE: Final = re.compile(r"\{( ?)[^\s{}]")
_BRACKET: Final = re.compile(r"\[( ?)[^\s\[\]]")

_QUOTED: Final = re.compile(r'\{\s*+"')


class Layout(NamedTuple):
    """The line ends of a file, how far its sections are indented, the blanks inside brackets, and if all is quoted."""

    newline: str
    indent: int
    list_indent: int
    brace: str
    bracket: str
    quoted: bool

    def inline(self, value: Any, flow: bool = False, style: str = "") -> str:
        """Return a value as it is written on one line; `flow` says that it stands in brackets already."""
        if isinstance(value, dict):
            inner = ", ".join(f"{self.key(key, True)}: {self.inline(one, True)}" for key, one in value.items())
            return self.mapping(inner)
        if isinstance(value, list):
            return self.sequence(", ".join(self.inline(one, True) for one in value))
        if value is None:
            return "null"
        return scalar_text(value, flow, '"' if self.quoted else style)

    def key(self, key: str, flow: bool = False) -> str:
        """Return a key as it is written."""
        return scalar_text(key, flow, '"') if self.quoted else _key_text(key, flow)

    def mapping(self, inner: str) -> str:
        """Return the text of a mapping in braces, of the text of its entries."""
        return f"{{{self.brace}{inner}{self.brace}}}" if inner else "{}"

    def sequence(self, inner: str) -> str:
        """Return the text of a list in brackets, of the text of its items."""
        return f"[{self.bracket}{inner}{self.bracket}]" if inner else "[]"

    def section(self, column: int, value: Any) -> str:
        """Return the lines of a section, one for each entry, below its key, which stands in `column`."""
        if isinstance(value, dict):
            lines = [self.entry(column + self.indent, key, " ", one) for key, one in value.items()]
        else:
            lines = [self.item(column + self.list_indent, " ", one) for one in value]
        return "".join(lines)

    def entry(self, column: int, key: str, gap: str, value: Any) -> str:
        """Return the line of one entry of a mapping."""
        return f"{' ' * column}{self.key(key)}:{gap}{self.inline(value)}{self.newline}"

    def item(self, column: int, gap: str, value: Any) -> str:
        """Return the line of one item of a list."""
        return f"{' ' * column}-{gap}{self.inline(value)}{self.newline}"


def layout_of(document: Document) -> Layout:
    """Return how a file is laid out, with two blanks of indent where it does not show its own."""
    text = document.text
    newline = "\r\n" if "\r\n" in text else "\r" if "\r" in text and "\n" not in text else "\n"
    indent = _indent(document, Mapping) or 2
    listed = _indent(document, Sequence)
    listed = indent if listed is None else listed
    quoted = isinstance(document.root, Mapping) and _QUOTED.match(text, document.root.start) is not None
    return Layout(newline, indent, listed, _blank(_BRACE, text), _blank(_BRACKET, text), quoted)


def is_section(value: Any) -> bool:
    """Return whether a value is long enough for lines of its own: a collection of collections."""
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return any(isinstance(one, (dict, list)) for one in inner)


@lru_cache(maxsize=4096)
def scalar_text(text: str, flow: bool, style: str = "") -> str:
    """Return a text as it is written, with the quoting `style` if that can be, or else in double quotes."""
    if style == "" and _PLAIN.fullmatch(text):
        written, wanted = (
            (f"{{k: {text}, l: [{text}]}}", {"k": text, "l": [text]}) if flow else (f"k: {text}", {"k": text})
        )
        if _reads_as(written, wanted):
            return text
    if style == "'" and "\n" not in text and "\r" not in text:
        return "'" + text.replace("'", "''") + "'"
    return json.dumps(text, ensure_ascii=False)


@lru_cache(maxsize=4096)
def _key_text(key: str, flow: bool) -> str:
    written = f"{{{key}: v}}" if flow else f"{key}: v"
    return key if _PLAIN.fullmatch(key) and _reads_as(written, {key: "v"}) else json.dumps(key, ensure_ascii=False)


def _reads_as(text: str, wanted: Any) -> bool:
    try:
        return bool(parse(text, "").root == wanted)
    except InputError:
        return False


def _indent(document: Document, kind: type[Mapping] | type[Sequence]) -> int | None:
    """Return the column of the first section of a kind that is written on lines of its own."""
    root = document.root
    if not isinstance(root, Mapping):
        return None
    for section in root.values():
        if isinstance(section, kind) and section and document.text[_start(section)] not in "{[":
            return document.at(_start(section)).column - document.at(root.start).column
    return None


def _start(section: Mapping | Sequence) -> int:
    return section.start


def _blank(pattern: re.Pattern[str], text: str) -> str:
    found = pattern.search(text)
    return found.group(1) if found else ""
