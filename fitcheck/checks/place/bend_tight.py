"""`bend-tight`: a bend that the tube does not stand, or that nothing can make.

What it finds
-------------
A bend whose centre-line radius is under the smallest that the catalog gives for the tube, under three outside diameters
(warning) or under one and a half (error). The last two are silent where `tools.benders` lists a tool that makes the
radius, to 0.5 mm; under half the outside diameter nothing bends (error). And a route that cannot be made: a leg that is
shorter than its bends take, or a corner that turns straight back (error). And a line whose own `bender` does not take
its tube (error), or with a stated radius that none of the listed benders makes (note): its bench sheet refuses it. A
bend's radius is its own `bend`, else that of the line's bender, else the tube's smallest, else three outside diameters.

Why it matters
--------------
Too tight a bend flattens the tube, thins its outside by a quarter and more, and kinks: the flow is choked and the wall
cracks where it was stretched. A route that cannot be made shows on the bench, with the tube cut.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-3-16-inverted, at: [0, 0, 0]}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, at: [300, 200, 0]}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, route: [{at: [300, 0, 0], bend: 6 mm}]}

Passes::

    build: 1
    components:
      joiner: {part: union-3-16-inverted, at: [0, 0, 0]}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, at: [300, 200, 0]}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, route: [{at: [300, 0, 0], bend: 15 mm}]}

Source
------
Three outside diameters: a trade magazine on tube bending and flaring (June 1980). One and a half: the tightest tool of
a shop bending chart. That these are limits: common practice, no source. Smallest radii of single tubes: their catalog
entries.
"""

from collections.abc import Iterator
from typing import Any

from fitcheck.build.benders import STATED, TooTight, too_tight, tool_of, tools_for
from fitcheck.build.runs import Run
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Level, Looked, Said, Unchecked
from fitcheck.checks.joint_words import joined
from fitcheck.checks.line_words import bend_words, leg_words, route_path
from fitcheck.measures import exact, told_short

RULE = "bend-tight"


def find(context: Context) -> Iterator[Said]:
    """Yield every route that cannot be made, and every radius of a line that is too tight for its tube."""
    for run in context.runs.values():
        yield from (Unchecked(RULE, (run.tag,), field) for field in run.missing)
        if run.missing:
            continue
        yield Looked()
        if run.fault is not None:
            yield _cannot(context, run)
        yield from _too_tight(context, run)
        yield from _not_made(context, run)


def _cannot(context: Context, run: Run) -> Finding:
    assert run.fault is not None
    fault = run.fault
    where = f"its leg {leg_words(context, run, fault.leg - 1)}" if run.points is not None else f"leg {fault.leg}"
    message = f"{run.tag} cannot be bent: {where} {fault.told(context.unit)}"
    legs = run.route.legs_mm if run.route is not None else ()
    evidence = {"leg": run.fault.leg, "legs_mm": legs, "radii_mm": [radius.mm for radius in run.radii]}
    return context.finding(RULE, "error", message, (run.tag,), ("lines", run.tag, "route"), evidence)


def _too_tight(context: Context, run: Run) -> Iterator[Finding]:
    """Yield one finding for each radius of the line that is under a limit, with all bends of that radius."""
    assert run.tube is not None  # a run without a tube has something missing
    bends: dict[tuple[float, TooTight], list[int]] = {}
    for index, radius in enumerate(run.radii):
        limit = too_tight(radius, run.tube)
        if limit is not None:
            bends.setdefault((radius.mm, limit), []).append(index)
    for (radius_mm, limit), found in bends.items():
        where = joined(sorted(bend_words(context, run, index) for index in found))
        unit = context.unit
        has, needs = told_short(radius_mm, limit.mm, unit, exact)
        message = f"{run.tag} bends to {has} {where}, under {needs}, {limit.words}"
        evidence: dict[str, Any] = {
            "radius_mm": radius_mm,
            "smallest_mm": limit.mm,
            "od_mm": run.od_mm,
            "bends": [index + 1 for index in found],
            "radius_source": run.radii[found[0]].source,
            "source": limit.source,
        }
        level: Level = "error" if limit.refused else "warning"
        yield context.finding(RULE, level, message, (run.tag,), route_path(run, found[0]), evidence)


def _not_made(context: Context, run: Run) -> Iterator[Finding]:
    """Yield that the line's own bender does not take its tube, or that no listed one makes a stated radius."""
    assert run.tube is not None  # as above
    own, listed = tool_of(context.graph.build, run.tag, run.tube), tools_for(context.graph.build, run.tube)
    if own is not None and run.od_mm is not None and not own.takes(run.od_mm):
        size = exact(run.od_mm, context.unit)
        message = f"{run.tag} is to be bent with {own.name}, which does not take tube of {size}"
        evidence: dict[str, Any] = {"bender": own.name, "od_mm": run.od_mm, "takes_mm": own.tubes_mm}
        yield context.finding(RULE, "error", message, (run.tag,), ("lines", run.tag, "bender"), evidence)
        return
    bends: dict[float, list[int]] = {}
    for index, radius in enumerate(run.radii):
        if listed and radius.tool is None and radius.source == STATED and too_tight(radius, run.tube) is None:
            bends.setdefault(radius.mm, []).append(index)
    for radius_mm, found in bends.items():
        where = joined(sorted(bend_words(context, run, index) for index in found))
        names = joined(tool.name for tool in listed)
        message = f"{run.tag} bends to {exact(radius_mm, context.unit)} {where}; no listed bender makes it: {names}"
        made = {tool.name: tool.radius_mm for tool in listed}
        evidence = {"radius_mm": radius_mm, "made_mm": made, "bends": [index + 1 for index in found]}
        yield context.finding(RULE, "note", message, (run.tag,), route_path(run, found[0]), evidence)
