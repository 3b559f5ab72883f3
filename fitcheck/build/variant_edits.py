"""A change of a variant, written into the variant's own block: the build and its other variants stay as they are."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

from fitcheck.build.variants import chosen_variant
from fitcheck.changes import Append, Change, Drop, Put, changed_document, changed_tree
from fitcheck.errors import FitcheckError
from fitcheck.trees import Document, InputError, Mapping, Path

_KEYS: Final = {"components": "part", "hoses": "part", "lines": "tube"}
_ENTRY: Final = 2
"""Steps of the path of an entry of a section."""


class OutsideError(FitcheckError, ValueError):
    """A change that a variant's block cannot say."""

    def __init__(self, variant: str) -> None:
        super().__init__(variant)
        self.variant = variant

    def __str__(self) -> str:
        return f"the variant {self.variant} has no way to say this: change the build itself, or the file as text"


def changed_variant(document: Document, name: str, changes: Iterable[Change]) -> Document:
    """Return the file with the changes of a variant in the variant's block, and read again; comments are kept.

    The changes are of the tree of the variant, as `chosen_variant` returns it. What comes out is compared: the variant
    has to be what the changes make of it, and nothing else may differ.

    Raises:
        OutsideError: the block cannot say so, or says something else of the same place already.
        InputError: there is no such variant, or the changes are not of it.
        ConflictError: two of the changes cannot both be made.
    """
    chosen, asked = chosen_variant(document, name), tuple(changes)
    wanted = _without_variants(changed_tree(chosen, asked))
    said = _said(document, name, chosen, asked)
    try:
        made = changed_document(document, said)
        same = _without_variants(chosen_variant(made, name)) == wanted
    except InputError:
        raise OutsideError(name) from None
    if not same:
        raise OutsideError(name)
    return made


def _without_variants(document: Document) -> dict[str, Any]:
    return {key: value for key, value in _mapping(document.root).items() if key != "variants"}


def _said(document: Document, name: str, chosen: Document, changes: Sequence[Change]) -> list[Change]:
    """Return the changes as changes of the variant's block, if it has words for each of them."""
    block = _part(_part(_mapping(document.root), "variants"), name)
    dropped = {change.path[1] for change in changes if isinstance(change, Drop) and _is_fitted(change.path)}
    found: list[Change] = []
    for change in changes:
        if isinstance(change, Drop) and dropped and change.path[0] == "joints":
            continue  # the joints of what is dropped go with it
        own = _words(document, block, chosen, change)
        found += (each._replace(path=("variants", name, *each.path)) for each in own)
    return found


def _words(document: Document, block: Mapping, chosen: Document, change: Change) -> Iterator[Change]:
    path = change.path
    if _has(block.get("add"), path[:_ENTRY]) or isinstance(change, Append):  # what it brings in is changed there
        yield change._replace(path=("add", *path))
    elif isinstance(change, Drop):
        yield Append(("drop",), _dotted(path))
    elif len(path) == _ENTRY and not _has(chosen.root, path):
        yield change._replace(path=("add", *path))
    elif _is_part(path) and _dotted(path) not in _part(block, "set") and _has(document.root, path[:_ENTRY]):
        yield Put(("swap", path[1]), change.value)
    else:
        yield Put(("set", _dotted(path)), change.value)


def _is_fitted(path: Path) -> bool:
    return len(path) == _ENTRY and path[0] in _KEYS


def _is_part(path: Path) -> bool:
    return len(path) == _ENTRY + 1 and isinstance(path[0], str) and _KEYS.get(path[0]) == path[2]


def _part(block: Mapping, key: str) -> Mapping:
    return _mapping(block.get(key))


def _mapping(node: Any) -> Mapping:
    return node if isinstance(node, Mapping) else Mapping()


def _has(node: Any, path: Path) -> bool:
    """Return whether there is an entry of a mapping at `path`."""
    for step in path:
        if not isinstance(node, Mapping) or not isinstance(step, str) or step not in node:
            return False
        node = node[step]
    return True


def _dotted(path: Path) -> str:
    return ".".join(map(str, path))
