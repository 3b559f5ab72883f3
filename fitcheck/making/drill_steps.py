"""From the diameter of a hole to its drills, each with speed and feed for the metal and the tools there are."""

from collections.abc import Iterable
from math import inf
from typing import Literal, NamedTuple

from fitcheck.build.graph import PortGraph
from fitcheck.making.hole_sheet import DrillStep, Job
from fitcheck.making.sheet import Remark
from fitcheck.standards.drill_sizes import TapDrill
from fitcheck.standards.drilling import (
    Metal,
    Step,
    UnknownMetalError,
    feed,
    figure,
    is_sheet,
    metal,
    metals,
    pilots,
    setting,
    spindle_rpm,
    steps,
)

USUAL_TOOL = "HSS"


class DrillTools(NamedTuple):
    """What holes are drilled with: what drills are made of, sold in, the largest [mm], the machine's speeds [rpm]."""

    kind: str
    assumed: bool
    unit: Literal["mm", "in"]
    largest_mm: float | None = None
    speeds: tuple[float, ...] = ()


def drill_tools(graph: PortGraph) -> DrillTools:
    """Return what the build's holes are drilled with; drills of HSS where it does not say."""
    file = graph.build.file
    unit = graph.unit
    stated = file.tools.drills if file.tools is not None else None
    if stated is None:
        return DrillTools(USUAL_TOOL, True, unit)
    largest = float(stated.largest) if stated.largest is not None else None
    return DrillTools(stated.kind or USUAL_TOOL, stated.kind is None, unit, largest, tuple(stated.speeds))


def drilled(job: Job, tools: DrillTools, *, at_least: bool = False, field: str = "") -> Job:
    """Return a job with its drills. `field` would name its metal; `at_least`: its hole may be no smaller."""
    made, job = _metal(job, field)
    if job.mm is None:
        return job
    wanted = steps(job.mm, job.thickness_mm, tools.unit, tools.largest_mm, at_least=at_least)
    return _with_steps(job, wanted, made, tools)


def tapped(job: Job, tap: TapDrill, tools: DrillTools, *, pitch_mm: float, field: str = "") -> Job:
    """Return a job with the drills of a hole that is tapped; the last is the tap drill itself, whatever the metal."""
    made, job = _metal(job._replace(mm=tap.drill.mm, tap=tap.thread), field)
    job = _with_steps(job, (*pilots(tap.drill.mm, tools.unit), Step(tap.drill)), made, tools)
    least = figure("threads_in_sheet").value
    turns = job.thickness_mm / pitch_mm if job.thickness_mm is not None else inf
    if turns >= least:
        return job
    values: dict[str, str | float] = {"thickness": job.thickness_mm or 0.0, "turns": turns, "least": least}
    return job._replace(wrong=(*job.wrong, Remark("thread-thin", {**values, "thread": tap.thread})))


def _metal(job: Job, field: str) -> tuple[Metal | None, Job]:
    """Return the metal of a job as the table has it, and the job with its name or with what is missing."""
    if job.material is None:
        return None, job._replace(unknown=(*job.unknown, field)) if field else job
    try:
        found = metal(job.material)
    except UnknownMetalError:
        known = ", ".join(metals())
        remark = Remark("metal-unknown", {"metal": job.material, "known": known})
        return None, job._replace(look_at=(*job.look_at, remark))
    return found, job._replace(material=found.name, hardens=found.hardens)


def _with_steps(job: Job, wanted: Iterable[Step], made: Metal | None, tools: DrillTools) -> Job:
    done = tuple(_step(step, made, tools) for step in wanted)
    return job._replace(steps=done, look_at=(*job.look_at, *_remarks(job, done, tools)))


def _step(step: Step, made: Metal | None, tools: DrillTools) -> DrillStep:
    if made is None:
        return DrillStep(step.drill, step.sheet_tool)
    speed = spindle_rpm(step.drill.mm, made, tools.kind)
    return DrillStep(
        step.drill,
        step.sheet_tool,
        speed,
        setting(speed.used_rpm, tools.speeds) if tools.speeds else None,
        None if step.sheet_tool else feed(step.drill.mm, made),
    )


def _remarks(job: Job, done: tuple[DrillStep, ...], tools: DrillTools) -> Iterable[Remark]:
    """Yield what to look at: a machine that is too fast, a tap drill too large for it, sheet thinner than the point."""
    for step in done:
        if step.set_rpm is not None and step.speed is not None and step.set_rpm > step.speed.high_rpm:
            yield Remark("machine-fast", {"drill": step.drill.name, "rpm": step.set_rpm, "high": step.speed.high_rpm})
        largest = tools.largest_mm if tools.largest_mm is not None else figure("chuck").value
        if not step.sheet_tool and step.drill.mm > largest:
            yield Remark("drill-large", {"drill": step.drill.name, "largest": largest})
    last, thick = done[-1], job.thickness_mm
    point = figure("point").value * last.drill.mm
    if not last.sheet_tool and thick is not None and is_sheet(thick) and thick < point:
        yield Remark("sheet-thin", {"drill": last.drill.name, "point": point})
