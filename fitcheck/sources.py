"""Text files with positions: safe, bounded reading of the YAML that users write, and safe writing.

Every scalar stays text, so `no`, `12:30` and `010` mean what they say; the models decide what a text is.
Only plain trees are read. Aliases, anchors, tags, merge keys and directives are refused: the files need none,
and each is a way to make a small file huge or a clear one obscure. All work is linear in the text's length.
"""

import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from fitcheck.files import AnyPath
from fitcheck.trees import (
    BOM,
    MOST_LEVELS,
    Document,
    InputError,
    Mapping,
    Mark,
    Node,
    Problem,
    Sequence,
    short,
)

if TYPE_CHECKING:
    import yaml

__all__ = [
    "MOST_BYTES",
    "MOST_LEVELS",
    "MOST_VALUES",
    "Document",
    "InputError",
    "Mapping",
    "Mark",
    "Node",
    "Problem",
    "Sequence",
    "parse",
    "read",
    "write_atomically",
]

MOST_BYTES: Final = 32 * 1024 * 1024
MOST_VALUES: Final = 4_000_000
"""Keys and values together: 32 MiB could hold 16 million, which would fill the memory."""
_MOST_REPEATS: Final = 1000
"""Repeated keys reported one by one; the rest of them are counted."""
_TOO_LARGE: Final = f"the file is larger than {MOST_BYTES // 1024 // 1024} MiB; split it"
_FORBIDDEN: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff\ufffe\uffff]")
"""What no file may hold: control characters, line breaks that editors hide, an inner byte order mark."""
_REST_OF_LINE: Final = re.compile(r"[ \t]*+([^# \t\r\n])")
_LATER_LINE: Final = re.compile(r"[\r\n][ \t]*+([^# \t\r\n])")
_SECOND: Final = "a second document begins here; a file holds one"
_NULLS: Final = frozenset(("", "~", "null"))


def parse(text: str, name: str) -> Document:
    """Read `text` as the file `name`.

    Raises:
        InputError: the text is not one plain YAML tree of at most `MOST_LEVELS` levels and `MOST_VALUES`
            keys and values, or a key is given twice.
    """
    if len(text) > MOST_BYTES:
        raise _whole_file(name, _TOO_LARGE)
    reader = _Reader(name, text)
    reader.check_characters()
    reader.build()
    return reader.document


def read(path: AnyPath) -> Document:
    """Read the file at `path`, which is UTF-8. The document's text is the file's, line ends and all.

    Raises:
        InputError: there is no such file, it cannot be read, or `parse` refuses what is in it.
    """
    name = path.as_posix()
    return parse(decoded(_read_bytes(path, name), name), name)


def decoded(data: bytes, name: str) -> str:
    """Return what is in the file `name` as text.

    Raises:
        InputError: it is not UTF-8; the first byte that is not has its line and column.
    """
    try:
        return data.decode()
    except UnicodeDecodeError as error:
        before = Document(name, data[: error.start].decode(), None, (0, 0, 0, ""))
        mark = before.at(len(before.text))
        message = f"byte 0x{data[error.start]:02X} is not UTF-8; save the file as UTF-8"
        raise InputError((Problem(name, mark.line, mark.column, message),)) from None


def content(path: AnyPath) -> bytes:
    """Return what is in a file, as bytes.

    Raises:
        InputError: there is no such file, it cannot be read or is too large.
    """
    return _read_bytes(path, path.as_posix())


def write_atomically(path: Path, text: str | bytes) -> None:
    """Write `text` to `path`, as UTF-8 unless it is bytes, exactly as given, or leave the file as it was.

    A temporary neighbour is written and then renamed, so that an interruption loses nothing. An existing
    file keeps its mode; of a symbolic link the target is written.

    Raises:
        InputError: it cannot be written.
    """
    name, data = path.as_posix(), text.encode() if isinstance(text, str) else text
    target = Path(os.path.realpath(path))
    neighbour = target.with_name(f".fitcheck-{os.urandom(6).hex()}.tmp")
    try:
        mode = _mode_to_keep(target, name)
        try:
            _write_bytes(neighbour, data, mode)
            neighbour.replace(target)
        finally:
            neighbour.unlink(missing_ok=True)
    except (OSError, ValueError) as error:
        if isinstance(error, InputError):
            raise
        raise _whole_file(name, f"cannot be written: {_reason(error)}") from error


