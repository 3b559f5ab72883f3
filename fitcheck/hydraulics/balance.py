"""How braking is shared between the axles: the ideal curve, the brakes as they are, and what the bar can make of them.

The ideal front share at a deceleration is that at which both axles would need the same friction: (b + z h) / L, F10 of
the trade. Brakes whose share lies above it lock the front wheels first, below it the rear ones.
"""

from collections.abc import Iterator, Mapping
from itertools import count
from typing import NamedTuple

from fitcheck.build.driving import BalanceBar
from fitcheck.hydraulics.brakes import corners, tyres
from fitcheck.hydraulics.car import (
    Axles,
    Masses,
    adhesion_used,
    axle_forces_n,
    axle_loads_n,
    axles_of,
    ideal_front_share,
    least,
)
from fitcheck.hydraulics.push import at_consumers
from fitcheck.hydraulics.record import Balance
from fitcheck.hydraulics.system import System

_STEP_G = 0.05
_TOGETHER = 1e-6
"""By what share the friction used by two axles may differ for them to lock together: rounding."""


class Setting(NamedTuple):
    """A setting of the bar: share of the push to the front, where its pivot then stands, and whether it can."""

    share: float
    front_mm: float | None
    reachable: bool | None


def ideal_curve(car: Masses) -> tuple[tuple[float, float], ...]:
    """Return pairs of deceleration [g] and ideal front share, up to 1 g or what the tyres hold, or rear wheels lift."""
    end = min(max(1.0, car.tyre_friction), car.lift_g)
    return tuple((z, ideal_front_share(car.front_static, car.transfer, z)) for z in _steps(end))


def _steps(end: float) -> Iterator[float]:
    for number in count():
        if number * _STEP_G >= end:
            break
        yield number * _STEP_G
    yield end


def bar_shares(bar: BalanceBar) -> tuple[float, float] | None:
    """Return the least and the greatest share of the push to the front over the bar's adjustment; None if not stated.

    `adjust` is to either side of the middle between the rods. A pivot cannot pass a rod.
    """
    if bar.adjust is None:
        return None
    either = bar.adjust / (bar.front + bar.rear)
    return max(0.0, 0.5 - either), min(1.0, 0.5 + either)


def balance(system: System, foot_n: float) -> Balance | None:
    """Return how the brakes share at a push of the foot [N], and what would be right; None if too little is known."""
    share = _front_share(system, foot_n, None)
    if share is None or system.car is None:
        return None
    pedal = system.file.pedal
    ends = bar_shares(pedal.bar) if pedal is not None and pedal.bar is not None else None
    lowest, highest = (_at_share(system, foot_n, end) for end in ends) if ends is not None else (None, None)
    right = right_setting(system)
    first = first_lock(system)
    return Balance(
        ideal=ideal_curve(system.car),
        share=share,
        lowest=lowest,
        highest=highest,
        locks_first=first[0] if first is not None else None,
        locks_at_g=first[1] if first is not None else None,
        right_balance=right.share if right is not None else None,
        right_front_mm=right.front_mm if right is not None else None,
        reachable=right.reachable if right is not None else None,
    )


def _at_share(system: System, foot_n: float, share: float) -> float | None:
    bar = system.outlets.bar
    return None if bar is None else _front_share(system, foot_n, {bar[0]: share, bar[1]: 1.0 - share})


def _front_share(system: System, foot_n: float, shares: Mapping[str, float] | None) -> float | None:
    asked = system.forces_n(foot_n, shares)
    return None if asked is None or sum(asked) == 0.0 else asked[0] / sum(asked)


def first_lock(system: System) -> tuple[Axles, float] | None:
    """Return which axle slides first as the foot pushes harder, and at what deceleration [g]; None if none ever does.

    Limits: where a valve meters the front brakes, an axle could come free again; the first time is told.
    """
    car = system.car
    if car is None or system.forces_n(1.0) is None:
        return None

    def used(foot: float) -> tuple[float, float]:
        return adhesion_used(system.tyres(foot) or (), car)

    foot = least(lambda force: max(used(force)) >= car.tyre_friction)
    if foot is None:
        return None
    slides = [one >= car.tyre_friction * (1.0 - _TOGETHER) for one in used(foot)]
    axles = axles_of(*slides)
    return None if axles is None else (axles, sum(system.forces_n(foot) or ()) / car.weight_n)


def right_setting(system: System) -> Setting | None:
    """Return the setting of the bar at which both axles lock together on a road that grips like `tyre_friction`.

    None if there is no bar, if a master cylinder presses brakes of both axles, or if no pressure does it: behind a
    valve that lets nothing more on.
    """
    bar, car = system.outlets.bar, system.car
    if bar is None or car is None or not _one_axle_each(system, bar):
        return None
    z = min(car.tyre_friction, car.lift_g)
    loads = axle_loads_n(car.weight_n, car.front_static, car.transfer, z)
    front, rear = (_rod_n(system, bar[axle], axle, car.tyre_friction * loads[axle]) for axle in (0, 1))
    if front is None or rear is None or front + rear == 0.0:
        return None
    share = front / (front + rear)
    pins = system.file.pedal.bar if system.file.pedal is not None else None
    if pins is None:
        return Setting(share, None, None)
    ends = bar_shares(pins)
    return Setting(
        share, (1.0 - share) * (pins.front + pins.rear), None if ends is None else ends[0] <= share <= ends[1]
    )


def _one_axle_each(system: System, bar: tuple[str, str]) -> bool:
    """Return whether each of the two master cylinders presses the brakes of its own axle, and of no other."""
    by_tag = {brake.tag: brake.axle for brake in system.brakes}
    fed = [
        {by_tag.get(consumer) for one in system.outlets.of("brake") if one.tag == tag for consumer in one.consumers}
        for tag in bar
    ]
    return fed == [{"front"}, {"rear"}]


def _rod_n(system: System, tag: str, axle: int, force_n: float) -> float | None:
    """Return the force on a master cylinder [N] at which its axle brakes with `force_n`; None if none does."""
    own = [one for one in system.outlets.of("brake") if one.tag == tag and one.area_mm2]

    def made(rod: float) -> float | None:
        idle = {one.ref: 0.0 for one in system.outlets.of("brake")}
        pressed = {one.ref: rod / one.area_mm2 for one in own if one.area_mm2}
        asked = tyres(corners(system.brakes, at_consumers({**idle, **pressed}, "brake", system.outlets)))
        return None if asked is None else axle_forces_n(asked)[axle]

    if not own or made(1.0) is None:
        return None
    return 0.0 if force_n <= 0.0 else least(lambda rod: (made(rod) or 0.0) >= force_n)
