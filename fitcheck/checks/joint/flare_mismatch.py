"""`flare-mismatch`: a stated flare that the port does not take, or that the tube does not allow.

What it finds
-------------
A flare stated under `ends` that is not the one this seat seals on; and, as a warning, a tube whose wall is
thicker than the standard allows for the flare (a double flare on 3/16 x 0.035 in tube, for one).

Why it matters
--------------
A double flare in a bubble port, or the reverse, seals on a ring contact at best. It may hold at the bench.

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
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, ends: {from: {flare: double-45}}}

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
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, ends: {from: {flare: bubble}}}

Source
------
Flares: SAE J533 (45 degrees, greatest wall per size), ISO 4038 (bubble), SAE J514 and ISO 8434-2 (37 degrees).
"""

from collections.abc import Iterator

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Said
from fitcheck.checks.joint.speak import speak

RULE = "flare-mismatch"


def find(context: Context) -> Iterator[Said]:
    """Yield every stated flare that its port does not take or its tube does not allow."""
    yield from speak(context, RULE)
