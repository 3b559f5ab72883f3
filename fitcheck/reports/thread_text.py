"""Limits of size of a thread, and what happens when one is screwed into another. Text and JSON."""

from collections.abc import Iterator
from math import isinf
from typing import Any, Final

from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain import WIDTH, caution_lines, number, paragraph
from fitcheck.reports.plain_json import json_text
from fitcheck.standards.threads import Fit, Limits, Member, dangerous

INCH: Final = 25.4
_INCH_FAMILIES: Final = ("UN", "UNJ", "NPT")
"""Families whose standard gives its limits in inches: shown in both units."""
_OUTCOME: Final = {
    "mates": "mates",
    "may-bind": "may bind at the root",
    "will-not-start": "will not start",
    "starts-then-binds": "starts, then binds",
    "runs-in-loose": "runs in loose and strips when tightened",
    "drops-through": "drops through",
}


def thread_json(thread: Limits, into: Limits | None = None, met: Fit | None = None) -> str:
    """Return the limits of a thread as JSON text; with a second thread its limits and how the two meet."""
    return json_text(thread_value(thread, into, met))


def thread_value(thread: Limits, into: Limits | None = None, met: Fit | None = None) -> dict[str, Any]:
    """Return what `thread_json` writes as plain values; lengths in mm."""
    value = thread.to_json()
    if into is not None:
        value["into"] = into.to_json()
    if met is not None:
        value["fit"] = met.to_json() | {"dangerous": dangerous(met)}
    return value | {"caution": CAUTION}


def thread_text(thread: Limits, into: Limits | None = None, met: Fit | None = None, *, width: int = WIDTH) -> str:
    """Return the limits for people, in mm, and in inches where the standard's own unit is the inch."""
    lines: list[str] = []
    if met is not None and into is not None:
        lines += _fit(thread, into, met, width)
    for each in (thread, into) if into is not None else (thread,):
        lines += [*([""] if lines else []), *_limits(each, width)]
    return "\n".join([*lines, *caution_lines(width)])


def _fit(thread: Limits, into: Limits, met: Fit, width: int) -> Iterator[str]:
    head = f"{thread.thread.designation} into {into.thread.designation}: {_OUTCOME[met.verdict]}"
    yield from paragraph(head, width)
    if dangerous(met):
        yield from paragraph("DANGEROUS: it goes together by hand and does not hold", width, "  ")
    yield from paragraph(met.reason, width, "  ")
    yield from paragraph(f"clearance at the pitch line {_span(met.clearance_mm, 3)} mm", width, "  ")
    yield from paragraph(f"thread height that overlaps {_span(met.overlap_percent, 0)} %", width, "  ")
    if not isinf(met.free_turns[1]):
        yield from paragraph(f"turns before it binds {_span(met.free_turns, 1)}", width, "  ")
    yield from paragraph(f"source: {met.source}", width, "  ", "    ")


def _span(bounds: tuple[float, float], places: int) -> str:
    least, most = number(bounds[0], places), "any number" if isinf(bounds[1]) else number(bounds[1], places)
    return least if least == most else f"{least} to {most}"


def _limits(limits: Limits, width: int) -> Iterator[str]:
    thread = limits.thread
    both = thread.family in _INCH_FAMILIES
    yield from paragraph(f"{thread.designation}: limits of size", width)
    yield ""
    yield f"{'':<20}{'mm':<22}{'in' if both else ''}".rstrip()
    sides = (("external", thread.external_class, limits.external), ("internal", thread.internal_class, limits.internal))
    for side, grade, member in sides:
        name = f"{side} {grade}".strip()
        yield f"  {name}"
        for label, bounds in _rows(member):
            yield f"    {label:<14}  {_bounds(bounds, 1.0, 3):<22}{_bounds(bounds, INCH, 4) if both else ''}".rstrip()
    yield from paragraph(f"source: {limits.source}", width, "  ", "    ")


def _rows(member: Member) -> tuple[tuple[str, tuple[float | None, float | None]], ...]:
    return ("major", member.major_mm), ("pitch", member.pitch_mm), ("minor", member.minor_mm)


def _bounds(bounds: tuple[float | None, float | None], unit: float, places: int) -> str:
    """Return both limits in one unit; a limit that the standard leaves open is said to be none."""
    low, high = (None if bound is None else f"{bound / unit:.{places}f}" for bound in bounds)
    if low is None and high is None:
        return "no limit"
    if low is None:
        return f"at most {high}"
    return f"{low} to {high}" if high is not None else f"at least {low}"
