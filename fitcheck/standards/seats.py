"""The sealing forms: what each needs, and what goes wrong when two unlike ones are brought together."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Final, Literal, NamedTuple

from fitcheck.standards.figures import flag
from fitcheck.standards.unknown import UnknownNameError

SEAT_NAMES: Final = (
    "inverted-flare",
    "bubble",
    "cone-37",
    "cone-45",
    "washer-face",
    "o-ring",
    "taper",
    "push-on",
    "ferrule",
)
"""Every seat, in the table's order. Kept here too, so that checking a word does not read the table."""

Gender = Literal["external", "internal"]


class UnknownSeatError(UnknownNameError):
    """A seat that the table does not hold."""

    what = "seat"


class Seat(NamedTuple):
    """One sealing form.

    Attributes:
        name: the word users write.
        description: what the port looks like.
        flare: how a tube's end is formed for it; None where no flared tube goes in.
        nut_gender: thread of the tube nut; None where there is none.
        port_genders: thread of the side that carries the seat; its mate has the other.
        sleeve: whether a sleeve goes under the nut.
        tube_end: whether a flared tube can be the other side.
        nut_lead: `plain` if the nut needs an unthreaded end, `threaded` if it is threaded to its end.
        pressure: whether it is fit for brake pressure.
        needs_tube: whether both sides must be made for the same tube size.
        sealed_by: what makes the seal.
        standard: the standards that describe it, by number.
        notes: what a builder should know.
        refusal: why it is not fit for brake pressure; None if it is.
        mark: where the row's facts come from.
    """

    name: str
    description: str
    flare: str | None
    nut_gender: Gender | None
    port_genders: tuple[Gender, ...]
    sleeve: bool
    tube_end: bool
    nut_lead: Literal["plain", "threaded"] | None
    pressure: bool
    needs_tube: bool
    sealed_by: str
    standard: str
    notes: str
    refusal: str | None
    mark: str


class PairNote(NamedTuple):
    """What happens when unlike seats are brought together.

    Attributes:
        end: seat of the tube end, hose end or stud that comes.
        port: seat of the port it comes to.
        starts: whether it seems to fit by hand in sizes that share a thread.
        outcome: what goes wrong.
        mark: where that comes from.
    """

    end: str
    port: str
    starts: bool
    outcome: str
    mark: str


@lru_cache(maxsize=1)
def _seats() -> dict[str, Seat]:
    from fitcheck.standards.tables import load

    return {name: _seat(name, row) for name, row in load("seats")["seats"].items()}


def _seat(name: str, row: Mapping[str, Any]) -> Seat:
    return Seat(
        name=name,
        description=row["description"],
        flare=row["flare"],
        nut_gender=row["nut_gender"],
        port_genders=(row["port"],),
        sleeve=flag(row["sleeve"]),
        tube_end=flag(row["tube_end"]),
        nut_lead=row["nut_lead"],
        pressure=flag(row["pressure"]),
        needs_tube=flag(row["needs_tube"]),
        sealed_by=row["sealed_by"],
        standard=row["standard"],
        notes=row["notes"],
        refusal=row.get("refusal"),
        mark=row["mark"],
    )


def seat(name: str) -> Seat:
    """Return the seat that users call `name`.

    Raises:
        UnknownSeatError: the table holds no such seat; the message gives the nearest.
    """
    found = _seats().get(name)
    if found is None:
        raise UnknownSeatError(name, SEAT_NAMES)
    return found


@lru_cache(maxsize=1)
def pair_notes() -> tuple[PairNote, ...]:
    """Return every note on unlike seats, in the table's order."""
    from fitcheck.standards.tables import load  # read only once a joint is found to be unlike

    return tuple(_note(row) for row in load("seat_pairs")["pairs"])


def _note(row: Mapping[str, Any]) -> PairNote:
    return PairNote(row["end"], row["port"], flag(row["starts"]), row["outcome"], row["mark"])


@lru_cache(maxsize=1)
def _by_pair() -> dict[tuple[str, str], PairNote]:
    notes = pair_notes()
    turned = {(note.port, note.end): note for note in notes}
    return turned | {(note.end, note.port): note for note in notes}


def pair(end: str, port: str) -> PairNote | None:
    """Return what goes wrong when an end made for one seat is brought to a port of another.

    Where the table has no note for this way round it is the note for the other way round.

    Args:
        end: seat that the tube end, hose end or stud is made for.
        port: seat of the port.

    Returns:
        The note, or None if the seats are equal: then nothing goes wrong on their account.

    Raises:
        UnknownSeatError: either is no seat.
    """
    return None if seat(end) is seat(port) else _by_pair().get((end, port))
