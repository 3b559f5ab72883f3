"""`stroke-short`: a master cylinder or pedal that comes to its end before the brakes or the clutch have enough.

What it finds
-------------
At the force that the build states for the pedal: pistons of master cylinders that would have to go further than their
stroke, or use more than four fifths of it, and pedals that reach their floor, or use more than four fifths of the way.
A clutch's slave cylinder that travels or pushes less than the clutch needs with its pedal right down. What nobody
states is assumed, over a range: an error holds at its kindest end, a warning at its worst. `fitcheck pedal` lists what.

Why it matters
--------------
A piston at the end of its bore makes no more pressure, however hard the foot pushes. What is left over is what warm
fluid, worn pads and a bubble of air will take.

Example
-------
Catalog::

    catalog: 1
    parts:
      mc-12:
        kind: master cylinder
        ports: {outlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
        outlets: [outlet]
        bore: 16 mm
        stroke: 12 mm
        reservoir_volume: 150 cm3
      mc-36:
        kind: master cylinder
        ports: {outlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
        outlets: [outlet]
        bore: 16 mm
        stroke: 36 mm
        reservoir_volume: 150 cm3
      caliper-big:
        kind: caliper
        ports: {inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
        bleeder: M10x1
        pistons: [60 mm, 60 mm]
        style: fixed
        give: 12 mm3/bar
        volume: 40 cm3
        displacement: 60 cm3

Fails::

    build: 1
    fluid: DOT 4
    catalogs: [house.yaml]
    components: {mc: {part: mc-12}, caliper: {part: caliper-big}}
    lines:
      run: {from: mc.outlet, to: caliper.inlet, tube: tube-3-16-cuni, length: 900 mm}
    pedal: {force: 400 N, ratio: 5, travel: 200 mm, free_play: 3 mm, efficiency: 1}
    brakes: {caliper: {gap: 0.3 mm}}

Passes::

    build: 1
    fluid: DOT 4
    catalogs: [house.yaml]
    components: {mc: {part: mc-36}, caliper: {part: caliper-big}}
    lines:
      run: {from: mc.outlet, to: caliper.inlet, tube: tube-3-16-cuni, length: 900 mm}
    pedal: {force: 400 N, ratio: 5, travel: 200 mm, free_play: 3 mm, efficiency: 1}
    brakes: {caliper: {gap: 0.3 mm}}

Source
------
49 CFR 570.55 lets a pedal use 80 percent of its travel at 50 lbf; four fifths of a piston's stroke are common practice,
no source. The displacement is computed as `fitcheck.hydraulics.budget` says.
"""

from collections.abc import Callable, Iterable, Iterator
from typing import Final

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Level, Looked, Said, Unchecked
from fitcheck.checks.stroke_words import Way, judged, released
from fitcheck.hydraulics.displacement import Displacement, displacement, pressed, unpressed
from fitcheck.hydraulics.outlets import Outlets
from fitcheck.hydraulics.record import Drives, Gap
from fitcheck.measures import force_text
from fitcheck.standards.displacement import most

RULE = "stroke-short"


def find(context: Context) -> Iterator[Said]:
    """Yield every piston, pedal and slave cylinder that comes to its end too soon."""
    found = context.outlets
    for drives, judge in _PEDALS:
        if not found.of(drives):
            continue
        if pressed(context.file, drives):
            yield from judge(context, found)
        else:  # nothing is computed of a pedal that nobody is said to press
            yield from _unsaid(found, unpressed(context.file, found, drives), drives)


def _brake(context: Context, found: Outlets) -> Iterator[Said]:
    moved = displacement(context.graph, context.circuits, found, "brake")
    yield from _unchecked(found, moved, "brake")
    worst: Level | None = None
    units = context.units
    for one in moved.strokes if moved.push is not None else ():
        if one.stroke_mm is None or moved.push is None:
            continue
        yield Looked()
        way = Way(one.used_mm, *one.spread_mm, one.stroke_mm)
        said = judged(way, most("stroke"), f"the piston behind {one.outlet}", "stroke", units)
        if said is not None:
            worst = "error" if "error" in (said[0], worst) else "warning"
            evidence = {"way_mm": way._asdict()} | {
                "pressure_mpa": one.pressure_mpa,
                "takes": [take._asdict() for take in one.takes],
            }
            message = f"{said[1]} at {force_text(moved.push.foot_n, units)} on the pedal"
            path = context.graph.path_of(one.outlet)
            yield context.finding(RULE, said[0], message, (one.outlet,), path, evidence)
    yield from _floor(context, found, moved, worst)


def _floor(context: Context, found: Outlets, moved: Displacement, worst: Level | None) -> Iterator[Said]:
    goes = moved.travel
    if goes is None or goes.floor_mm is None:
        return
    yield Looked()
    way, units = Way(goes.foot_mm, *goes.spread_mm, goes.floor_mm), context.units
    said = judged(way, most("pedal"), "the pedal", "way to the floor", units)
    if said is not None and worst not in ("error", said[0]):  # one fault: a short piston's finding has told it
        at = tuple(dict.fromkeys(outlet.tag for outlet in found.of("brake")))
        message = f"{said[1]} at {force_text(goes.foot_n, units)}"
        yield context.finding(RULE, said[0], message, at, ("pedal",), {"way_mm": way._asdict()})


def _clutch(context: Context, found: Outlets) -> Iterator[Said]:
    moved = displacement(context.graph, context.circuits, found, "clutch")
    yield from _unchecked(found, moved, "clutch")
    for clutch in moved.clutches:
        said = released(clutch, context.units)
        if clutch.travel_mm is not None and clutch.needs_travel_mm is not None:
            yield Looked()
        if said is not None:
            path = context.graph.path_of(clutch.tag)
            yield context.finding(RULE, said[0], said[1], (clutch.tag,), path, clutch._asdict())


def _unchecked(found: Outlets, moved: Displacement, drives: Drives) -> Iterator[Said]:
    """Yield what is missing, the pedal's own fields first, each by its place."""
    section = _section(drives)
    own = [gap for gap in moved.gaps if gap.at == section]
    others = {outlet.tag for outlet in found.outlets if outlet.drives != drives}
    theirs = ("pedal", *others) if drives == "clutch" else others
    shared = [gap for gap in found.gaps if gap.at not in theirs]
    yield from _unsaid(found, [*own, *moved.gaps, *shared], drives)


def _unsaid(found: Outlets, gaps: Iterable[Gap], drives: Drives) -> Iterator[Unchecked]:
    section, tags = _section(drives), tuple(dict.fromkeys(outlet.tag for outlet in found.of(drives)))
    for gap in dict.fromkeys(gaps):
        yield Unchecked(RULE, tags if gap.at == section else (gap.at,), gap.missing)


def _section(drives: Drives) -> str:
    return "pedal" if drives == "brake" else "clutch"


_Judge = Callable[[Context, Outlets], Iterator[Said]]
_PEDALS: Final[tuple[tuple[Drives, _Judge], ...]] = (("brake", _brake), ("clutch", _clutch))
