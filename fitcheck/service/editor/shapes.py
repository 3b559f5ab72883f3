"""Which keys and words a place in a file takes, from the same models that refuse all others."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any, Final, NamedTuple

from fitcheck.service.editor.texts import Kind

Path = tuple[str | int, ...]
_MOST_DEEP: Final = 12
_REFERENCES: Final = "#/$defs/"


class Key(NamedTuple):
    """A key that a mapping takes; `opens` is what its value begins with: ``{``, ``[`` or nothing."""

    name: str
    about: str
    needed: bool
    opens: str


def keys_at(kind: Kind, path: Path) -> tuple[Key, ...]:
    """Return the keys that the mapping at `path` takes, in the order of the models; none if it takes any name."""
    found: dict[str, Key] = {}
    for shape in _at(kind, path):
        needed = shape.get("required", ())
        for name, inner in shape.get("properties", {}).items():
            found.setdefault(name, Key(name, _about(kind, inner), name in needed, _opens(kind, inner)))
    return tuple(found.values())


def words_at(kind: Kind, path: Path) -> tuple[str, ...]:
    """Return the words that the value at `path` may be, or examples of what may stand there."""
    found: dict[str, None] = {}
    for shape in _at(kind, path):
        said = [*shape.get("enum", ()), *([shape["const"]] if "const" in shape else []), *shape.get("examples", ())]
        said += ["true", "false"] if shape.get("type") == "boolean" else []
        found.update(dict.fromkeys(str(word) for word in said))
    return tuple(found)


def about(kind: Kind, path: Path) -> str | None:
    """Return what the key at the end of `path` means, None if no model says."""
    if not path or not isinstance(path[-1], str):
        return None
    key = next((key for key in keys_at(kind, path[:-1]) if key.name == path[-1]), None)
    return key.about or None if key is not None else None


@lru_cache(maxsize=4)
def _schema(kind: Kind) -> dict[str, Any]:
    from fitcheck.reports.schemas import schema  # a third of a second, once

    return schema(kind)


def _at(kind: Kind, path: Path) -> tuple[dict[str, Any], ...]:
    if kind == "build" and path[:1] == ("variants",) and path[2:3] == ("add",):
        path = path[3:]  # what a variant adds has the shape of a build
    shapes: list[dict[str, Any]] = list(_forms(kind, _schema(kind)))
    for step in path:
        shapes = [form for shape in shapes for inner in _inside(shape, step) for form in _forms(kind, inner)]
    return tuple(shapes)


def _forms(kind: Kind, shape: dict[str, Any], depth: int = 0) -> Iterator[dict[str, Any]]:
    """Yield every form that a value may have: references followed, alternatives one by one."""
    if depth > _MOST_DEEP:
        return
    reference = shape.get("$ref", "")
    if reference.startswith(_REFERENCES):
        yield from _forms(kind, _schema(kind)["$defs"][reference.removeprefix(_REFERENCES)], depth + 1)
        return
    alternatives: Iterable[dict[str, Any]] = [*shape.get("anyOf", ()), *shape.get("oneOf", ()), *shape.get("allOf", ())]
    if not alternatives:
        yield shape
    for form in alternatives:
        yield from _forms(kind, form, depth + 1)


def _inside(shape: dict[str, Any], step: str | int) -> Iterator[dict[str, Any]]:
    if isinstance(step, int):
        first = shape.get("prefixItems", ())
        items = first[step] if step < len(first) else shape.get("items")
        if isinstance(items, dict):
            yield items
        return
    inner = shape.get("properties", {}).get(step)
    if inner is None:
        inner = shape.get("additionalProperties")
    if isinstance(inner, dict):
        yield inner


def _about(kind: Kind, shape: dict[str, Any]) -> str:
    said = shape.get("description")
    return str(
        said if said else next((form["description"] for form in _forms(kind, shape) if form.get("description")), "")
    )


def _opens(kind: Kind, shape: dict[str, Any]) -> str:
    types = {str(form.get("type")) for form in _forms(kind, shape)} - {"null"}
    return {"object": "{", "array": "["}.get(types.pop(), "") if len(types) == 1 else ""
