"""What a build says is where, in mm of the car, and which fields would say the rest."""

from collections.abc import Iterator
from typing import NamedTuple

from fitcheck.build.bodies import Bodies
from fitcheck.build.graph import PortGraph
from fitcheck.build.load import CHASSIS, MM
from fitcheck.build.panel_holes import holes
from fitcheck.build.positions import end_position
from fitcheck.build.routes import Point
from fitcheck.catalog.part import CONSUMERS
from fitcheck.checks.place.near_heat import CLEARANCE_MM
from fitcheck.naming import in_order
from fitcheck.reports.plan.routing import ClipMark, Missing, Way, clip_marks, hose_ways, line_ways


class Item(NamedTuple):
    """A component: where it is, the body it is on, and where those of its joined ports are that have an offset.

    `sort` is what mark it gets: `source`, `brake`, `tank`, `valve` or `fitting`. `own` is False if its place is that of
    what it is joined to.
    """

    tag: str
    part_id: str
    sort: str
    at: Point
    body: str
    ports: tuple[Point, ...]
    own: bool


class Hot(NamedTuple):
    """Something hot or moving: its path, how thick it is and how far lines keep away from its surface [mm]."""

    name: str
    path: tuple[Point, ...]
    radius_mm: float
    clearance_mm: float
    stated: bool
    body: str


class HoleMark(NamedTuple):
    """A panel hole whose middle is known, with its diameter [mm] if that is known too."""

    name: str
    middle: Point
    hole_mm: float | None


class Scene(NamedTuple):
    """Everything of a build that has a place, and the fields that would give the rest one."""

    ways: tuple[Way, ...]
    items: tuple[Item, ...]
    hot: tuple[Hot, ...]
    holes: tuple[HoleMark, ...]
    clips: tuple[ClipMark, ...]
    missing: tuple[Missing, ...]

    @property
    def empty(self) -> bool:
        """Whether nothing at all has a place."""
        return not (self.ways or self.items or self.hot or self.holes)


def scene(graph: PortGraph) -> Scene:
    """Return what a build has in space."""
    bodies = Bodies(graph)
    lines, without = line_ways(graph, bodies)
    hoses, loose = hose_ways(graph, bodies)
    items, placeless = _items(graph, bodies)
    marks, unknown = _holes(graph)
    missing = (*placeless, *without, *loose, *unknown)
    return Scene((*lines, *hoses), tuple(items), tuple(_hot(graph)), tuple(marks), tuple(clip_marks(graph)), missing)


def _items(graph: PortGraph, bodies: Bodies) -> tuple[list[Item], list[Missing]]:
    refs: dict[str, list[str]] = {}
    for ref, end in graph.ends.items():
        refs.setdefault(end.tag, []).append(ref)
    found, missing = [], []
    for tag in sorted(graph.build.file.components, key=in_order):
        item = _item(graph, tag, bodies.of(tag), refs.get(tag, []))
        if item is not None:
            found.append(item)
        else:
            missing.append(Missing(tag, (f"components.{tag}.at",)))
    return found, missing


def _item(graph: PortGraph, tag: str, body: str, refs: list[str]) -> Item | None:
    at = graph.build.file.components[tag].at
    unit = MM[graph.build.file.coordinates]
    own = at is not None
    place = (at[0] * unit, at[1] * unit, at[2] * unit) if at is not None else _by_joint(graph, refs)
    if place is None:
        return None
    ports = {spot for ref in refs if own and graph.joined(ref) and (spot := end_position(graph, ref)) is not None}
    fitted = graph.fitted[tag]
    return Item(tag, fitted.part_id, _sort(graph, tag), place, body, tuple(sorted(ports - {place})), own)


def _by_joint(graph: PortGraph, refs: list[str]) -> Point | None:
    """Return where the first end is, by name, whose place is known by what it is joined to."""
    places = (end_position(graph, ref) for ref in sorted(refs, key=in_order))
    return next((place for place in places if place is not None), None)


def _sort(graph: PortGraph, tag: str) -> str:
    part = graph.fitted[tag].part
    if part is None:
        return "fitting"
    if part.outlets:
        return "source"
    if part.kind in CONSUMERS:
        return "brake"
    if part.kind == "reservoir":
        return "tank"
    return "valve" if part.kind.endswith("valve") or part.kind in ("pressure switch", "gauge") else "fitting"


def _hot(graph: PortGraph) -> Iterator[Hot]:
    file = graph.build.file
    unit = MM[file.coordinates]
    for name in sorted(file.heat, key=in_order):
        heat = file.heat[name]
        path = tuple((x * unit, y * unit, z * unit) for x, y, z in heat.path)
        stated = heat.clearance is not None
        clearance = float(heat.clearance) if heat.clearance is not None else CLEARANCE_MM
        yield Hot(name, path, float(heat.radius or 0.0), clearance, stated, heat.on or CHASSIS)


def _holes(graph: PortGraph) -> tuple[list[HoleMark], list[Missing]]:
    found, missing = [], []
    for hole in sorted(holes(graph), key=lambda each: in_order(each.name)):
        if hole.middle is None:
            missing.append(Missing(hole.name, (f"panels.{hole.name}.at",)))
        else:
            size = float(hole.panel.hole) if hole.panel.hole is not None else None
            found.append(HoleMark(hole.name, hole.middle, size))
    return found, missing
