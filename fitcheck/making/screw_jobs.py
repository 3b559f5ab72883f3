"""Holes that clips and brackets are fixed by: tapped, with clearance for a screw, or plain."""

from collections.abc import Iterable, Iterator, Sequence

from fitcheck.build.clip_places import clip_plan, run_length
from fitcheck.build.graph import PortGraph
from fitcheck.build.runs import run_of
from fitcheck.build.supplies import ClipHole
from fitcheck.making.drill_steps import DrillTools, drilled, tapped
from fitcheck.making.hole_sheet import Job, Spot
from fitcheck.making.panel_jobs import NOT_SAID, place_of
from fitcheck.making.sheet import Remark
from fitcheck.standards.drill_sizes import clearance_drill, tap_drill
from fitcheck.standards.drilling import usual_screw
from fitcheck.standards.threads import parse

CLIPS = "consumables.clips"


def clip_job(graph: PortGraph, lines: Sequence[str], tools: DrillTools) -> Job | None:
    """Return how the holes of the clips along some lines are made; None if they have none.

    A line of unknown length may have some, nobody knows how many. A clip that is a component is counted where it is, if
    it is near one of the lines; the others by line.
    """
    spots, unknown = _clip_spots(graph, lines)
    if not spots:
        return None
    wanted = graph.build.file.consumables.clips if graph.build.file.consumables is not None else None
    fixed = (wanted.fixed if wanted is not None else None) or ClipHole.model_construct()
    part = graph.build.shelf.get(wanted.part) if wanted is not None and wanted.part is not None else None
    job = Job(
        "clip",
        tuple(spots),
        None,
        Remark("nobody", {}),
        "",
        fixed.material,
        float(fixed.thickness) if fixed.thickness is not None else None,
        unknown=tuple(unknown),
    )
    field = f"{CLIPS}.fixed.material"
    if fixed.hole is not None:
        why = Remark("stated", {"field": f"{CLIPS}.fixed.hole"})
        return drilled(job._replace(mm=float(fixed.hole), why=why, source="the build"), tools, field=field)
    if fixed.screw is not None:
        return _passed(job, fixed.screw, tools, field)
    if fixed.thread is not None:
        return _tapped(job, fixed.thread, "the build", tools, field)
    if part is not None and part.panel is not None and part.panel[0] is not None:
        why = Remark("needs", {"part": part.id, "need": part.panel[0]})
        return drilled(job._replace(mm=part.panel[0], why=why, source=part.source or NOT_SAID), tools, field=field)
    return _usual(job, tools, field, f"{CLIPS}.fixed")


def bracket_screw_job(brackets: Iterable[Job], tools: DrillTools) -> Job | None:
    """Return the holes that the brackets of bulkhead parts are screwed into; None if there are no brackets."""
    spots = [spot._replace(many=None, at=None) for job in brackets if job.grommet is None for spot in job.spots]
    if not spots:
        return None
    job = Job("bracket screw", tuple(spots), None, Remark("nobody", {}), "")
    return _usual(job, tools, "how many there are, and in what metal", "")


def _usual(job: Job, tools: DrillTools, field: str, key: str) -> Job:
    """Return a job tapped as is usual; `key` would say otherwise."""
    thread, mark = usual_screw()
    done = _tapped(job, thread, mark, tools, field)
    return done._replace(look_at=(Remark("usual-screw", {"thread": thread, "mark": mark, "key": key}), *done.look_at))


def _tapped(job: Job, designation: str, source: str, tools: DrillTools, field: str) -> Job:
    thread = parse(designation)
    tap = tap_drill(thread, tools.unit)
    if tap is None:
        why = Remark("tap", {"thread": thread.designation})
        return job._replace(why=why, source=source, unknown=(*job.unknown, f"tap drill of {thread.designation}"))
    job = job._replace(why=Remark("tap", {"thread": tap.thread}), source=f"thread: {source}; tap drill: {tap.mark}")
    for other in tap.others:
        values: dict[str, str | float] = {"used": tap.drill.name, "other": other.drill.name, "mark": other.mark}
        job = job._replace(look_at=(*job.look_at, Remark("tap-drills-differ", values)))
    return tapped(job, tap, tools, pitch_mm=thread.pitch_mm, field=field)


def _passed(job: Job, designation: str, tools: DrillTools, field: str) -> Job:
    thread = parse(designation)
    found = clearance_drill(thread)
    if found is None:
        return job._replace(unknown=(*job.unknown, f"clearance hole of {thread.designation}"))
    why = Remark("screw", {"screw": thread.designation, "medium": found.medium.name})
    job = job._replace(mm=found.fine.mm, why=why, source=f"{CLIPS}.fixed.screw; {found.mark}")
    return drilled(job, tools, field=field)


def _clip_spots(graph: PortGraph, lines: Sequence[str]) -> tuple[list[Spot], list[str]]:
    """Return where clips go along some lines, and the fields that would say how many hold the others."""
    spots: list[Spot] = []
    unknown: list[str] = []
    placed: dict[str, str] = {}
    for tag in lines:
        run = run_of(graph, tag)
        plan = clip_plan(graph, run)
        if plan is None:
            unknown.append(f"lines.{tag}.length" if run_length(graph, run) is None else f"{CLIPS}.spacing")
            spots.append(Spot(tag, None, None, (tag,)))
            continue
        placed.update({clip.tag: tag for clip in plan.placed if clip.tag not in placed})
        if plan.proposed:
            spots.append(Spot(tag, len(plan.proposed), None, (tag,)))
    return [*spots, *_placed(graph, placed)], unknown


def _placed(graph: PortGraph, placed: dict[str, str]) -> Iterator[Spot]:
    for tag, line in placed.items():
        yield Spot(tag, 1, place_of(graph, tag), (line,))
