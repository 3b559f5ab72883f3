"""How long each line and hose is in the build: from seat to seat, without what flares use up."""

from typing import Final

from fitcheck.build.benders import bend_radius
from fitcheck.build.graph import Fitted, PortGraph
from fitcheck.build.model import Corner, Leg
from fitcheck.build.model import Route as ToldRoute
from fitcheck.build.positions import corner_points, end_position, place_field
from fitcheck.build.routes import Bend, Route, developed_length, through_points
from fitcheck.catalog.part import Part
from fitcheck.measures import given

STATED: Final = "stated in the build"
_OF_TUBE: Final = "bend radius "


def line_run(graph: PortGraph, tag: str, tube: Part) -> tuple[float | None, str]:
    """Return a line's length from seat to seat [mm] and where it comes from, or None and that a field is missing.

    It is the developed length of its route, as on its bench sheet, else its own `length`: of a line without a route,
    or with one of which the ends are not known. A bend's radius is its own `bend`, else the bender's, else the tube's
    smallest, else three outside diameters. Source: derived.

    Raises:
        RouteError: no tube can follow the route.
    """
    line = graph.build.file.lines[tag]
    if line.route is None and line.length is None:
        return None, f"lines.{tag}.route or lines.{tag}.length is not given"
    found, words = _run_of_route(graph, tag, tube, line.route) if line.route is not None else (None, "")
    if found is None and line.length is not None:
        return float(line.length), STATED
    return found, words


def _run_of_route(graph: PortGraph, tag: str, tube: Part, told: ToldRoute) -> tuple[float | None, str]:
    usual, words = _usual_radius(graph, tag, tube)
    legs = [entry for entry in told if isinstance(entry, Leg)]
    if legs:
        return _run_of_legs(tag, legs, usual, words)
    first, last = (end_position(graph, f"{tag}.{name}") for name in ("from", "to"))
    if first is None or last is None:
        field = place_field(graph, f"{tag}.{'from' if first is None else 'to'}")
        return None, f"{field} is not given"
    points = [first, *(corner_points(graph, tag) or ()), last]
    radii = [_corner_radius(entry, usual) for entry in told]
    own = all(isinstance(entry, Corner) and entry.bend is not None for entry in told)
    return developed_length(through_points(points, radii)), f"route, {'bends as stated' if own else words}"


def hose_run(graph: PortGraph, item: Fitted) -> tuple[float | None, str]:
    """Return a hose's free length [mm] and where it comes from, or None and that a field is missing.

    It is the build's `length`, else that of its part.
    """
    stated = graph.build.file.hoses[item.tag].length
    if stated is not None:
        return float(stated), STATED
    if item.part is not None and item.part.length is not None:
        return item.part.length, f"parts.{item.part.id}.length"
    feed = item.part is None or item.part.kind == "feed hose"
    return None, f"{f'hoses.{item.tag}' if feed else f'parts.{item.part_id}'}.length is not given"


def _run_of_legs(tag: str, legs: list[Leg], usual: float, words: str) -> tuple[float | None, str]:
    for index, leg in enumerate(legs[:-1]):
        if leg.angle is None:
            return None, f"lines.{tag}.route.{index}.angle is not given"
    if legs[-1].angle:
        return None, f"lines.{tag}.route ends in a bend; the leg after it is not given"
    bends = [Bend(float(leg.angle or 0.0), float(leg.bend if leg.bend is not None else usual)) for leg in legs[:-1]]
    own = all(leg.bend is not None for leg in legs[:-1])
    route = Route(tuple(float(leg.leg) for leg in legs), tuple(bends))
    return developed_length(route), f"legs, {'bends as stated' if own else words}"


def _corner_radius(entry: object, usual: float) -> float:
    stated = entry.bend if isinstance(entry, Corner) else None
    return float(stated) if stated is not None else usual


def _usual_radius(graph: PortGraph, tag: str, tube: Part) -> tuple[float, str]:
    """Return the centre-line radius [mm] of bends that state none, and where it comes from: as on the bench sheet."""
    radius = bend_radius(graph.build, tag, tube)
    of_tube = radius.source.startswith(_OF_TUBE)
    words = f" {radius.source.removeprefix(_OF_TUBE)}" if of_tube else f", {radius.source}"
    return radius.mm, f"bend radius {given(radius.mm, graph.unit)}{words}"
