"""`lines-touching`: two rigid lines nearer to each other than they may rub.

What it finds
-------------
Two lines whose surfaces come nearer than 1.6 mm, as drawn or in any pose of the bodies they are on. The last 30 mm at
either end of a line are left out: there the fittings hold it, and where a catalog gives no offsets all ports of a part
stand in one point. Clips that hold two lines side by side keep them further apart than that.

Why it matters
--------------
Two tubes that touch rub through each other's coating, then corrode, then wear through; and lines that cross in one
point cannot both be bent as drawn.

Example
-------
Fails::

    build: 1
    components:
      a: {part: union-3-16-inverted, at: [0, 0, 0]}
      stop_a: {part: plug-3-8-24-inverted}
      b: {part: union-3-16-inverted, at: [300, 200, 0]}
      stop_b: {part: plug-3-8-24-inverted}
      c: {part: union-3-16-inverted, at: [150, -200, 0]}
      stop_c: {part: plug-3-8-24-inverted}
      d: {part: union-3-16-inverted, at: [50, 200, 0]}
      stop_d: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, a.a]
      - [stop_b.end, b.b]
      - [stop_c.end, c.a]
      - [stop_d.end, d.b]
    lines:
      one: {from: a.b, to: b.a, tube: tube-3-16-cuni, route: [[300, 0, 0]]}
      two: {from: c.b, to: d.a, tube: tube-3-16-cuni, route: [[150, 200, 0]]}

Passes::

    build: 1
    components:
      a: {part: union-3-16-inverted, at: [0, 0, 0]}
      stop_a: {part: plug-3-8-24-inverted}
      b: {part: union-3-16-inverted, at: [300, 200, 0]}
      stop_b: {part: plug-3-8-24-inverted}
      c: {part: union-3-16-inverted, at: [150, -200, 10]}
      stop_c: {part: plug-3-8-24-inverted}
      d: {part: union-3-16-inverted, at: [50, 200, 10]}
      stop_d: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, a.a]
      - [stop_b.end, b.b]
      - [stop_c.end, c.a]
      - [stop_d.end, d.b]
    lines:
      one: {from: a.b, to: b.a, tube: tube-3-16-cuni, route: [[300, 0, 0]]}
      two: {from: c.b, to: d.a, tube: tube-3-16-cuni, route: [[150, 200, 10]]}

Source
------
1.6 mm (1/16 in) between a supported tube and what is beside it: a transport aircraft manual. That it holds between two
tubes, and the 30 mm: common practice, no source. A rule beyond those of the design's first list.
"""

from collections.abc import Iterator
from functools import partial
from typing import Any

from fitcheck.build.clearances import Gap, Solid, gaps_among
from fitcheck.build.curves import Curve, length_of, part_of
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Looked, Said, Unchecked
from fitcheck.checks.line_solids import line_solids, missing_of, pose_words, poses_missing
from fitcheck.checks.line_words import ordered
from fitcheck.measures import fine, told_apart

RULE = "lines-touching"
APART_MM = 1.6
ENDS_MM = 30.0
"""What is left out at either end of a line. Common practice, no source."""
_SOURCE = "transport aircraft manual: 1/16 in where supported"


def find(context: Context) -> Iterator[Said]:
    """Yield every pair of lines that come nearer to each other than they may."""
    if len(context.file.lines) < 2:
        return
    for run in context.runs.values():
        missing = missing_of(run)
        yield from (Unchecked(RULE, (run.tag,), field) for field in missing)
        yield Looked(0 if missing else 1)
    curves = [(run, without_ends(run.curve)) for run in context.runs.values()]
    lines = line_solids(context, [(run, curve) for run, curve in curves if curve])
    for field in poses_missing(context.file, lines, lines):
        yield Unchecked(RULE, (field.split(".")[1],), field)
    by_name = {solid.name: solid for solid in lines}
    for gap in gaps_among(lines, APART_MM):
        yield _finding(context, gap, by_name[gap.first], by_name[gap.second])


def without_ends(curve: Curve) -> Curve:
    """Return a line without what its end fittings hold, 30 mm at either end; empty if it is no longer than that."""
    return part_of(curve, ENDS_MM, sum(map(length_of, curve)) - ENDS_MM)


def _finding(context: Context, gap: Gap, first: Solid, second: Solid) -> Finding:
    one, other = ordered(gap.first, gap.second)
    where = pose_words(gap, first, second)
    unit = context.unit
    near, need = told_apart(gap.mm, APART_MM, partial(fine, unit=unit))
    message = f"{one} and {other} come within {near} of each other{where}: they need {need}"
    if gap.mm <= 0.0:
        message = f"{one} and {other} run into each other{where}"
    evidence: dict[str, Any] = {
        "gap_mm": round(gap.mm, 2),
        "apart_mm": APART_MM,
        "lines": (gap.first, gap.second),
        "poses": gap.poses,
        "points_mm": [gap.near.first.point, gap.near.second.point],
        "radii_mm": [first.radius_mm, second.radius_mm],
        "source": _SOURCE,
    }
    return context.finding(RULE, "warning", message, (one, other), ("lines", one), evidence)
