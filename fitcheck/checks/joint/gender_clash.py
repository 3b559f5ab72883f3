"""`gender-clash`: two external or two internal threads brought together.

What it finds
-------------
Joints whose two sides are both external or both internal: two hose ends, two plugs, a tube nut on a port that
needs the other kind. Threads and seats that differ as well are part of the evidence.

Why it matters
--------------
Nothing can be screwed together. Ordered parts come back, and the car waits for an adapter.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-3-16-inverted}
      other: {part: union-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [joiner.b, other.a]
      - [stop_b.end, other.b]

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
Common practice, no source.
"""

from collections.abc import Iterator

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Said
from fitcheck.checks.joint.speak import speak

RULE = "gender-clash"


def find(context: Context) -> Iterator[Said]:
    """Yield every joint of two like genders."""
    yield from speak(context, RULE)
