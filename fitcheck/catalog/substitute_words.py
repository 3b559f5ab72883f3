"""The words for what one part has and another has not, where the two are compared as substitutes."""

from collections.abc import Iterable
from typing import Final

from fitcheck.standards.threads import Thread

UNITS: Final = {
    **dict.fromkeys(("displacement", "volume", "reservoir_volume"), "mm3"),
    **dict.fromkeys(("setting", "max_pressure", "burst"), "MPa"),
    **dict.fromkeys(("eyes", "slope"), ""),
    "give": "mm3/MPa",
}


def text_of(field: str, value: object) -> str:
    """Return a value with its unit."""
    if field in ("pistons", "chambers") and isinstance(value, tuple):
        return " and ".join(text_of(field, each) for each in value)
    if isinstance(value, tuple) and not isinstance(value, Thread):
        return " by ".join("unknown" if each is None else text_of(field, each) for each in value)
    if not isinstance(value, float | int):
        return str(value)
    return f"{value:g} {UNITS.get(field, 'mm')}".rstrip()


def groups_of(passages: Iterable[tuple[str, ...]]) -> str:
    """Return passages as words, in an order that does not matter."""
    return " and ".join(sorted("-".join(sorted(group)) for group in passages)) or "none"


def names_of(names: Iterable[str] | None, ordered: bool = False) -> str:
    """Return names as words, in an order that does not matter unless `ordered`; `none` if there is none."""
    words = list(names or ())
    return ", ".join(words if ordered else sorted(words)) or "none"
