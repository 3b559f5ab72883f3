"""The purchase plan: at the least cost, by a day, as soon as can be, and what waiting saves."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import NamedTuple

from fitcheck.bom.ordering.answered import planned
from fitcheck.bom.ordering.market import Market, Shop, Terms
from fitcheck.bom.ordering.record import Plan, TradeOff
from fitcheck.bom.ordering.solve import solve
from fitcheck.progress import task

_DAY = timedelta(days=1)


def purchase_plan(shop: Shop, terms: Terms) -> Plan:
    """Return the plan that leaves least unmet and, of those, costs least; everything here by `terms.by` if it is given.

    Raises:
        NoPlanError: the solver found none in the time given.
        NoSolverError: the solver is not installed.
        NestingError: a kerf or a length makes no sense.
    """
    return _made(shop, terms).plan


def soonest(shop: Shop, terms: Terms) -> Plan:
    """Return the cheapest plan of those that have everything here first: all that can be had at all.

    If all can be had on stated days it is; else what comes on no stated day, and cannot be had on one, is in the plan,
    and then nobody knows when all is here.

    Raises:
        As `purchase_plan`.
    """
    *_, last = _ever_sooner(shop, terms)
    return last.plan._replace(by=None)


def trade_off(shop: Shop, terms: Terms) -> tuple[TradeOff, ...]:
    """Return what it costs to have everything here by ever later days: each row is cheaper than the one before.

    Raises:
        As `purchase_plan`.
    """
    rows: list[TradeOff] = []
    for made in _ever_sooner(shop, terms):
        plan = made.plan
        lacking = len(plan.missing) + sum(bool(need.unknown) for need in plan.needs if need.unit != "ml")
        row = TradeOff(made.last, plan.cost, len(plan.orders), plan.bound.optimal, lacking)
        if rows and rows[-1].cost.amount >= row.cost.amount:
            rows.pop()  # as cheap, and later
        rows.append(row)
    return tuple(reversed(rows))


class _Made(NamedTuple):
    """A plan, and how much it leaves unmet."""

    plan: Plan
    short: int

    @property
    def last(self) -> date | None:
        """The last stated day on which something of the plan comes; None if nobody states a day for some of it."""
        on, days = self.plan.on, [order.arrives for order in self.plan.orders]
        days += [item.due if item.due is None or item.due >= on else None for item in self.plan.stock if item.coming]
        return None if None in days else self.last_stated

    @property
    def last_stated(self) -> date:
        """The last stated day on which something of the plan comes."""
        days = [line.arrives for order in self.plan.orders for line in order.lines]
        days += [item.due for item in self.plan.stock if item.coming]
        return max([self.plan.on, *(day for day in days if day is not None)])


def _made(shop: Shop, terms: Terms) -> _Made:
    market = Market(shop, terms)
    with task("planning purchases" if terms.by is None else f"planning purchases by {terms.by}"):
        answer = solve(market.problem, terms.seconds)
    return _Made(planned(market, answer), sum(answer.short) + sum(len(cut.dropped) for cut in market.cuts.values()))


def _ever_sooner(shop: Shop, terms: Terms) -> Iterator[_Made]:
    """Yield the least-cost plan, then the cheapest of those that end earlier, and so on to the earliest."""
    made = _made(shop, terms)
    lacking, undated = made.short, False
    if made.last is None:
        yield made
        dated = _made(shop, terms._replace(by=terms.by or date.max))
        undated = dated.short != lacking
        made = dated if not undated else made
    while made.short == lacking:
        yield made
        last = made.last_stated
        if last <= terms.on.date():
            return
        made = _made(shop, terms._replace(by=last - _DAY, undated=undated))
