"""The bench sheets of a build's lines."""

from collections.abc import Iterator, Sequence

from fitcheck.build.assemblies import assembly_of
from fitcheck.build.benders import STATED, StraightsNeeded, straights_needed, too_tight, tool_of, tools_for
from fitcheck.build.graph import Fitted, PortGraph
from fitcheck.build.routes import RouteError, straights
from fitcheck.build.runs import run_of
from fitcheck.build.traps import Trap, trap_of
from fitcheck.catalog.part import Part
from fitcheck.making.clip_marks import clips_of
from fitcheck.making.concerns import concerns_of, doubts, trap_values
from fitcheck.making.course import Course, course_of
from fitcheck.making.ends import end_plan
from fitcheck.making.hose_sheet import hose_sheets
from fitcheck.making.order import Plan, best_plan
from fitcheck.making.shape import distance
from fitcheck.making.sheet import EndPlan, Remark, Sheet, Sheets, TubeFacts
from fitcheck.making.slide_on import holes_of, passing, too_small, with_room
from fitcheck.making.steps import letter_of, steps_of
from fitcheck.progress import stepping, task


def sheets(graph: PortGraph, tags: Sequence[str] | None = None) -> Sheets:
    """Return the sheets of the lines and hoses named, or of all, in the order of the file."""
    file = graph.build.file
    wanted = (*file.lines, *file.hoses) if tags is None else tags
    hoses = [tag for tag in wanted if tag in file.hoses]
    with task("making bench sheets"):
        lines = tuple(sheet(graph, tag) for tag in stepping([tag for tag in wanted if tag in file.lines], str))
    return Sheets(file.name, graph.unit, lines, hose_sheets(graph, hoses))


def sheet(graph: PortGraph, tag: str) -> Sheet:
    """Return the bench sheet of one line; one that cannot be made has faults instead of steps."""
    item = graph.fitted[tag]
    tube = item.part
    if tube is None or tube.od is None:
        word = "tube-unknown" if tube is None else "od-unknown"
        return Sheet(tag, _facts(item), None, None, faults=(Remark(word, {"part": item.part_id}),))
    ends = (end_plan(graph, tag, "from", tube), end_plan(graph, tag, "to", tube))
    faults = [
        Remark("end-unknown", {"end": f"{tag}.{end.name}", "reason": end.reason})
        for end in ends
        if end.reason is not None
    ]
    try:
        course = course_of(graph, tag, tube)
    except RouteError as error:
        reason = f"leg {error.leg} {error.told(graph.unit)}"
        course = Remark("route-impossible", {"field": f"lines.{tag}.route", "reason": reason})
    if isinstance(course, Remark):
        return Sheet(tag, _facts(item), None, ends, faults=(*faults, course))
    bare = Sheet(tag, _facts(item), course.given, ends, course.run_mm)
    faults += _course_faults(graph, tag, tube, course, ends)
    if faults:
        return bare._replace(faults=tuple(faults))
    return _planned(graph, tag, tube, course, bare)


