"""`seat-mismatch`: two ends that seal in different ways.

What it finds
-------------
Joints whose threads mate but whose seats differ: a bubble end in an inverted-flare port, a 37 degree nose in
an inverted flare, a banjo eye on a port without a flat land, a flared tube in a taper pipe port. Mounting
patterns that differ and a rod joined to a fluid port are found as well.

Why it matters
--------------
Same thread does not mean same seat. The nut torques up, the joint looks made, and it weeps under pressure; the
raised cone of the port is dented and spoiled for the right tube too.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-m10x1-inverted}
      stop_a: {part: plug-m10x1-bubble}
      stop_b: {part: plug-m10x1-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, joiner.b]

Passes::

    build: 1
    components:
      joiner: {part: union-m10x1-inverted}
      stop_a: {part: plug-m10x1-inverted}
      stop_b: {part: plug-m10x1-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, joiner.b]

Source
------
Forms: SAE J512/J533, ISO 13486-1, ISO 4038, SAE J1290, SAE J514/ISO 8434-2. What goes wrong with each pair
carries its own mark in the evidence.
"""

from collections.abc import Iterator

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Said
from fitcheck.checks.joint.speak import speak

RULE = "seat-mismatch"


def find(context: Context) -> Iterator[Said]:
    """Yield every joint whose two sides seal in different ways."""
    yield from speak(context, RULE)
