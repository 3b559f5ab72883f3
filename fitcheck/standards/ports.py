"""Threads usually met at the ports of brake and clutch parts, for guessing well before measuring."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from fitcheck.standards.figures import measure, measure_if
from fitcheck.standards.seats import Gender


class UsualPort(NamedTuple):
    """One thread met at one kind of port. Lengths in mm; `seat` and `od_mm` None where not bound to one."""

    use: str
    thread: str
    gender: Gender
    seat: str | None
    od_mm: float | None
    hexes_mm: tuple[float, ...]
    mark: str


@lru_cache(maxsize=1)
def usual_ports() -> tuple[UsualPort, ...]:
    """Return every row of the table, by use."""
    from fitcheck.standards.tables import load

    table = load("ports")
    return tuple(_port(row, table["unit"]) for row in table["ports"])


def _port(row: Mapping[str, Any], unit: str) -> UsualPort:
    return UsualPort(
        use=row["use"],
        thread=row["thread"],
        gender=row["gender"],
        seat=row.get("seat"),
        od_mm=measure_if(row.get("tube"), unit),
        hexes_mm=tuple(measure(text, unit) for text in row.get("hex", ())),
        mark=row["mark"],
    )
