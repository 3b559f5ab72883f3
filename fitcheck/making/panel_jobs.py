"""Holes that parts, grommets and tubes sit in: those of panels, and those of brackets that are none of them."""

from collections.abc import Collection, Iterator
from typing import Final

from fitcheck.build.graph import Fitted, PortGraph
from fitcheck.build.load import MM
from fitcheck.build.panel_holes import Hole, play_mm, sits_in_panels
from fitcheck.build.positions import Position
from fitcheck.catalog.part import Part
from fitcheck.making.drill_steps import DrillTools, drilled
from fitcheck.making.hole_sheet import Job, Spot
from fitcheck.making.sheet import Remark
from fitcheck.standards.sizes import same_tube

_THICKER_MM: Final = 0.1
"""A panel may be so much thicker than a part's grip: common practice, no source."""
NOT_SAID: Final = "its catalog does not say"


def panel_job(graph: PortGraph, hole: Hole, tools: DrillTools) -> Job:
    """Return how the hole of a panel is made: as the part in it needs, else as the build states."""
    name, panel = hole.name, hole.panel
    inside = (*hole.bulkheads, *hole.guards)
    lines = tuple(item.tag for item in hole.lines)
    job = Job(
        "panel",
        (Spot(name, 1, hole.middle, lines),),
        float(panel.hole) if panel.hole is not None else None,
        Remark("stated", {"field": f"panels.{name}.hole"}),
        "the build",
        panel.material,
        float(panel.thickness) if panel.thickness is not None else None,
    )
    if inside:
        job = _for_part(job, name, *inside[0])
    elif job.mm is None:
        job = job._replace(why=Remark("nobody", {}), source="", unknown=(f"panels.{name}.hole",))
    if len(inside) > 1:
        job = _wrong(job, "several-in-hole", panel=name, parts=", ".join(tag for tag, _ in inside))
    if hole.unknown:
        job = job._replace(unknown=(*job.unknown, f"panels.{name}.grommet"))
    job = _tubes(job, hole)
    if not hole.bulkheads:
        job = _edge(graph, job, hole)
    if panel.thickness is None:
        job = job._replace(unknown=(*job.unknown, f"panels.{name}.thickness"))
    tight = not hole.guards or bool(hole.bulkheads)
    return drilled(job, tools, at_least=tight, field=f"panels.{name}.material")


def bracket_jobs(
    graph: PortGraph, holes: Collection[Hole], tools: DrillTools, tags: Collection[str] | None
) -> Iterator[Job]:
    """Yield the hole of each part that sits in one and is in no panel of the build; `tags` are those wanted, or all."""
    seated = {tag for hole in holes for tag, _ in (*hole.bulkheads, *hole.guards)}
    for tag, item in graph.fitted.items():
        if sits_in_panels(item) and tag not in seated and (tags is None or tag in tags) and item.part is not None:
            yield _bracket(graph, item, item.part, tools)


def _bracket(graph: PortGraph, item: Fitted, part: Part, tools: DrillTools) -> Job:
    job = Job("bracket", (Spot(item.tag, 1, place_of(graph, item.tag)),), None, Remark("nobody", {}), "")
    job = _for_part(job, item.tag, item.tag, part)
    if part.kind == "grommet":
        job = job._replace(grommet=part.id)
    field = "a panel at this part, with material and thickness"
    return drilled(job, tools, at_least=part.kind != "grommet", field=field)


def place_of(graph: PortGraph, tag: str) -> Position | None:
    """Return where a component is [mm], None if the build does not say."""
    at, unit = graph.build.file.components[tag].at, MM[graph.build.file.coordinates]
    return None if at is None else (at[0] * unit, at[1] * unit, at[2] * unit)


def _for_part(job: Job, panel: str, tag: str, part: Part) -> Job:
    """Return a job with the diameter that a part needs; what the build states counts only if the part takes it."""
    need, grip = part.panel if part.panel is not None else (None, None)
    if need is None:
        source = job.source if job.mm is not None else ""
        why = job.why if job.mm is not None else Remark("nobody", {})
        return job._replace(why=why, source=source, unknown=(*job.unknown, f"parts.{part.id}.panel.hole"))
    stated, (least, most) = job.mm, play_mm(part)
    values: dict[str, str | float] = {"part": part.id, "need": need}
    source = part.source or NOT_SAID
    if stated is not None and least <= stated - need <= most:
        job = job._replace(why=Remark("suits" if abs(stated - need) > 0.005 else "needs", values), source=source)
    else:
        job = job._replace(mm=need, why=Remark("needs", values), source=source)
        if stated is not None:
            job = _wrong(job, "hole-disagrees", panel=panel, stated=stated, part=part.id, need=need)
    thick = job.thickness_mm
    if grip is not None and thick is not None and thick > grip + _THICKER_MM:
        job = _wrong(job, "too-thick", panel=panel, thick=thick, part=part.id, grip=grip)
    return job


def _tubes(job: Job, hole: Hole) -> Job:
    """Return a job without a diameter if a tube that has to pass does not."""
    wide = job.mm
    if hole.bulkheads or wide is None:
        return job
    for item in hole.lines:
        od = item.part.od if item.part is not None else None
        if od is None:
            job = job._replace(unknown=(*job.unknown, f"parts.{item.part_id}.od"))
        elif od > wide:
            job = _wrong(job, "tube-too-thick", line=item.tag, od=od, hole=wide)
    too_small = any(remark.word == "tube-too-thick" for remark in job.wrong)
    return job._replace(mm=None) if too_small else job


def _edge(graph: PortGraph, job: Job, hole: Hole) -> Job:
    """Return a job with the grommet that guards its edge, or with what lacks one."""
    if hole.guards:
        return job._replace(grommet=hole.guards[0][1].id)
    if not hole.lines or hole.unknown:
        return job
    lines = ", ".join(item.tag for item in hole.lines)
    ods = [item.part.od for item in hole.lines if item.part is not None and item.part.od is not None]
    fits = next((part for part in graph.build.shelf.of_kind("grommet") if _guards(part, ods)), None)
    if fits is None or fits.panel is None or fits.panel[0] is None:
        return _wrong(job, "bare-edge", lines=lines)
    return _wrong(job, "bare-edge-grommet", lines=lines, part=fits.id, need=fits.panel[0])


def _guards(part: Part, ods: Collection[float]) -> bool:
    return part.inside is not None and bool(ods) and same_tube(part.inside, max(ods))


def _wrong(job: Job, word: str, **values: str | float) -> Job:
    return job._replace(wrong=(*job.wrong, Remark(word, values)))
