"""Days and moments on the command line."""

from datetime import date, datetime
from typing import Final

from fitcheck.cli.common import RequestError

_LAST_YEAR: Final = 2200
"""Years from here on are taken for slips of the pen."""


def day(option: str, text: str) -> date:
    """Return the day that an option says.

    Raises:
        RequestError: it says none.
    """
    try:
        if len(text) == 10 and (found := date.fromisoformat(text)).year < _LAST_YEAR:
            return found
    except ValueError:
        pass
    raise RequestError(f"{option}: expected a date such as 2026-12-31, got {text[:40]!r}")


def moment(option: str, text: str | None) -> datetime:
    """Return the moment that an option says, now without it; a date alone is its very beginning.

    Raises:
        RequestError: it says none.
    """
    if text is None:
        return datetime.now()
    if len(text) > 10:
        try:
            found = datetime.strptime(text, "%Y-%m-%dT%H:%M")
            day(option, found.date().isoformat())
            return found
        except ValueError:
            raise RequestError(f"{option}: expected 2026-12-31 or 2026-12-31T15:30, got {text[:40]!r}") from None
    return datetime.combine(day(option, text), datetime.min.time())
