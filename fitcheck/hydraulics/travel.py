"""How far the foot goes: the pedal's ratio times what the rods do, and the free play before.

A balance bar that tips carries its pivot along by each rod's travel times that rod's share of the push: the bar is a
lever, and does no work of its own. In a tandem master cylinder both chambers' strokes add up. A circuit that is lost
lets its piston run to the end of its stroke; the bar, or the piston behind, then goes on from there.

Limits: quasi-static; the bar is taken to tip as far as that, which a real one may not; rods and bulkhead are stiff.
"""

from collections.abc import Callable, Iterable, Mapping
from typing import NamedTuple

from fitcheck.build.driving import ClutchPedal, Pedal
from fitcheck.build.model import BuildFile
from fitcheck.hydraulics.budget import Budget
from fitcheck.hydraulics.outlets import Outlets
from fitcheck.hydraulics.push import Lever, press
from fitcheck.hydraulics.record import Drives, Figure, Outlet, Push, Stroke, Travel
from fitcheck.hydraulics.spread import Amount, amount, assumed, known, sure
from fitcheck.hydraulics.stroke import stroke

POINTS = 20
USUAL_N = 500.0
"""How far a curve runs where the build states no force. Source: 49 CFR 571.135 lets a stop take 500 N; from memory."""

Points = tuple[tuple[float, float, float], ...]
"""Foot [N], pressure at the outlet [MPa], travel of the foot [mm]."""


class Lost(NamedTuple):
    """The foot's way with circuits lost [mm]: before the rest makes pressure, at the push, and to the floor.

    `spread_mm` is that at the push over all assumptions. `ends` is whether a piston that is left comes to the end of
    its stroke, `may_end` whether it may by what is assumed. Where something is missing it is not `complete`: the foot
    goes further.
    """

    before_mm: float
    foot_mm: float
    spread_mm: tuple[float, float]
    floor_mm: float | None
    ends: bool = False
    may_end: bool = False
    complete: bool = True

    @property
    def left(self) -> bool | None:
        """Whether neither the pedal reaches its floor nor a piston that is left its end; None if not known."""
        if self.ends or (self.floor_mm is not None and self.foot_mm >= self.floor_mm):
            return False
        return True if self.complete and self.floor_mm is not None else None

    @property
    def doubtful(self) -> bool:
        """Whether it comes to its end by what is assumed, though not at the usual figures."""
        floor = self.floor_mm is not None and self.spread_mm[1] >= self.floor_mm
        return self.left is not False and (self.may_end or floor)


def foot_mm(rod_mm: float, ratio: float, free_play_mm: float) -> float:
    """Return how far the foot goes to move the rods, or a balance bar's pivot, by `rod_mm`.

    >>> foot_mm(20.0, 5.0, 3.0)
    103.0
    """
    return ratio * rod_mm + free_play_mm


def free_play(file: BuildFile, drives: Drives) -> Figure:
    """Return how far the foot goes before a rod moves [mm], stated or assumed."""
    section, stated = _pedal(file, drives)
    key = f"{section}.free_play"
    if stated is not None and stated.free_play is not None:
        return known(key, float(stated.free_play), "mm", "stated", "stated in the build")
    return assumed(key, "free_play")


def floor_mm(file: BuildFile, drives: Drives) -> float | None:
    """Return how far the foot can push a pedal [mm]; None if the build does not say."""
    stated = _pedal(file, drives)[1]
    return float(stated.travel) if stated is not None and stated.travel is not None else None


def travel(file: BuildFile, found: Outlets, push: Push, strokes: Iterable[Stroke]) -> Travel | None:
    """Return how far the foot goes at a push; None if the ratio, a share or the stroke of a piston is not known."""
    each = {one.outlet: one for one in strokes}
    used = {ref: Amount(one.used_mm, *one.spread_mm) for ref, one in each.items()}
    foot = _foot(file, found, push.drives, used)
    if foot is None:
        return None
    complete = all(each[outlet.ref].complete for outlet in _pistons(found, push.drives))
    return Travel(push.drives, push.foot_n, foot.value, (foot.low, foot.high), floor_mm(file, push.drives), complete)


