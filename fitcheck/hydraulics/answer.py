"""Everything that `fitcheck pedal` says, put together: the pressure side, the volume side, failures and rules.

What is assumed and what is missing is told once, however many parts of the answer it touches.
"""

from collections.abc import Iterator, Mapping, Sequence
from math import ceil
from typing import Final, NamedTuple

from fitcheck.build.circuits import Circuits
from fitcheck.build.graph import PortGraph
from fitcheck.build.model import BuildFile
from fitcheck.build.units import units_of
from fitcheck.hydraulics.balance import balance
from fitcheck.hydraulics.cold import lags
from fitcheck.hydraulics.displacement import Displacement, displacement
from fitcheck.hydraulics.failure import assumed, failures, service, shares_left
from fitcheck.hydraulics.outlets import idle
from fitcheck.hydraulics.push import stated_foot_n
from fitcheck.hydraulics.record import Answer, Balance, Drives, Failure, Figure, Gap, Push, Required, Stop
from fitcheck.hydraulics.system import System, system
from fitcheck.hydraulics.travel import POINTS, USUAL_N, Points, curves, reach
from fitcheck.quantities import parse

_STEP: Final = ("10 N", "2 lbf")
"""The points of a curve stand at whole multiples of one of these pushes, by what the user measures in."""
DECELERATIONS_G: Final = (0.3, 0.6, 0.9)
"""For these the push of the foot is told: the feel of the pedal."""
_BRAKE: Final = "brake"
_EFFICIENCY: Final[Mapping[Drives, str]] = {"brake": "pedal.efficiency", "clutch": "clutch.efficiency"}


class _Braking(NamedTuple):
    """What the brake pedal does to the car; nothing where the push of the foot is not known."""

    stop: Stop | None
    balance: Balance | None
    failures: tuple[Failure, ...]
    curves: Mapping[str, Points]
    weakest_stop: Stop | None
    service: tuple[Required, ...] = ()


def answer(graph: PortGraph, foot_n: float | None = None, circuits: Circuits | None = None) -> Answer:
    """Return all that can be said of a build's pedals, at a push on the brake pedal [N], else at the stated one.

    A quantity as `foot_n` also says in what unit forces are shown. Time is linear in the build.
    """
    circuits = circuits or Circuits(graph)
    whole = system(graph, circuits)
    drives: tuple[Drives, ...] = ("brake", "clutch")
    moved = [
        displacement(graph, circuits, whole.outlets, each, foot_n if each == _BRAKE else None)
        for each in drives
        if whole.outlets.of(each)
    ]
    foot = foot_n if foot_n is not None else stated_foot_n(whole.file, "brake")
    braking = _braking(whole, moved, foot)
    by, weak = whole.levers.get("brake"), _weak(whole)
    return Answer(
        build=whole.file.name,
        outlets=whole.outlets.outlets,
        pushes=tuple(_pushes(whole, moved, foot)),
        corners=whole.corners(foot) if foot is not None else (),
        stop=braking.stop,
        balance=braking.balance,
        strokes=tuple(one for each in moved for one in each.strokes),
        travels=tuple(each.travel for each in moved if each.travel is not None),
        curves=braking.curves,
        failures=braking.failures,
        clutches=tuple(one for each in moved for one in each.clutches),
        figures=_figures(whole, moved, braking),
        gaps=tuple(dict.fromkeys([*_unknown(graph), *_gaps(whole, moved, braking)])),
        service=braking.service,
        weakest=tuple(_pushes(weak, moved, foot)) if weak.levers != whole.levers else (),
        weakest_stop=braking.weakest_stop,
        feet=tuple((each, whole.foot_for_g(each)) for each in DECELERATIONS_G) if braking.stop is not None else (),
        ratio=by.ratio if by is not None else None,
        units=units_of(whole.file, foot),
        lags=tuple(
            lag
            for each in moved
            if each.drives == _BRAKE
            for lag in lags(graph, circuits, each, whole.outlets.of(each.drives))
        ),
    )


def has_pedal(file: BuildFile) -> bool:
    """Return whether a build says anything of a pedal: without that there is nothing to compare."""
    return file.pedal is not None or file.clutch is not None


def _pushes(whole: System, moved: Sequence[Displacement], foot: float | None) -> Iterator[Push]:
    for each in moved:
        pressed = foot if each.drives == _BRAKE else stated_foot_n(whole.file, each.drives)
        found = whole.push(pressed, each.drives) if pressed is not None else None
        if found is not None:
            yield found


def _braking(whole: System, moved: Sequence[Displacement], foot: float | None) -> _Braking:
    side = next((each for each in moved if each.drives == _BRAKE), None)
    by = whole.levers.get("brake")
    weak = _weak(whole)
    weaker = weak if weak.levers != whole.levers else None
    way = None
    if side is not None and by is not None:
        way = reach(whole.file, whole.outlets, side.budgets, by, lambda outlet: shares_left(whole, outlet))
    asked = service(whole, way, weaker)
    if side is None or by is None or foot is None:
        return _Braking(None, None, (), {}, None, asked)
    least_n = float(parse(_STEP["psi" in units_of(whole.file, foot).pressure], "force")) * (POINTS - 1)
    most_n = least_n * ceil(max(USUAL_N, foot) / least_n)
    return _Braking(
        stop=whole.stop(foot),
        balance=balance(whole, foot),
        failures=failures(whole, foot, way, weaker),
        curves=curves(whole.file, whole.outlets, side.budgets, by, most_n),
        weakest_stop=weak.stop(foot) if weak.levers["brake"] != by else None,
        service=asked,
    )


def _weak(whole: System) -> System:
    """Return the same car with the most friction in its pedals that is assumed of those that state none."""
    least = {figure.key: figure.low for figure in whole.figures}
    levers = {
        drives: by._replace(efficiency=least.get(_EFFICIENCY[drives], by.efficiency))
        for drives, by in whole.levers.items()
    }
    return whole._replace(levers=levers)


def _figures(whole: System, moved: Sequence[Displacement], braking: _Braking) -> tuple[Figure, ...]:
    found = [*whole.figures, *(figure for each in moved for figure in each.figures)]
    if braking.failures:
        found += assumed(whole)
    return tuple(dict.fromkeys(found))


def _unknown(graph: PortGraph) -> Iterator[Gap]:
    """Yield what no catalog has: what else is missing may only be missing for that."""
    yield from (Gap(item.tag, f"parts.{item.part_id}") for item in graph.unknown_parts)


def _gaps(whole: System, moved: Sequence[Displacement], braking: _Braking) -> Iterator[Gap]:
    yield from whole.gaps
    for each in moved:
        yield from each.gaps
    for outlet in whole.outlets.outlets:
        if outlet.drives is None:
            yield idle(outlet)
    if not whole.outlets.of("brake"):
        yield Gap("pedal", "a master cylinder that feeds a brake")
    elif whole.file.car is not None and not whole.file.car.rules:
        yield Gap("car", "car.rules")
    if braking.balance is not None and braking.balance.lowest is None and whole.outlets.bar is not None:
        stated = whole.file.pedal is not None and whole.file.pedal.bar is not None
        yield Gap("pedal", "pedal.bar.adjust" if stated else "pedal.bar")
    if whole.outlets.of("clutch") and (whole.file.clutch is None or whole.file.clutch.needs_force is None):
        yield Gap("clutch", "clutch.needs_force")
