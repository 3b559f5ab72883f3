"""`part-unknown`: a part id that no catalog has, or that cannot stand here.

What it finds
-------------
A component, line, hose, nut, sleeve or bolt whose part id is in none of the catalogs, or names a part of
the wrong kind: a hose as a line's tube, a nut as a component. The rest of the build is still checked; joints
of the unknown part are listed as not checked, and fluid is taken to pass through it.

Why it matters
--------------
Nothing can be said about a part without ports. A slip in an id hides every fault behind it.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-3-16-invertd}
      stop_a: {part: plug-3-8-24-inverted}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
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

RULE = "part-unknown"


def find(context: Context) -> Iterator[Said]:
    """Yield every part id that means nothing where it stands."""
    yield Looked(len(context.graph.fitted))
    for unknown in context.graph.unknown_parts:
        evidence = {"part": unknown.part_id}
        yield context.finding(RULE, "error", unknown.reason, (unknown.tag,), unknown.path, evidence)
