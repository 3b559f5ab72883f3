"""Days and moments on the command line."""

from datetime import date, datetime

from fitcheck.cli.common import RequestError


def day(option: str, text: str) -> date:
    """Return the day that an option says.

    Raises:
        RequestError: it says none.
    """
    try:
        if len(text) == 10:
            return date.fromisoformat(text)
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
            return datetime.strptime(text, "%Y-%m-%dT%H:%M")
        except ValueError:
            raise RequestError(f"{option}: expected 2026-12-31 or 2026-12-31T15:30, got {text[:40]!r}") from None
    return datetime.combine(day(option, text), datetime.min.time())
