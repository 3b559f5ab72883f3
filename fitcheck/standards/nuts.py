"""Tube nuts: which thread goes with which tube and seat."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Literal, NamedTuple

from fitcheck.standards.figures import measure, measure_if
from fitcheck.standards.seats import Gender, seat
from fitcheck.standards.sizes import same_tube


class Nut(NamedTuple):
    """One tube nut of one seat.

    Attributes:
        seat: the seat it is made for.
        tube: name of the tube size it takes.
        od_mm: outside diameter of that tube [mm].
        thread: designation.
        gender: thread of the nut.
        use: `usual`; `oversize`, keyed against cross-plumbing; or `regional`, met on some vehicles.
        hexes: sizes across flats as printed, the commonest first; empty where not known.
        hexes_mm: the same [mm].
        bore_mm: hole for the tube [mm]; None where not known.
        mark: where the row comes from.
    """

    seat: str
    tube: str
    od_mm: float
    thread: str
    gender: Gender
    use: Literal["usual", "oversize", "regional"]
    hexes: tuple[str, ...]
    hexes_mm: tuple[float, ...]
    bore_mm: float | None
    mark: str

    @property
    def lead(self) -> Literal["plain", "threaded"] | None:
        """`plain` if the nut must end in an unthreaded lead, `threaded` if it is threaded to its end."""
        return seat(self.seat).nut_lead


@lru_cache(maxsize=1)
def nuts() -> tuple[Nut, ...]:
    """Return every nut that the table holds, by seat, then by tube size."""
    from fitcheck.standards.tables import load

    table = load("nuts")
    return tuple(_nut(row, table["unit"]) for row in table["nuts"])


def _nut(row: Mapping[str, Any], unit: str) -> Nut:
    gender = seat(row["seat"]).nut_gender
    assert gender is not None  # a test walks every row
    hexes = row.get("hex", ())
    return Nut(
        seat=row["seat"],
        tube=row["tube"],
        od_mm=measure(row["tube"]),
        thread=row["thread"],
        gender=gender,
        use=row["use"],
        hexes=tuple(text if text[-1].isalpha() else f"{text} {unit}" for text in hexes),
        hexes_mm=tuple(measure(text, unit) for text in hexes),
        bore_mm=measure_if(row.get("bore"), unit),
        mark=row["mark"],
    )


def nuts_for(seat_name: str, od_mm: float) -> tuple[Nut, ...]:
    """Return the nuts of a seat for a tube of outside diameter `od_mm` [mm], the usual ones first.

    Raises:
        UnknownSeatError: `seat_name` is no seat.
    """
    seat(seat_name)
    fitting = (nut for nut in nuts() if nut.seat == seat_name and same_tube(nut.od_mm, od_mm))
    return tuple(sorted(fitting, key=lambda nut: nut.use != "usual"))
