"""`no-bleeder`: a caliper or cylinder that the air cannot be let out of, or not all of it.

What it finds
-------------
Calipers, wheel cylinders and slave cylinders that have no bleed screw, and no way on from them to one: a banjo bolt
with a bleed screw, or a part with one that is reached through another of their ports. An error for a brake, a
warning for a clutch. Then those whose bleed screw stands lower than one of their ports (`bleeder_at` and the ports'
`offset`, as fitted), and calipers made for one side of the car (`side`) whose place is on the other: both are
warnings. Left and right are told by y, 0 in the middle of the car. A part whose catalog entry does not say what bleed
screw it has is listed as not checked.

Why it matters
--------------
Air is springy. The pedal goes to the floor before the brake holds. A caliper on the wrong side of the car stands upside
down, its bleed screw at the bottom: fluid comes out of it, and the air stays.

Example
-------
Catalog::

    catalog: 1
    parts:
      slave-plain:
        kind: slave cylinder
        ports:
          inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
        bleeder: none

Fails::

    build: 1
    catalogs: [house.yaml]
    components:
      mc: {part: mc-m10x1-bubble}
      tank: {part: reservoir-1-outlet}
      slave: {part: slave-plain}
    lines:
      run: {from: mc.outlet, to: slave.inlet, tube: tube-3-16-cuni}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Passes::

    build: 1
    catalogs: [house.yaml]
    components:
      mc: {part: mc-m10x1-bubble}
      tank: {part: reservoir-1-outlet}
      slave: {part: slave-m10x1-bubble}
    lines:
      run: {from: mc.outlet, to: slave.inlet, tube: tube-3-16-cuni}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Source
------
A bleed screw at the highest point of each caliper: encyclopedia article on brake bleeding. That left and right calipers
must not be swapped for that reason: car maker's parts leaflet, p. 33.
"""

from collections import deque
from collections.abc import Iterator
from typing import Any

from fitcheck.build.graph import Fitted
from fitcheck.build.trapped_air import bleeds
from fitcheck.catalog.part import BRAKES, CONSUMERS, Part
from fitcheck.checks.circuit_words import way_missing
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Level, Looked, Said, Unchecked
from fitcheck.measures import exact

RULE = "no-bleeder"
_FARTHEST = 60
"""Ends looked at on the way to a bleed screw further on: some ten parts, more than any remote bleed line has."""


def find(context: Context) -> Iterator[Said]:
    """Yield every consumer that can be bled neither at itself nor through another of its ports."""
    for item in context.graph.fitted.values():
        if item.part is None or item.part.kind not in CONSUMERS:
            continue
        if item.part.bleeder is None:
            yield Unchecked(RULE, (item.tag,), f"parts.{item.part_id}.bleeder")
        elif bleeds(item.part):
            yield from _placed(context, item, item.part)
        else:
            yield _judge(context, item, item.part)


def _judge(context: Context, item: Fitted, part: Part) -> Said:
    distance = context.circuits.distance
    refs = [f"{item.tag}.{port.name}" for port in part.fluid_ports()]
    fed = [ref for ref in refs if ref in distance]
    if not fed:
        return Unchecked(RULE, (item.tag,), way_missing(refs[0]) if refs else f"parts.{item.part_id}.ports")
    inlet = min(fed, key=distance.__getitem__)
    others = [ref for ref in refs if ref != inlet]
    if _bleeding_bolt(context, refs) or _reaches_bleeder(context, item.tag, others):
        return Looked()
    level: Level = "error" if part.kind in BRAKES else "warning"
    evidence = {"part": item.part_id, "ports": refs, "fed_at": inlet}
    message = f"{item.tag} has no bleed screw, nor is there one beyond it"
    return context.finding(RULE, level, message, (item.tag,), item.path, evidence)


def _placed(context: Context, item: Fitted, part: Part) -> Iterator[Said]:
    """Yield a bleed screw below a port, and a caliper on the wrong side of the car."""
    yield Looked()
    for message, evidence in (*_too_low(context, item.tag, part), *_wrong_side(context, item.tag, part)):
        evidence = {"part": part.id, **evidence}
        yield context.finding(RULE, "warning", message, (item.tag,), item.path, evidence)


def _too_low(context: Context, tag: str, part: Part) -> Iterator[tuple[str, dict[str, Any]]]:
    if part.bleeder_at is None:
        return
    heights = {port.name: port.offset[2] if port.offset is not None else 0.0 for port in part.fluid_ports()}
    name = max(heights, key=heights.__getitem__)
    below = heights[name] - part.bleeder_at[2]
    if below > 0.0:
        message = f"the bleed screw of {tag} stands {exact(below, context.unit)} below its port {name}"
        yield message, {"bleeder_at_mm": part.bleeder_at, "port_z_mm": heights}


def _wrong_side(context: Context, tag: str, part: Part) -> Iterator[tuple[str, dict[str, Any]]]:
    at = context.file.components[tag].at
    if part.side is None or at is None or at[1] == 0.0:
        return
    there = "left" if at[1] > 0.0 else "right"
    if there != part.side:
        message = (
            f"{tag} is made for the {part.side} of the car and stands on the {there}: its bleed screw is at the bottom"
        )
        yield message, {"side": part.side, "stands": there, "y": at[1]}


def _bleeding_bolt(context: Context, refs: list[str]) -> bool:
    """Return whether a banjo bolt stated for one of these ports has a bleed screw of its own."""
    for ref in refs:
        for joint in context.graph.joints_at.get(ref, ()):
            bolt = context.graph.build.shelf.get(joint.bolt) if joint.bolt else None
            if bleeds(bolt):
                return True
    return False


def _reaches_bleeder(context: Context, tag: str, starts: list[str]) -> bool:
    """Return whether a part with a bleed screw lies beyond `starts`, without going back through `tag`."""
    graph = context.graph
    seen = set(starts)
    queue = deque(starts)
    while queue and len(seen) < _FARTHEST:
        for other in graph.graph[queue.popleft()]:
            end = graph.ends[other]
            if other in seen or end.tag == tag:
                continue
            if bleeds(end.fitted.part):
                return True
            seen.add(other)
            queue.append(other)
    return False
