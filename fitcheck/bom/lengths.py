"""How long each line and hose has to be cut: the run from seat to seat, and what the flares use up."""

from collections.abc import Mapping
from typing import Final

from fitcheck.bom.reasons import no_such_part, why_not_counted
from fitcheck.bom.record import Length
from fitcheck.build.benders import bend_radius
from fitcheck.build.graph import End, Fitted, PortGraph
from fitcheck.build.model import Corner, Leg, Line
from fitcheck.build.positions import corner_points, end_position, place_field
from fitcheck.build.routes import Bend, Route, RouteError, developed_length, through_points
from fitcheck.catalog.part import Part
from fitcheck.standards.flares import allowance_mm

_STATED: Final = "stated in the build"
_OF_TUBE: Final = "bend radius "


def line_length(graph: PortGraph, item: Fitted, flares: Mapping[str, str | None]) -> Length:
    """Return how long the tube of a line has to be cut.

    `flares` names the flare at each of its ends, as far as it is known. The run is the line's own `length`, else
    the developed length of its route; a bend's radius is its own `bend`, else the bender's, else the tube's smallest,
    else three outside diameters. The flares' allowance and what is trimmed off both ends are added to either. Source:
    derived; the allowance is that of `fitcheck.standards.flares`.

    Raises:
        BenderError: the figures of the line's bender cannot be.
    """
    if item.part is None:
        return Length(unknown=f"no catalog has the tube {item.part_id}")
    line = graph.build.file.lines[item.tag]
    try:
        run, source = _run(graph, item.tag, line, item.part)
        reason = None if run is not None else source
    except RouteError as error:
        run, source, reason = None, "", f"lines.{item.tag}.route: {error}"
    allowance, words = _allowance(graph, item, item.part, flares)
    if allowance is None:
        reason = reason or words
    if run is None or allowance is None:
        return Length(None, reason, run, allowance)
    return Length(run + allowance, None, run, allowance, f"{source}; flares: {words}")


def hose_length(graph: PortGraph, item: Fitted) -> Length | None:
    """Return how long a hose bought by length has to be cut; None for one that is bought made up.

    A hose whose part has a length of its own is bought made up. Else it is cut to the build's `length`; a feed
    hose without one still has to be cut, to a length not known.
    """
    if item.part is not None and item.part.length is not None:
        return None
    stated = graph.build.file.hoses[item.tag].length
    if stated is not None:
        return Length(float(stated), None, float(stated), 0.0, _STATED)
    if item.part is not None and item.part.kind == "feed hose":
        return Length(unknown=f"hoses.{item.tag}.length is not given")
    return None


def _run(graph: PortGraph, tag: str, line: Line, tube: Part) -> tuple[float | None, str]:
    """Return the length from seat to seat [mm] and where it comes from, or None and the missing field."""
    if line.length is not None:
        return float(line.length), _STATED
    if line.route is None:
        return None, f"lines.{tag}.route or lines.{tag}.length is not given"
    usual, words = _usual_radius(graph, tag, tube)
    legs = [entry for entry in line.route if isinstance(entry, Leg)]
    if legs:
        return _run_of_legs(tag, legs, usual, words)
    first, last = (end_position(graph, f"{tag}.{name}") for name in ("from", "to"))
    if first is None or last is None:
        field = place_field(graph, f"{tag}.{'from' if first is None else 'to'}")
        return None, f"{field} is not given"
    points = [first, *(corner_points(graph, tag) or ()), last]
    radii = [_corner_radius(entry, usual) for entry in line.route]
    own = all(isinstance(entry, Corner) and entry.bend is not None for entry in line.route)
    return developed_length(through_points(points, radii)), f"route, {'bends as stated' if own else words}"


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
    return radius.mm, f"bend radius {radius.mm:g} mm{words}"


def _allowance(
    graph: PortGraph, item: Fitted, tube: Part, flares: Mapping[str, str | None]
) -> tuple[float | None, str]:
    """Return the tube that both flares use up [mm] and where that comes from, or None and why not."""
    total = 0.0
    marks: dict[str, None] = {}
    for name in ("from", "to"):
        end = graph.ends[f"{item.tag}.{name}"]
        flare = _flare(end, flares)
        if flare is None:
            return None, f"the flare at {end.ref} is not known: {_why_no_flare(graph, end)}"
        used = allowance_mm(flare, tube.od or 0.0)
        total += used.mm
        marks[f"{flare} {used.mm:g} mm, {used.mark}"] = None
    tools = graph.build.file.tools
    if tools is not None and tools.trim is not None:
        total += 2.0 * tools.trim
        marks[f"trimmed off each end {tools.trim:g} mm, tools.trim"] = None
    return total, "; ".join(marks)


def _flare(end: End, flares: Mapping[str, str | None]) -> str | None:
    stated = end.stated.flare if end.stated is not None else None
    return stated or flares.get(end.ref)


def _why_no_flare(graph: PortGraph, end: End) -> str:
    joints = graph.joints_at.get(end.ref, ())
    if not joints:
        return "it is joined to nothing known"
    unknown = next((other for other in joints[0].ends if not other.known), None)
    if unknown is not None:
        return no_such_part(unknown)
    return why_not_counted(joints[0]) or "the port does not say"
