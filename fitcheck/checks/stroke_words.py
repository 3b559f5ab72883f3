"""Whether a way is long enough for what is used of it, in words: strokes, pedals, slave cylinders."""

from typing import NamedTuple

from fitcheck.checks.findings import Level
from fitcheck.hydraulics.record import Clutch
from fitcheck.measures import Units, exact, force_text, length_text
from fitcheck.standards.displacement import Most


class Way(NamedTuple):
    """How much of a way is used [mm], the range of that, and how long the way is."""

    used: float
    low: float
    high: float
    end: float


def judged(way: Way, allowed: Most, who: str, what: str, units: Units) -> tuple[Level, str] | None:
    """Return what is wrong with a way, and how bad it is; None if nothing is."""
    uses = length_text(way.used, units)
    end = exact(way.end, "mm") if units.length == "mm" else length_text(way.end, units)
    if way.low > way.end:
        return "error", f"{who} needs {uses}, its {what} is {end}"
    if way.high > way.end:
        most = length_text(way.high, units)
        return "warning", f"{who} needs {uses}, up to {most} by what is assumed; its {what} is {end}"
    if way.used > allowed.share * way.end:
        share = f"{100 * way.used / way.end:.0f} % of its {what} of {end}, at most {100 * allowed.share:.0f} %"
        return "warning", f"{who} uses {share} ({allowed.mark})"
    return None


def released(clutch: Clutch, units: Units) -> tuple[Level, str] | None:
    """Return what keeps a clutch from being freed, and how bad that is; None if nothing known does."""
    force, needs_force = clutch.force_n, clutch.needs_force_n
    if force is not None and needs_force is not None and force < needs_force:
        wants = force_text(needs_force, units)
        return "error", f"{clutch.tag} pushes with {force_text(force, units)}, the clutch needs {wants}"
    weak = _weak(clutch, units)
    travel, needs, spread = clutch.travel_mm, clutch.needs_travel_mm, clutch.spread_mm
    if travel is None or needs is None or spread is None or spread[0] >= needs:
        return weak
    goes, wants = f"{clutch.tag} travels {length_text(travel, units)}", length_text(needs, units)
    if spread[1] < needs:
        return "error", f"{goes}, the clutch needs {wants}"
    words = f"{goes}, down to {length_text(spread[0], units)} by what is assumed; the clutch needs {wants}"
    return "warning", f"{words}; {weak[1]}" if weak is not None else words


def _weak(clutch: Clutch, units: Units) -> tuple[Level, str] | None:
    force, least, needs = clutch.force_n, clutch.least_n, clutch.needs_force_n
    if force is None or least is None or needs is None or least >= needs:
        return None
    words = f"down to {force_text(least, units)} with the most friction that is assumed in the pedal"
    pushes = f"{clutch.tag} pushes with {force_text(force, units)}"
    return "warning", f"{pushes}, {words}; the clutch needs {force_text(needs, units)}"
