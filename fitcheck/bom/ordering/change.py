"""What differs between two purchase plans: money, days, and what cannot be had."""

from datetime import date
from typing import NamedTuple

from fitcheck.bom.ordering.record import Plan, Readiness
from fitcheck.catalog.money import Money


class DayChange(NamedTuple):
    """A circuit that can be finished on another day than before; None where no day is known, or it is not there."""

    circuit: str
    before: date | None
    after: date | None


class PlanChange(NamedTuple):
    """The cost, the number of orders and the day on which all is here, before and after.

    `circuits` are those whose day changes, `missing_gone` and `missing_new` the parts that were missing and are not,
    or the other way round; `missing_both` counts those that are missing before and after.
    `proven` is True if neither plan could be cheaper.
    """

    cost: tuple[Money, Money]
    orders: tuple[int, int]
    finish: tuple[date | None, date | None]
    circuits: tuple[DayChange, ...]
    missing_gone: tuple[str, ...]
    missing_new: tuple[str, ...]
    proven: bool
    missing_both: int = 0

    @property
    def empty(self) -> bool:
        """True if both plans cost the same, end on the same day and lack the same."""
        pairs = (self.cost, self.orders, self.finish)
        same = all(before == after for before, after in pairs)
        return same and not (self.circuits or self.missing_gone or self.missing_new)


def compare_plans(before: tuple[Plan, Readiness], after: tuple[Plan, Readiness]) -> PlanChange:
    """Return what differs between a plan and another, each with what it makes of the circuits."""
    (old, old_ready), (new, new_ready) = before, after
    days = [{circuit.circuit: circuit.day for circuit in ready.circuits} for ready in (old_ready, new_ready)]
    names = dict.fromkeys([*days[0], *days[1]])
    lacking = [[item.need.part or item.need.description for item in plan.missing] for plan in (old, new)]
    return PlanChange(
        (old.cost, new.cost),
        (len(old.orders), len(new.orders)),
        (old.finish, new.finish),
        tuple(
            DayChange(name, days[0].get(name), days[1].get(name))
            for name in names
            if days[0].get(name) != days[1].get(name)
        ),
        tuple(part for part in lacking[0] if part not in lacking[1]),
        tuple(part for part in lacking[1] if part not in lacking[0]),
        old.bound.optimal and new.bound.optimal,
        sum(part in lacking[1] for part in lacking[0]),
    )
