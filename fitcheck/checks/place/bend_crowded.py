"""`bend-crowded`: too little straight tube between two bends, or before an end.

What it finds
-------------
A straight between two bends that is shorter than the bender leaves (its `between`, else its `clamp`), and one before an
end that is shorter than the flaring tool (`tools.flaring.grip`), the nut or the bender's clamp need. Where the build
states none of these the usual figures are taken: three outside diameters for the bender, 25 mm for the flaring tool.
An error if the nut does not find room: its length as stated, or the least that it can have, its thread's diameter. A
warning if only the tools do not: such a bend is pulled by hand round a clamped die, an end is flared before the tube
is bent. Two bends of one radius and one plane that follow each other at once, as in a U, are one pull of the bender and
no fault. The tube that a flare uses up is not counted.

Why it matters
--------------
The tool must hold straight tube. Where there is none the bend comes out elsewhere, or the flare cannot be formed any
more once the tube is bent. A nut in a bend does not reach its port.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-3-16-inverted, at: [0, 0, 0]}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, at: [300, 25, 0]}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, route: [[300, 0, 0]]}

Passes::

    build: 1
    components:
      joiner: {part: union-3-16-inverted, at: [0, 0, 0]}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, at: [300, 45, 0]}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, far.b]
    lines:
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, route: [[300, 0, 0]]}

Source
------
The usual figures are common practice, no source: shop benders for 3/16 and 1/4 in tube clamp 12.7 to 19 mm (a shop
bending chart); 25 mm is a hand-held two-block flaring tool, a bar with a yoke needs about 40 mm.
"""

from collections.abc import Iterator
from typing import NamedTuple

from fitcheck.build.benders import PRACTICE, STATED, StraightsNeeded, straights_needed
from fitcheck.build.end_sizes import nut_size
from fitcheck.build.runs import Run
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Level, Looked, Said, Unchecked
from fitcheck.checks.line_words import leg_words, route_path
from fitcheck.measures import told_short

RULE = "bend-crowded"
_PLAY_MM = 0.05
_ONE_PLANE_DEG = 0.1
_BY_HAND = "bend it by hand round a clamped die"
_FIRST = "flare this end before bending"


class _Need(NamedTuple):
    """Straight tube that something needs [mm], where that comes from, and whether the build or a catalog states it.

    `remedy` says how the line is made all the same; None if it cannot be.
    """

    mm: float
    what: str
    source: str
    stated: bool
    remedy: str | None = None


def find(context: Context) -> Iterator[Said]:
    """Yield every straight of a line's route that is too short to hold the tube by."""
    for run in context.runs.values():
        yield from (Unchecked(RULE, (run.tag,), field) for field in run.missing)
        if run.fault is None and run.route is not None:
            yield Looked(len(run.straights_mm))
            if run.route.bends:
                needed = straights_needed(context.graph.build, run.tag, run.tube)
                yield from _of_run(context, run, needed)


def _of_run(context: Context, run: Run, needed: StraightsNeeded) -> Iterator[Finding]:
    clamp = _Need(needed.clamp_mm, "the bender", needed.clamp_source, needed.clamp_source == STATED, _BY_HAND)
    stated = needed.between_source.endswith(STATED)
    between = _Need(needed.between_mm, "the bender", needed.between_source, stated, _BY_HAND)
    last = len(run.straights_mm) - 1
    for index, straight in enumerate(run.straights_mm):
        if 0 < index < last:
            wanted = [] if _one_pull(run, index) else [between]
            where = f"between bends, {leg_words(context, run, index)}"
        else:
            end = f"{run.tag}.{'to' if index else 'from'}"
            wanted = [clamp, _grip(needed), *_nut(context, end, run.od_mm or 0.0)]
            where = f"before {end}"
        short = [need for need in wanted if straight < need.mm - _PLAY_MM]
        if short:
            worst = max(short, key=lambda need: (need.remedy is None, need.stated, need.mm))
            yield _finding(context, run, index, where, worst)


def _finding(context: Context, run: Run, index: int, where: str, need: _Need) -> Finding:
    straight = run.straights_mm[index]
    usual = "" if need.stated else ", by the usual figure"
    done = f": {need.remedy}" if need.remedy is not None else ""
    unit = context.unit
    has, needs = told_short(straight, need.mm, unit)
    message = f"{run.tag} is straight for {has} {where}, {need.what} needs {needs}{usual}{done}"
    evidence = {
        "straight_mm": straight,
        "needed_mm": need.mm,
        "leg": index + 1,
        "legs_mm": run.route.legs_mm if run.route is not None else (),
        "radii_mm": [radius.mm for radius in run.radii],
        "source": need.source,
    }
    level: Level = "error" if need.remedy is None else "warning"
    path = route_path(run, min(index, len(run.radii) - 1))
    return context.finding(RULE, level, message, (run.tag,), path, evidence)


def _one_pull(run: Run, index: int) -> bool:
    """Return whether the bends on both sides of a leg are one: no straight between, one plane, one radius."""
    assert run.route is not None
    before, after = run.route.bends[index - 1], run.route.bends[index]
    turned = after.rotation_deg
    return (
        run.straights_mm[index] <= _PLAY_MM
        and turned is not None
        and abs(turned) < _ONE_PLANE_DEG
        and abs(before.radius_mm - after.radius_mm) <= _PLAY_MM
    )


def _grip(needed: StraightsNeeded) -> _Need:
    stated = needed.grip_source == STATED
    return _Need(needed.grip_hand_mm, "the flaring tool", needed.grip_source, stated, _FIRST)


def _nut(context: Context, end: str, od_mm: float) -> Iterator[_Need]:
    """Yield the nut of a tube's end: the catalog's own figure, that of its thread, or the least that it can be."""
    for joint in context.graph.joints_at.get(end, ()):
        fixing = context.fixings(joint).one("nut")
        part = fixing.part if fixing is not None else None
        if part is None:
            continue
        lengths = [part.length, *(port.length for port in part.ports.values())]
        known = [length for length in lengths if length is not None]
        least = nut_size(part, od_mm).least_mm
        if known:
            yield _Need(max(known), f"its nut, {part.id},", f"parts.{part.id}: length", True)
        elif least:
            yield _Need(least, f"its nut, {part.id},", f"no nut is shorter than its thread is wide: {PRACTICE}", True)
