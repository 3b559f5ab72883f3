"""`panel-misfit`: a panel hole that does not go with what is in it.

What it finds
-------------
A hole that a line's tube does not go through (error). A grommet whose own hole differs: by more than 0.5 mm a
warning, an error if the panel's is smaller by more than 1 mm or so large that the grommet falls through. A bulkhead
part that does not go in (error), or has more than 1 mm of play (warning; an error from a quarter of its hole). A
panel thicker than the part grips: an error for a bulkhead part, a warning for a grommet. And a grommet whose bore is
more than 0.5 mm wider or 1 mm narrower than the tube (warning).

Also the nut of a bulkhead part, or a tube nut, that no spanner gets on, because another one or a tube stands nearer to
its axis than half a ring head and half of that (warning). Only on one body, and of tube nuts only those whose face is
known. What a sheet leaves of room beside a nut is not known.

Why it matters
--------------
A grommet that does not hold wanders along the tube and leaves the edge bare; a union that cannot be clamped twists the
tubes on both its sides.

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
      run:
        from: joiner.b
        to: far.a
        tube: tube-3-16-cuni
        route: [{at: [100, 0, 0], through: bulkhead}, [300, 0, 0]]
    panels:
      bulkhead: {hole: 18 mm, thickness: 1.5 mm, grommet: grommet-3-16}

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
      run:
        from: joiner.b
        to: far.a
        tube: tube-3-16-cuni
        route: [{at: [100, 0, 0], through: bulkhead}, [300, 0, 0]]
    panels:
      bulkhead: {hole: 12 mm, thickness: 1.5 mm, grommet: grommet-3-16}

Source
------
Holes, grips and bores are those of the parts' catalog entries. How much they may differ: common practice, no source.
Ring heads of spanners: A-A-1346A (US commercial item description, box wrenches), 3.2; sizes between: derived.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fitcheck.build.panel_holes import play_mm
from fitcheck.catalog.part import Part
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Level, Looked, Said, Unchecked
from fitcheck.checks.panel_holes import Hole, holes
from fitcheck.checks.spanner import crowded
from fitcheck.measures import exact

RULE = "panel-misfit"
THICKER_MM = 0.1
BORE_MM = (-1.0, 0.5)


def find(context: Context) -> Iterator[Said]:
    """Yield every panel hole that is of the wrong size for what is in it."""
    for hole in holes(context):
        parts = (*hole.guards, *hole.bulkheads)
        if hole.unknown:
            yield Unchecked(RULE, (hole.name,), f"panels.{hole.name}.grommet")
        if (parts or hole.lines) and hole.panel.hole is None:
            yield Unchecked(RULE, (hole.name,), f"panels.{hole.name}.hole")
        elif parts or hole.lines:
            yield Looked()
            yield from _tubes(context, hole)
        for tag, part in parts:
            yield from _hole_of(context, hole, tag, part)
            yield from _grip_of(context, hole, tag, part)
    yield from crowded(context, RULE)


def _tubes(context: Context, hole: Hole) -> Iterator[Said]:
    """Yield the tubes that do not go through the hole, and the grommets that are not for the tubes in them."""
    width = float(hole.panel.hole or 0.0)
    for item in hole.lines:
        od = item.part.od if item.part is not None else None
        if od is None:
            yield Unchecked(RULE, (hole.name, item.tag), f"parts.{item.part_id}.od")
            continue
        if od > width and not hole.bulkheads:
            unit = context.unit
            message = f"{item.tag} is {exact(od, unit)} thick, {hole.name} is {exact(width, unit)} wide"
            yield _said(context, hole, "error", message, item.tag, {"od_mm": od, "hole_mm": width})
        for tag, part in hole.guards:
            if part.inside is None:
                yield Unchecked(RULE, (hole.name, item.tag), f"parts.{part.id}.inside")
            elif not BORE_MM[0] <= part.inside - od <= BORE_MM[1]:
                bore, thick = exact(part.inside, context.unit), exact(od, context.unit)
                message = f"{part.id} in {hole.name} has a bore of {bore}, {item.tag} is {thick} thick"
                evidence = {"od_mm": od, "bore_mm": part.inside, "allowed_mm": BORE_MM}
                yield _said(context, hole, "warning", message, tag, evidence)


def _hole_of(context: Context, hole: Hole, tag: str, part: Part) -> Iterator[Said]:
    """Yield that a part needs a hole of another size than the panel has."""
    if part.panel is None or part.panel[0] is None:
        yield Unchecked(RULE, (hole.name, tag), f"parts.{part.id}.panel.hole")
        return
    if hole.panel.hole is None:
        return
    need, width = part.panel[0], float(hole.panel.hole)
    least, most = play_mm(part)
    if not least <= width - need <= most:
        unit = context.unit
        message = f"{hole.name} is {exact(width, unit)} wide, {part.id} needs {exact(need, unit)}"
        evidence = {"hole_mm": width, "needed_mm": need, "allowed_mm": (least, most), "outside_mm": part.outside}
        yield _said(context, hole, _level(part, width, need), message, tag, evidence)


def _level(part: Part, width: float, need: float) -> Level:
    """Return how grave a wrong hole is: an error if the part does not go in, or falls through."""
    if part.kind != "grommet":
        return "error" if width < need or width >= 1.25 * need else "warning"
    falls = part.outside is not None and width >= part.outside
    return "error" if falls or width < need - 1.0 else "warning"


def _grip_of(context: Context, hole: Hole, tag: str, part: Part) -> Iterator[Said]:
    """Yield that a panel is thicker than a part can hold."""
    grip = part.panel[1] if part.panel is not None else None
    if grip is None:
        yield Unchecked(RULE, (hole.name, tag), f"parts.{part.id}.panel.grip")
    elif hole.panel.thickness is None:
        yield Unchecked(RULE, (hole.name, tag), f"panels.{hole.name}.thickness")
    elif hole.panel.thickness > grip + THICKER_MM:
        thick = float(hole.panel.thickness)
        unit = context.unit
        message = f"{hole.name} is {exact(thick, unit)} thick, {part.id} grips up to {exact(grip, unit)}"
        level: Level = "warning" if part.kind == "grommet" else "error"
        yield _said(context, hole, level, message, tag, {"thickness_mm": thick, "grip_mm": grip})


def _said(context: Context, hole: Hole, level: Level, message: str, tag: str, evidence: Mapping[str, Any]) -> Said:
    at = (hole.name, tag) if tag != hole.name else (hole.name,)
    path = ("panels", hole.name)
    sources = [part.source for _, part in (*hole.guards, *hole.bulkheads) if part.source]
    source = "; ".join(dict.fromkeys([*sources, "allowed differences: common practice, no source"]))
    return context.finding(RULE, level, message, at, path, {**evidence, "source": source})
