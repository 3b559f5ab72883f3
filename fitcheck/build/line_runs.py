"""How long each line and hose is in the build: from seat to seat, without what flares use up."""

from typing import Final

from fitcheck.build.benders import STATED, bend_radius
from fitcheck.build.graph import Fitted, PortGraph
from fitcheck.build.model import Leg
from fitcheck.build.model import Route as ToldRoute
from fitcheck.build.routes import developed_length
from fitcheck.build.runs import bends_told
from fitcheck.catalog.part import Part
from fitcheck.measures import given

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
    run = bends_told(graph, tag, tube, told)
    if run.fault is not None:
        raise run.fault
    legs = any(isinstance(entry, Leg) for entry in told)
    if run.route is None:
        last = f"lines.{tag}.route.{len(told)}"
        if legs and run.missing == (last,):
            return None, f"lines.{tag}.route ends in a bend; the leg after it is not given"
        return None, f"{run.missing[0]} is not given"
    own = all(radius.source == STATED for radius in run.radii)
    words = "bends as stated" if own else _usual_radius(graph, tag, tube)
    return developed_length(run.route), f"{'legs' if legs else 'route'}, {words}"


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


def _usual_radius(graph: PortGraph, tag: str, tube: Part) -> str:
    """Return what the centre-line radius of bends is that state none, and where it comes from, as on a bench sheet."""
    radius = bend_radius(graph.build, tag, tube)
    of_tube = radius.source.startswith(_OF_TUBE)
    words = f" {radius.source.removeprefix(_OF_TUBE)}" if of_tube else f", {radius.source}"
    return f"bend radius {given(radius.mm, graph.unit)}{words}"
