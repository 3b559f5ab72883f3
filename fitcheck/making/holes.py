"""The hole schedule of a build: every hole that its lines ask for, what makes it, and what is wrong with it."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import Final

from fitcheck.build.graph import PortGraph
from fitcheck.build.panel_holes import Hole, holes
from fitcheck.making.drill_steps import DrillTools, drill_tools
from fitcheck.making.hole_sheet import HoleSchedule, Job, MetalSpeed
from fitcheck.making.panel_jobs import bracket_jobs, panel_job
from fitcheck.making.screw_jobs import bracket_screw_job, clip_job
from fitcheck.making.sheet import Remark
from fitcheck.standards.drilling import metals, surface_speed

_FIXED_TO_CAR: Final = frozenset(
    {"pedal box", "reservoir", "master cylinder", "slave cylinder", "tee", "proportioning valve", "residual valve"}
    | {"shut-off valve"}
)
"""Kinds of part that are screwed to the car by holes of which no catalog has a field."""


def hole_schedule(graph: PortGraph, lines: Sequence[str] | None = None) -> HoleSchedule:
    """Return the holes that the lines and hoses named ask for, or those of the whole build, alike ones together.

    Panels, parts that sit in a hole, their brackets, clips. Figures of speed and feed are there where the metal is
    known. Limits: what holds cylinders, tees and tanks is in no catalog and is named only.
    """
    file = graph.build.file
    tools = drill_tools(graph)
    beside = None if lines is None else frozenset(_beside(graph, lines))
    there = holes(graph)
    panels = [panel_job(graph, hole, tools) for hole in there if _wanted(hole, lines, beside)]
    brackets = list(bracket_jobs(graph, there, tools, beside))
    along = [tag for tag in file.lines if lines is None or tag in lines]
    others = (bracket_screw_job(brackets, tools), clip_job(graph, along, tools))
    jobs = (*together([*panels, *brackets]), *(job for job in others if job is not None))
    remarks = tuple(_remarks(graph, jobs, tools, beside))
    return HoleSchedule(file.name, tools.unit, tools.kind, tools.assumed, jobs, tuple(_metals(jobs, tools)), remarks)


def together(jobs: Iterable[Job]) -> tuple[Job, ...]:
    """Return the jobs with those that are made alike as one, in order of the first of each.

    What is not known of any of them stays named.
    """
    found: dict[str, list[Job]] = {}
    for job in jobs:
        found.setdefault(repr(job._replace(spots=(), unknown=())), []).append(job)
    return tuple(_as_one(alike) for alike in found.values())


def _as_one(alike: Sequence[Job]) -> Job:
    spots = tuple(spot for job in alike for spot in job.spots)
    unknown = dict.fromkeys(field for job in alike for field in job.unknown)
    return alike[0]._replace(spots=spots, unknown=tuple(unknown))


def _wanted(hole: Hole, lines: Collection[str] | None, beside: Collection[str] | None) -> bool:
    """Return whether a panel's hole concerns the lines: one of them passes, or goes into a part that sits in it."""
    if lines is None or beside is None:
        return True
    return any(item.tag in lines for item in hole.lines) or any(tag in beside for tag, _ in hole.bulkheads)


def _beside(graph: PortGraph, lines: Iterable[str]) -> Iterator[str]:
    """Yield the components that the ends of some lines and hoses go into."""
    for ref in (f"{tag}.{name}" for tag in lines for name in ("from", "to")):
        for joint in graph.joints_at.get(ref, ()):
            yield from (end.tag for end in joint.ends if end.fitted.section == "components")


def _metals(jobs: Iterable[Job], tools: DrillTools) -> Iterator[MetalSpeed]:
    """Yield the metals that the table knows of those that are drilled, in the table's order."""
    drilled = {job.material for job in jobs if job.steps}
    for found in metals().values():
        if found.name in drilled:
            yield MetalSpeed(found.name, surface_speed(found, tools.kind), found.hardens, found.feed_mark)


def _remarks(
    graph: PortGraph, jobs: Iterable[Job], tools: DrillTools, beside: Collection[str] | None
) -> Iterator[Remark]:
    """Yield what holds for all holes: tools that are assumed, and parts whose own fixing holes nobody knows."""
    if tools.assumed and any(step.speed is not None for job in jobs for step in job.steps):
        yield Remark("tool-assumed", {"tool": tools.kind})
    tags = [
        tag
        for tag, item in graph.fitted.items()
        if item.part is not None
        and item.section == "components"
        and item.part.kind in _FIXED_TO_CAR
        and item.part.panel is None
        and (beside is None or tag in beside)
    ]
    if tags:
        yield Remark("mounting-unknown", {"tags": ", ".join(tags)})
