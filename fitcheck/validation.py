"""Checking what a file holds against a pydantic model, with every refusal at its place in the file.

A model may say what one of it is called in messages: ``what: ClassVar[str] = "a line"``.
"""

from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Final, NamedTuple, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel, Tag, ValidationError

from fitcheck.naming import hint
from fitcheck.refusals import sentence
from fitcheck.trees import Document, InputError, Mapping, Mark, Path, Problem, Sequence, short

MOST_PROBLEMS: Final = 1000
"""Problems reported one by one, first in the file first; the rest of them are counted."""
_LISTS: Final = (list, tuple, set, frozenset)
_MOST_NAMED: Final = 12
_Model = TypeVar("_Model", bound=BaseModel)


def validate(model: type[_Model], document: Document, *, base: Path = (), node: Any = None) -> _Model:
    """Return the `model` that `document` holds, or the part of it at the path `base`.

    `node` is the value to check, if the caller has it at hand; it must stand at `base`.

    Raises:
        InputError: it is not such a model. All that is wrong is reported, in the order of the file.
    """
    value = _value_at(document.root, base) if node is None else node
    try:
        return model.model_validate(value)
    except ValidationError as error:
        raise InputError(_problems(model, document, base, error)) from None


class _Place(NamedTuple):
    """Where an error belongs: the path in the file, and the type that is expected around its last step."""

    path: Path
    holder: Any
    is_key: bool


def _problems(model: type[BaseModel], document: Document, base: Path, error: ValidationError) -> tuple[Problem, ...]:
    found: list[tuple[Mark, _Place, Any]] = []
    for details in error.errors(include_url=False):
        place = _place(model, base, details["loc"], document)
        found.append((_mark(document, place, details), place, details))
    found.sort(key=lambda entry: entry[0].offset)
    problems = dict.fromkeys(
        Problem(document.name, mark.line, mark.column, _message(place, details))
        for mark, place, details in found[:MOST_PROBLEMS]
    )
    if len(found) > MOST_PROBLEMS:
        mark = found[MOST_PROBLEMS][0]
        message = f"{len(found) - MOST_PROBLEMS} more problems from here on"
        problems[Problem(document.name, mark.line, mark.column, message)] = None
    return tuple(problems)


def _mark(document: Document, place: _Place, details: Any) -> Mark:
    """Return where an error is to be shown; one that knows its `offset` within a text, at that word."""
    offset = getattr((details.get("ctx") or {}).get("error"), "offset", None)
    if isinstance(offset, int):
        return document.inside(place.path, offset)
    at_key = place.is_key or details["type"] == "extra_forbidden"
    collection = isinstance(_value_at(document.root, place.path), (Mapping, Sequence))
    return document.mark(place.path, key=at_key or collection)


def _message(place: _Place, details: Any) -> str:
    kind, value = details["type"], details["input"]
    if kind == "extra_forbidden":
        return _unknown_key(str(place.path[-1]), place.holder)
    if kind == "missing":
        return _missing(place, value)
    return sentence(kind, value, details.get("ctx") or {})


def _unknown_key(key: str, holder: Any) -> str:
    known = list(_fields(holder))
    near = hint(key, known)
    if not near and len(known) <= _MOST_NAMED:
        near = f"; known: {', '.join(known)}"
    return f"unknown key {short(key)} in {_what(holder)}{near}"


def _missing(place: _Place, value: Any) -> str:
    last = place.path[-1]
    if isinstance(last, str):
        return f"{_what(place.holder)} needs {last!r}"
    wanted = len(get_args(place.holder)) or last + 1
    got = len(value) if isinstance(value, (list, tuple)) else last
    return f"expected {wanted} items, got {got}"


def _what(holder: Any) -> str:
    return str(getattr(holder, "what", "this entry"))


def _value_at(node: Any, path: Path) -> Any:
    for step in path:
        try:
            node = node[step]
        except (KeyError, IndexError, TypeError):
            return None
    return node


def _place(model: Any, base: Path, loc: tuple[int | str, ...], document: Document) -> _Place:
    """Turn a pydantic location into a path of the file: names of union members and functions are left out."""
    path, expected, holder = base, model, model
    for step in loc:
        expected = _bare(expected)
        if step == "[key]" and get_origin(holder) is dict:
            return _Place(path, holder, True)
        members = _members(expected)
        if len(members) > 1:
            expected = _member(members, step)
        elif (inner := _inside(expected, step)) is not None:
            path, expected, holder = (*path, step), inner, expected
        elif _value_at(document.root, (*path, step)) is not None:
            path, expected, holder = (*path, step), Any, expected
    return _Place(path, holder, False)


def _inside(expected: Any, step: int | str) -> Any:
    """Return the type expected at `step` inside a value of type `expected`, or None if there is none."""
    origin, arguments = get_origin(expected), get_args(expected)
    if isinstance(expected, type) and issubclass(expected, BaseModel):
        return _fields(expected).get(str(step), Any)
    if origin is dict:
        return arguments[1]
    if origin in _LISTS and isinstance(step, int):
        return arguments[step] if origin is tuple and step < len(arguments) and ... not in arguments else arguments[0]
    return None


@cache
def _fields(model: Any) -> dict[str, Any]:
    """Return the keys that a model takes, as users write them, with their types."""
    fields = getattr(model, "model_fields", {})
    return {field.alias or name: field.annotation for name, field in fields.items()}


def _bare(expected: Any) -> Any:
    """Return a type without its annotations, and without the None of an optional one."""
    while True:
        members = _members(expected)
        if get_origin(expected) is Annotated:
            expected = get_args(expected)[0]
        elif len(members) == 1 and members[0] is not expected:
            expected = members[0]
        else:
            return expected


def _members(expected: Any) -> list[Any]:
    if get_origin(expected) not in (Union, UnionType):
        return [expected]
    return [member for member in get_args(expected) if member is not NoneType]


def _member(members: list[Any], step: int | str) -> Any:
    """Return the union member that a step of a pydantic location names: by its tag, or by its type's name."""
    for member in members:
        if step in (_tag(member), getattr(_bare(member), "__name__", None)):
            return member
    return Any


def _tag(member: Any) -> str | None:
    metadata = get_args(member)[1:] if get_origin(member) is Annotated else ()
    return next((data.tag for data in metadata if isinstance(data, Tag)), None)
