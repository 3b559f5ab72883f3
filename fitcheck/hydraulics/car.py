"""What the car makes of the brakes: axle loads, what the tyres hold, which axle locks, and the balance that is right.

Axle loads at a deceleration of z times g (F9 of the trade, statics): front W (b + z h) / L, rear W (a - z h) / L, with
the centre of gravity h above the ground, a behind the front and b ahead of the rear axle, L from axle to axle. An
tyre holds `tyre_friction` times its load; one that is asked for more slides and holds just that.

Limits: a flat straight road, one friction for sliding and rolling, no air drag, no engine braking, rigid springs, the
wheels of an axle loaded alike. A car never brakes harder than what lifts its rear wheels. That brakes on one side only
pull the car round is not computed.
"""

from collections.abc import Callable, Sequence
from math import inf
from typing import Final, Literal, NamedTuple

from fitcheck.build.driving import Car
from fitcheck.hydraulics.record import Axle, Gap, Stop

G_MM_S2: Final = 9806.65
"""Standard gravity [mm/s2], exact by definition (CGPM 1901)."""
_SAME: Final = 1e-9
"""By what share a force may pass what the tyres hold and still be called at its limit: rounding."""
_ROUNDED: Final = 1e-14
Axles = Literal["front", "rear", "both"]


class Tyre(NamedTuple):
    """One braked tyre: the force that its brake asks of it [N], and its share of the axle's load."""

    axle: Axle
    force_n: float
    load_share: float = 0.5


class Masses(NamedTuple):
    """The car as braking sees it.

    Attributes:
        mass_kg: with driver and fuel.
        front_static: share of the weight on the front axle at rest.
        transfer: share of the weight that goes over to the front axle for each g: height over wheelbase.
        tyre_friction: what the tyres hold for each unit of load.
    """

    mass_kg: float
    front_static: float
    transfer: float
    tyre_friction: float

    @property
    def weight_n(self) -> float:
        """Weight [N]."""
        return self.mass_kg * G_MM_S2 / 1000.0

    @property
    def lift_g(self) -> float:
        """The deceleration at which the rear wheels lift [g]."""
        return (1.0 - self.front_static) / self.transfer


def masses(car: Car | None) -> tuple[Masses | None, tuple[Gap, ...]]:
    """Return the car as braking sees it, or None with the fields that are missing."""
    if car is None:
        return None, (Gap("car", "car"),)
    placed = car.front_share is not None or car.cg_behind_front is not None
    stated = {
        "mass": car.mass,
        "wheelbase": car.wheelbase,
        "cg_height": car.cg_height,
        "cg_behind_front or car.front_share": True if placed else None,
        "tyre_friction": car.tyre_friction,
    }
    gaps = tuple(Gap("car", f"car.{key}") for key, value in stated.items() if value is None)
    if car.mass is None or car.wheelbase is None or car.cg_height is None or car.tyre_friction is None or gaps:
        return None, gaps
    front = car.front_share if car.front_share is not None else 1.0 - (car.cg_behind_front or 0.0) / car.wheelbase
    return Masses(car.mass, front, car.cg_height / car.wheelbase, car.tyre_friction), ()


def axle_loads_n(weight_n: float, front_static: float, transfer: float, z: float) -> tuple[float, float]:
    """Return the loads of front and rear axle [N] at a deceleration of z g; they add up to the weight. Source: F9.

    Args:
        weight_n: weight of the car [N].
        front_static: share of it on the front axle at rest.
        transfer: height of the centre of gravity over wheelbase.
        z: deceleration [g].

    >>> axle_loads_n(10_000.0, 0.5, 0.25, 0.8)
    (7000.0, 3000.0)
    """
    front = weight_n * ideal_front_share(front_static, transfer, z)
    return front, weight_n - front


def ideal_front_share(front_static: float, transfer: float, z: float) -> float:
    """Return the front share of braking at which both axles would lock together at z g: (b + z h) / L. Source: F10."""
    return min(1.0, front_static + z * transfer)


def stop(foot_n: float, tyres: Sequence[Tyre], car: Masses) -> Stop:
    """Return what the car does when its brakes ask for these forces of its tyres.

    What a tyre holds is the lesser of what is asked and of friction times its load, which itself depends on the
    deceleration: with a given set of tyres sliding it is linear in itself, and the right set is found going down from
    the deceleration asked.
    """
    weight = car.weight_n
    front, rear = axle_forces_n(tyres)
    asked = (front + rear) / weight
    reached = _reached_g(min(asked, car.tyre_friction, car.lift_g), tyres, car)
    slides = [one.axle for one in tyres if one.force_n > _held_n(one, reached, car) * (1.0 + _SAME)]
    share = front / (front + rear) if front + rear > 0.0 else 0.0
    ideal = ideal_front_share(car.front_static, car.transfer, reached)
    return Stop(foot_n, asked, reached, share, ideal, axles_of("front" in slides, "rear" in slides))


def _reached_g(z: float, tyres: Sequence[Tyre], car: Masses) -> float:
    """Return the deceleration that what the tyres hold at it gives, at most `z`.

    Newton's way from above, on a sum of straight pieces that bends down only: exact after a few steps.
    """
    while True:
        rolling, at_rest, lean = 0.0, 0.0, 0.0
        for one in tyres:
            if one.force_n <= _held_n(one, z, car):
                rolling += one.force_n / car.weight_n
            else:
                grip, sign = car.tyre_friction * one.load_share, 1.0 if one.axle == "front" else -1.0
                at_rest += grip * (car.front_static if sign > 0.0 else 1.0 - car.front_static)
                lean += sign * grip * car.transfer
        lower = (rolling + at_rest) / (1.0 - lean) if lean < 1.0 else z
        if not lower < z * (1.0 - _ROUNDED):
            return z
        z = lower


def _held_n(tyre: Tyre, z: float, car: Masses) -> float:
    loads = axle_loads_n(car.weight_n, car.front_static, car.transfer, z)
    return car.tyre_friction * tyre.load_share * loads[0 if tyre.axle == "front" else 1]


def axles_of(front: bool, rear: bool) -> Axles | None:
    """Return the word for the axles that slide."""
    if front and rear:
        return "both"
    return "front" if front else "rear" if rear else None


def axle_forces_n(tyres: Sequence[Tyre]) -> tuple[float, float]:
    """Return the force asked of the front and of the rear tyres together [N]."""
    front, rear = (sum(one.force_n for one in tyres if one.axle == axle) for axle in ("front", "rear"))
    return front, rear


def adhesion_used(tyres: Sequence[Tyre], car: Masses) -> tuple[float, float]:
    """Return the most friction that a tyre of either axle would need if none slid: force over load."""
    z = sum(one.force_n for one in tyres) / car.weight_n
    loads = axle_loads_n(car.weight_n, car.front_static, car.transfer, z)
    used = {"front": 0.0, "rear": 0.0}
    for one in tyres:
        load = one.load_share * loads[0 if one.axle == "front" else 1]
        if one.force_n > 0.0:
            used[one.axle] = max(used[one.axle], one.force_n / load if load > 0.0 else inf)
    return used["front"], used["rear"]


def least(enough: Callable[[float], bool], start: float = 1.0, most: float = 1e6) -> float | None:
    """Return the least of a quantity that is enough, to one part in 1e12; None if nothing up to `most` is.

    Limits: whatever is enough must stay so with more of it.
    """
    high = start
    while not enough(high):
        high *= 2.0
        if high > most:
            return None
    low = 0.0
    while high - low > 1e-12 * high:
        middle = (low + high) / 2.0
        if not low < middle < high:
            break
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high
