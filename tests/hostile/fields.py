"""Where a file of the user's may hold text: every place, found in the JSON Schemas, and set in a sample.

A place is a path through a file: a key, `*` for any key of a mapping that takes any, `[]` for any item of a list. One
that ends in `?` is the key itself. Whatever a schema lets be text is a place, quantities and names included: they
refuse what is none of them, and that too is looked at.
"""

import copy
from collections.abc import Iterator
from typing import Any, NamedTuple

from fitcheck.reports.schemas import schema

KINDS = ("build", "catalog", "offers", "stock")
Tree = Any
Way = tuple[str | int, ...]
ANY, ITEM = "*", "[]"


class Place(NamedTuple):
    """A place of one kind of file. `free` is True if the schema lets it be any text at all."""

    kind: str
    path: tuple[str, ...]
    key: bool
    free: bool

    def __str__(self) -> str:
        return f"{self.kind}: {'.'.join(self.path)}{'?' if self.key else ''}"


def places() -> tuple[Place, ...]:
    """Return every place of every kind of file that may hold text."""
    found = [place for kind in KINDS for place in _places(kind, schema(kind), schema(kind), (), ())]
    merged: dict[tuple[str, tuple[str, ...], bool], Place] = {}
    for place in found:
        known = merged.setdefault(place[:3], place)
        merged[place[:3]] = known._replace(free=known.free or place.free)
    return tuple(merged.values())


def _places(kind: str, whole: Any, here: Any, path: tuple[str, ...], seen: tuple[str, ...]) -> Iterator[Place]:
    if "$ref" in here:
        name = here["$ref"].rpartition("/")[2]
        if name not in seen:
            yield from _places(kind, whole, {**whole["$defs"][name], **_own(here)}, path, (*seen, name))
        return
    for way in ("anyOf", "oneOf", "allOf"):
        for inner in here.get(way, ()):
            yield from _places(kind, whole, inner, path, seen)
    for name, inner in here.get("properties", {}).items():
        yield from _places(kind, whole, inner, (*path, name), seen)
    yield from _below(kind, whole, here, path, seen)
    if _is_text(here):
        yield Place(kind, path, False, _is_free(here))


def _below(kind: str, whole: Any, here: Any, path: tuple[str, ...], seen: tuple[str, ...]) -> Iterator[Place]:
    more = here.get("additionalProperties", False)
    if more is not False or "patternProperties" in here:
        keys = here.get("propertyNames", {})
        yield Place(kind, (*path, ANY), True, _is_free(keys) and "patternProperties" not in here)
        for inner in (more, *here.get("patternProperties", {}).values()):
            if inner is True or inner == {}:
                yield Place(kind, (*path, ANY), False, True)
            elif inner is not False:
                yield from _places(kind, whole, inner, (*path, ANY), seen)
    for inner in (here.get("items"), *here.get("prefixItems", ())):
        if isinstance(inner, dict):
            yield from _places(kind, whole, inner, (*path, ITEM), seen)


def _own(here: Any) -> Any:
    return {key: value for key, value in here.items() if key not in ("$ref", "description")}


def _is_text(here: Any) -> bool:
    kinds = here.get("type", ())
    chosen = [*here.get("enum", ()), *([here["const"]] if "const" in here else [])]
    plain = {"string", "integer", "number", "boolean"} & set((kinds,) if isinstance(kinds, str) else kinds)
    return bool(plain) or any(isinstance(each, str) for each in chosen)


def _is_free(here: Any) -> bool:
    """Return whether the schema of a text says nothing about what it may be."""
    kinds = here.get("type", "string")
    numbers = {"integer", "number", "boolean"} & set((kinds,) if isinstance(kinds, str) else kinds)
    return not numbers and not {"pattern", "enum", "const", "format"} & here.keys()


def spot(tree: Tree, path: tuple[str, ...]) -> Way | None:
    """Return where in a tree a path leads: where something stands if anything does, else where it could be put."""
    return next(iter(spots(tree, path)), None)


def spots(tree: Tree, path: tuple[str, ...]) -> list[Way]:
    """Return everywhere in a tree where a path leads to something; if nowhere, where something could first be put."""
    found = list(_spots(tree, path, ()))
    return [each for each, there in found if there] or [each for each, _ in found[:1]]


def _spots(node: Tree, path: tuple[str, ...], way: Way) -> Iterator[tuple[Way, bool]]:
    if not path:
        yield way, True
        return
    step, rest = path[0], path[1:]
    if step == ITEM and isinstance(node, list):
        for index, inner in enumerate(node):
            yield from _spots(inner, rest, (*way, index))
    elif step == ANY and isinstance(node, dict):
        for key, inner in node.items():
            yield from _spots(inner, rest, (*way, key))
    elif isinstance(node, dict) and step in node:
        yield from _spots(node[step], rest, (*way, step))
    elif isinstance(node, dict) and not rest:
        yield (*way, step), False


def value_at(tree: Tree, way: Way) -> Any:
    """Return what stands somewhere, None if nothing does."""
    for step in way:
        try:
            tree = tree[step]
        except (KeyError, IndexError):
            return None
    return tree


def put(tree: Tree, way: Way, text: str) -> None:
    """Put a text somewhere in a tree."""
    value_at(tree, way[:-1])[way[-1]] = text


def filled(files: dict[str, Tree], place: Place, text: str) -> dict[str, Tree]:
    """Return the files with a text in one place; a key is changed wherever the file means it."""
    made = copy.deepcopy(files)
    way = spot(made[place.kind], place.path)
    assert way is not None, f"the sample has nothing around {place}"
    if place.key:
        made[place.kind] = renamed(made[place.kind], {str(way[-1]): text})
    else:
        put(made[place.kind], way, text)
    return made


def renamed(tree: Tree, names: dict[str, str]) -> Tree:
    """Return a tree with names changed: as keys, as whole texts, and as parts of a reference."""
    if isinstance(tree, dict):
        return {renamed(key, names): renamed(value, names) for key, value in tree.items()}
    if isinstance(tree, list):
        return [renamed(value, names) for value in tree]
    if isinstance(tree, str):
        return names.get(tree) or ".".join(names.get(part, part) for part in tree.split("."))
    return tree