def _mode_to_keep(target: Path, name: str) -> int | None:
    if not target.exists():
        return None
    if not target.is_file():
        raise _whole_file(name, "cannot be written: it is not a file")
    if not os.access(target, os.W_OK):
        raise _whole_file(name, "cannot be written: it is read-only")
    return target.stat().st_mode & 0o7777


def _write_bytes(path: Path, data: bytes, mode: int | None) -> None:
    with path.open("xb") as file:
        if mode is not None:
            path.chmod(mode)
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _read_bytes(path: AnyPath, name: str) -> bytes:
    try:
        if path.is_dir():
            raise _whole_file(name, "this is a folder; expected a file")
        if path.exists() and not path.is_file():
            raise _whole_file(name, "this is not an ordinary file")
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise _whole_file(name, "there is no such file") from None
    except (OSError, ValueError) as error:
        if isinstance(error, InputError):
            raise
        raise _whole_file(name, f"cannot be read: {_reason(error)}") from error
    if len(data) > MOST_BYTES:
        raise _whole_file(name, _TOO_LARGE)
    return data


def _reason(error: Exception) -> str:
    return (getattr(error, "strerror", None) or str(error)).lower()


def _whole_file(name: str, message: str) -> InputError:
    return InputError((Problem(name, 1, 1, message),))


class _Open(NamedTuple):
    """A collection that is being filled, and the key that waits for it in the one around."""

    node: Mapping | Sequence | None
    key: str | None
    key_start: int


