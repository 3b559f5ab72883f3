"""Limits of size of a thread, and what happens when one is screwed into another. Text and JSON."""

from collections.abc import Iterator
from math import isinf
from typing import Any, Final

from fitcheck.measures import number
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain import WIDTH, caution_lines, paragraph
from fitcheck.reports.plain_json import json_text
from fitcheck.reports.thread_words import DANGER, OUTCOME, span
from fitcheck.standards.threads import Fit, Limits, Member, Thread, dangerous, fit, look_alikes
from fitcheck.standards.threads.look_alikes import seems_to_start

INCH: Final = 25.4
_MOST_ALIKE: Final = 5
_INCH_FAMILIES: Final = ("UN", "UNJ", "NPT")
"""Families whose standard gives its limits in inches: shown in both units."""


def thread_json(
    thread: Limits,
    into: Limits | None = None,
    met: Fit | None = None,
    *,
    reverse: Fit | None = None,
    explain: bool = False,
) -> str:
    """Return the limits of a thread as JSON text; with a second thread its limits and how the two meet."""
    return json_text(thread_value(thread, into, met, reverse=reverse, explain=explain))


def thread_value(
    thread: Limits,
    into: Limits | None = None,
    met: Fit | None = None,
    *,
    reverse: Fit | None = None,
    explain: bool = False,
) -> dict[str, Any]:
    """Return what `thread_json` writes as plain values; lengths in mm."""
    value = thread.to_json()
    if into is not None:
        value["into"] = into.to_json()
    for name, way in (("fit", met), ("reverse", reverse)):
        if way is not None:
            value[name] = way.to_json() | {"dangerous": dangerous(way)}
    if into is None:
        value["look_alikes"] = [_look_alike(thread.thread, other) for other in look_alikes(thread.thread)]
    if met is not None and explain:
        value["figure_sources"] = dict(met.sources)
    return value | {"caution": CAUTION}


def _look_alike(thread: Thread, other: Thread) -> dict[str, str]:
    return {
        "designation": other.designation,
        "into_it": fit(thread, other).verdict,
        "it_into": fit(other, thread).verdict,
    }


def thread_text(
    thread: Limits,
    into: Limits | None = None,
    met: Fit | None = None,
    *,
    reverse: Fit | None = None,
    explain: bool = False,
    width: int = WIDTH,
) -> str:
    """Return the limits for people, in mm, and in inches where the standard's own unit is the inch.

    `reverse` is how the second thread meets the first; `explain` puts the formula and its source to each figure.
    """
    lines: list[str] = []
    if met is not None and into is not None:
        lines += _fit(thread, into, met, explain, width)
        if reverse is not None:
            lines += ["", *_fit(into, thread, reverse, explain, width)]
    for each in (thread, into) if into is not None else (thread,):
        lines += [*([""] if lines else []), *_limits(each, width)]
    if into is None:
        lines += _look_alikes(thread.thread, width)
    return "\n".join([*lines, *caution_lines(width)])


def _look_alikes(thread: Thread, width: int) -> Iterator[str]:
    """Yield the threads that this one is taken for, and what happens when they meet, either way round."""
    found = look_alikes(thread)
    if not found:
        return
    loose = {other: "runs-in-loose" in (fit(thread, other).verdict, fit(other, thread).verdict) for other in found}
    found = sorted(found, key=lambda other: not loose[other])
    yield from ("", "TAKEN FOR, those that go together and strip first", "")
    for other in found[:_MOST_ALIKE]:
        into, out_of = fit(thread, other), fit(other, thread)
        yield from paragraph(f"{other.designation}{' DANGEROUS' if loose[other] else ''}", width, "  ")
        yield from paragraph(f"{thread.designation} into it {_meets(into)}", width, "    ", "      ")
        yield from paragraph(f"it into {thread.designation} {_meets(out_of)}", width, "    ", "      ")
    rest = [other.designation for other in found[_MOST_ALIKE:]]
    if rest:
        yield from paragraph(f"and {', '.join(rest)}: fitcheck thread A B, or fitcheck thread --table", width, "  ")


def _meets(way: Fit) -> str:
    return f"{OUTCOME[way.verdict]}{', though it seems to' if seems_to_start(way) else ''}"


def _fit(thread: Limits, into: Limits, met: Fit, explain: bool, width: int) -> Iterator[str]:
    head = f"{thread.thread.designation} into {into.thread.designation}: {OUTCOME[met.verdict]}"
    yield from paragraph(head, width)
    if dangerous(met):
        yield from paragraph(DANGER, width, "  ")
    yield from paragraph(met.reason, width, "  ")
    if explain:
        yield from paragraph(f"verdict: {met.sources['verdict']}", width, "      ", "        ")
    for figures, words in _figures(met, bool(thread.external.taper)):
        yield from paragraph(words, width, "  ", "    ")
        for figure in figures if explain else ():
            yield from paragraph(f"{figure}: {met.sources[figure]}", width, "      ", "        ")
    yield from paragraph(f"source: {met.source}", width, "  ", "    ")


def _figures(met: Fit, taper: bool) -> Iterator[tuple[tuple[str, ...], str]]:
    """Yield each line of figures, with the names of the figures in it."""
    side = f"{span(met.radial_clearance_mm, 3)} mm a side"
    yield (
        ("clearance_mm", "radial_clearance_mm", "pitch_difference_mm"),
        f"clearance at the pitch line {span(met.clearance_mm, 3)} mm ({side}), pitches"
        f" {number(abs(met.pitch_difference_mm), 3)} mm apart",
    )
    side = f"{span(met.overlap_mm, 3)} mm a side"
    height = f"thread height that overlaps {span(met.overlap_percent, 0)} % ({side})"
    yield ("overlap_percent", "overlap_mm"), height
    if not isinf(met.free_turns[1]):
        yield ("free_turns",), f"turns before it binds {span(met.free_turns, 1)}"
    if met.verdict != "drops-through":
        yield ("goes_home",), _home(met, taper)
    if met.strip_share is not None:
        least, most = met.strip_share
        left = span((100.0 * least, 100.0 * most), 0)
        yield ("strip_share",), f"strip strength, of the right thread's: {left} %"
    if met.verdict in ("will-not-start", "starts-then-binds"):
        yield ("starts_on_chamfer",), f"the lead-in alone may catch for {number(met.starts_on_chamfer, 1)} turns"
    if met.binding_band_mm is not None:
        yield ("binding_band_mm",), f"binds in holes of {span(met.binding_band_mm, 3)} mm"


def _home(met: Fit, taper: bool) -> str:
    where = "to its gauge plane" if taper else f"over {number(met.engagement_mm)} mm of engagement"
    loosest, tightest = met.goes_home
    if loosest and tightest:
        return f"goes home {where}"
    return f"goes home {where}: the loosest does, the tightest does not" if loosest else f"does not go home {where}"


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
