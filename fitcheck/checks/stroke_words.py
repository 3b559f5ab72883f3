"""Whether a way is long enough for what is used of it, in words: strokes, pedals, slave cylinders."""

from typing import NamedTuple

from fitcheck.checks.findings import Level
from fitcheck.checks.joint_words import mm
from fitcheck.hydraulics.record import Clutch
from fitcheck.standards.displacement import Most


class Way(NamedTuple):
    """How much of a way is used [mm], the range of that, and how long the way is."""

    used: float
    low: float
    high: float
    end: float


def judged(way: Way, allowed: Most, who: str, what: str) -> tuple[Level, str] | None:
    """Return what is wrong with a way, and how bad it is; None if nothing is."""
    uses, end = f"{way.used:.1f} mm", mm(way.end)
    if way.low > way.end:
        return "error", f"{who} needs {uses}, its {what} is {end}"
    if way.high > way.end:
        return "warning", f"{who} needs {uses}, up to {way.high:.1f} mm by what is assumed; its {what} is {end}"
    if way.used > allowed.share * way.end:
        share = f"{100 * way.used / way.end:.0f} % of its {what} of {end}, at most {100 * allowed.share:.0f} %"
        return "warning", f"{who} uses {share} ({allowed.mark})"
    return None


def released(clutch: Clutch) -> tuple[Level, str] | None:
    """Return what keeps a clutch from being freed, and how bad that is; None if nothing known does."""
    force, needs_force = clutch.force_n, clutch.needs_force_n
    if force is not None and needs_force is not None and force < needs_force:
        return "error", f"{clutch.tag} pushes with {force:.0f} N, the clutch needs {needs_force:.0f} N"
    weak = _weak(clutch)
    travel, needs, spread = clutch.travel_mm, clutch.needs_travel_mm, clutch.spread_mm
    if travel is None or needs is None or spread is None or spread[0] >= needs:
        return weak
    if spread[1] < needs:
        return "error", f"{clutch.tag} travels {travel:.1f} mm, the clutch needs {needs:.1f} mm"
    least = f"down to {spread[0]:.1f} mm by what is assumed"
    words = f"{clutch.tag} travels {travel:.1f} mm, {least}; the clutch needs {needs:.1f} mm"
    return "warning", f"{words}; {weak[1]}" if weak is not None else words


def _weak(clutch: Clutch) -> tuple[Level, str] | None:
    force, least, needs = clutch.force_n, clutch.least_n, clutch.needs_force_n
    if force is None or least is None or needs is None or least >= needs:
        return None
    words = f"down to {least:.0f} N with the most friction that is assumed in the pedal"
    return "warning", f"{clutch.tag} pushes with {force:.0f} N, {words}; the clutch needs {needs:.0f} N"
