"""`tube-size-mismatch`: ends made for different tube, hose or bolt sizes.

What it finds
-------------
A tube in a port made for another size, a hose on a barb of another bore, a banjo eye too small or too large
for its bolt. Tubes within 0.1 mm of outside diameter count as one size: 3/16 in is 4.75 mm and 5/16 in is
8 mm, but 1/4 in and 6 mm are not the same.

Why it matters
--------------
A nut that is loose on the tube lets the flare pull through; a hose on the wrong barb blows or slips off.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-1-4-cuni}

Passes::

    build: 1
    components:
      joiner: {part: union-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni}

Source
------
Tube tolerance: SAE J526 (3/16 in: plus or minus 0.003 in). Which sizes interchange is derived from it. Eye
clearance up to 0.8 mm over the bolt: common practice, no source.
"""

from collections.abc import Iterator

from fitcheck.build.refs import tag_of
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Said
from fitcheck.checks.joint.speak import speak
from fitcheck.standards.sizes import size_name

RULE = "tube-size-mismatch"


def find(context: Context) -> Iterator[Said]:
    """Yield every joint whose sides are made for different sizes; a line that fits neither port once."""
    said = list(speak(context, RULE))
    by_line: dict[str, list[Finding]] = {}
    for one in said:
        if isinstance(one, Finding) and context.graph.ends[one.at[0]].tube_end:
            by_line.setdefault(tag_of(one.at[0]), []).append(one)
    wrong = {tag: found for tag, found in by_line.items() if len(found) == 2}
    yield from (one for one in said if not (isinstance(one, Finding) and tag_of(one.at[0]) in wrong))
    for tag, (first, second) in wrong.items():
        size = size_name(first.evidence["tube_mm"][0])
        message = f"{size} tube of {tag} fits neither {first.at[1]} nor {second.at[1]}"
        sizes = {finding.at[1]: finding.evidence["tube_mm"][1] for finding in (first, second)}
        evidence = {"tube_mm": first.evidence["tube_mm"][0], "ports_mm": sizes}
        at = (*first.at, *second.at)
        yield context.finding(RULE, "error", message, at, ("lines", tag, "tube"), evidence)
