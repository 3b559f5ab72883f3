"""How long each line and hose has to be cut: the run from seat to seat, and what the flares use up."""

from collections.abc import Mapping

from fitcheck.bom.reasons import no_such_part, why_not_counted
from fitcheck.bom.record import Length
from fitcheck.build.benders import STATED
from fitcheck.build.graph import End, Fitted, PortGraph
from fitcheck.build.line_runs import line_run
from fitcheck.build.routes import RouteError
from fitcheck.catalog.part import Part
from fitcheck.measures import given
from fitcheck.standards.flares import allowance_mm


def line_length(graph: PortGraph, item: Fitted, flares: Mapping[str, str | None]) -> Length:
    """Return how long the tube of a line has to be cut.

    `flares` names the flare at each of its ends, as far as it is known. The run is the developed length of its route,
    so that the bench sheet's bends fit on what is cut, else the line's own `length`; a bend's radius is its own `bend`,
    else the bender's, else the tube's smallest, else three outside diameters. The flares' allowance and what is trimmed
    off both ends are added to either. Source: derived; the allowance is that of `fitcheck.standards.flares`.
    """
    if item.part is None:
        return Length(unknown=f"no catalog has the tube {item.part_id}")
    try:
        run, source = line_run(graph, item.tag, item.part)
        reason = None if run is not None else source
    except RouteError as error:
        run, source, reason = None, "", f"lines.{item.tag}.route: leg {error.leg} {error.told(graph.unit)}"
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
        return Length(float(stated), None, float(stated), 0.0, STATED)
    if item.part is not None and item.part.kind == "feed hose":
        return Length(unknown=f"hoses.{item.tag}.length is not given")
    return None


def _allowance(
    graph: PortGraph, item: Fitted, tube: Part, flares: Mapping[str, str | None]
) -> tuple[float | None, str]:
    """Return the tube that both flares use up [mm] and where that comes from, or None and why not."""
    total, bare = 0.0, 0
    marks: dict[str, None] = {}
    for name in ("from", "to"):
        end = graph.ends[f"{item.tag}.{name}"]
        if end.stated is not None and end.stated.formed is True:
            marks["formed already, nothing used up"] = None
            continue
        bare += 1
        flare = _flare(end, flares)
        if flare is None:
            return None, f"the flare at {end.ref} is not known: {_why_no_flare(graph, end)}"
        used = allowance_mm(flare, tube.od or 0.0)
        total += used.mm
        marks[f"{flare} {given(used.mm, graph.unit)}, {used.mark}"] = None
    tools = graph.build.file.tools
    if tools is not None and tools.trim is not None and bare:
        total += bare * float(tools.trim)
        trim = given(tools.trim, graph.unit)
        marks[f"trimmed off {'each' if bare > 1 else 'its bare'} end {trim}, tools.trim"] = None
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
