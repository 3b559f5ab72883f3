"""What may stand at the cursor: keys, part ids, ends, words of the trade, names of the build."""

from collections.abc import Iterable, Iterator
from typing import Final, Literal, NamedTuple

from fitcheck.catalog.part import Port
from fitcheck.catalog.shelf import Shelf
from fitcheck.reports.parts_text import port_words
from fitcheck.reports.plain import visible
from fitcheck.service.editor.cursor import Cursor
from fitcheck.service.editor.names import Names, part_kinds, slot, takes_ref
from fitcheck.service.editor.shapes import keys_at, words_at
from fitcheck.service.editor.texts import Kind
from fitcheck.trees import Mapping, Node, Sequence

MOST: Final = 200
"""Choices that are given at once; with more the editor asks again as more is typed."""
_MOST_ENDS: Final = 400
"""Ends up to which all are offered; in a larger build tags come first and their ends after the dot."""
_FILES: Final = ("catalogs", "offers", "stock")
Sort = Literal["key", "part", "end", "tag", "word"]


class Choice(NamedTuple):
    """Something that may stand at the cursor: what is written, what it is in a few words, and more about it."""

    text: str
    sort: Sort
    detail: str = ""
    about: str = ""
    later: bool = False


class Choices(NamedTuple):
    """What may stand at the cursor, best first; `more` says that some were left out."""

    found: tuple[Choice, ...]
    more: bool = False


def choices(kind: Kind, cursor: Cursor, names: Names) -> Choices:
    """Return what may stand at the cursor of a file of this kind. `names` is what its last whole tree names."""
    found: list[Choice] = []
    if cursor.role != "value":
        found += _keys(kind, cursor, names.root)
    if cursor.role != "key":
        found += _values(kind, cursor, names)
    typed = cursor.typed.lower()
    fitting = [choice for choice in found if _fits(choice.text.lower(), typed)]
    fitting.sort(key=lambda choice: (choice.later, not choice.text.lower().startswith(typed)))
    return Choices(tuple(_told(names.shelf, choice) for choice in fitting[:MOST]), len(fitting) > MOST)


def _fits(text: str, typed: str) -> bool:
    """Return whether every word of what is typed is in a text, whatever stands between: `tee inv`, `tee-inv`."""
    return all(word in text for word in typed.replace("-", " ").replace("_", " ").split())


def _keys(kind: Kind, cursor: Cursor, root: Node) -> Iterator[Choice]:
    there = set(_mapping_at(root, cursor.path)) - {cursor.typed}
    for key in keys_at(kind, cursor.path):
        if key.name not in there:
            yield Choice(f"{key.name}: {key.opens}", "key", "needed" if key.needed else "", key.about, not key.needed)
    if kind == "build" and cursor.path[:1] == ("variants",) and cursor.path[2:] == ("swap",):
        yield from (Choice(f"{tag}: ", "tag") for tag in _names_of(root) if tag not in there)


def _names_of(root: Node) -> Iterator[str]:
    for section in ("components", "lines", "hoses"):
        yield from _mapping_at(root, (section,))


def _mapping_at(root: Node, path: Iterable[str | int]) -> Mapping:
    node: object = root
    for step in path:
        if isinstance(node, Mapping) and isinstance(step, str):
            node = node.get(step)
        elif isinstance(node, Sequence) and isinstance(step, int) and step < len(node):
            node = node[step]
        else:
            return Mapping()
    return node if isinstance(node, Mapping) else Mapping()


def _values(kind: Kind, cursor: Cursor, names: Names) -> Iterator[Choice]:
    path = cursor.path
    if kind == "build":
        if takes_ref(path):
            yield from _ends(names, cursor.typed)
            return
        kinds = part_kinds(path)
        if kinds is not None:
            yield from _parts(names.shelf, kinds)
            return
        named = tuple(names.choices(path))
        if named:
            yield from (Choice(name, "word") for name in named)
            return
    elif slot(path) == "part":
        yield from _parts(names.shelf, None)
        return
    elif kind == "catalog" and slot(path) == "equivalent_to":
        yield from (Choice(part, "part") for part in (*names.known("parts"), *names.shelf.ids()))
        return
    yield from (Choice(word, "word") for word in words_at(kind, path))


def _parts(shelf: Shelf, kinds: frozenset[str] | None) -> Iterator[Choice]:
    seen: set[str] = set()
    for layer in shelf.layers:
        for part, kind in layer.kinds.items():
            if part not in seen and (kinds is None or kind in kinds):
                seen.add(part)
                yield Choice(part, "part", kind)


def _told(shelf: Shelf, choice: Choice) -> Choice:
    """Return a choice with what the catalog says of it: only of those that are shown."""
    part = shelf.get(choice.text) if choice.sort == "part" else None
    if part is None:
        return choice
    return choice._replace(detail=f"{part.kind}, {part.catalog}", about=visible(part.description))


def _ends(names: Names, typed: str) -> Iterator[Choice]:
    tag, dot, _ = typed.partition(".")
    if dot:
        yield from _ends_of(names, tag)
        return
    ends = [end for tag in names.fitted for end in _ends_of(names, tag)]
    if len(ends) <= _MOST_ENDS:
        yield from ends
    else:
        yield from (Choice(tag, "tag", fit.part_id) for tag, fit in names.fitted.items())


def _ends_of(names: Names, tag: str) -> Iterator[Choice]:
    fit = names.fitted.get(tag)
    for name, port in names.ends(tag).items():
        ref = f"{tag}.{name}"
        taken = ref in names.used
        yield Choice(ref, "end", _port(port) + ("; named already" if taken else ""), fit.part_id if fit else "", taken)


def _port(port: Port | None) -> str:
    return visible(port_words(port)) if port is not None else "end of a tube"
