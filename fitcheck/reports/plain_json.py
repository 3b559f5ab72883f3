"""JSON as every report writes it: keys in a fixed order, floats to four decimals, nothing that is not JSON."""

import json
import re
from collections.abc import Mapping, Sequence, Set
from decimal import Decimal
from fractions import Fraction
from math import isfinite
from typing import Any, Final

PLACES: Final = 4
"""Decimals of every figure: 0.1 micrometre, far below anything that can be made or measured."""
_UNSAFE: Final = re.compile("[\x7f-\x9f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ud800-\udfff]")
"""Characters that JSON lets stand but that drive a terminal or cannot be encoded: written as escapes."""


def plain(value: Any) -> Any:
    """Return `value` as what JSON can hold; what is infinite or no number becomes null.

    Records become what their `to_json` says. Sets are sorted, so that the same answer is the same text.
    """
    kind = type(value)
    if kind in _AS_THEY_ARE:
        return value
    if kind is dict:
        return {str(key): plain(item) for key, item in value.items()}
    if kind is list or kind is tuple:
        return [plain(item) for item in value]
    return _plain(value)


_AS_THEY_ARE: Final = frozenset((str, int, bool, type(None)))


def _plain(value: Any) -> Any:
    """Return the same of what is none of the common types, or is something more than one of them."""
    if isinstance(value, (bool, int)):
        return value
    if isinstance(value, str):
        return str(value)
    if isinstance(value, float):
        return round(float(value), PLACES) if isfinite(value) else None
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, Set):
        return sorted((plain(item) for item in value), key=str)
    if isinstance(value, Sequence):
        return [plain(item) for item in value]
    return _record(value)


def _record(value: Any) -> Any:
    to_json = getattr(value, "to_json", None)
    if to_json is not None:
        return plain(to_json())
    if isinstance(value, (Decimal, Fraction)):
        return plain(float(value))
    return str(value)


def json_text(value: Any) -> str:
    """Return `value` as indented JSON, characters as written except those that drive a terminal."""
    return _safe(json.dumps(plain(value), indent=2, ensure_ascii=False, allow_nan=False))


def compact_text(value: Any) -> str:
    """Return `value` as JSON on one line, for programs: two thirds of the bytes in half of the time."""
    return plain_text(plain(value))


def plain_text(value: Any) -> str:
    """Return what `plain` has returned, or holds nothing that it would change, as JSON on one line."""
    return _safe(_COMPACT.encode(value))


_COMPACT: Final = json.JSONEncoder(separators=(",", ":"), ensure_ascii=False, allow_nan=False, check_circular=False)
"""What is plain holds nothing that holds itself."""


def _safe(text: str) -> str:
    if text.isascii() and "\x7f" not in text:
        return text
    return _UNSAFE.sub(lambda match: f"\\u{ord(match[0]):04x}", text)
