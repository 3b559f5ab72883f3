"""Sentences for what pydantic refuses, in words of the file: what was expected, what was got."""

from collections.abc import Callable, Mapping
from typing import Any, Final

from fitcheck.naming import hint
from fitcheck.trees import short

NAME_PATTERN: Final = r"^[\w-]+$"

_EXPECTED: Final = {
    kind: expected
    for expected, kinds in {
        "a mapping": "model_type model_attributes_type dataclass_type dict_type mapping_type",
        "a list": "list_type tuple_type set_type frozen_set_type iterable_type",
        "text": "string_type string_sub_type string_unicode",
        "a whole number": "int_type int_parsing int_parsing_size int_from_float",
        "a number": "float_type float_parsing decimal_type decimal_parsing",
        "a finite number": "finite_number",
        "true or false": "bool_type bool_parsing",
        "a date": "date_type date_parsing date_from_datetime_parsing",
        "nothing": "none_required",
    }.items()
    for kind in kinds.split()
}
_LIMITS: Final = {
    "greater_than": ("more than", "gt"),
    "greater_than_equal": ("at least", "ge"),
    "less_than": ("less than", "lt"),
    "less_than_equal": ("at most", "le"),
    "multiple_of": ("a multiple of", "multiple_of"),
}


def described(value: Any) -> str:
    """Return what a value of a file is, for a message: ``text 'x'``, ``a mapping``, ``nothing``."""
    if value is None:
        return "nothing"
    if isinstance(value, str):
        return f"text {short(value)}"
    if isinstance(value, Mapping):
        return "a mapping"
    if isinstance(value, (list, tuple)):
        return "a list"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, (int, float)):
        return f"the number {value!r:.40}"
    return "something else"


def sentence(kind: str, value: Any, context: Mapping[str, Any]) -> str:
    """Return one sentence for a pydantic error of type `kind` about `value`, never pydantic's own."""
    if kind in _EXPECTED:
        return f"expected {_EXPECTED[kind]}, got {described(value)}"
    if kind in _LIMITS:
        words, key = _LIMITS[kind]
        return f"expected {words} {context.get(key)}, got {described(value)}"
    make = _SPECIAL.get(kind)
    return make(value, context) if make else f"{described(value)} cannot be used here"


def _own_text(value: Any, context: Mapping[str, Any]) -> str:
    told = str(context.get("error", ""))
    if isinstance(value, str):
        told = told.replace(repr(value), short(value))  # a text may be as long as a file
    return told or f"{described(value)} cannot be used here"


def _one_of(value: Any, context: Mapping[str, Any]) -> str:
    expected = str(context.get("expected", ""))
    known = [part for part in expected.split("'")[1::2] if part.strip()]
    return f"expected {expected}, got {described(value)}{hint(value, known) if isinstance(value, str) else ''}"


def _form(value: Any, context: Mapping[str, Any]) -> str:
    return f"{described(value)} has none of the forms that are taken here"


def _pattern(value: Any, context: Mapping[str, Any]) -> str:
    shown = short(value) if isinstance(value, str) else described(value)
    if context.get("pattern") == NAME_PATTERN:
        return f"{shown} is no name: use letters, digits, _ and -"
    return f"{shown} does not have the form {context.get('pattern')}"


def _items(value: Any, context: Mapping[str, Any]) -> str:
    least, most = context.get("min_length"), context.get("max_length")
    bound = f"at least {least}" if most is None else f"at most {most}"
    got = len(value) if isinstance(value, (list, tuple, dict)) else context.get("actual_length")
    return f"expected {bound} item{'' if 1 in (least, most) else 's'}, got {got}"


def _characters(value: Any, context: Mapping[str, Any]) -> str:
    least, most = context.get("min_length"), context.get("max_length")
    if least == 1:
        return "expected text, got nothing"
    bound = f"at least {least}" if most is None else f"at most {most}"
    return f"expected {bound} characters, got {described(value)}"


_SPECIAL: Final[dict[str, Callable[[Any, Mapping[str, Any]], str]]] = {
    "value_error": _own_text,
    "assertion_error": _own_text,
    "literal_error": _one_of,
    "enum": _one_of,
    "union_tag_invalid": _form,
    "union_tag_not_found": _form,
    "string_pattern_mismatch": _pattern,
    "too_short": _items,
    "too_long": _items,
    "string_too_short": _characters,
    "string_too_long": _characters,
}
