"""`no-bleeder`: a caliper or cylinder that the air cannot be let out of.

What it finds
-------------
Calipers, wheel cylinders and slave cylinders that have no bleed screw, and no way on from them to one: a banjo bolt
with a bleed screw, or a part with one that is reached through another of their ports. An error for a brake, a
warning for a clutch. A part whose catalog entry does not say what bleed screw it has is listed as not checked.

Why it matters
--------------
Air is springy. The pedal goes to the floor before the brake holds.

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
Workshop practice: a bleed screw at the highest point of each caliper. Common practice, no source.
"""

from collections import deque
from collections.abc import Iterator

from fitcheck.build.graph import Fitted
from fitcheck.catalog.part import BRAKES, CONSUMERS, Part
from fitcheck.checks.circuit_words import way_missing
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Level, Looked, Said, Unchecked

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
        elif _has_bleeder(item.part):
            yield Looked()
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


def _has_bleeder(part: Part) -> bool:
    return part.bleeder is not None and part.bleeder.strip().lower() != "none"


def _bleeding_bolt(context: Context, refs: list[str]) -> bool:
    """Return whether a banjo bolt stated for one of these ports has a bleed screw of its own."""
    for ref in refs:
        for joint in context.graph.joints_at.get(ref, ()):
            bolt = context.graph.build.shelf.get(joint.bolt) if joint.bolt else None
            if bolt is not None and _has_bleeder(bolt):
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
            if end.fitted.part is not None and _has_bleeder(end.fitted.part):
                return True
            seen.add(other)
            queue.append(other)
    return False
