"""From the foot to pressure: lever, booster, balance bar, piston, proportioning valves.

Forces in N, areas in mm2, pressures in MPa. Limits: quasi-static; return springs and seal friction are left out unless
`efficiency` takes them in; a residual valve lets pressure pass on to the brakes undiminished. Where two master
cylinders press into the same fluid, the lower of their pressures is what the brakes are said to get.
"""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from fitcheck.build.driving import ClutchPedal, Pedal
from fitcheck.build.model import BuildFile
from fitcheck.hydraulics.outlets import Outlets, Valve
from fitcheck.hydraulics.record import Drives, Figure, Gap, Outlet, Push

_EFFICIENCY = "of lever and master cylinder: the ideal if nobody measured it; from memory"


class Lever(NamedTuple):
    """What turns the foot's push into that on the rods. Without a booster `gain` is 1; `limit_n` is what it adds."""

    ratio: float
    efficiency: float = 1.0
    gain: float = 1.0
    limit_n: float | None = None

    def rod_n(self, foot_n: float) -> float:
        """Return the force on all rods together at a push of the foot."""
        return rod_force_n(foot_n, self.ratio, self.efficiency, self.gain, self.limit_n)


def rod_force_n(
    foot_n: float, ratio: float, efficiency: float = 1.0, gain: float = 1.0, limit_n: float | None = None
) -> float:
    """Return the force on the rods [N]: foot x ratio x efficiency, and what a booster adds to it, at most `limit_n`.

    Source: statics of a lever; a booster adds (gain - 1) times what goes in until it is exhausted.

    >>> round(rod_force_n(70.0, 6.2), 6), rod_force_n(100.0, 4.0, gain=3.0, limit_n=500.0)
    (434.0, 900.0)
    """
    into = foot_n * ratio * efficiency
    added = into * (gain - 1.0)
    return into + (added if limit_n is None else min(added, limit_n))


def pressure_mpa(force_n: float, piston_mm2: float) -> float:
    """Return the pressure that a force on a piston makes [MPa]."""
    return force_n / piston_mm2


def metered_mpa(pressure: float, valves: Iterable[Valve]) -> float:
    """Return the pressure behind proportioning valves in series [MPa], the first of them nearest to the outlet.

    >>> metered_mpa(8.0, [Valve(3.0, 0.4)]), metered_mpa(2.0, [Valve(3.0, 0.4)])
    (5.0, 2.0)
    """
    for valve in valves:
        pressure = min(pressure, valve.setting_mpa + valve.slope * (pressure - valve.setting_mpa))
    return pressure


def lever(file: BuildFile, drives: Drives) -> tuple[Lever | None, tuple[Figure, ...], tuple[Gap, ...]]:
    """Return what turns the push on one pedal into that on the rods, what that assumes, and what is missing for it."""
    section = "pedal" if drives == "brake" else "clutch"
    stated: Pedal | ClutchPedal | None = file.pedal if drives == "brake" else file.clutch
    if stated is None or stated.ratio is None:
        return None, (), (Gap(section, f"{section}.ratio"),)
    key = f"{section}.efficiency"
    assumed = () if stated.efficiency is not None else (Figure(key, 1.0, "", "assumed", _EFFICIENCY, 0.8, 1.0),)
    booster = stated.booster if isinstance(stated, Pedal) else None
    gain, limit = (booster.gain, booster.limit) if booster is not None else (1.0, None)
    return Lever(stated.ratio, stated.efficiency or 1.0, gain, limit), assumed, ()


def stated_foot_n(file: BuildFile, drives: Drives) -> float | None:
    """Return the push of the foot that the build states for one pedal."""
    stated: Pedal | ClutchPedal | None = file.pedal if drives == "brake" else file.clutch
    return stated.force if stated is not None else None


def press(
    foot_n: float,
    drives: Drives,
    by: Lever,
    found: Outlets,
    *,
    shares: Mapping[str, float] | None = None,
    lost: frozenset[str] = frozenset(),
) -> Push:
    """Return what one pedal does at a push of the foot; what cannot be computed is left out.

    `shares` are shares of the push by master cylinder, in place of those of the outlets. `lost` are outlets without
    pressure.
    """
    rod_n = by.rod_n(foot_n)
    forces: dict[str, float] = {}
    pressures: dict[str, float] = {}
    for outlet in found.of(drives):
        share = outlet.share if shares is None else shares.get(outlet.tag)
        if share is None:
            continue
        forces[outlet.tag] = share * rod_n
        if outlet.ref in lost:
            pressures[outlet.ref] = 0.0
        elif outlet.area_mm2 is not None:
            pressures[outlet.ref] = pressure_mpa(forces[outlet.tag], outlet.area_mm2)
    return Push(drives, foot_n, rod_n, forces, pressures, at_consumers(pressures, drives, found))


def at_consumers(pressures: Mapping[str, float], drives: Drives, found: Outlets) -> dict[str, float]:
    """Return the pressure at each consumer from those at the outlets, behind proportioning valves [MPa].

    What two circuits feed gets the mean of both, as if each moved half of its pistons: common practice, no source.
    What an outlet without known pressure or a valve without known figures feeds is left out.
    """
    circuits: dict[str, dict[int, float | None]] = {}
    for outlet in found.of(drives):
        for tag in outlet.consumers:
            at = _behind(pressures.get(outlet.ref), outlet, tag, found)
            each = circuits.setdefault(tag, {})
            number = found.networks[outlet.ref]
            before = each.get(number, at)
            each[number] = None if at is None or before is None else min(at, before)
    known: dict[str, float] = {}
    for tag, each in circuits.items():
        values = [value for value in each.values() if value is not None]
        if len(values) == len(each):
            known[tag] = sum(values) / len(values)
    return known


def _behind(pressure: float | None, outlet: Outlet, tag: str, found: Outlets) -> float | None:
    valves = [found.valves[name] for name in outlet.metered[tag]]
    known = [valve for valve in valves if valve is not None]
    return None if pressure is None or len(known) < len(valves) else metered_mpa(pressure, known)
