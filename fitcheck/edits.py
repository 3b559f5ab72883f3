"""Changing one value of a file in place: every other byte stays as it is, comments and line ends included."""

import json
import re
from collections.abc import Iterator
from typing import Any, Final

from fitcheck.sources import parse
from fitcheck.trees import Document, InputError, Path, short

_BLOCKS: Final = ("|", ">")
_PLAIN: Final = re.compile(r"[^\s\x00-\x1f](?:.*[^\s])?")


def replace_scalar(document: Document, path: Path, new_text: str) -> str:
    """Return the text of `document` with the value at `path` replaced by `new_text`.

    The quoting stays as it is where the new text allows; otherwise the value is put in double quotes.
    The result has been read again: nothing but this value differs.

    Raises:
        InputError: there is no single value at `path`, it is a block text, or `new_text` cannot stand there.
    """
    original = parse(document.text, document.name)
    start, end, style = original.scalar(path)
    if style in _BLOCKS:
        raise InputError((original.problem(path, "a block text (| or >) cannot be replaced in place"),))
    wanted = _with_value(original.root, path, new_text)
    for written in _writings(new_text, style):
        gap = " " if start == end and original.text[start - 1 : start] not in ("", " ") else ""
        changed = original.text[:start] + gap + written + original.text[end:]
        if _reads_as(changed, document.name, wanted):
            return changed
    message = f"{short(new_text)} cannot stand here without changing more than this value"
    raise InputError((original.problem(path, message),))


def _writings(text: str, style: str) -> Iterator[str]:
    if style == "" and _PLAIN.fullmatch(text):
        yield text
    if style == "'" and "\n" not in text:
        yield "'" + text.replace("'", "''") + "'"
    yield json.dumps(text, ensure_ascii=False)


def _reads_as(text: str, name: str, wanted: Any) -> bool:
    try:
        return bool(parse(text, name).root == wanted)
    except InputError:
        return False


def _with_value(node: Any, path: Path, value: str) -> Any:
    if not path:
        return value
    copy = node.copy()
    copy[path[0]] = _with_value(node[path[0]], path[1:], value)
    return copy
