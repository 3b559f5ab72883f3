"""`thread-mismatch`: two threads that do not mate.

What it finds
-------------
Joints whose external and internal thread do not go together and hold. The verdict is computed from the
limits of size of both threads at both extremes, never looked up by name: will not start, starts then binds,
runs in loose and strips, drops through, or may bind at the root. A seat that differs as well is part of the
evidence. Threads that feel right by hand and do not hold are listed first. Wear, damage and plating are not
seen.

Why it matters
--------------
The most dangerous joint is the one that goes together. A 3/8-24 nut runs into an M10x1 port by hand, holds
at the bench and strips when it matters.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-m10x1-bubble}
      stop_a: {part: plug-3-8-24-inverted}
      stop_b: {part: plug-m10x1-bubble}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, joiner.b]

Passes::

    build: 1
    components:
      joiner: {part: union-m10x1-bubble}
      stop_a: {part: plug-m10x1-bubble}
      stop_b: {part: plug-m10x1-bubble}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, joiner.b]

Source
------
Limits of size: ASME B1.1 (unified), ISO 965 (metric), ASME B1.20.1 (NPT), ISO 228-1 and ISO 7-1 (BSP). How
unlike threads meet is derived from them: flank clearance over pitch difference gives the free turns, major
over minor diameter the overlap (FED-STD-H28/2B paragraph 60 for eccentric starting).
"""

from collections.abc import Iterator

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Said
from fitcheck.checks.joint.speak import speak

RULE = "thread-mismatch"


def find(context: Context) -> Iterator[Said]:
    """Yield every joint whose threads do not mate."""
    yield from speak(context, RULE)
