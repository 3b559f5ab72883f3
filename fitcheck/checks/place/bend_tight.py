"""`bend-tight`: a bend that the tube does not stand, or that nothing can make.

What it finds
-------------
A bend whose centre-line radius is under the smallest that the catalog gives for the tube, under three outside diameters
(warning) or under one and a half (error). The last two are silent where `tools.benders` lists a tool that makes the
radius, to 0.5 mm. And a route that cannot be made: a leg that is shorter than its bends take, or a corner that turns
straight back (error). A bend's radius is its own `bend`, else that of the line's bender, else the tube's smallest, else
three outside diameters.

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
from typing import Any, NamedTuple

from fitcheck.build.benders import Radius
from fitcheck.build.runs import Run
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Level, Looked, Said, Unchecked
from fitcheck.checks.joint_words import joined, mm
from fitcheck.checks.line_words import bend_words, leg_words, route_path
from fitcheck.standards.tubes import bend_limits

RULE = "bend-tight"
_PLAY_MM = 0.05
"""Radii are written rounded: 14.25 mm is three times 4.7625 mm."""


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


def _cannot(context: Context, run: Run) -> Finding:
    assert run.fault is not None
    fault = run.fault
    where = f"its leg {leg_words(context, run, fault.leg - 1)}" if run.points is not None else f"leg {fault.leg}"
    message = f"{run.tag} cannot be bent: {where} {fault.reason}"
    legs = run.route.legs_mm if run.route is not None else ()
    evidence = {"leg": run.fault.leg, "legs_mm": legs, "radii_mm": [radius.mm for radius in run.radii]}
    return context.finding(RULE, "error", message, (run.tag,), ("lines", run.tag, "route"), evidence)


class _Limit(NamedTuple):
    """A radius [mm] that a bend is under, what it is, where it comes from, and how much that matters."""

    mm: float
    words: str
    source: str
    level: Level


def _too_tight(context: Context, run: Run) -> Iterator[Finding]:
    """Yield one finding for each radius of the line that is under a limit, with all bends of that radius."""
    bends: dict[tuple[float, _Limit], list[int]] = {}
    for index, radius in enumerate(run.radii):
        limit = _limit(run, radius)
        if limit is not None:
            bends.setdefault((radius.mm, limit), []).append(index)
    for (radius_mm, limit), found in bends.items():
        where = joined(sorted(bend_words(context, run, index) for index in found))
        message = f"{run.tag} bends to {mm(radius_mm)} {where}, under {mm(limit.mm)}, {limit.words}"
        evidence: dict[str, Any] = {
            "radius_mm": radius_mm,
            "smallest_mm": limit.mm,
            "od_mm": run.od_mm,
            "bends": [index + 1 for index in found],
            "radius_source": run.radii[found[0]].source,
            "source": limit.source,
        }
        yield context.finding(RULE, limit.level, message, (run.tag,), route_path(run, found[0]), evidence)


def _limit(run: Run, radius: Radius) -> _Limit | None:
    """Return the limit that a radius is under, the gravest first; None if it stands."""
    assert run.tube is not None  # a run without a tube has something missing
    limits = bend_limits(run.od_mm or 0.0)
    made = radius.tool is not None
    if not made and radius.mm < limits.refuse_below_mm - _PLAY_MM:
        return _Limit(limits.refuse_below_mm, "one and a half outside diameters", limits.mark, "error")
    own = run.tube.bend_radius
    if own is not None and radius.mm < own - _PLAY_MM:
        source = run.tube.source or f"catalog {run.tube.catalog}"
        return _Limit(own, f"the smallest of {run.tube.id}", source, "warning")
    if not made and radius.mm < limits.warn_below_mm - _PLAY_MM:
        return _Limit(limits.warn_below_mm, "three outside diameters", limits.mark, "warning")
    return None
