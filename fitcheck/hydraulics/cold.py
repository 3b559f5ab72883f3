"""How the brakes follow the foot in deep cold, when fluid is as thick as its standard lets it be.

Each brake is one that gives behind the lines and hoses on its way: it follows with a time constant, after which six
tenths of the pressure has come. Limits: lines and hoses alone, nothing for fittings and valves; what pads take before
they bite has to come through the same lines and is not in it; the fluid of -40 degC, as few cars ever meet it.
"""

from collections.abc import Iterator, Mapping, Sequence

from fitcheck.build.circuits import Circuits
from fitcheck.build.graph import Fitted, PortGraph
from fitcheck.build.refs import tag_of
from fitcheck.hydraulics.displacement import Displacement
from fitcheck.hydraulics.flow import lag_s
from fitcheck.hydraulics.record import Cause, Lag, Outlet, Stroke
from fitcheck.standards.fluids import Fluid, UnknownFluidError, fluid
from fitcheck.standards.residual import fluid_density

_ELASTIC: frozenset[Cause] = frozenset({"give", "swelling", "stretch", "squeeze"})
_RUNS = ("lines", "hoses")


def lags(graph: PortGraph, circuits: Circuits, moved: Displacement, outlets: Sequence[Outlet]) -> tuple[Lag, ...]:
    """Return how long each brake lags, in the order of the file; left out is what lacks a length, a bore or a fluid."""
    lengths = {figure.key: figure.value for figure in moved.figures}
    strokes = {one.outlet: one for one in moved.strokes}
    each = (_of(graph, circuits, outlet, strokes[outlet.ref], lengths) for outlet in outlets if outlet.ref in strokes)
    return tuple(lag for found in each for lag in found)


def _of(
    graph: PortGraph, circuits: Circuits, outlet: Outlet, stroke: Stroke, lengths: Mapping[str, float]
) -> Iterator[Lag]:
    thick = _fluid(graph, outlet)
    if thick is None or thick.viscosity_mm2_s is None or not stroke.pressure_mpa:
        return
    for tag in outlet.consumers:
        runs = [graph.fitted[name] for name in _way(graph, circuits, tag)]
        sizes = [(lengths.get(f"{item.section}.{item.tag}.length"), _bore(item)) for item in runs]
        known = [(length, bore) for length, bore in sizes if length is not None and bore]
        give = _give(stroke, {tag, *(item.tag for item in runs)})
        if not known or len(known) < len(sizes):
            continue
        density = fluid_density(thick.family).kg_m3
        lag = sum(lag_s(length, bore, thick.viscosity_mm2_s, density, give) for length, bore in known)
        yield Lag(tag, lag, thick.name, thick.viscosity_mm2_s, thick.mark)


def _fluid(graph: PortGraph, outlet: Outlet) -> Fluid | None:
    file = graph.build.file
    stated = next((name for circuit in outlet.circuits if (name := file.circuits[circuit].fluid)), file.fluid)
    try:
        return fluid(stated) if stated is not None else None
    except UnknownFluidError:
        return None


def _way(graph: PortGraph, circuits: Circuits, tag: str) -> Iterator[str]:
    """Yield the lines and hoses on the shortest way to a brake, each once."""
    part = graph.fitted[tag].part
    ends = [ref for port in (part.fluid_ports() if part else ()) if (ref := f"{tag}.{port.name}") in circuits.distance]
    nearest = min(ends, key=circuits.distance.__getitem__, default=None)
    passed = dict.fromkeys(map(tag_of, circuits.way_to(nearest))) if nearest is not None else {}
    yield from (name for name in passed if graph.fitted[name].section in _RUNS)


def _bore(item: Fitted) -> float | None:
    part = item.part
    if part is None:
        return None
    if part.inside is not None:
        return part.inside
    return part.od - 2.0 * part.wall if part.od is not None and part.wall is not None else None


def _give(stroke: Stroke, tags: set[str]) -> float:
    """Return what these take for each unit of pressure [mm3/MPa]."""
    return sum(take.mm3 for take in stroke.takes if take.tag in tags and take.cause in _ELASTIC) / stroke.pressure_mpa
