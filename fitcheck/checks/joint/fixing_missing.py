"""`fixing-missing`: a joint lacks something besides its two sides.

What it finds
-------------
No catalog has the nut, sleeve, banjo bolt or washer that a joint needs; a banjo bolt too short for its eyes; a
stated number of washers that is not one more than the eyes; two tube ends joined without a union.

Why it matters
--------------
The nut goes on the tube before the second flare. A missing washer or nut is found when the fluid is in.

Example
-------
Fails::

    build: 1
    components:
      near: {part: union-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, near.a]
      - [stop_b.end, far.b]
    lines:
      first: {from: near.b, to: second.from, tube: tube-3-16-cuni}
      second: {from: first.to, to: far.a, tube: tube-3-16-cuni}

Passes::

    build: 1
    components:
      near: {part: union-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted}
      stop_b: {part: plug-3-8-24-inverted}
      joiner: {part: union-3-16-inverted}
    joints:
      - [stop_a.end, near.a]
      - [stop_b.end, far.b]
    lines:
      first: {from: near.b, to: joiner.a, tube: tube-3-16-cuni}
      second: {from: joiner.b, to: far.a, tube: tube-3-16-cuni}

Source
------
n eyes need n + 1 soft washers: common practice, no source. Nut and sleeve per form: SAE J512, ISO 4038, SAE J514.
"""

from collections.abc import Iterator

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Said
from fitcheck.checks.joint.speak import speak

RULE = "fixing-missing"


def find(context: Context) -> Iterator[Said]:
    """Yield every joint that lacks a fixing."""
    yield from speak(context, RULE)
