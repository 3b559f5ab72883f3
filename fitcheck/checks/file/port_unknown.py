"""`port-unknown`: a reference to a port or a tag that is not there.

What it finds
-------------
A joint, line, hose or circuit that names a tag which the build lacks, or a port which the part lacks. The
rest of the build is checked as if the nearest free port had been meant, so that one slip is one finding; the
joint itself is listed as not checked.

Why it matters
--------------
A joint that leads to nothing is a joint that nobody has looked at.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.left]
      - [stop_b.end, joiner.b]

Passes::

    build: 1
    components:
      joiner: {part: union-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, joiner.b]

Source
------
The build file's own format; no trade fact is used.
"""

from collections.abc import Iterator

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said

RULE = "port-unknown"


def find(context: Context) -> Iterator[Said]:
    """Yield every reference that means nothing, with what was assumed for the rest of the check."""
    yield Looked(sum(len(joint.ends) for joint in context.graph.joints))
    for unknown in context.graph.unknown_refs:
        evidence = {"reference": unknown.ref, "assumed": unknown.assumed}
        yield context.finding(RULE, "error", unknown.reason, (unknown.ref,), unknown.path, evidence)
