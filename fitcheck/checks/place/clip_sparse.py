"""`clip-sparse`: a line is held too seldom.

What it finds
-------------
Where the build says how far clips are apart (`consumables.clips.spacing`): more than 350 mm, while there are lines
that long. Where it places clips (components of kind clip with `at`) and says nothing else of them: a stretch of more
than 350 mm of a line without a clip within 25 mm of it, its ends counted as held. Both with the places, from the end
`from`, that would hold the line every 300 mm or less. A build that says nothing about clips is not judged: the
shopping list has one for each 300 mm, and this rule asks where they go.

Why it matters
--------------
Tube that hangs free trembles, work-hardens at the flare and cracks there.

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
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, length: 900 mm}
    consumables:
      clips: {spacing: 450 mm}

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
      run: {from: joiner.b, to: far.a, tube: tube-3-16-cuni, length: 900 mm}
    consumables:
      clips: {spacing: 300 mm}

Source
------
300 and 350 mm for 3/16 and 1/4 in: common practice, no source. What print has lies on both sides: 300 mm for fuel lines
(a speedway rule book, 2010); 16 in (406 mm) for 1/4 in, a fifth less with fittings in it (MIL-H-8891A, table II). No
regulation on brake lines was found that names a figure.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil

from fitcheck.build.curves import Straight, length_of, nearest, station_of
from fitcheck.build.load import MM
from fitcheck.build.routes import Point, developed_length
from fitcheck.build.runs import Run
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Looked, Said, Unchecked
from fitcheck.checks.joint_words import joined, mm
from fitcheck.checks.line_solids import missing_of
from fitcheck.checks.line_words import ordered, tenths

RULE = "clip-sparse"
SPACING_MM = 300.0
MOST_MM = 350.0
ON_LINE_MM = 25.0
"""A clip so near to a line's surface holds it."""
_SOURCE = "common practice, no source"


def find(context: Context) -> Iterator[Said]:
    """Yield the stated spacing if it is too large, or each line that is held too seldom by the clips placed."""
    if not context.runs:
        return
    stated = context.file.consumables.clips if context.file.consumables is not None else None
    clips = _clips(context)
    if stated is not None:
        yield from _by_spacing(context, float(stated.spacing) if stated.spacing is not None else SPACING_MM)
    elif not clips:
        yield Unchecked(RULE, (), "consumables.clips")
    else:
        yield from _by_place(context, clips)


def _by_spacing(context: Context, spacing: float) -> Iterator[Said]:
    lengths: dict[str, float] = {}
    for run in context.runs.values():
        length = _length(context, run)
        if length is not None:
            lengths[run.tag] = length
        elif spacing > MOST_MM:
            yield from (Unchecked(RULE, (run.tag,), field) for field in missing_of(run))
    yield Looked(len(context.runs) if spacing <= MOST_MM else len(lengths))
    wide = ordered(*(tag for tag, length in lengths.items() if length > MOST_MM)) if spacing > MOST_MM else []
    if wide:
        message = f"clips every {mm(spacing)} hold {joined(wide)} too seldom: up to {mm(MOST_MM)}"
        evidence = {
            "spacing_mm": spacing,
            "most_mm": MOST_MM,
            "lengths_mm": {tag: round(lengths[tag], 1) for tag in wide},
            "positions_mm": {tag: _between(0.0, lengths[tag]) for tag in wide},
            "source": _SOURCE,
        }
        yield context.finding(RULE, "warning", message, tuple(wide), ("consumables", "clips", "spacing"), evidence)


def _clips(context: Context) -> Mapping[str, Point | None]:
    """Return the clips for tube that are fitted, by tag, each with its place [mm] if the file says it."""
    unit = MM[context.file.coordinates]
    found: dict[str, Point | None] = {}
    for item in context.graph.fitted.values():
        part = item.part
        if item.section == "components" and part is not None and part.kind == "clip" and part.for_hose is None:
            at = context.file.components[item.tag].at
            found[item.tag] = None if at is None else (at[0] * unit, at[1] * unit, at[2] * unit)
    return found


def _by_place(context: Context, clips: Mapping[str, Point | None]) -> Iterator[Said]:
    nowhere = [tag for tag, at in clips.items() if at is None]
    if nowhere:  # it may hold any line: nothing can be said of one
        for tag in nowhere:
            yield Unchecked(RULE, (tag,), f"components.{tag}.at")
        return
    points = [at for at in clips.values() if at is not None]
    for run in context.runs.values():
        length = _length(context, run)
        if length is not None and length <= MOST_MM:
            yield Looked()  # its fittings hold it
        elif length is None or not run.curve:
            yield from (Unchecked(RULE, (run.tag,), field) for field in missing_of(run))
        else:
            yield Looked()
            yield from _held(context, run, length, points)


def _held(context: Context, run: Run, length: float, points: Sequence[Point]) -> Iterator[Finding]:
    """Yield the finding of a line some stretches of which are too long without a clip."""
    reach = ON_LINE_MM + (run.od_mm or 0.0) / 2.0
    spots = [near.second for at in points if (near := nearest((Straight(at, at),), run.curve, reach)) is not None]
    stations = sorted([0.0, *(station_of(run.curve, spot) for spot in spots), length])
    free = [(a, b) for a, b in pairwise(stations) if b - a > MOST_MM]
    if free:
        longest = max(b - a for a, b in free)
        message = f"{run.tag} is not held for {tenths(longest)}: a clip up to every {mm(MOST_MM)}"
        evidence = {
            "free_mm": free,
            "clips_mm": stations[1:-1],
            "most_mm": MOST_MM,
            "positions_mm": [at for stretch in free for at in _between(*stretch)],
            "source": _SOURCE,
        }
        yield context.finding(RULE, "warning", message, (run.tag,), ("lines", run.tag), evidence)


def _between(start: float, end: float) -> list[float]:
    """Return where clips go between two places along a line that hold it [mm]: evenly, 300 mm apart at the most."""
    parts = ceil((end - start) / SPACING_MM - 1e-9)
    return [round(start + (end - start) * number / parts, 1) for number in range(1, parts)]


def _length(context: Context, run: Run) -> float | None:
    """Return how long a line is from seat to seat [mm]: along its route, else as it states."""
    if run.curve:
        return sum(map(length_of, run.curve))
    if run.route is not None and run.fault is None:
        return developed_length(run.route)
    stated = context.file.lines[run.tag].length
    return None if stated is None else float(stated)
