"""Names in a build: tags, and references of the form `tag.port`."""

import re
from typing import Any, Final

_NAME: Final = re.compile(r"[\w-]{1,80}")


def checked_tag(value: Any) -> Any:
    """Return `value` if it can be a tag: letters, digits, `_` and `-`, at most 80.

    Raises:
        ValueError: it is text, but no tag.
    """
    if isinstance(value, str) and not _NAME.fullmatch(value):
        raise ValueError(f"{value[:80]!r} is no tag: use letters, digits, _ and -")
    return value


def checked_ref(value: Any) -> Any:
    """Return `value` if it reads `tag.port`.

    Raises:
        ValueError: it is text, but not two names with a dot between.
    """
    if isinstance(value, str):
        tag, dot, port = value.partition(".")
        if not (dot and _NAME.fullmatch(tag) and _NAME.fullmatch(port)):
            raise ValueError(f"expected a port as tag.port, such as caliper_fl.inlet, got {value[:80]!r}")
    return value


def tag_of(ref: str) -> str:
    """Return the tag of a reference: `caliper_fl` of `caliper_fl.inlet`."""
    return ref.partition(".")[0]


def port_of(ref: str) -> str:
    """Return the port or end of a reference: `inlet` of `caliper_fl.inlet`."""
    return ref.partition(".")[2]
