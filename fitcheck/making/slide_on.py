"""What goes on the tube before which flare, and which end can be flared only after it went through a panel.

A nut, a sleeve or a formed end that is larger than a hole cannot pass it: then the bare end goes through first. Limits:
a panel is taken as thin and a bend as passing any hole that the straight tube passes; grommets are fitted after nuts
passed.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from fitcheck.build.graph import PortGraph
from fitcheck.build.model import Corner
from fitcheck.build.routes import Route
from fitcheck.making.sheet import EndName, EndPlan, Fitting, Hole, Remark


class Passing(NamedTuple):
    """How a line goes through its holes: the end that leads, and whether that end is flared only afterwards.

    `unsure` says that the build lacks what would decide it.
    """

    lead: EndName
    in_car: bool
    unsure: bool = False


def holes_of(graph: PortGraph, tag: str, route: Route | None) -> tuple[Hole, ...]:
    """Return the holes that a line's corners lie in, in the order of its route."""
    file = graph.build.file
    found = []
    for index, entry in enumerate(file.lines[tag].route or (), start=1):
        if not isinstance(entry, Corner) or entry.through is None:
            continue
        panel = file.panels[entry.through]
        before = sum(bend.corner < index for bend in route.bends) if route is not None else 0
        found.append(
            Hole(
                entry.through,
                float(panel.hole) if panel.hole is not None else None,
                float(panel.thickness) if panel.thickness is not None else None,
                panel.grommet,
                index,
                before,
            )
        )
    return tuple(found)


def passing(holes: Sequence[Hole], ends: tuple[EndPlan, EndPlan], bends: int) -> Passing | None:
    """Return how a line goes through its holes, None if it has none; `ends` are `from` and `to`.

    The end that passes with its nut on leads; of two that do, or of two that do not, the one with fewer bends to pull
    through. If neither passes, the leading end is flared in the car.
    """
    if not holes:
        return None
    pulled = {"from": max(hole.bends_before for hole in holes), "to": bends - min(hole.bends_before for hole in holes)}
    order = sorted(ends, key=lambda end: (pulled[end.name], end.name == "to"))
    sure = [end for end in order if _passes(end, holes) is True]
    if sure:
        return Passing(sure[0].name, False)
    unsure = [end for end in order if _passes(end, holes) is None]
    if unsure:
        return Passing(unsure[0].name, False, True)
    return Passing(order[0].name, True)


def _passes(end: EndPlan, holes: Sequence[Hole]) -> bool | None:
    """Return whether a formed end with its nut passes every hole, None if the build does not say."""
    known = [hole.hole_mm for hole in holes if hole.hole_mm is not None]
    if any(end.across_mm >= mm for mm in known):
        return False
    return True if end.across_known and len(known) == len(holes) else None


def too_small(holes: Sequence[Hole], od_mm: float) -> Iterator[Remark]:
    """Yield the holes that not even the bare tube [mm] passes."""
    for hole in holes:
        if hole.hole_mm is not None and hole.hole_mm <= od_mm:
            yield Remark("hole-too-small", {"panel": hole.panel, "hole": hole.hole_mm, "od": od_mm})


def end_fittings(end: EndPlan) -> tuple[Fitting, ...]:
    """Return what goes on at an end before its flare, in the order of sliding on: the nut, then the sleeve."""
    return tuple(item for item in (end.nut, end.sleeve) if item is not None)


def grommets(holes: Sequence[Hole]) -> tuple[Fitting, ...]:
    """Return the grommets of the holes that have one, in the order of the holes."""
    return tuple(Fitting("grommet", hole.grommet, "", None, hole.panel) for hole in holes if hole.grommet is not None)
