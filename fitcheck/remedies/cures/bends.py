"""Bends that are too tight or too close: another radius, or another bender."""

from collections.abc import Iterator, Mapping, Sequence
from math import ceil
from typing import Any, Final

from fitcheck.build.benders import Tool, tool_of, tools_for
from fitcheck.build.model import Corner, Leg, RouteWords
from fitcheck.build.routes import Route, RouteError, straights
from fitcheck.build.runs import Run
from fitcheck.changes import Change, Drop, Plain, Put
from fitcheck.checks.findings import Finding
from fitcheck.measures import given
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.remedy import Remedy
from fitcheck.standards.tubes import bend_limits

_PLAY_MM: Final = 0.05
_TENTHS: Final = 10.0


def wider(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Bend to the least radius that the tube stands and a listed bender makes, or that may be without; or tighter.

    Tighter where a leg is shorter than its bends take, and never under what the tube stands. Another bender where the
    line's own does not take its tube.
    """
    run = bench.context.runs.get(finding.at[0])
    if run is None or run.route is None or _in_words(bench, run):
        return
    if "bender" in finding.evidence:
        yield from _otherwise(bench, run)
    elif "bends" in finding.evidence:
        bends = [number - 1 for number in finding.evidence["bends"]]
        made, least = finding.evidence.get("made_mm"), finding.evidence["radius_mm"] + _PLAY_MM
        radii = [mm for mm in _radii(bench, run) if (mm in made.values() if made else mm > least)]
        for mm in sorted(radii):
            if _straights(run, dict.fromkeys(bends, mm)) is not None:
                yield _bent(bench, run, bends, mm)
    else:
        yield from _tighter(bench, run, finding.evidence["leg"] - 1, 0.0)


def crowded(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Bend tighter beside the straight that is too short, as tightly as may be; or with another bender."""
    run = bench.context.runs.get(finding.at[0])
    if run is None or run.route is None or run.fault is not None or _in_words(bench, run):
        return
    yield from _tighter(bench, run, finding.evidence["leg"] - 1, finding.evidence["needed_mm"])
    yield from _otherwise(bench, run)


def _in_words(bench: Bench, run: Run) -> bool:
    """Return whether a route is one text: it has no entries to change."""
    return isinstance(bench.file.lines[run.tag].route, RouteWords)


def _tighter(bench: Bench, run: Run, leg: int, needed_mm: float) -> Iterator[Remedy]:
    """Yield the radii, widest first, with which a leg counted from 0 keeps enough straight tube."""
    beside = [index for index in (leg - 1, leg) if 0 <= index < len(run.radii)]
    for mm in sorted(_radii(bench, run), reverse=True):
        bends = [index for index in beside if run.radii[index].mm > mm + _PLAY_MM]
        left = _straights(run, dict.fromkeys(bends, mm))
        if bends and left is not None and left[leg] >= needed_mm - _PLAY_MM:
            yield _bent(bench, run, bends, mm)


def _otherwise(bench: Bench, run: Run) -> Iterator[Remedy]:
    """Yield each other listed bender that takes the tube, with the radii that the file states, and without."""
    used = tool_of(bench.build, run.tag, run.tube)
    stated = [path for index in range(len(run.radii)) if (path := _stated(bench, run, index)) is not None]
    for tool in _tools(bench, run):
        if used is None or tool.name != used.name:
            change = Put(("lines", run.tag, "bender"), tool.name)
            yield Remedy("bender", (change,), tags=(run.tag,))
            if stated:
                yield Remedy("bender", (change, *map(Drop, stated)), tags=(run.tag,))


def _radii(bench: Bench, run: Run) -> list[float]:
    """Return the radii [mm] that the tube can have: those of listed benders that it stands, and the least of all."""
    assert run.tube is not None  # it has a route
    own = run.tube.bend_radius or 0.0
    made = [tool.radius_mm for tool in _tools(bench, run) if tool.radius_mm >= own - _PLAY_MM]
    least = max(own, bend_limits(run.od_mm or 0.0).warn_below_mm)
    return sorted({*made, ceil(least * _TENTHS - 1e-9) / _TENTHS})


def _tools(bench: Bench, run: Run) -> tuple[Tool, ...]:
    return tools_for(bench.build, run.tube)


def _straights(run: Run, radii: Mapping[int, float]) -> tuple[float, ...] | None:
    """Return the straight part of each leg [mm] with other radii for some bends; None if they have no room."""
    assert run.route is not None
    bends = [bend._replace(radius_mm=radii.get(index, bend.radius_mm)) for index, bend in enumerate(run.route.bends)]
    try:
        return straights(Route(run.route.legs_mm, tuple(bends)))
    except RouteError:
        return None


def _bent(bench: Bench, run: Run, bends: Sequence[int], mm: float) -> Remedy:
    changes = tuple(_with_radius(bench, run, index, given(mm, bench.graph.unit)) for index in bends)
    tools = _tools(bench, run)
    made = any(abs(tool.radius_mm - mm) <= _PLAY_MM for tool in tools)
    notes = (f"none of the listed benders makes {given(mm, bench.graph.unit)}",) if tools and not made else ()
    return Remedy("bend", changes, tags=(run.tag,), notes=notes)


def _with_radius(bench: Bench, run: Run, index: int, radius: str) -> Change:
    """Return the change that states the radius of a bend, counted from 0, where the file has its corner or leg."""
    assert run.route is not None
    at = run.route.bends[index].corner - 1
    path = ("lines", run.tag, "route", at)
    entry = (bench.file.lines[run.tag].route or ())[at]
    if isinstance(entry, (Corner, Leg)):
        return Put((*path, "bend"), radius)
    return Put(path, {"at": point_as_written(bench, run.tag, at), "bend": radius})


def _stated(bench: Bench, run: Run, index: int) -> tuple[str | int, ...] | None:
    """Return where the file states the radius of a bend, None if it does not."""
    assert run.route is not None
    at = run.route.bends[index].corner - 1
    entry = (bench.file.lines[run.tag].route or ())[at]
    stated = isinstance(entry, (Corner, Leg)) and entry.bend is not None
    return ("lines", run.tag, "route", at, "bend") if stated else None


def point_as_written(bench: Bench, tag: str, at: int) -> Plain:
    """Return a corner that is written as a bare point, in the digits of the file."""
    node: Any = bench.build.document.root
    for step in ("lines", tag, "route", at):
        node = node[step]
    return [str(number) for number in node]
