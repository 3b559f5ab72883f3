"""`port-reused`: one opening that the file joins more than once.

What it finds
-------------
A port or a tube's end that takes part in two or more joints, and one that is joined to itself. Several banjo eyes
under one bolt are one joint, if the file states them as one (`{port: ..., eyes: [...]}`). An open port
of the same kind that the joint too many was meant for is named with it: one of the same part, else of the same
circuit, else that of a brake or clutch which is not fed.

Why it matters
--------------
One opening takes one fitting. Either a tee is missing, or a line goes to the wrong place and its own is open.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: tee-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      stop_b: {part: plug-3-8-24-inverted}
      stop_c: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.left]
      - [stop_b.end, joiner.right]
      - [stop_c.end, joiner.right]

Passes::

    build: 1
    components:
      joiner: {part: tee-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      stop_b: {part: plug-3-8-24-inverted}
      stop_c: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.left]
      - [stop_b.end, joiner.right]
      - [stop_c.end, joiner.top]

Source
------
The build file's own format; no trade fact is used.
"""

from collections.abc import Iterator
from typing import Any

from fitcheck.build.graph import Joint
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Looked, Said
from fitcheck.naming import in_order

RULE = "port-reused"


def find(context: Context) -> Iterator[Said]:
    """Yield every end that is in more than one joint."""
    yield Looked(len(context.graph.joints_at))
    for ref, joints in context.graph.joints_at.items():
        if len(joints) > 1:
            yield _finding(context, ref, joints)


def _finding(context: Context, ref: str, joints: list[Joint]) -> Finding:
    stated = list({id(joint): joint for joint in joints}.values())
    left_out = context.gaps.by_reuse.get(ref, ())
    message = f"{ref} is joined to itself" if len(stated) == 1 else f"{ref} is joined {len(stated)} times"
    place = context.graph.build.place
    evidence: dict[str, Any] = {
        "joints": [{"ends": joint.refs, "line": place(joint.path).line} for joint in stated],
        "left_out": left_out,
    }
    eyes = _eyes(ref, stated)
    if eyes:
        evidence["reason"] = f"eyes on one bolt are written {{port: {ref}, eyes: [{', '.join(eyes)}]}} under joints"
    return context.finding(RULE, "error", message, (ref, *left_out), stated[min(1, len(stated) - 1)].path, evidence)


def _eyes(ref: str, stated: list[Joint]) -> list[str]:
    """Return the banjo eyes that are brought to a port one by one, if it is a port for them and they are all."""
    ends = {end.ref: end for joint in stated for end in joint.ends}
    eyes = sorted((end.ref for end in ends.values() if end.port is not None and end.port.eye is not None), key=in_order)
    port = ends[ref].port
    flat = port is not None and port.eye is None and port.seat == "washer-face"
    return eyes if flat and len(eyes) == len(ends) - 1 > 1 else []