def _planned(graph: PortGraph, tag: str, tube: Part, course: Course, bare: Sheet) -> Sheet:
    assert bare.ends is not None  # both checked by `sheet`
    assert tube.od is not None
    needs = straights_needed(graph.build, tag, tube)
    holes = holes_of(graph, tag)
    found = assembly_of(graph, tag, run_of(graph, tag))
    assert found is not None  # a line with a course has a tube and a route that it can follow
    way = passing(found, bare.ends)
    plan = best_plan(course, with_room(found, bare.ends), needs, way, (tube.od, tube.material))
    trim = _trim(graph)
    bare_ends = sum(not end.formed for end in plan.ends)
    cut = course.run_mm + sum(end.allowance_mm for end in plan.ends) + bare_ends * trim
    points = plan.course.points
    apart = distance(points[0], points[-1]) if points is not None else None
    if plan.ends[0].name == "to":
        holes = holes[::-1]
    made = bare._replace(
        ends=plan.ends,
        cut_mm=cut,
        trim_mm=trim,
        straights_mm=straights(plan.course.route) if plan.course.route is not None else (),
        bends=plan.bends,
        flare_b=plan.flare_b,
        hand_flare=plan.hand_flare,
        grip_mm=needs.grip_mm,
        grip_source=needs.grip_source,
        clamp_mm=needs.clamp_mm,
        clamp_source=needs.clamp_source,
        points=points,
        end_to_end_mm=apart,
        stated_mm=_stated(graph, tag, course),
        holes=holes,
        lead=letter_of(plan, way),
    )
    trap = trap_of(found)
    if trap is not None and trap.certain:
        return made._replace(faults=(_trapped(tag, trap, plan, needs),))
    steps = steps_of(plan, cut, trim, holes, way, apart, found.rings)
    clips = clips_of(graph, tag, plan.ends[0].name, course.run_mm)
    looked = [*concerns_of(graph, made, plan, tube, way), *doubts(tag, trap)]
    if clips is None:
        looked.append(Remark("clips-many", {"run": course.run_mm}))
    return made._replace(steps=steps, concerns=tuple(looked), clips=clips)


def _facts(item: Fitted) -> TubeFacts:
    part = item.part
    if part is None:
        return TubeFacts(item.part_id, "", None, None, None)
    return TubeFacts(part.id, part.description, part.material, part.od, part.wall)


def _trim(graph: PortGraph) -> float:
    tools = graph.build.file.tools
    return float(tools.trim) if tools is not None and tools.trim is not None else 0.0


def _stated(graph: PortGraph, tag: str, course: Course) -> float | None:
    length = graph.build.file.lines[tag].length
    return float(length) if length is not None and course.given != "length" else None


def _course_faults(
    graph: PortGraph, tag: str, tube: Part, course: Course, ends: tuple[EndPlan, EndPlan]
) -> Iterator[Remark]:
    """Yield what no way of working can put right: wrong bender, radius nobody makes, nut in a bend, hole too small."""
    od = tube.od or 0.0
    tool = tool_of(graph.build, tag, tube)
    if tool is not None and not tool.takes(od):
        yield Remark("bender-takes-not", {"bender": tool.name, "od": od})
    yield from _radius_faults(graph, tube, course)
    if course.route is not None:
        kept = straights(course.route)
        for end, straight in zip(ends, (kept[0], kept[-1]), strict=True):
            if straight < end.nut_least_mm:
                at = f"{tag}.{end.name}"
                yield Remark("nut-in-bend", {"end": at, "straight": straight, "nut": end.nut_least_mm})
    yield from too_small(holes_of(graph, tag), od)


def _radius_faults(graph: PortGraph, tube: Part, course: Course) -> Iterator[Remark]:
    """Yield each radius that the tube does not stand, once, and each bend with one that no listed bender makes."""
    listed = ", ".join(one.name for one in tools_for(graph.build, tube))
    bends = course.route.bends if course.route is not None else ()
    told: set[float] = set()
    for bend, radius in zip(bends, course.radii, strict=True):
        limit = too_tight(radius, tube)
        if limit is not None and limit.refused:
            if radius.mm not in told:
                yield Remark("radius-refused", {"radius": radius.mm, "size": limit.mm, "limit": limit.words})
            told.add(radius.mm)
        elif listed and radius.tool is None and radius.source == STATED:
            yield Remark("radius-not-made", {"corner": bend.corner, "radius": radius.mm, "benders": listed})


def _trapped(tag: str, trap: Trap, plan: Plan, needs: StraightsNeeded) -> Remark:
    """Return why a line goes together in no order; of room that is short, as the best way of working has it."""
    if trap.word == "no-room-to-flare" and not plan.fits:
        end, room = f"{tag}.{plan.ends[1].name}", plan.room_b_mm or 0.0
        return Remark(trap.word, {"end": end, "room": room, "needed": needs.grip_hand_mm})
    return Remark(trap.word, trap_values(tag, trap))
