"""`fixing-trapped`: a nut, a sleeve or a formed end that has to pass a hole or a bend, and cannot.

What it finds
-------------
A line that can be put together in no order. All orders are searched: sliding things on, forming each end, bending on
the bench, passing the holes that its route names by `through` with either end leading, forming one end in the car. What
may be in the way: ends that are formed already (`ends.from.formed`) and larger than a hole; things that ride on the
tube (`slides`) when no end is bare; a straight too short for the flaring tool behind an end that is formed in the car;
a bend in a thick panel; a stiff thing longer than every straight. An error if parts, standards and the build alone say
so; a warning if a size was only taken to be the usual one. Also a grommet that has to be slit, because both ends are
formed (warning). A hole too small for the bare tube is `panel-misfit`.

Limits: the sheet around a hole is not looked at, nor what else is in the car; each bend by itself. Bending in the car
counts as no way: accept the finding if there is room to.

Why it matters
--------------
A nut that was left off before the second flare, or a finished line that does not go through the bulkhead, is scrap:
the end has to be cut off, and then the tube is too short.

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
        ends: {from: {formed: true}, to: {formed: true}}
    panels:
      bulkhead: {hole: 8 mm, thickness: 1.5 mm}
    accept:
      - {rule: panel-unguarded, at: run, why: example}

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
        ends: {from: {formed: true}}
    panels:
      bulkhead: {hole: 8 mm, thickness: 1.5 mm}
    accept:
      - {rule: panel-unguarded, at: run, why: example}

Source
------
The search and what slides past a bend: derived. Sizes are those of the parts' catalog entries and of the flares'
standards; usual nuts are four outside diameters long and as large as their largest usual hexagon (common practice, no
source).
"""

from collections.abc import Iterator

from fitcheck.build.assemblies import ENDS, Assembly, assembly_of, goes_together
from fitcheck.build.runs import Run
from fitcheck.build.traps import Trap, blocked_by, trap_of
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Level, Looked, Said, Unchecked
from fitcheck.measures import LengthUnit, exact, fine

RULE = "fixing-trapped"


def find(context: Context) -> Iterator[Said]:
    """Yield every line that can be put together in no order."""
    for run in context.runs.values():
        if goes_together(context.graph, run):
            yield Looked()
            continue
        found = assembly_of(context.graph, run.tag, run)
        if found is None:
            if run.od_mm is None:
                yield from (Unchecked(RULE, (run.tag,), field) for field in run.missing)
            continue
        yield Looked()
        trap = trap_of(found)
        if trap is not None:
            yield _finding(context, run, found, trap)
            continue
        yield from (Unchecked(RULE, (run.tag,), field) for field in found.missing)
        if all(end.formed for end in found.ends):
            yield from _to_slit(context, run, found)


def _finding(context: Context, run: Run, found: Assembly, trap: Trap) -> Finding:
    level: Level = "error" if trap.certain else "warning"
    usual = "" if trap.certain else ", by the usual figures"
    evidence = {
        "in_the_way": blocked_by(found, run.tag),
        "across_mm": {end.ref: end.across.least_mm if trap.certain else end.across.mm for end in found.ends},
        "holes_mm": {hole.panel: hole.hole_mm for hole in found.holes},
        "formed": [end.ref for end in found.ends if end.formed],
        "straights_mm": found.straights_mm,
        "grip_mm": found.grip_mm if trap.word == "no-room-to-flare" else None,
        "source": "every order of work searched; derived",
    }
    at = (trap.end or run.tag, *((trap.hole,) if trap.hole else ()))
    message = f"{_told(run.tag, trap, context.unit)}{usual}"
    return context.finding(RULE, level, message, at, _path(run, found, trap), evidence)


def _told(tag: str, trap: Trap, unit: LengthUnit) -> str:
    hole = f"{trap.hole} is {exact(trap.hole_mm, unit)}"
    has, has_exactly, needs = fine(trap.has_mm, unit), exact(trap.has_mm, unit), exact(trap.needs_mm, unit)
    if trap.word == "thing-off":
        return f"{trap.thing} cannot go onto {tag}: both its ends are formed"
    if trap.word == "thing-long":
        return f"{trap.thing} slides past no bend of {tag} and is longer than its straights, of {has}"
    if trap.word == "no-room-to-flare":
        room = f"behind its nut there are {has} of straight, the flaring tool needs {needs}"
        return f"{trap.end} has to be formed in the car, as {hole}: {room}"
    if trap.word == "bend-stuck":
        return f"a bend of {tag} needs a hole of {fine(trap.needs_mm, unit)} in {has_exactly} of panel, {hole}"
    state = "both ends are formed" if trap.both else "it is formed"
    least = "at least " if trap.at_least else ""
    return f"{trap.what} of {trap.end} is {least}{has} across, {hole}, and {state}"


def _path(run: Run, found: Assembly, trap: Trap) -> tuple[str | int, ...]:
    """Return where the file states what is in the way: the formed end, the thing, else the corner in the hole."""
    if trap.word in ("thing-off", "thing-long"):
        return ("lines", run.tag, "slides", found.rings.index(trap.thing))
    for name, end in zip(ENDS, found.ends, strict=True):
        if trap.word == "end-too-large" and end.ref == trap.end and end.formed:
            return ("lines", run.tag, "ends", name, "formed")
    corner = next((hole.corner for hole in found.holes if hole.panel == trap.hole), 1)
    return ("lines", run.tag, "route", corner - 1)


def _to_slit(context: Context, run: Run, found: Assembly) -> Iterator[Finding]:
    """Yield the grommets that no longer go onto a tube whose ends are both formed."""
    for hole in found.holes:
        if hole.grommet is not None:
            message = f"{hole.grommet} of {hole.panel} goes onto {run.tag} only if it is slit: both ends are formed"
            path = ("panels", hole.panel, "grommet")
            evidence = {"formed": [end.ref for end in found.ends], "source": "derived"}
            yield context.finding(RULE, "warning", message, (run.tag, hole.panel), path, evidence)
