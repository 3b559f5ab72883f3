"""Clips on a line's sheet: those that hold it already and those proposed, from end A."""

from fitcheck.build.clip_places import clip_plan
from fitcheck.build.graph import PortGraph
from fitcheck.build.runs import run_of
from fitcheck.making.sheet import EndName, SheetClip, SheetClips


def clips_of(graph: PortGraph, tag: str, end_a: EndName, run_mm: float) -> SheetClips | None:
    """Return the clips of a line that is measured from `end_a` and is so long [mm]; None if they are too many."""
    plan = clip_plan(graph, run_of(graph, tag))
    if plan is None:
        return None
    placed = [SheetClip(clip.mm, clip.tag) for clip in plan.placed]
    found = [*placed, *(SheetClip(place.mm, None, place.straight) for place in plan.proposed)]
    if end_a == "to":
        found = [clip._replace(mm=run_mm - clip.mm) for clip in found]
    return SheetClips(plan.spacing_mm, plan.stated, tuple(sorted(found, key=lambda clip: clip.mm)))
