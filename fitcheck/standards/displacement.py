"""What is assumed of stroke and travel where nobody states it, and how much of their way may be used."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Literal, NamedTuple

from fitcheck.standards.figures import number
from fitcheck.standards.unknown import UnknownNameError


class UnknownAssumptionError(UnknownNameError):
    """An assumption that the table does not hold."""

    what = "assumption"


class Assumption(NamedTuple):
    """What is taken of something that nobody states, in `unit`, the range it may lie in, and where that comes from."""

    name: str
    value: float
    low: float
    high: float
    unit: str
    mark: str


class Most(NamedTuple):
    """The greatest share of its way that a pedal or a piston may use, and where that comes from."""

    share: float
    mark: str


def _table() -> Mapping[str, Any]:
    from fitcheck.standards.tables import load

    return load("displacement")


@lru_cache(maxsize=1)
def assumptions() -> dict[str, Assumption]:
    """Return every assumption by name, in the table's order."""
    return {name: _assumption(name, row) for name, row in _table()["assumed"].items()}


def _assumption(name: str, row: Mapping[str, str]) -> Assumption:
    value, low, high = (number(row[key]) for key in ("value", "low", "high"))
    return Assumption(name, value, low, high, row["unit"], row["mark"])


def assumption(name: str) -> Assumption:
    """Return what is assumed of `name`.

    >>> assumption("disc_gap").value
    0.1

    Raises:
        UnknownAssumptionError: nothing is; the message gives the nearest.
    """
    found = assumptions().get(name)
    if found is None:
        raise UnknownAssumptionError(name, assumptions())
    return found


def most(what: Literal["pedal", "stroke"]) -> Most:
    """Return how much of its way a pedal, or the piston of a master cylinder, may use.

    Source: 49 CFR 570.55 for the pedal, at 50 lbf (222 N); for the piston common practice, no source.
    """
    row = _table()["reserve"][what]
    return Most(number(row["most"]), row["mark"])
