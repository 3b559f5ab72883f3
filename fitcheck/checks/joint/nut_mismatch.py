"""`nut-mismatch`: a stated nut or sleeve that does not suit the port or the tube.

What it finds
-------------
Nuts and sleeves that the file states under `ends` and that do not mate with the port's thread, are made for
another seat (a nut threaded to its end in a bubble port) or for another tube. What the file leaves out is
chosen to suit and cannot be wrong in this way.

Why it matters
--------------
A fully threaded nut in a bubble port bottoms on its thread: it feels tight and the tube is loose. A nut of the
neighbouring thread standard strips.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-m10x1-bubble}
      stop_a: {part: plug-m10x1-bubble}
      far: {part: union-m10x1-bubble}
      stop_b: {part: plug-m10x1-bubble}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, ends: {from: {nut: nut-3-8-24-inverted}}}

Passes::

    build: 1
    components:
      joiner: {part: union-m10x1-bubble}
      stop_a: {part: plug-m10x1-bubble}
      far: {part: union-m10x1-bubble}
      stop_b: {part: plug-m10x1-bubble}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, ends: {from: {nut: nut-m10x1-bubble}}}

Source
------
Nut forms: SAE J512 (threaded to the end), ISO 4038 and SAE J1290 (plain lead). Threads: as `thread-mismatch`.
"""

from collections.abc import Iterator

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Said
from fitcheck.checks.joint.speak import speak

RULE = "nut-mismatch"


def find(context: Context) -> Iterator[Said]:
    """Yield every stated nut or sleeve that does not suit its port and tube."""
    yield from speak(context, RULE)
