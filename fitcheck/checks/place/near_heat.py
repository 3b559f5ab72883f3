"""`near-heat`: a rigid line too near to something hot or moving.

What it finds
-------------
A line whose surface comes nearer to that of something in `heat` than its `clearance`, or than 76 mm where that is left
out, as drawn or in any pose of the bodies that the two are on. An error if a stated clearance is undercut or the two
meet, a warning if only the usual one is. Distances are true ones, between the tube as bent and the path with its
`radius`. Hoses are not looked at here: nobody knows how they hang. What lies between the two, such as a shield, is
not known either: accept the finding and say so.

Why it matters
--------------
Brake fluid that boils is a pedal that goes to the floor. A line beside the exhaust gets there on one long descent.

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
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, route: [[300, 0, 0]]}
    heat:
      exhaust: {path: [[-500, -80, 0], [900, -80, 0]], radius: 25 mm}

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
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, route: [[300, 0, 0]]}
    heat:
      exhaust: {path: [[-500, -120, 0], [900, -120, 0]], radius: 25 mm}

Source
------
76 mm (3 in): a magazine article on plumbing street cars (2016). A workshop manual asks for 80 mm from the manifold. The
law asks for protection from heat and names no figure (COMAR 11.19.03.05).
"""

from collections.abc import Iterator
from functools import partial
from typing import Any

from fitcheck.build.clearances import Gap, Solid, gaps_between
from fitcheck.build.curves import station_of
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Level, Looked, Said, Unchecked
from fitcheck.checks.line_solids import heat_solids, line_solids, missing_of, pose_words, poses_missing
from fitcheck.measures import fine, told_apart
from fitcheck.naming import in_order

RULE = "near-heat"
CLEARANCE_MM = 76.0
_SOURCE = "magazine article on plumbing street cars (2016): 3 in"


def find(context: Context) -> Iterator[Said]:
    """Yield every line that comes too near to something hot."""
    if not context.file.lines:
        return
    if not context.file.heat:
        yield Unchecked(RULE, (), "heat")
        return
    for run in context.runs.values():
        missing = missing_of(run)
        yield from (Unchecked(RULE, (run.tag,), field) for field in missing)
        yield Looked(0 if missing else len(context.file.heat))
    lines = line_solids(context, [(run, run.curve) for run in context.runs.values() if run.curve])
    hot = heat_solids(context.file)
    for field in poses_missing(context.file, lines, hot):
        yield Unchecked(RULE, (field.split(".")[1],), field)
    by_name = {solid.name: solid for solid in lines}
    heat = {solid.name: solid for solid in hot}
    wanted = [clearance(context, solid.name)[0] for solid in hot]
    for gap in sorted(gaps_between(lines, hot, wanted), key=lambda gap: (in_order(gap.first), in_order(gap.second))):
        yield _finding(context, gap, by_name[gap.first], heat[gap.second])


def clearance(context: Context, name: str) -> tuple[float, bool]:
    """Return how far lines must keep away from something hot [mm], and whether the build states it."""
    stated = context.file.heat[name].clearance
    return (float(stated), True) if stated is not None else (CLEARANCE_MM, False)


def _finding(context: Context, gap: Gap, line: Solid, hot: Solid) -> Finding:
    wanted, stated = clearance(context, hot.name)
    where = pose_words(gap, line, hot)
    usual = "" if stated else ", by the usual figure"
    unit = context.unit
    near, needs = told_apart(gap.mm, wanted, partial(fine, unit=unit))
    message = f"{line.name} comes within {near} of {hot.name}{where}: it needs {needs}{usual}"
    if gap.mm <= 0.0:
        message = f"{line.name} runs into {hot.name}{where}"
    evidence: dict[str, Any] = {
        "gap_mm": round(gap.mm, 2),
        "clearance_mm": wanted,
        "poses": gap.poses,
        "points_mm": [gap.near.first.point, gap.near.second.point],
        "along_mm": round(station_of(line.curve, gap.near.first), 1),
        "radii_mm": [line.radius_mm, hot.radius_mm],
        "source": f"heat.{hot.name}.clearance" if stated else _SOURCE,
    }
    level: Level = "error" if stated or gap.mm <= 0.0 else "warning"
    return context.finding(RULE, level, message, (line.name, hot.name), ("lines", line.name), evidence)
