"""How high brakes stand above the fluid that feeds them, what that column weighs, and what residual valves hold.

Heights in mm (z up), pressures in MPa. The fluid is taken to stand at the lowest reservoir outlet that feeds a master
cylinder, without a reservoir at the cylinder's feed, and a brake where its highest port is, the car at rest.
"""

from collections.abc import Iterable
from typing import NamedTuple

from fitcheck.build.circuits import Circuits
from fitcheck.build.graph import PortGraph
from fitcheck.build.positions import end_position, place_field
from fitcheck.build.refs import tag_of
from fitcheck.hydraulics.outlets import Outlets
from fitcheck.hydraulics.record import Gap, Outlet
from fitcheck.standards.fluids import Family
from fitcheck.standards.fluids import fluid as fluid_named
from fitcheck.standards.residual import Density, fluid_density, head_mpa


class Column(NamedTuple):
    """The brakes of one kind behind the same residual valves of one outlet.

    `held_mpa` is what the valves hold, 0 without one, None if a setting is not known. `rise_mm` is how far the highest
    of the brakes stands above the fluid, None if a height is not known; `head_mpa` what that weighs. `gaps` are the
    fields that are missing.
    """

    outlet: str
    discs: bool
    tags: tuple[str, ...]
    valves: tuple[str, ...]
    held_mpa: float | None
    rise_mm: float | None
    head_mpa: float | None
    fluid: str | None
    density: Density
    gaps: tuple[Gap, ...]


def columns(graph: PortGraph, circuits: Circuits, found: Outlets) -> tuple[Column, ...]:
    """Return every group of brakes that stands behind the same residual valves, in the order of the file."""
    groups: dict[tuple[str, bool, tuple[str, ...]], tuple[Outlet, list[str]]] = {}
    held = any(item.part is not None and item.part.kind == "residual valve" for item in graph.fitted.values())
    for outlet in (one for one in found.outlets if one.drives != "clutch"):
        for tag in outlet.consumers:
            part = graph.fitted[tag].part
            valves = _valves(graph, circuits, tag) if held else ()
            key = outlet.ref, part is not None and part.kind == "caliper", valves
            groups.setdefault(key, (outlet, []))[1].append(tag)
    made = (_column(graph, circuits, outlet, key[1], key[2], tags) for key, (outlet, tags) in groups.items())
    return tuple(made)


def _valves(graph: PortGraph, circuits: Circuits, tag: str) -> tuple[str, ...]:
    refs = [ref for name in _ports(graph, tag) if (ref := f"{tag}.{name}") in circuits.distance]
    nearest = min(refs, key=circuits.distance.__getitem__, default=None)
    passed = dict.fromkeys(map(tag_of, circuits.way_to(nearest))) if nearest is not None else {}
    parts = ((name, graph.fitted[name].part) for name in passed)
    return tuple(name for name, part in parts if part is not None and part.kind == "residual valve")


def _column(
    graph: PortGraph, circuits: Circuits, outlet: Outlet, discs: bool, valves: tuple[str, ...], tags: list[str]
) -> Column:
    unset = [
        Gap(name, f"parts.{part.id}.setting")
        for name in valves
        if (part := graph.fitted[name].part) is not None and part.setting is None
    ]
    low, gaps = _heights(graph, [_surfaces(graph, circuits, outlet)])
    high, more = _heights(graph, [[f"{tag}.{name}" for name in _ports(graph, tag)] for tag in tags])
    rise = max(high) - min(low) if low and high and not gaps + more else None
    fluid = _fluid(graph, outlet)
    density = fluid_density(_family(fluid))
    return Column(
        outlet=outlet.ref,
        discs=discs,
        tags=tuple(tags),
        valves=valves,
        held_mpa=max(outlet.residual_mpa[tag] for tag in tags) if not unset else None,
        rise_mm=rise,
        head_mpa=head_mpa(rise, density.kg_m3) if rise is not None else None,
        fluid=fluid,
        density=density,
        gaps=(*unset, *gaps, *more),
    )


def _surfaces(graph: PortGraph, circuits: Circuits, outlet: Outlet) -> list[str]:
    """Return the ports at which the fluid that feeds an outlet stands at least."""
    part = graph.fitted[outlet.tag].part
    feeds = [f"{outlet.tag}.{name}" for name in (part.feeds if part is not None else ())]
    fed = [network for feed in feeds if (network := circuits.of(feed)) is not None]
    return list(dict.fromkeys(ref for network in fed for ref in network.reservoirs)) or feeds or [outlet.ref]


def _ports(graph: PortGraph, tag: str) -> list[str]:
    part = graph.fitted[tag].part
    return [port.name for port in part.fluid_ports()] if part is not None else []


def _heights(graph: PortGraph, groups: Iterable[list[str]]) -> tuple[list[float], list[Gap]]:
    """Return the heights of some ends [mm], and one gap for each group in which one is not known."""
    heights: list[float] = []
    gaps: list[Gap] = []
    for refs in groups:
        found = {ref: end_position(graph, ref) for ref in refs}
        heights += [position[2] for position in found.values() if position is not None]
        unknown = [ref for ref, position in found.items() if position is None]
        gaps += [Gap(tag_of(ref), place_field(graph, ref)) for ref in unknown[:1]]
    return heights, gaps


def _fluid(graph: PortGraph, outlet: Outlet) -> str | None:
    file = graph.build.file
    stated = [file.circuits[name].fluid for name in outlet.circuits]
    return next((name for name in (*stated, file.fluid) if name is not None), None)


def _family(fluid: str | None) -> Family:
    """Return the family of a fluid; of brake fluid as most cars have it where none is stated."""
    return fluid_named(fluid).family if fluid is not None else "glycol"
