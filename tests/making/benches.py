"""Small builds and plain routes for the tests of making. All invented."""

from pathlib import Path

from hypothesis import HealthCheck, settings

from fitcheck.build.assemble import assemble
from fitcheck.build.benders import Radius, StraightsNeeded
from fitcheck.build.graph import PortGraph
from fitcheck.build.load import load_document
from fitcheck.build.routes import Bend, Point, Route, developed_length, through_points
from fitcheck.making.course import Course
from fitcheck.making.make import sheet
from fitcheck.making.sheet import Sheet
from fitcheck.sources import parse

NEEDS = StraightsNeeded(0.0, 0.0, 0.0, 0.0, "", "", "")
"""Tools that need no straight at all."""
NUT_MM = 4 * 4.7625
"""Length taken for a 3/16 in nut: four outside diameters."""

SAME_EVERY_TIME = settings(
    derandomize=True,
    deadline=None,
    database=None,
    max_examples=150,
    suppress_health_check=[HealthCheck.filter_too_much],
)
"""Properties look at the same routes on every run."""
LEVER = "tools: {flaring: {grip: 25 mm}, benders: {lever: {radius: 15 mm, clamp: 20 mm, offset: 0 mm}}}"


def graph_of(text: str) -> PortGraph:
    """Return the graph of a build."""
    return assemble(load_document(parse(f"build: 1\n{text}", "build.yaml"), Path()))


def one_line(
    route: str,
    *,
    tools: str = LEVER,
    start: str = "[0, 0, 0]",
    end: str = "[300, 200, 0]",
    more: str = "",
    line: str = "",
    part: str = "union-3-16-inverted",
) -> PortGraph:
    """Return a build with one line, `run`, from `a.b` to `b.a` along `route` (flow YAML)."""
    return graph_of(
        f"components:\n  a: {{part: {part}, at: {start}}}\n  b: {{part: {part}, at: {end}}}\n"
        f"{tools}\n{more}\nlines:\n  run: {{from: a.b, to: b.a, tube: tube-3-16-cuni, route: {route}{line}}}\n"
    )


def made(route: str, **more: str) -> Sheet:
    """Return the sheet of the one line of `one_line`."""
    return sheet(one_line(route, **more), "run")


def by_points(points: list[Point], radius: float) -> Course:
    """Return the course through corner points [mm] with one radius [mm]."""
    route = through_points(points, [radius] * (len(points) - 2))
    corners = (points[0], *(points[bend.corner] for bend in route.bends), points[-1])
    return Course("points", developed_length(route), route, _radii(route), corners)


def by_legs(legs: list[float], angles: list[float], radius: float) -> Course:
    """Return the course of legs [mm] and angles [deg] with one radius [mm]."""
    route = Route(tuple(legs), tuple(Bend(angle, radius) for angle in angles))
    return Course("legs", developed_length(route), route, _radii(route))


def _radii(route: Route) -> tuple[Radius, ...]:
    return tuple(Radius(bend.radius_mm, "stated", None) for bend in route.bends)
