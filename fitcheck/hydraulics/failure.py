"""Each circuit lost in turn to a leak anywhere in it: what deceleration is left, and what published rules ask.

A leak takes all pressure from its circuit, and from every outlet that shares its fluid. What the other one gets:

- Tandem master cylinder: the piston of the lost chamber goes to its stop, then the whole push of the rod reaches the
  other one. Its pressure at a push of the foot is what it was; the foot goes further.
- Two master cylinders on a balance bar: the rod of the lost circuit runs on until its cylinder stands on its stop, and
  carries its share again. Or the bar tips until it stands on its own stop in the pedal, and up to the whole push
  reaches the cylinder that is left; which comes first, the pins decide. Taken is the worse: the cylinder that is left
  gets its own share, unless the build states `pedal.share_left`.
- One circuit only: nothing is left.

Limits: quasi-static; the foot is taken to have travel enough, which the travel of each failure tells. A booster goes on
helping. Rules are compared with what is computed at the push of the foot that they allow, and are not met where pedal
or piston comes to its end before what they ask is reached: no type approval.
"""

from collections.abc import Callable, Iterator
from typing import Final

from fitcheck.hydraulics.car import G_MM_S2, least
from fitcheck.hydraulics.record import Failure, Figure, Outlet, Required
from fitcheck.hydraulics.system import System
from fitcheck.hydraulics.travel import Lost
from fitcheck.standards.braking_rules import Case, braking_rule

Reach = Callable[[Outlet | None, float], Lost | None]
"""Tells the foot's way with an outlet's circuit lost, or none, at a push [N]; None if it is not known."""
_SAME: Final = 1e-9


def failures(
    system: System, foot_n: float, reach: Reach | None = None, weak: System | None = None
) -> tuple[Failure, ...]:
    """Return what is left at a push of the foot [N] with each outlet's circuit of the brakes lost in turn.

    `reach` tells the foot's travel; without it that is not known. `weak` is the same car with the most friction that is
    assumed in its pedal.
    """
    return tuple(_failure(system, outlet, foot_n, reach, weak) for outlet in system.outlets.of("brake"))


def _failure(system: System, outlet: Outlet, foot_n: float, reach: Reach | None, weak: System | None) -> Failure:
    goes = reach(outlet, foot_n) if reach is not None else None
    return Failure(
        lost=outlet.ref,
        circuits=outlet.circuits,
        reached_g=_reached_g(system, foot_n, outlet),
        travel_mm=goes.before_mm if goes is not None else None,
        travel_left=goes.left if goes is not None else None,
        against=tuple(_required(system, "secondary", outlet, reach, weak)),
        doubtful=goes is not None and goes.doubtful,
        complete=goes is None or goes.complete,
    )


def service(system: System, reach: Reach | None = None, weak: System | None = None) -> tuple[Required, ...]:
    """Return what the rules that the build names ask of the brakes in order, and whether it is met."""
    return tuple(_required(system, "service", None, reach, weak))


def shares_left(system: System, outlet: Outlet) -> dict[str, float] | None:
    """Return the shares of the push by master cylinder with an outlet's circuit lost; None if they stay as they are."""
    stated = system.file.pedal.share_left if system.file.pedal is not None else None
    left = _cylinders_left(system, outlet)
    both = _shared(system)
    if stated is None or len(both) != 2 or len(left) != 1:
        return None
    return {tag: stated if tag in left else 1.0 - stated for tag in both}


def assumed(system: System) -> tuple[Figure, ...]:
    """Return what is assumed of the cylinder that is left: its own share of the push, and at most all of it."""
    shares, pedal = _shared(system), system.file.pedal
    if len(shares) != 2 or pedal is None or pedal.share_left is not None:
        return ()
    words = "of {}, with the other circuit lost: its own share, the least it can be; derived"
    return tuple(
        Figure("pedal.share_left", share, "", "assumed", words.format(tag), share, 1.0) for tag, share in shares.items()
    )


def _shared(system: System) -> dict[str, float]:
    """Return the shares of the push by master cylinder of the brakes, as far as known."""
    return {one.tag: one.share for one in system.outlets.of("brake") if one.share is not None}


def _lost(system: System, outlet: Outlet) -> frozenset[str]:
    networks = system.outlets.networks
    return frozenset(ref for ref, number in networks.items() if number == networks[outlet.ref])


def _cylinders_left(system: System, outlet: Outlet) -> set[str]:
    lost = _lost(system, outlet)
    return {one.tag for one in system.outlets.of("brake") if one.ref not in lost}


def _reached_g(system: System, foot_n: float, outlet: Outlet | None) -> float | None:
    if outlet is None:
        found = system.stop(foot_n)
    else:
        found = system.stop(foot_n, shares_left(system, outlet), _lost(system, outlet))
    return found.reached_g if found is not None else None


def _least_foot_n(system: System, asked_g: float, most_n: float, outlet: Outlet | None) -> float:
    """Return the least push of the foot that reaches a deceleration; where that is more than is allowed, the most."""

    def enough(foot_n: float) -> bool:
        reached = _reached_g(system, foot_n, outlet)
        return reached is not None and reached >= asked_g * (1.0 - _SAME)

    return most_n if not enough(most_n) else least(enough) or most_n


def _required(
    system: System, case: Case, outlet: Outlet | None, reach: Reach | None, weak: System | None
) -> Iterator[Required]:
    for name in system.file.car.rules if system.file.car is not None else ():
        rule = braking_rule(name)
        for clause in rule.asks(case):
            asked = clause.deceleration_mm_s2 / G_MM_S2
            reached = _reached_g(system, clause.pedal_n, outlet)
            foot = _least_foot_n(system, asked, clause.pedal_n, outlet) if reached is not None else clause.pedal_n
            goes = reach(outlet, foot) if reach is not None else None
            left = goes.left if goes is not None else None
            met = None if reached is None else reached >= asked * (1.0 - _SAME) and left is not False
            worst = _reached_g(weak, clause.pedal_n, outlet) if weak is not None else None
            source = f"{rule.title}, {clause.clause}; {clause.mark}"
            told = (rule.name, clause.clause, clause.words, asked, clause.pedal_n, reached, met, source)
            yield Required(*told, least_g=worst, travel_left=left)
