"""What a defect says of itself."""

from typing import NamedTuple


class Made(NamedTuple):
    """The rule that has to speak, and places of which the finding must name at least one."""

    rule: str
    places: frozenset[str]


def made(rule: str, *places: str) -> Made:
    """Return what a defect says of itself."""
    return Made(rule, frozenset(places))
