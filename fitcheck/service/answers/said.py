"""Quantities, days and currencies as requests say them."""

from datetime import date, datetime
from typing import Final

from fitcheck.quantities import Quantity, QuantityError, parse
from fitcheck.service.answers.source import AskedError

_LAST_YEAR: Final = 2200
"""Years from here on are taken for slips of the pen."""


def quantity(field: str, text: str, what: str) -> float:
    """Return the number that a field says, in the unit that is used inside.

    Raises:
        AskedError: it says none.
    """
    return float(quantity_of(field, text, what))


def quantity_of(field: str, text: str, what: str) -> Quantity:
    """Return the quantity that a field says, with the unit it was said in.

    Raises:
        AskedError: it says none.
    """
    try:
        return parse(text, what)
    except QuantityError as error:
        raise AskedError(f"{field}: {error}") from None


def length(field: str, text: str, most: float | None = None) -> float:
    """Return the length that a field says [mm].

    Raises:
        AskedError: it says none, one below zero, or more than `most`.
    """
    found = quantity(field, text, "length")
    if found < 0:
        raise AskedError(f"{field}: expected a length of 0 mm or more, got {text}")
    if most is not None and found > most:
        raise AskedError(f"{field}: expected at most {most:g} mm, got {text}")
    return found


def day(field: str, text: str) -> date:
    """Return the day that a field says.

    Raises:
        AskedError: it says none.
    """
    try:
        if len(text) == 10 and (found := date.fromisoformat(text)).year < _LAST_YEAR:
            return found
    except ValueError:
        pass
    raise AskedError(f"{field}: expected a date such as 2026-12-31, got {text[:40]!r}")


def moment(field: str, text: str | None) -> datetime:
    """Return the moment that a field says, now without it; a date alone is its very beginning.

    Raises:
        AskedError: it says none.
    """
    if text is None:
        return datetime.now()
    if len(text) <= 10:
        return datetime.combine(day(field, text), datetime.min.time())
    try:
        found = datetime.strptime(text, "%Y-%m-%dT%H:%M")
    except ValueError:
        raise AskedError(f"{field}: expected 2026-12-31 or 2026-12-31T15:30, got {text[:40]!r}") from None
    day(field, found.date().isoformat())
    return found
