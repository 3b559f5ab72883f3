"""What a clutch's slave cylinder does with the pedal right down, against what the clutch asks for."""

from collections.abc import Mapping

from fitcheck.build.graph import PortGraph
from fitcheck.build.model import BuildFile
from fitcheck.hydraulics.budget import Budget
from fitcheck.hydraulics.cylinders import pistons
from fitcheck.hydraulics.outlets import Outlets
from fitcheck.hydraulics.record import Clutch, Outlet, Push
from fitcheck.hydraulics.spread import Amount, amount, sure, total
from fitcheck.hydraulics.travel import floor_mm, free_play


def resisted(graph: PortGraph, found: Outlets, push: Push) -> Push:
    """Return a push of the clutch pedal with no more pressure than the clutch resists with.

    While the slave cylinder moves the pressure is that of the clutch's own spring, however hard the foot could push.
    """
    pressures: dict[str, float] = {}
    at: dict[str, float] = {}
    for outlet in found.of("clutch"):
        pressure = _working(graph, outlet, push)
        if outlet.ref in push.pressures_mpa and pressure is not None:
            pressures[outlet.ref] = pressure
            at.update(dict.fromkeys(outlet.consumers, pressure))
    return push._replace(pressures_mpa={**push.pressures_mpa, **pressures}, at_mpa={**push.at_mpa, **at})


def clutches(
    graph: PortGraph, found: Outlets, budgets: Mapping[str, Budget], push: Push | None, weakest: Push | None = None
) -> tuple[Clutch, ...]:
    """Return what each slave cylinder does: its force at `push`, its travel with the pedal right down.

    The piston goes as far as pedal or stroke let it. What cut-off, hoses and fluid take of that at the pressure of the
    clutch is lost, the rest moves the slave. Several slaves of one outlet are taken to move alike. `weakest` is the
    push with the most friction that is assumed.
    """
    slaves = ((outlet, tag) for outlet in found.of("clutch") for tag in outlet.consumers)
    told = ((tag, _clutch(graph, outlet, tag, budgets[outlet.ref], push)) for outlet, tag in slaves)
    return tuple(one._replace(least_n=_force_n(graph, tag, weakest)) for tag, one in told)


def stroke_at_floor(file: BuildFile, outlet: Outlet) -> Amount | None:
    """Return how far a clutch's piston goes with the pedal right down [mm]: to its floor, or to the stroke's end."""
    floor = floor_mm(file, "clutch")
    ratio = file.clutch.ratio if file.clutch is not None else None
    if floor is None or ratio is None:
        return sure(outlet.stroke_mm) if outlet.stroke_mm is not None else None
    play = amount(free_play(file, "clutch"))
    end = outlet.stroke_mm if outlet.stroke_mm is not None else floor
    value, low, high = (min(end, max(0.0, floor - each) / ratio) for each in (play.value, play.high, play.low))
    return Amount(value, low, high)


def _clutch(graph: PortGraph, outlet: Outlet, tag: str, budget: Budget, push: Push | None) -> Clutch:
    stated = graph.build.file.clutch
    needs_force = stated.needs_force if stated is not None else None
    needs_travel = stated.needs_travel if stated is not None else None
    left = _left(graph, outlet, budget, push)
    return Clutch(
        tag=tag,
        force_n=_force_n(graph, tag, push),
        travel_mm=left.value if left is not None else None,
        needs_force_n=float(needs_force) if needs_force is not None else None,
        needs_travel_mm=float(needs_travel) if needs_travel is not None else None,
        spread_mm=(left.low, left.high) if left is not None else None,
        complete=all(gap.missing == "clutch.needs_travel" for gap in budget.gaps),
    )


def _force_n(graph: PortGraph, tag: str, push: Push | None) -> float | None:
    part = graph.fitted[tag].part
    area = pistons(part).mm2 if part is not None else 0.0
    pressure = push.at_mpa.get(tag) if push is not None else None
    return pressure * area if pressure is not None and area else None


def _left(graph: PortGraph, outlet: Outlet, budget: Budget, push: Push | None) -> Amount | None:
    """Return how far the slave goes [mm]; None if that is not known."""
    goes = stroke_at_floor(graph.build.file, outlet)
    slaves = _slaves_mm2(graph, outlet)
    pressure = _working(graph, outlet, push) if push is None or outlet.ref in push.pressures_mpa else None
    if goes is None or not outlet.area_mm2 or not slaves or pressure is None:
        return None
    moved = goes.times(outlet.area_mm2)
    takes = total(take for take in budget.takes(pressure, {}) if take.cause != "travel")
    left = (moved.value - takes.value, moved.low - takes.high, moved.high - takes.low)
    value, low, high = (max(0.0, volume) / slaves for volume in left)
    return Amount(value, low, high)


def _working(graph: PortGraph, outlet: Outlet, push: Push | None) -> float | None:
    """Return the pressure while the slave moves [MPa]: that of the push, or less if the clutch asks for less."""
    stated = graph.build.file.clutch
    slaves = _slaves_mm2(graph, outlet)
    pressed = push.pressures_mpa.get(outlet.ref) if push is not None else None
    if stated is None or stated.needs_force is None or not slaves:
        return pressed
    asked = stated.needs_force / slaves
    return asked if pressed is None else min(asked, pressed)


def _slaves_mm2(graph: PortGraph, outlet: Outlet) -> float:
    parts = (graph.fitted[tag].part for tag in outlet.consumers)
    return sum(pistons(part).mm2 for part in parts if part is not None)
