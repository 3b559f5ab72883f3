"""What is in each panel hole: the lines that pass through, the grommet, bulkhead parts."""

from collections.abc import Iterable
from math import dist
from typing import Final, NamedTuple

from fitcheck.build.graph import Fitted, PortGraph
from fitcheck.build.load import MM
from fitcheck.build.model import Corner, Panel
from fitcheck.build.positions import Position, corner_points
from fitcheck.catalog.part import Part

THERE_MM: Final = 25.0
"""A part so near to the middle of a hole is in it. Common practice, no source: a bulkhead union is about as long."""
_PLAY_MM: Final = {"grommet": (-0.5, 0.5)}
_METAL_PLAY_MM: Final = (-0.1, 1.0)


class Hole(NamedTuple):
    """One panel hole. `lines` pass through it; `guards` are grommets and `bulkheads` other parts that sit in it.

    A guard has the tag of its component, or that of the panel if `grommet` names it. `unknown` if no catalog has that
    one, or it is no grommet: another rule has said so. `middle` is where the hole is [mm]: the panel's `at`, or else
    the first corner of a line that lies in it; None if neither is known.
    """

    name: str
    panel: Panel
    lines: tuple[Fitted, ...]
    guards: tuple[tuple[str, Part], ...]
    bulkheads: tuple[tuple[str, Part], ...]
    unknown: bool
    middle: Position | None = None


class _Pass(NamedTuple):
    """A line that passes through a hole: where [mm], and the components its ends next to the hole go into."""

    line: str
    point: Position | None
    beside: frozenset[str]


def play_mm(part: Part) -> tuple[float, float]:
    """Return how much smaller and larger [mm] than its own a part's hole may be. Common practice, no source."""
    return _PLAY_MM.get(part.kind, _METAL_PLAY_MM)


def holes(graph: PortGraph) -> list[Hole]:
    """Return every panel hole of the build with what is in it.

    A bulkhead part is in a hole if its place is within 25 mm of the middle, which is the panel's `at` or the corner of
    a line that lies in it; without a place of its own, if such a line's next end goes into it.
    """
    passes = _passes(graph)
    sitting = [item for item in graph.fitted.values() if sits_in_panels(item)]
    panels = graph.build.file.panels
    return [_hole(graph, name, panel, passes.get(name, []), sitting) for name, panel in panels.items()]


def sits_in_panels(item: Fitted) -> bool:
    """Return whether a fitted part is one that sits in a hole: a bulkhead part or a grommet."""
    part = item.part
    if part is None or item.section != "components":
        return False
    return part.kind in ("bulkhead union", "grommet") or part.panel is not None


def _hole(graph: PortGraph, name: str, panel: Panel, passes: list[_Pass], sitting: Iterable[Fitted]) -> Hole:
    unit = MM[graph.build.file.coordinates]
    own = [] if panel.at is None else [_scaled(panel.at, unit)]
    middles = own or [one.point for one in passes if one.point is not None]
    beside = frozenset[str]().union(*(one.beside for one in passes))
    there = [item for item in sitting if _is_there(graph, item, middles, beside)]
    named = graph.build.shelf.get(panel.grommet) if panel.grommet is not None else None
    stated = [(name, named)] if named is not None and named.kind == "grommet" else []
    parts = [(item.tag, item.part) for item in there if item.part is not None]
    guards = [(tag, part) for tag, part in parts if part.kind == "grommet"]
    return Hole(
        name,
        panel,
        tuple(graph.fitted[tag] for tag in dict.fromkeys(one.line for one in passes)),
        (*stated, *guards),
        tuple((tag, part) for tag, part in parts if part.kind != "grommet"),
        panel.grommet is not None and not stated,
        middles[0] if middles else None,
    )


def _is_there(graph: PortGraph, item: Fitted, middles: Iterable[Position], beside: frozenset[str]) -> bool:
    at = graph.build.file.components[item.tag].at
    if at is None:
        return item.tag in beside
    place = _scaled(at, MM[graph.build.file.coordinates])
    return any(dist(place, middle) <= THERE_MM for middle in middles)


def _passes(graph: PortGraph) -> dict[str, list[_Pass]]:
    """Return the lines that pass through each panel, by panel."""
    found: dict[str, list[_Pass]] = {}
    for tag, line in graph.build.file.lines.items():
        entries = line.route or ()
        if not any(isinstance(entry, Corner) and entry.through for entry in entries):
            continue
        points = corner_points(graph, tag) or ()
        for index, (entry, point) in enumerate(zip(entries, points, strict=False)):
            if isinstance(entry, Corner) and entry.through:
                names = [*(["from"] if index == 0 else []), *(["to"] if index == len(points) - 1 else [])]
                beside = frozenset(other for name in names for other in _joined(graph, f"{tag}.{name}"))
                found.setdefault(entry.through, []).append(_Pass(tag, point, beside))
    return found


def _joined(graph: PortGraph, ref: str) -> list[str]:
    ends = (end for joint in graph.joints_at.get(ref, ()) for end in joint.ends if end.ref != ref)
    return [end.tag for end in ends if end.fitted.section == "components"]


def _scaled(point: Position, unit: float) -> Position:
    return point[0] * unit, point[1] * unit, point[2] * unit
