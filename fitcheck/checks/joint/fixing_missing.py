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
      bend: {part: union-3-16-inverted}
      stop: {part: plug-3-8-24-inverted}
      pressure: {part: gauge-m10x1-washer}
    joints:
      - [stop.end, bend.a]
      - {ports: [pressure.port, block.port], washers: 0}

Passes::

    build: 1

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
