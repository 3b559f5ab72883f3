"""The pressure side of one build put together: what presses, what is pressed, and what the car makes of it."""

from collections.abc import Mapping
from typing import NamedTuple

from fitcheck.build.circuits import Circuits
from fitcheck.build.graph import PortGraph
from fitcheck.build.model import BuildFile
from fitcheck.hydraulics.brakes import WheelBrake, corners, tyres, wheel_brakes
from fitcheck.hydraulics.car import Masses, Tyre, axle_forces_n, axle_loads_n, least, masses, stop
from fitcheck.hydraulics.outlets import Outlets, outlets
from fitcheck.hydraulics.push import Lever, lever, press
from fitcheck.hydraulics.record import Corner, Drives, Figure, Gap, Push, Stop


class System(NamedTuple):
    """One build from its pedals to its tyres.

    `levers` hold a pedal only if its ratio is known, `car` is None if not all is known that braking asks of it.
    `figures` are what was assumed, `gaps` what could not be computed for want of a field.
    """

    file: BuildFile
    outlets: Outlets
    brakes: tuple[WheelBrake, ...]
    levers: Mapping[Drives, Lever]
    car: Masses | None
    figures: tuple[Figure, ...]
    gaps: tuple[Gap, ...]

    def push(
        self,
        foot_n: float,
        drives: Drives = "brake",
        shares: Mapping[str, float] | None = None,
        lost: frozenset[str] = frozenset(),
    ) -> Push | None:
        """Return what a pedal does at a push of the foot [N]; `shares` and `lost` as in `press`; None without ratio."""
        by = self.levers.get(drives)
        return None if by is None else press(foot_n, drives, by, self.outlets, shares=shares, lost=lost)

    def tyres(
        self, foot_n: float, shares: Mapping[str, float] | None = None, lost: frozenset[str] = frozenset()
    ) -> tuple[Tyre, ...] | None:
        """Return what the brakes ask of the tyres at a push of the foot [N]; None if one of them is not known."""
        pushed = self.push(foot_n, "brake", shares, lost)
        return None if pushed is None or not self.brakes else tyres(corners(self.brakes, pushed.at_mpa))

    def forces_n(self, foot_n: float, shares: Mapping[str, float] | None = None) -> tuple[float, float] | None:
        """Return the force that the brakes ask of the front and the rear tyres [N]; None if one is not known."""
        asked = self.tyres(foot_n, shares)
        return None if asked is None else axle_forces_n(asked)

    def stop(
        self, foot_n: float, shares: Mapping[str, float] | None = None, lost: frozenset[str] = frozenset()
    ) -> Stop | None:
        """Return what the car does at a push of the foot [N]; None if too little is known."""
        asked = self.tyres(foot_n, shares, lost)
        return None if asked is None or self.car is None else stop(foot_n, asked, self.car)

    def corners(self, foot_n: float) -> tuple[Corner, ...]:
        """Return what each brake does at a push of the foot [N], with what its tyre holds where that is known."""
        pushed = self.push(foot_n)
        found = corners(self.brakes, pushed.at_mpa if pushed is not None else {})
        reached = self.stop(foot_n)
        if reached is None or self.car is None:
            return found
        front, rear = axle_loads_n(self.car.weight_n, self.car.front_static, self.car.transfer, reached.reached_g)
        loads = {"front": front, "rear": rear}
        wheels = {axle: max(1, sum(one.axle == axle for one in found)) for axle in loads}
        held = {axle: self.car.tyre_friction * loads[axle] / wheels[axle] for axle in loads}
        return tuple(one._replace(limit_n=held[one.axle]) if one.axle is not None else one for one in found)

    def foot_for_g(self, deceleration_g: float) -> float | None:
        """Return the least push of the foot [N] that reaches a deceleration; None if none does, or it is not known."""
        if self.stop(1.0) is None:
            return None
        return least(lambda foot: (reached := self.stop(foot)) is not None and reached.reached_g >= deceleration_g)


def system(graph: PortGraph, circuits: Circuits | None = None) -> System:
    """Return the pressure side of a build: read once, it answers for any push of the foot."""
    circuits = circuits or Circuits(graph)
    file = graph.build.file
    found = outlets(graph, circuits)
    at_wheels = wheel_brakes(graph, found)
    levers: dict[Drives, Lever] = {}
    figures: list[Figure] = []
    gaps = [*found.gaps, *(at_wheels.gaps if file.pedal is not None else ())]
    drives: Drives
    for drives, section in (("brake", file.pedal), ("clutch", file.clutch)):
        if section is None:
            continue
        by, assumed, missing = lever(file, drives)
        if by is not None:
            levers[drives] = by
        figures += assumed
        gaps += missing
    car, missing = masses(file.car)
    gaps += missing if file.pedal is not None else ()
    return System(file, found, at_wheels.brakes, levers, car, tuple(figures), tuple(dict.fromkeys(gaps)))
