"""What an answer about pedals says is wrong, worst first, in words: what `fitcheck pedal` ends with code 1 for."""

from collections.abc import Iterator
from typing import NamedTuple

from fitcheck.checks.findings import LEVELS, Level
from fitcheck.checks.stroke_words import Way, judged, released
from fitcheck.hydraulics.record import Answer, Failure, Required
from fitcheck.reports.pedal_words import Shown, gravity, outlet_name
from fitcheck.standards.displacement import most


class Concern(NamedTuple):
    """One thing to look at: its level and what it is."""

    level: Level
    words: str


def concerns(found: Answer) -> tuple[Concern, ...]:
    """Return what is wrong, errors first: strokes and travels by the same measure as the rule `stroke-short`."""
    told = [*_strokes(found), *_clutches(found), *_rules(found), *_failures(found), *_balance(found)]
    return tuple(sorted(dict.fromkeys(told), key=lambda each: LEVELS.index(each.level)))


def wrong(found: Answer) -> bool:
    """Return whether anything is wrong at level error."""
    return any(each.level == "error" for each in concerns(found))


def _strokes(found: Answer) -> Iterator[Concern]:
    braking = {outlet.ref for outlet in found.outlets if outlet.drives == "brake"}
    for stroke in found.strokes:
        if stroke.stroke_mm is not None and stroke.outlet in braking:
            way = Way(stroke.used_mm, *stroke.spread_mm, stroke.stroke_mm)
            said = judged(way, most("stroke"), f"the piston behind {stroke.outlet}", "stroke", found.units)
            yield from (Concern(*each) for each in (said,) if each is not None)
    for travel in found.travels:
        if travel.floor_mm is not None and travel.drives == "brake":
            way = Way(travel.foot_mm, *travel.spread_mm, travel.floor_mm)
            said = judged(way, most("pedal"), "the pedal", "way to the floor", found.units)
            yield from (Concern(*each) for each in (said,) if each is not None)


def _clutches(found: Answer) -> Iterator[Concern]:
    for clutch in found.clutches:
        said = released(clutch, found.units)
        if said is not None:
            yield Concern(*said)


def _rules(found: Answer) -> Iterator[Concern]:
    shown = Shown(found.units)
    for asked in found.service:
        yield from _asked(asked, "", shown)
    for failure in found.failures:
        for asked in failure.against:
            yield from _asked(asked, f"{outlet_name(found, failure.lost)} lost: ", shown)


def _asked(asked: Required, lost: str, shown: Shown) -> Iterator[Concern]:
    words = f"{lost}{clause(asked, shown)}: {gravity(asked.reached_g)}"
    if asked.met is False:
        yield Concern("error", f"{words}{too_short(asked)}, not met")
    elif asked.met and weak(asked):
        yield Concern("warning", f"{words}, met; {weak(asked)}")


def too_short(asked: Required) -> str:
    """Return that there is not way enough for what would do; empty where that is not so."""
    enough = asked.reached_g is not None and asked.reached_g >= asked.required_g
    return ", but pedal or piston comes to its end before" if enough and asked.travel_left is False else ""


def weak(asked: Required) -> str:
    """Return that the most friction that is assumed in the pedal leaves too little; empty where it does not."""
    if asked.least_g is None or asked.least_g >= asked.required_g:
        return ""
    return f"{gravity(asked.least_g)}, not met with the most friction that is assumed in the pedal"


def clause(asked: Required, shown: Shown) -> str:
    """Return what one clause asks: `ece-r13h, Annex 3, 2.2 (one circuit lost), 0.25 g at 500 N`."""
    return (
        f"{asked.rule}, {asked.clause} ({asked.words}), asks {gravity(asked.required_g)} at"
        f" {shown.force(asked.at_foot_n)}"
    )


def _failures(found: Answer) -> Iterator[Concern]:
    for failure in found.failures:
        lost = outlet_name(found, failure.lost)
        if failure.travel_left is False:
            yield Concern("error", f"{lost} lost: pedal or piston comes to its end before the rest brakes as told")
        elif failure.doubtful:
            words = "pedal or piston may come to its end before the rest brakes as told, by what is assumed"
            yield Concern("warning", f"{lost} lost: {words}")
        if nothing_left(found, failure):
            yield Concern("warning", f"{lost} lost: nothing is left to brake with")


def nothing_left(found: Answer, failure: Failure) -> bool:
    """Return whether a lost circuit leaves no braking at all: by what is computed, or because it is the only one."""
    only = sum(outlet.drives == "brake" for outlet in found.outlets) == 1
    return only or (failure.reached_g is not None and failure.reached_g <= 0.0)


def _balance(found: Answer) -> Iterator[Concern]:
    at = found.balance
    if at is None:
        return
    if at.locks_first == "rear":
        yield Concern("warning", f"the rear wheels slide first, at {gravity(at.locks_at_g)}: the car turns round")
    if at.reachable is False:
        yield Concern("warning", "the bar cannot be set so that both axles slide together")
