"""Each line's run as far as the file says it: legs, bends and their radii, and its centre-line in space."""

from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import dist
from typing import NamedTuple

from fitcheck.build.benders import Radius, bend_radius
from fitcheck.build.curves import Curve, through_legs
from fitcheck.build.graph import PortGraph
from fitcheck.build.model import Corner, Leg, RouteWords
from fitcheck.build.model import Route as ToldRoute
from fitcheck.build.positions import corner_points, end_position, place_field, placed_corners
from fitcheck.build.routes import (
    STRAIGHT_DEG,
    Bend,
    Point,
    Route,
    RouteError,
    leg_ends,
    straights,
    through_points,
)
from fitcheck.build.sweeps import swept
from fitcheck.build.words import told_corners
from fitcheck.catalog.part import Part


class Run(NamedTuple):
    """One line's run. Lengths in mm.

    Attributes:
        tag: the line.
        tube: its tube; None if no catalog has it.
        missing: the fields that would say where it runs; empty if nothing is missing.
        fault: why no tube can follow the route; None if one can, or nobody knows.
        route: its legs and bends; a bend's `corner` counts the entries of the file's route from 1.
        radii: the radius of each bend, and where that comes from.
        straights_mm: the straight part of each leg.
        points: its ends and the corners between, a U's two among them, those left out that are none; None if it is
            given by legs, or by words from which nobody knows where it is.
        curve: its centre-line; empty if there are no points, or it cannot be made.
        in_words: the route is one text, without entries that stand anywhere by themselves.
        misses_mm: how far its last point is from where the other end is, if words tell the route and both are known.
    """

    tag: str
    tube: Part | None
    missing: tuple[str, ...] = ()
    fault: RouteError | None = None
    route: Route | None = None
    radii: tuple[Radius, ...] = ()
    straights_mm: tuple[float, ...] = ()
    points: tuple[Point, ...] | None = None
    curve: Curve = ()
    in_words: bool = False
    misses_mm: float | None = None

    @property
    def legs(self) -> list[tuple[Point, Point]]:
        """Where each leg starts and ends; none if there are no points."""
        return leg_ends(self.points, self.route.bends) if self.points is not None and self.route is not None else []

    @property
    def od_mm(self) -> float | None:
        """Outside diameter of the tube, if known."""
        return self.tube.od if self.tube is not None else None

    def node_of(self, index: int) -> int | None:
        """Return where in the file's route a bend stands, counted from 0; None if that has no entries."""
        if self.route is None or not self.route.bends or self.in_words:
            return None
        return self.route.bends[index].corner - 1


def runs(graph: PortGraph) -> Mapping[str, Run]:
    """Return the run of every line by its tag."""
    return {tag: run_of(graph, tag) for tag in graph.build.file.lines}


def run_of(graph: PortGraph, tag: str) -> Run:
    """Return the run of one line."""
    line, tube = graph.build.file.lines[tag], graph.fitted[tag].part
    if tube is None:
        return Run(tag, None, (f"lines.{tag}.tube",))
    if tube.od is None:
        return Run(tag, tube, (f"parts.{tube.id}.od",))
    if line.route is None:
        return Run(tag, tube, (f"lines.{tag}.route",))
    told = bends_told(graph, tag, tube, line.route)
    if told.route is None:
        return told
    return _of_words(graph, told, line.route) if isinstance(line.route, RouteWords) else _in_sweeps(told, told.points)


def bends_told(graph: PortGraph, tag: str, tube: Part, told: ToldRoute) -> Run:
    """Return a line's legs, bends and radii one by one as the file tells them, or why nobody knows; no centre-line."""
    legs = [entry for entry in told if isinstance(entry, Leg)]
    return _of_legs(graph, tag, tube, legs) if legs else _of_points(graph, tag, tube, told)


def missing_places(graph: PortGraph, tag: str) -> tuple[str, ...]:
    """Return the fields that would say where a line's ends are, of those that are not known."""
    refs = (f"{tag}.{name}" for name in ("from", "to"))
    return tuple(place_field(graph, ref) for ref in refs if end_position(graph, ref) is None)


def _of_points(graph: PortGraph, tag: str, tube: Part, told: ToldRoute) -> Run:
    first, last = (end_position(graph, f"{tag}.{name}") for name in ("from", "to"))
    if first is None or last is None:
        return Run(tag, tube, missing_places(graph, tag))
    points = [first, *(corner_points(graph, tag) or ()), last]
    stated = [entry.bend if isinstance(entry, Corner) else None for entry in told]
    radii = [bend_radius(graph.build, tag, tube, float(mm) if mm is not None else None) for mm in stated]
    try:
        route = through_points(points, [radius.mm for radius in radii])
    except RouteError as error:
        return Run(tag, tube, fault=error)
    corners = (first, *(points[bend.corner] for bend in route.bends), last)
    return Run(tag, tube, route=route, radii=tuple(radii[bend.corner - 1] for bend in route.bends), points=corners)


def _in_sweeps(run: Run, points: Sequence[Point] | None) -> Run:
    """Return a run with bends that are one sweep made one, its straights and its centre-line."""
    assert run.route is not None
    try:
        made = swept(run.route, points)
    except RouteError as error:
        return run._replace(fault=error, points=tuple(points) if points is not None else None)
    radii = tuple(run.radii[index] for index in made.firsts)
    found = run._replace(route=made.route, radii=radii, straights_mm=straights(made.route), points=made.points)
    return found._replace(curve=through_legs(found.legs, made.route)) if found.legs else found


def _of_legs(graph: PortGraph, tag: str, tube: Part, legs: list[Leg]) -> Run:
    if legs[-1].angle:
        return Run(tag, tube, (f"lines.{tag}.route.{len(legs)}",))
    lengths = [float(legs[0].leg)]
    bends: list[Bend] = []
    radii: list[Radius] = []
    for index, (leg, after) in enumerate(pairwise(legs)):
        if leg.angle is None:
            return Run(tag, tube, (f"lines.{tag}.route.{index}.angle",))
        if 0.0 <= leg.angle < STRAIGHT_DEG:
            lengths[-1] += float(after.leg)  # straight on: one leg in two pieces
            continue
        radius = bend_radius(graph.build, tag, tube, float(leg.bend) if leg.bend is not None else None)
        rotation = float(leg.rotation) if leg.rotation is not None and bends else None
        bends.append(Bend(float(leg.angle), radius.mm, rotation, index + 1))
        radii.append(radius)
        lengths.append(float(after.leg))
    return Run(tag, tube, route=Route(tuple(lengths), tuple(bends)), radii=tuple(radii))


def _of_words(graph: PortGraph, bare: Run, told: RouteWords) -> Run:
    """Return a run told in words: in space, if they state a heading and it is known where an end is."""
    assert bare.route is not None
    corners = told_corners(told.ways, bare.route)
    bare = bare._replace(in_words=True)
    placed = placed_corners(graph, bare.tag, corners)
    if placed is None:
        return _in_sweeps(bare, None)
    first, last = (end_position(graph, f"{bare.tag}.{name}") for name in ("from", "to"))
    misses = dist(placed[-1], last) if first is not None and last is not None else None
    return _in_sweeps(bare._replace(misses_mm=misses), placed)
