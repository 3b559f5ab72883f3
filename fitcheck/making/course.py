"""A line's route as it is worked: legs and bends in one direction, each bend with its radius and its tool."""

from typing import NamedTuple

from fitcheck.build.benders import Radius
from fitcheck.build.graph import PortGraph
from fitcheck.build.routes import Point, Route, developed_length
from fitcheck.build.runs import run_of
from fitcheck.catalog.part import Part
from fitcheck.making.shape import corners_of
from fitcheck.making.sheet import Given, Remark


class Course(NamedTuple):
    """A route in one direction: `radii` belong to its bends, `points` are its corners with both ends [mm].

    `route` is None where only a length is given. `run_mm` is the finished length. `points` is None where the shape in
    space is not known; of legs they are in a frame of their own.
    """

    given: Given
    run_mm: float
    route: Route | None = None
    radii: tuple[Radius, ...] = ()
    points: tuple[Point, ...] | None = None

    def backwards(self) -> "Course":
        """Return the same tube worked from its other end: the order turns round, rotations keep their signs."""
        if self.route is None:
            return self
        turned = [bend.rotation_deg for bend in self.route.bends[1:]][::-1]
        bends = tuple(
            bend._replace(rotation_deg=rotation)
            for bend, rotation in zip(self.route.bends[::-1], [None, *turned], strict=False)
        )
        points = self.points[::-1] if self.points is not None else None
        return self._replace(route=Route(self.route.legs_mm[::-1], bends), radii=self.radii[::-1], points=points)


def course_of(graph: PortGraph, tag: str, tube: Part) -> Course | Remark:
    """Return the course of a line from its end `from`, or what is missing.

    Raises:
        RouteError: no tube can follow the route.
    """
    line = graph.build.file.lines[tag]
    if line.route is None:
        if line.length is None:
            return _missing(f"lines.{tag}.route or lines.{tag}.length")
        return Course("length", float(line.length))
    run = run_of(graph, tag)
    if run.fault is not None:
        raise run.fault
    if run.missing and line.length is not None:
        return Course("length", float(line.length))
    if run.missing or run.route is None:
        return _missing(run.missing[0] if run.missing else f"lines.{tag}.route")
    bends = tuple(bend._replace(rotation_deg=_normal(bend.rotation_deg)) for bend in run.route.bends)
    route = Route(run.route.legs_mm, bends)
    if run.points is not None:
        return Course("points", developed_length(route), route, run.radii, run.points)
    return Course("legs", developed_length(route), route, run.radii, corners_of(route))


def _normal(rotation: float | None) -> float | None:
    """Return a rotation in (-180, 180]: half a turn either way is the same bend."""
    if rotation is None:
        return None
    turned = rotation % 360.0
    return turned - 360.0 if turned > 180.0 else turned


def _missing(field: str) -> Remark:
    return Remark("field-missing", {"field": field})
