"""`line-dead-straight`: a rigid line without any bend between two rigid ends.

What it finds
-------------
A line whose both ends go into fitted parts and that has no bend: by its route, or, where it has only a `length`,
because that is the straight way between its ends (to 1 mm). A line that ends in a hose is left alone: the hose gives
way.

Why it matters
--------------
A tube with one bend gives way a little when it is fitted, when it gets warm and when the frame works. A straight one
does not: it must be right to a fraction of a millimetre, will not go in past its own flares, and pulls at both of them
ever after.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-3-16-inverted, at: [0, 0, 0]}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, at: [300, 0, 0]}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, length: 300 mm}

Passes::

    build: 1
    components:
      joiner: {part: union-3-16-inverted, at: [0, 0, 0]}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, at: [300, 0, 0]}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, route: [[150, 40, 0]]}

Source
------
AC 43.13-1B: no straight line between two rigid connections; MIL-H-8891A, 3.11.4.5, asks for a bend as well. Both are
written for aircraft; that cars follow them is common practice.
"""

from collections.abc import Iterator
from math import dist

from fitcheck.build.positions import end_position
from fitcheck.build.runs import Run, missing_places
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked
from fitcheck.measures import fine
from fitcheck.naming import in_order

RULE = "line-dead-straight"
_PLAY_MM = 1.0
_SOURCE = "AC 43.13-1B; MIL-H-8891A, 3.11.4.5"


def find(context: Context) -> Iterator[Said]:
    """Yield every line that has no bend and two rigid ends."""
    for run in context.runs.values():
        ends = _rigid_ends(context, run.tag)
        if len(ends) < 2:
            continue
        length = _straight_length(context, run)
        if isinstance(length, tuple):
            yield from (Unchecked(RULE, (run.tag,), field) for field in length)
            continue
        yield Looked()
        if length is not None:
            near, far = sorted(ends, key=in_order)
            message = f"{run.tag} is dead straight, {fine(length, context.unit)} from {near} to {far}"
            evidence = {"length_mm": length, "ends": (near, far), "source": _SOURCE}
            at = (run.tag, near, far)
            yield context.finding(RULE, "warning", message, at, ("lines", run.tag), evidence)


def _rigid_ends(context: Context, tag: str) -> list[str]:
    """Return the ports of fitted parts that a line's ends go into, one for each end that has one."""
    found = []
    for own in (f"{tag}.from", f"{tag}.to"):
        others = [end for joint in context.graph.joints_at.get(own, ()) for end in joint.ends if end.ref != own]
        rigid = [end.ref for end in others if end.fitted.section == "components"]
        found += rigid[:1]
    return found


def _straight_length(context: Context, run: Run) -> float | tuple[str, ...] | None:
    """Return how long a dead straight line is [mm], None if it has a bend, or the fields that would tell."""
    if run.fault is not None:
        return None
    if run.route is not None:
        return None if run.route.bends else sum(run.route.legs_mm)
    line = context.file.lines[run.tag]
    if line.route is not None or line.length is None:
        return run.missing or (f"lines.{run.tag}.route",)
    first, last = (end_position(context.graph, f"{run.tag}.{name}") for name in ("from", "to"))
    if first is None or last is None:
        return missing_places(context.graph, run.tag)
    apart = dist(first, last)
    return float(line.length) if abs(line.length - apart) <= _PLAY_MM else None
