"""The purchase plan: at the least cost, by a day, as soon as can be, and what waiting saves."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import NamedTuple

from fitcheck.bom.ordering.answered import planned
from fitcheck.bom.ordering.market import Market, Shop, Terms
from fitcheck.bom.ordering.problem import Answer
from fitcheck.bom.ordering.record import Plan, TradeOff
from fitcheck.bom.ordering.solve import solve

_DAY = timedelta(days=1)


def purchase_plan(shop: Shop, terms: Terms) -> Plan:
    """Return the plan that leaves least unmet and, of those, costs least; everything here by `terms.by` if it is given.

    Raises:
        NoPlanError: the solver found none in the time given.
        NoSolverError: the solver is not installed.
        NestingError: a kerf or a length makes no sense.
    """
    return _made(shop, terms).whole()


def soonest(shop: Shop, terms: Terms) -> Plan:
    """Return the cheapest plan of those that have everything here first: all that can be had at all.

    Raises:
        As `purchase_plan`.
    """
    *_, last = _ever_sooner(shop, terms)
    return last.whole()


def trade_off(shop: Shop, terms: Terms) -> tuple[TradeOff, ...]:
    """Return what it costs to have everything here by ever later days: each row is cheaper than the one before.

    Raises:
        As `purchase_plan`.
    """
    rows: list[TradeOff] = []
    for made in _ever_sooner(shop, terms):
        last = last_day(made.plan)
        row = TradeOff(last, made.plan.cost, len(made.plan.orders), made.plan.bound.optimal)
        if rows and rows[-1].cost.amount >= row.cost.amount:
            rows.pop()  # as cheap, and later
        rows.append(row)
    return tuple(reversed(rows))


class _Made(NamedTuple):
    """A plan, still without its cutting lists, and what it was made from."""

    market: Market
    answer: Answer
    plan: Plan

    @property
    def short(self) -> int:
        """How much it leaves unmet."""
        return sum(self.answer.short)

    def whole(self) -> Plan:
        """Return the plan with its cutting lists."""
        return planned(self.market, self.answer)


def _made(shop: Shop, terms: Terms) -> _Made:
    market = Market(shop, terms)
    answer = solve(market.problem, terms.seconds)
    return _Made(market, answer, planned(market, answer, cutting=False))


def _ever_sooner(shop: Shop, terms: Terms) -> Iterator[_Made]:
    """Yield the least-cost plan, then the cheapest of those that end earlier, and so on to the earliest."""
    made = _made(shop, terms)
    lacking = made.short
    while made.short == lacking:
        yield made
        last = last_day(made.plan)
        by = last - _DAY if last is not None else _latest(shop, terms)
        if by is None or by < terms.on.date() or (last is not None and last <= terms.on.date()):
            return
        made = _made(shop, terms._replace(by=by))


def _latest(shop: Shop, terms: Terms) -> date | None:
    """Return the last day on which any offer that states its days would be here."""
    days = [day for _, day in Market(shop, terms).lots if day is not None]
    return max([*days, terms.on.date()])


def last_day(plan: Plan) -> date | None:
    """Return the day on which all that a plan brings together is here; None if nobody knows."""
    days = [order.arrives for order in plan.orders] + [item.due for item in plan.stock if item.coming]
    return max([plan.on, *(day for day in days if day is not None)]) if None not in days else None