def lost_travel(
    file: BuildFile, found: Outlets, budgets: Mapping[str, Budget], push: Push, lost: frozenset[str]
) -> Lost | None:
    """Return how far the foot goes with the circuits of `lost` outlets open; None if nothing is left or not known.

    Every lost piston runs to the end of its stroke, every other makes the pressure that it has in `push`. Without any
    lost it is the way of the whole pedal.
    """
    outlets = _pistons(found, push.drives)
    if all(outlet.ref in lost for outlet in outlets):
        return None
    rest = [budgets[outlet.ref] for outlet in outlets if outlet.ref not in lost]
    ends = {o.ref: sure(o.stroke_mm) for o in outlets if o.ref in lost and o.stroke_mm is not None}
    idle = push._replace(pressures_mpa=dict.fromkeys(push.pressures_mpa, 0.0), at_mpa=dict.fromkeys(push.at_mpa, 0.0))
    used = _used(rest, push)
    before, at = (_foot(file, found, push.drives, ends | each) for each in (_used(rest, idle), used))
    if before is None or at is None:
        return None
    strokes = [(used[each.outlet.ref], each.outlet.stroke_mm) for each in rest]
    return Lost(
        before.value,
        at.value,
        (at.low, at.high),
        floor_mm(file, push.drives),
        ends=any(end is not None and goes.value > end for goes, end in strokes),
        may_end=any(end is not None and goes.high > end for goes, end in strokes),
        complete=not any(each.gaps for each in rest),
    )


def reach(
    file: BuildFile,
    found: Outlets,
    budgets: Mapping[str, Budget],
    by: Lever,
    shares: Callable[[Outlet], Mapping[str, float] | None] = lambda _: None,
) -> Callable[[Outlet | None, float], Lost | None]:
    """Return what tells the foot's travel with an outlet's circuit lost, at a push of the foot, as failures ask for it.

    What shares the fluid is lost with it; without an outlet nothing is. `shares` tells those of the push by master
    cylinder with an outlet's circuit lost, None if they stay as they are.
    """

    def told(outlet: Outlet | None, foot_n: float) -> Lost | None:
        if outlet is None:
            return lost_travel(file, found, budgets, press(foot_n, "brake", by, found), frozenset())
        lost = frozenset(ref for ref, number in found.networks.items() if number == found.networks[outlet.ref])
        pushed = press(foot_n, "brake", by, found, shares=shares(outlet), lost=lost)
        return lost_travel(file, found, budgets, pushed, lost)

    return told


def curves(
    file: BuildFile, found: Outlets, budgets: Mapping[str, Budget], by: Lever, most_n: float = USUAL_N
) -> dict[str, Points]:
    """Return the brake pedal's travel against force, by outlet: 20 points from nothing to `most_n`.

    At 0 N stands the travel that gaps, cut-off and free play take before there is pressure. Outlets whose pressure is
    not known are left out; all are if the travel is not known.
    """
    found_points: dict[str, list[tuple[float, float, float]]] = {}
    for index in range(POINTS):
        push = press(most_n * index / (POINTS - 1), "brake", by, found)
        made = [one for each in budgets.values() if (one := stroke(each, push)) is not None]
        at = travel(file, found, push, made)
        if at is None:
            return {}
        for one in made:
            found_points.setdefault(one.outlet, []).append((push.foot_n, one.pressure_mpa, at.foot_mm))
    return {ref: tuple(points) for ref, points in found_points.items()}


def _used(budgets: Iterable[Budget], push: Push) -> dict[str, Amount]:
    found = (stroke(each, push) for each in budgets)
    return {one.outlet: Amount(one.used_mm, *one.spread_mm) for one in found if one is not None}


def _foot(file: BuildFile, found: Outlets, drives: Drives, used: Mapping[str, Amount]) -> Amount | None:
    """Return the foot's travel from that of each piston."""
    stated = _pedal(file, drives)[1]
    rod = _rod(_pistons(found, drives), used)
    if stated is None or stated.ratio is None or rod is None:
        return None
    play, ratio = amount(free_play(file, drives)), stated.ratio
    low, high = foot_mm(rod.low, ratio, play.low), foot_mm(rod.high, ratio, play.high)
    return Amount(foot_mm(rod.value, ratio, play.value), low, high)


def _rod(pistons: tuple[Outlet, ...], used: Mapping[str, Amount]) -> Amount | None:
    """Return how far the rods, or the pivot of the bar between them, go; None if something is not known."""
    if not pistons or any(outlet.ref not in used or outlet.share is None for outlet in pistons):
        return None
    parts = [used[outlet.ref].times(outlet.share or 0.0) for outlet in pistons]
    return Amount(sum(part.value for part in parts), sum(part.low for part in parts), sum(part.high for part in parts))


def _pistons(found: Outlets, drives: Drives) -> tuple[Outlet, ...]:
    """Return one outlet for each piston: two ports of one chamber are moved by one."""
    return tuple({(outlet.tag, found.networks[outlet.ref]): outlet for outlet in reversed(found.of(drives))}.values())


def _pedal(file: BuildFile, drives: Drives) -> tuple[str, Pedal | ClutchPedal | None]:
    return ("pedal", file.pedal) if drives == "brake" else ("clutch", file.clutch)
