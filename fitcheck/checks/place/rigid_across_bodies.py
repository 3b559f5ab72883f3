"""`rigid-across-bodies`: rigid plumbing between two bodies that move against each other.

What it finds
-------------
A line whose ends are on different bodies, and parts screwed straight together whose `on` differ. A component
that does not say what it is on takes the body of what it is screwed into, and the chassis if that does not say
either. Hoses may join any bodies.

Why it matters
--------------
The wheel moves, the tube does not: it cracks at the flare within miles.

Example
-------
Fails::

    build: 1
    bodies:
      axle: {}
    components:
      joiner: {part: union-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, on: axle}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni}

Passes::

    build: 1
    bodies:
      axle: {}
    components:
      joiner: {part: union-3-16-inverted, on: axle}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, on: axle}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni}

Source
------
Common practice, no source. Modification codes ask for hoses long enough for all steering and suspension travel.
"""

from collections.abc import Iterator

from fitcheck.build.load import CHASSIS
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said
from fitcheck.naming import in_order

RULE = "rigid-across-bodies"


def find(context: Context) -> Iterator[Said]:
    """Yield every line, and every screwed joint, that holds two moving bodies together."""
    bodies = context.bodies
    for joint, first, second in bodies.clashes:
        message = f"{first.tag} on {first.body} is screwed to {second.tag} on {second.body}"
        evidence = {"bodies": [first.body, second.body]}
        yield context.finding(RULE, "error", message, joint.refs, joint.path, evidence)
    yield Looked(len(bodies.rigid))
    for tag in context.file.lines:
        ends = bodies.of_line(tag)
        if len(ends) < 2:
            continue
        yield Looked()
        (near, near_body), (far, far_body) = sorted(ends, key=_chassis_first)
        if near_body != far_body:
            message = f"{tag}, a rigid line, runs from {near_body} to {far_body}"
            evidence = {"bodies": [near_body, far_body], "ends": [near, far]}
            at = (tag, near, far)
            yield context.finding(RULE, "error", message, at, ("lines", tag), evidence)


def _chassis_first(end: tuple[str, str]) -> tuple[bool, tuple[str | int, ...]]:
    return end[1] != CHASSIS, in_order(end[0])
