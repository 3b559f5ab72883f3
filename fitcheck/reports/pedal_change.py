"""What an exchange of parts changes at the pedals: only what differs, before and after. Text and plain values."""

from collections.abc import Iterator
from typing import Any

from fitcheck.hydraulics.change import Changed, Kind, Row, Value
from fitcheck.reports.pedal_words import UNKNOWN, Shown, gravity, share, table
from fitcheck.reports.plain import paragraph


def cell(value: Value, kind: Kind, shown: Shown) -> str:
    """Return one value of a row in the user's units."""
    if value is None:
        return UNKNOWN
    if isinstance(value, str):
        return value
    if kind == "share":
        return share(value)
    if kind == "g":
        return gravity(value)
    return {"pressure": shown.pressure, "force": shown.force, "length": shown.length}.get(kind, str)(value)


def cells(row: Row, shown: Shown) -> list[str]:
    """Return a row's name, and what it was and is."""
    name = f"{row.what}, {row.at}" if row.at else row.what
    return [name, cell(row.before, row.kind, shown), cell(row.after, row.kind, shown)]


def pedal_lines(changed: Changed | None, width: int) -> Iterator[str]:
    """Yield the section of an exchange; nothing where neither build says anything of a pedal."""
    if changed is None:
        return
    shown = Shown(changed.units)
    told = [cells(row, shown) for row in changed.rows]
    differing = [each for each in told if each[1] != each[2]]
    yield from ("", "PEDAL", "")
    if not differing:
        yield from paragraph("pressure, stroke, travel and balance stay as they are", width, "  ", "    ")
        return
    yield from table(["at the stated push", "before", "after"], differing, width)


def pedal_value(changed: Changed | None) -> dict[str, Any]:
    """Return what differs as plain values under the key `pedal`; nothing where there is no pedal."""
    return {} if changed is None else {"pedal": [row_value(row) for row in changed.rows]}


def row_value(row: Row) -> dict[str, Any]:
    """Return a row as plain values, with the unit of its figures."""
    unit = {"pressure": "MPa", "force": "N", "length": "mm", "g": "g"}.get(row.kind, "")
    return {"what": row.what, "at": row.at, "unit": unit, "before": row.before, "after": row.after}
