"""Whether a way is long enough for what is used of it, in words: strokes, pedals, slave cylinders."""

from functools import partial
from typing import NamedTuple

from fitcheck.checks.findings import Level
from fitcheck.hydraulics.record import Clutch
from fitcheck.measures import Units, exact, force_text, length_text, told_apart
from fitcheck.standards.displacement import Most


class Way(NamedTuple):
    """How much of a way is used [mm], the range of that, and how long the way is."""

    used: float
    low: float
    high: float
    end: float


def judged(way: Way, allowed: Most, who: str, what: str, units: Units) -> tuple[Level, str] | None:
    """Return what is wrong with a way, and how bad it is; None if nothing is."""
    uses, end = _beside(way.used, way.end, units)
    if way.low > way.end:
        return "error", f"{who} needs {uses}, its {what} is {end}"
    if way.high > way.end:
        most, end = _beside(way.high, way.end, units)
        uses = length_text(way.used, units)
        return "warning", f"{who} needs {uses}, up to {most} by what is assumed; its {what} is {end}"
    if way.used > allowed.share * way.end:
        share = f"{100 * way.used / way.end:.0f} % of its {what} of {end}, at most {100 * allowed.share:.0f} %"
        return "warning", f"{who} uses {share} ({allowed.mark})"
    return None


def _beside(used_mm: float, end_mm: float, units: Units) -> tuple[str, str]:
    """Return what is used of a way and the way itself, the latter as stated unless both would read the same."""
    plain = length_text(used_mm, units)
    uses, end = told_apart(used_mm, end_mm, partial(length_text, units=units))
    return uses, exact(end_mm, "mm") if units.length == "mm" and uses == plain else end


def released(clutch: Clutch, units: Units) -> tuple[Level, str] | None:
    """Return what keeps a clutch from being freed, and how bad that is; None if nothing known does."""
    force, needs_force = clutch.force_n, clutch.needs_force_n
    if force is not None and needs_force is not None and force < needs_force:
        pushes, wants = told_apart(force, needs_force, partial(force_text, units=units))
        return "error", f"{clutch.tag} pushes with {pushes}, the clutch needs {wants}"
    weak = _weak(clutch, units)
    travel, needs, spread = clutch.travel_mm, clutch.needs_travel_mm, clutch.spread_mm
    if travel is None or needs is None or spread is None or spread[0] >= needs:
        return weak
    told = partial(length_text, units=units)
    if spread[1] < needs:
        goes, wants = told_apart(travel, needs, told)
        return "error", f"{clutch.tag} travels {goes}, the clutch needs {wants}"
    least, wants = told_apart(spread[0], needs, told)
    words = f"{clutch.tag} travels {told(travel)}, down to {least} by what is assumed; the clutch needs {wants}"
    return "warning", f"{words}; {weak[1]}" if weak is not None else words


def _weak(clutch: Clutch, units: Units) -> tuple[Level, str] | None:
    force, least, needs = clutch.force_n, clutch.least_n, clutch.needs_force_n
    if force is None or least is None or needs is None or least >= needs:
        return None
    weakest, wants = told_apart(least, needs, partial(force_text, units=units))
    words = f"down to {weakest} with the most friction that is assumed in the pedal"
    pushes = f"{clutch.tag} pushes with {force_text(force, units)}"
    return "warning", f"{pushes}, {words}; the clutch needs {wants}"
