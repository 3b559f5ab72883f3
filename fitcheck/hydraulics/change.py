"""Two answers side by side: pressure, wheel force, deceleration, balance, stroke, travel, clutch, failures."""

from collections.abc import Iterator, Mapping
from itertools import chain
from math import isclose
from typing import Final, Literal, NamedTuple

from fitcheck.hydraulics.record import Answer
from fitcheck.measures import Units

Kind = Literal["pressure", "force", "length", "share", "g", "word"]
Value = float | str | None
_SAME: Final = 1e-9
_Key = tuple[str, str, Kind]
_Told = tuple[_Key, Value]


class Row(NamedTuple):
    """One quantity of two answers; `at` is the circuit, brake or pedal it belongs to, empty for the car.

    Pressures in MPa, forces in N, lengths in mm, shares as fractions, decelerations in g. None where not known.
    """

    what: str
    at: str
    kind: Kind
    before: Value
    after: Value

    @property
    def differs(self) -> bool:
        """Whether the two differ by more than rounding."""
        if isinstance(self.before, float) and isinstance(self.after, float):
            return not isclose(self.before, self.after, rel_tol=_SAME, abs_tol=_SAME)
        return self.before != self.after


class Changed(NamedTuple):
    """What differs between two answers, and what the user measures in."""

    rows: tuple[Row, ...]
    units: Units


def compare(before: Answer, after: Answer) -> tuple[Row, ...]:
    """Return every quantity of two answers side by side; what neither knows is left out."""
    old, new = _side(before), _side(after)
    rows = (Row(*key, old.get(key), new.get(key)) for key in dict.fromkeys([*old, *new]))
    return tuple(row for row in rows if row.before is not None or row.after is not None)


def changed(before: Answer, after: Answer) -> Changed:
    """Return only what differs between two answers."""
    return Changed(tuple(row for row in compare(before, after) if row.differs), after.units)


def _side(found: Answer) -> dict[_Key, Value]:
    names = found.names
    return dict(
        chain(_pressed(found, names), _braked(found), _balanced(found), _moved(found, names), _lost(found, names))
    )


def _pressed(found: Answer, names: Mapping[str, str]) -> Iterator[_Told]:
    for push in found.pushes:
        for ref, pressure in push.pressures_mpa.items():
            yield ("pressure", names[ref], "pressure"), pressure


def _braked(found: Answer) -> Iterator[_Told]:
    for corner in found.corners:
        yield ("wheel force", corner.tag, "force"), corner.force_n
    if found.stop is not None:
        yield ("deceleration", "", "g"), found.stop.reached_g
        yield ("wheels that slide", "", "word"), found.stop.locks or "none"
    for wanted, foot in found.feet:
        yield (f"push for {wanted:g} g", "", "force"), foot


def _balanced(found: Answer) -> Iterator[_Told]:
    at = found.balance
    if at is None:
        return
    yield ("front share of brake force", "", "share"), at.share
    yield ("first to slide", "", "word"), at.locks_first or "none"
    yield ("slides from", "", "g"), at.locks_at_g
    yield ("right share of the push to the front", "", "share"), at.right_balance
    yield ("right pivot, from the front rod", "", "length"), at.right_front_mm
    yield ("right setting within the bar's reach", "", "word"), _yes(at.reachable)


def _moved(found: Answer, names: Mapping[str, str]) -> Iterator[_Told]:
    for stroke in found.strokes:
        yield ("stroke used", names[stroke.outlet], "length"), stroke.used_mm
        yield ("stroke left", names[stroke.outlet], "share"), stroke.reserve
    for travel in found.travels:
        yield ("pedal travel", travel.drives, "length"), travel.foot_mm
        yield ("pedal travel left", travel.drives, "share"), travel.reserve
    for clutch in found.clutches:
        yield ("clutch travel", clutch.tag, "length"), clutch.travel_mm
        yield ("clutch force", clutch.tag, "force"), clutch.force_n


def _lost(found: Answer, names: Mapping[str, str]) -> Iterator[_Told]:
    for failure in found.failures:
        yield ("deceleration with it lost", names[failure.lost], "g"), failure.reached_g
        yield ("pedal travel with it lost", names[failure.lost], "length"), failure.travel_mm


def _yes(value: bool | None) -> str | None:
    return None if value is None else "yes" if value else "no"
