"""What a line's maker has to look at by hand, because the build does not say or the figures are close."""

from collections.abc import Iterator
from typing import Final

from fitcheck.build.benders import PRACTICE, UNSAID, too_tight, tools_for
from fitcheck.build.graph import PortGraph
from fitcheck.build.runs import run_of
from fitcheck.build.traps import Trap
from fitcheck.catalog.part import Part
from fitcheck.making.order import Plan
from fitcheck.making.sheet import Remark, Sheet
from fitcheck.making.slide_on import Passing

_SAME_LENGTH_MM: Final = 1.0
"""A stated length this near to the route's is that route's: a tape shows no more along bends (common practice)."""


def concerns_of(graph: PortGraph, made: Sheet, plan: Plan, tube: Part, way: Passing | None) -> Iterator[Remark]:
    """Yield what has to be looked at by hand, of the tools first, then of the tube, then of its ends."""
    if made.bends:
        yield from _tools(graph, made, plan, tube)
    yield from _shape(graph, made)
    yield from _ends(made)
    yield from _holes(made, way)
    yield from _assumed(made)
    if plan.hand_flare and made.flare_b != "in the car":
        values: dict[str, str | float] = {
            "end": f"{made.tag}.{plan.ends[1].name}",
            "room": plan.room_b_mm or 0.0,
            "grip": made.grip_mm,
        }
        yield Remark("hand-flare", values)


def _tools(graph: PortGraph, made: Sheet, plan: Plan, tube: Part) -> Iterator[Remark]:
    if any(bend.tool is None for bend in made.bends):
        word = "several-benders" if len(tools_for(graph.build, tube)) > 1 else "no-bender"
        bare = dict.fromkeys((bend.radius_mm, bend.radius_source) for bend in made.bends if bend.tool is None)
        for mm, source in bare:
            yield Remark(word, {"field": f"lines.{made.tag}.bender", "radius": mm, "source": source})
    limits = {radius.mm: limit for radius in plan.course.radii if (limit := too_tight(radius, tube)) is not None}
    for mm, limit in limits.items():
        yield Remark("radius-small", {"radius": mm, "size": limit.mm, "limit": limit.words})
    used = {
        radius.tool.name: radius.tool
        for radius, bend in zip(plan.course.radii, plan.bends, strict=True)
        if radius.tool is not None and not bend.hand
    }
    for tool in used.values():
        if tool.offset_source == UNSAID:
            yield Remark("offset-zero", {"bender": tool.name})
        if tool.springback_deg(tube.material) is None:
            yield Remark("springback-unknown", {"bender": tool.name, "material": tube.material or "unknown material"})


def _shape(graph: PortGraph, made: Sheet) -> Iterator[Remark]:
    us = [str(index) for index, bend in enumerate(made.bends, 1) if bend.corner_mm is None]
    if us:
        yield Remark("u-bend", {"bends": ", ".join(us)})
    if made.given == "length":
        yield Remark("length-only", {"field": run_of(graph, made.tag).missing[0]})
    unknown = [str(index + 1) for index, bend in enumerate(made.bends) if index and bend.rotation_deg is None]
    if unknown:
        yield Remark("rotation-unknown", {"bends": ", ".join(unknown), "field": f"lines.{made.tag}.route"})
    stated, run = made.stated_mm, made.run_mm
    if stated is not None and run is not None and abs(stated - run) > _SAME_LENGTH_MM:
        yield Remark("length-differs", {"stated": stated, "run": run})


def _ends(made: Sheet) -> Iterator[Remark]:
    assert made.ends is not None  # a sheet without ends has faults, and no concerns
    kept = (made.straights_mm[0], made.straights_mm[-1]) if made.straights_mm else (None, None)
    for end, straight in zip(made.ends, kept, strict=True):
        at = f"{made.tag}.{end.name}"
        for item in (end.nut, end.sleeve):
            if item is not None and item.part is None:
                yield Remark("fitting-unknown", {"end": at, "word": item.word, "wanted": item.wanted})
        if straight is not None and straight < end.nut_mm:
            yield Remark("nut-tight", {"end": at, "straight": straight, "nut": end.nut_mm})


def _assumed(made: Sheet) -> Iterator[Remark]:
    """Yield the usual figures that decided how the line is made, where the build states none."""
    assert made.ends is not None  # as above
    nut = max(end.nut_mm for end in made.ends if end.nut_assumed) if any(end.nut_assumed for end in made.ends) else 0.0
    by_hand = any(bend.hand for bend in made.bends)
    if by_hand and PRACTICE in made.clamp_source:
        yield Remark("clamp-assumed", {"clamp": made.clamp_mm, "source": made.clamp_source})
    late = made.flare_b == "before bends" or made.hand_flare
    if late and PRACTICE in made.grip_source:
        yield Remark("grip-assumed", {"grip": made.grip_mm, "source": made.grip_source})
    if nut and (by_hand or late):
        yield Remark("nut-assumed", {"nut": nut})


def _holes(made: Sheet, way: Passing | None) -> Iterator[Remark]:
    for hole in made.holes:
        if hole.hole_mm is None:
            yield Remark("hole-unknown", {"field": f"panels.{hole.panel}.hole"})
        if hole.grommet is None:
            yield Remark("grommet-none", {"field": f"panels.{hole.panel}.grommet"})
    if made.flare_b == "ready":
        for hole in made.holes:
            if hole.grommet is not None:
                yield Remark("grommet-slit", {"grommet": hole.grommet, "panel": hole.panel})
    if way is not None and way.unsure:
        formed = any(end.formed and end.name == way.lead for end in made.ends or ())
        yield Remark("formed-unsure" if formed else "passing-unsure", {"end": f"{made.tag}.{way.lead}"})


def trap_values(tag: str, trap: Trap) -> dict[str, str | float]:
    """Return the figures of what keeps a line from going together."""
    return {
        "line": tag,
        "end": trap.end,
        "what": trap.what,
        "least": "at least " if trap.at_least else "",
        "thing": trap.thing,
        "panel": trap.hole,
        "hole": trap.hole_mm,
        "size": trap.has_mm,
        "room": trap.has_mm,
        "needed": trap.needs_mm,
    }


def doubts(tag: str, trap: Trap | None) -> Iterator[Remark]:
    """Yield what would keep a line from going together if the usual figures were its own."""
    if trap is not None and not trap.certain:
        yield Remark(f"{trap.word}-doubt", trap_values(tag, trap))