class _Reader:
    """Builds the tree from parser events, one at a time, so that depth costs no stack."""

    def __init__(self, name: str, text: str) -> None:
        self.base = 1 if text.startswith(BOM) else 0  # the parser sees the text without it
        self.document = Document(name, text, None, (self.base, self.base, self.base, ""))
        self.node: Mapping | Sequence | None = None
        self.key: str | None = None  # None in a mapping: a key comes next
        self.key_start = 0
        self.outer: list[_Open] = []
        self.repeats: list[Problem] = []
        self.more_repeats = 0

    def check_characters(self) -> None:
        document = self.document
        if found := _FORBIDDEN.search(document.text, self.base):
            raise self.error(found.start(), _forbidden(found.group()))
        first = _content(document.text, self.base)
        if document.text.startswith("%", first) and document.at(first).column == 1:
            raise self.error(first, "directives (a line that begins with '%') are not taken here")

    def build(self) -> None:
        import gc

        collecting = gc.isenabled()
        gc.disable()  # a tree has no cycles to collect; looking for them doubles the time of a large file
        try:
            self._build()
        finally:
            if collecting:
                gc.enable()
        if self.repeats:
            raise InputError(self._all_repeats())

    def _build(self) -> None:
        from yaml import events as kinds

        for event in self._events():
            kind = type(event)
            if kind is kinds.ScalarEvent:
                self._scalar(event)
            elif kind is kinds.MappingStartEvent or kind is kinds.SequenceStartEvent:
                self._open(event, kind is kinds.MappingStartEvent)
            elif kind is kinds.MappingEndEvent or kind is kinds.SequenceEndEvent:
                self.node, self.key, self.key_start = self.outer.pop()
            elif kind is kinds.AliasEvent:
                raise self.error_at(event.start_mark, _syntax().ANCHORS)
            elif kind is kinds.DocumentEndEvent:
                return self._nothing_more(event.end_mark.index + self.base)
        raise self.error(self.base, "the file is empty")

    def _events(self) -> Iterator[Any]:
        import yaml  # 15 ms, not needed for `--help`

        loader: Any = getattr(yaml, "CLoader", yaml.Loader)
        text = self.document.text[self.base :]
        events = yaml.parse(text, Loader=loader)
        try:
            for count, event in enumerate(events):
                if count > MOST_VALUES:
                    mark = event.start_mark
                    raise self.error_at(mark, f"more than {MOST_VALUES} keys and values; split the file")
                yield event
        except yaml.MarkedYAMLError as error:
            raise self._syntax_error(error) from None

    def _scalar(self, event: Any) -> None:
        if event.anchor is not None or event.tag is not None:
            raise self._refused(event)
        start = event.start_mark.index + self.base
        value, style = event.value, event.style or ""
        if style == '"' and (bad := _FORBIDDEN.search(value)):
            raise self.error(start, _forbidden(bad.group()))
        if self.key is None and type(self.node) is Mapping:
            self._take_key(value, style, start)
        else:
            if value in _NULLS and not style:
                value = None
            self._put(value, start, event.end_mark.index + self.base, style)

    def _take_key(self, key: str, style: str, start: int) -> None:
        if not style and not key:
            raise self.error(start, "expected a key before ':'")
        if not style and key == "<<":
            raise self.error(start, "merge keys (<<) are not taken here; write the keys out")
        self.key, self.key_start = key, start

    def _put(self, value: Any, start: int, end: int, style: str | None) -> None:
        node, key = self.node, self.key
        if node is None:
            self.document.root, self.document.root_spot = value, (start, start, end, style)
        elif isinstance(node, Sequence):
            node.append(value)
            node.spots.append((start, start, end, style))
        elif key is not None:
            if key in node:
                self._repeat(key, node.spots[key][0])
            else:
                node[key] = value
                node.spots[key] = (self.key_start, start, end, style)
            self.key = None

    def _open(self, event: Any, mapping: bool) -> None:
        if event.anchor is not None or event.tag is not None:
            raise self._refused(event)
        start = event.start_mark.index + self.base
        if self.key is None and type(self.node) is Mapping:
            kind = "mapping" if mapping else "list"
            raise self.error(start, f"expected a key of plain text, got a {kind}")
        if len(self.outer) >= MOST_LEVELS:
            raise self.error(start, _syntax().TOO_DEEP)
        node = Mapping(start) if mapping else Sequence(start)
        self._put(node, start, start, None)
        self.outer.append(_Open(self.node, self.key, self.key_start))
        self.node, self.key = node, None

    def _nothing_more(self, end: int) -> None:
        text = self.document.text
        more = _content(text, end)
        if more < len(text):
            apart = text.startswith("---", more) or text[end - 3 : end] == "..."
            raise self.error(more, _SECOND if apart else _syntax().MORE)

    def _repeat(self, key: str, first: int) -> None:
        if len(self.repeats) == _MOST_REPEATS:
            self.more_repeats += 1
            return
        line = self.document.at(first).line
        message = f"the key {short(key)} is given on line {line} already"
        self.repeats.append(self.problem(self.key_start, message))

    def _all_repeats(self) -> tuple[Problem, ...]:
        if not self.more_repeats:
            return tuple(self.repeats)
        last = self.repeats[-1]
        message = f"{self.more_repeats} more keys after this one are given twice"
        return (*self.repeats, Problem(last.file, last.line, last.column, message))

    def _refused(self, event: Any) -> InputError:
        syntax = _syntax()
        return self.error_at(event.start_mark, syntax.TAGS if event.anchor is None else syntax.ANCHORS)

    def _syntax_error(self, error: "yaml.MarkedYAMLError") -> InputError:
        syntax = _syntax()
        where = error.problem_mark or error.context_mark
        begin = error.context_mark or error.problem_mark
        offset = min(where.index + self.base, len(self.document.text)) if where else self.base
        line = self.document.at(begin.index + self.base).line if begin else 1
        before = self.document.text[offset - self.document.at(offset).column + 1 : offset]
        character = self.document.text[offset : offset + 1]
        fault = syntax.Fault(error.context or "", line, error.problem or "", character, before)
        if begin and syntax.at_context(fault):
            offset = begin.index + self.base
        return self.error(offset, syntax.sentence(fault))

    def error_at(self, mark: Any, message: str) -> InputError:
        return self.error(mark.index + self.base, message)

    def error(self, offset: int, message: str) -> InputError:
        return InputError((*self._all_repeats(), self.problem(offset, message)))

    def problem(self, offset: int, message: str) -> Problem:
        mark = self.document.at(min(offset, len(self.document.text)))
        return Problem(self.document.name, mark.line, mark.column, message)


def _content(text: str, start: int) -> int:
    """Return where from `start` on the first thing stands that is neither blank nor comment, or the end."""
    found = _REST_OF_LINE.match(text, start) or _LATER_LINE.search(text, start)
    return found.start(1) if found else len(text)


def _syntax() -> Any:
    from fitcheck import syntax  # only when something is wrong

    return syntax


def _forbidden(character: str) -> str:
    return f"the character U+{ord(character):04X} is not taken in a file; delete it"
