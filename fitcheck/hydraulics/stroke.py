"""How far the piston behind one outlet has to go: the sum of what everything on its side takes, over its area."""

from collections.abc import Iterable

from fitcheck.hydraulics.budget import Budget
from fitcheck.hydraulics.record import Push, Stroke, Take
from fitcheck.hydraulics.spread import total


def stroke_mm(volume_mm3: float, piston_mm2: float) -> float:
    """Return how far a piston goes to move a volume of fluid [mm].

    >>> round(stroke_mm(2000.0, 200.0), 3)
    10.0
    """
    return volume_mm3 / piston_mm2


def stroke(budget: Budget, push: Push, weakest: Push | None = None) -> Stroke | None:
    """Return the stroke of an outlet's piston at a push; None if its area or its pressure is not known.

    `weakest` is the push at the low end of what the force itself assumes, such as friction: the low end of the spread
    is then taken there. A piston that has come to the end of its stroke makes no more pressure; here it goes on, so
    that what lacks can be told.
    """
    outlet = budget.outlet
    pressure = push.pressures_mpa.get(outlet.ref)
    if pressure is None or not outlet.area_mm2:
        return None
    takes = budget.takes(pressure, push.at_mpa)
    if weakest is not None:
        takes = _lowest(takes, budget.takes(weakest.pressures_mpa[outlet.ref], weakest.at_mpa))
    value, low, high, _ = total(takes)
    used, least, most = (stroke_mm(volume, outlet.area_mm2) for volume in (value, low, high))
    return Stroke(outlet.ref, pressure, takes, used, (least, most), outlet.stroke_mm, not budget.gaps)


def _lowest(takes: Iterable[Take], weakest: Iterable[Take]) -> tuple[Take, ...]:
    pairs = zip(takes, weakest, strict=True)
    return tuple(take._replace(low_mm3=min(take.low_mm3, weak.low_mm3)) for take, weak in pairs)
