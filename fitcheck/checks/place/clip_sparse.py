"""`clip-sparse`: a line is held too seldom.

What it finds
-------------
Where the build says how far clips are apart (`consumables.clips.spacing`): more than 350 mm, while there are lines
that long. Where it places clips (components of kind clip with `at`) and says nothing else of them: a stretch of more
than 350 mm of a line without a clip within 25 mm of it, its ends counted as held. Both with the places, from the end
`from`, that would hold the line: on straights, beside bends where these are near, as many as the shopping list has. A
build that says nothing about clips is not judged: the list has one for each 300 mm, and this rule asks where they go.

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

from collections.abc import Iterator, Mapping

from fitcheck.build.clip_places import MOST_MM, ClipPlan, clip_plan, clips_at, run_length
from fitcheck.build.clips import SPACING_MM
from fitcheck.build.routes import Point
from fitcheck.build.runs import Run
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Looked, Said, Unchecked
from fitcheck.checks.joint_words import joined
from fitcheck.checks.line_solids import missing_of
from fitcheck.checks.line_words import ordered
from fitcheck.measures import fine, spacing_text

RULE = "clip-sparse"
_SOURCE = "common practice, no source"


def find(context: Context) -> Iterator[Said]:
    """Yield the stated spacing if it is too large, or each line that is held too seldom by the clips placed."""
    if not context.runs:
        return
    stated = context.file.consumables.clips if context.file.consumables is not None else None
    clips = clips_at(context.graph)
    if stated is not None:
        yield from _by_spacing(context, float(stated.spacing) if stated.spacing is not None else SPACING_MM)
    elif not clips:
        yield Unchecked(RULE, (), "consumables.clips")
    else:
        yield from _by_place(context, clips)


def _by_spacing(context: Context, spacing: float) -> Iterator[Said]:
    lengths: dict[str, float] = {}
    for run in context.runs.values():
        length = run_length(context.graph, run)
        if length is not None:
            lengths[run.tag] = length
        elif spacing > MOST_MM:
            yield from (Unchecked(RULE, (run.tag,), field) for field in missing_of(run))
    yield Looked(len(context.runs) if spacing <= MOST_MM else len(lengths))
    wide = ordered(*(tag for tag, length in lengths.items() if length > MOST_MM)) if spacing > MOST_MM else []
    if wide:
        unit = context.unit
        every, most = (spacing_text(mm, unit) for mm in (spacing, MOST_MM))
        message = f"clips every {every} hold {joined(wide)} too seldom: up to {most}"
        evidence = {
            "spacing_mm": spacing,
            "most_mm": MOST_MM,
            "lengths_mm": {tag: round(lengths[tag], 1) for tag in wide},
            "positions_mm": {tag: _positions(clip_plan(context.graph, context.runs[tag], SPACING_MM)) for tag in wide},
            "source": _SOURCE,
        }
        yield context.finding(RULE, "warning", message, tuple(wide), ("consumables", "clips", "spacing"), evidence)


def _by_place(context: Context, clips: Mapping[str, Point | None]) -> Iterator[Said]:
    nowhere = [tag for tag, at in clips.items() if at is None]
    if nowhere:  # it may hold any line: nothing can be said of one
        for tag in nowhere:
            yield Unchecked(RULE, (tag,), f"components.{tag}.at")
        return
    for run in context.runs.values():
        length = run_length(context.graph, run)
        if length is not None and length <= MOST_MM:
            yield Looked()  # its fittings hold it
        elif length is None or not run.curve:
            yield from (Unchecked(RULE, (run.tag,), field) for field in missing_of(run))
        else:
            yield Looked()
            yield from _held(context, run, length)


def _held(context: Context, run: Run, length: float) -> Iterator[Finding]:
    """Yield the finding of a line some stretches of which are too long without a clip."""
    plan = clip_plan(context.graph, run)
    free = list(plan.free_mm) if plan is not None and plan.placed else [(0.0, length)]
    if free:
        longest = max(b - a for a, b in free)
        unit = context.unit
        message = f"{run.tag} is not held for {fine(longest, unit)}: a clip up to every {spacing_text(MOST_MM, unit)}"
        evidence = {
            "free_mm": free,
            "clips_mm": [clip.mm for clip in plan.placed] if plan is not None else [],
            "most_mm": MOST_MM,
            "positions_mm": _positions(plan),
            "source": _SOURCE,
        }
        yield context.finding(RULE, "warning", message, (run.tag,), ("lines", run.tag), evidence)


def _positions(plan: ClipPlan | None) -> list[float]:
    return [round(clip.mm, 1) for clip in plan.proposed] if plan is not None else []
