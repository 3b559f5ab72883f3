"""`panel-unguarded`: a line passes through a bare hole in a panel.

What it finds
-------------
A panel that a line's route names by `through`, with neither a grommet (its `grommet`, or a component of that kind in
the hole) nor a bulkhead part in it. A part is in the hole if its `at` is within 25 mm of the middle, or, without an
`at`, if the line ends in it next to the hole. Hoses have no route and are not looked at.

Why it matters
--------------
The edge of a sheet cuts through a tube that trembles against it, and nobody sees it before the fluid does.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-3-16-inverted, at: [0, 0, 0]}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, at: [300, 200, 0]}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run:
        from: joiner.b
        to: far.a
        tube: tube-3-16-cuni
        route: [{at: [100, 0, 0], through: bulkhead}, [300, 0, 0]]
    panels:
      bulkhead: {hole: 12 mm, thickness: 1.5 mm}

Passes::

    build: 1
    components:
      joiner: {part: union-3-16-inverted, at: [0, 0, 0]}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, at: [300, 200, 0]}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run:
        from: joiner.b
        to: far.a
        tube: tube-3-16-cuni
        route: [{at: [100, 0, 0], through: bulkhead}, [300, 0, 0]]
    panels:
      bulkhead: {hole: 12 mm, thickness: 1.5 mm, grommet: grommet-3-16}

Source
------
The law asks that brake lines are guarded from chafing and says no more (Tasmania, vehicle regulation 107). That a bare
hole is not guarded, and the 25 mm: common practice, no source.
"""

from collections.abc import Iterator

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked
from fitcheck.checks.joint_words import joined
from fitcheck.checks.line_words import ordered
from fitcheck.checks.panel_holes import Hole, holes

RULE = "panel-unguarded"
_SOURCE = "common practice, no source"


def find(context: Context) -> Iterator[Said]:
    """Yield every panel hole that lines pass through with nothing between them and the edge."""
    for hole in holes(context):
        if hole.lines:
            yield from _of_hole(context, hole)


def _of_hole(context: Context, hole: Hole) -> Iterator[Said]:
    if hole.unknown and not hole.guards and not hole.bulkheads:
        yield Unchecked(RULE, (hole.name,), f"panels.{hole.name}.grommet")
        return
    yield Looked()
    if hole.guards or hole.bulkheads:
        return
    lines = ordered(*(item.tag for item in hole.lines))
    verb = "passes" if len(lines) == 1 else "pass"
    message = f"{joined(lines)} {verb} through {hole.name} without a grommet"
    evidence = {"panel": hole.name, "lines": lines, "source": _SOURCE}
    yield context.finding(RULE, "error", message, (hole.name, *lines), ("panels", hole.name), evidence)
