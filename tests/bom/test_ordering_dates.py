"""The day on which an order is here: counted by hand on a calendar."""

from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.bom.ordering.dates import arrival, taken
from fitcheck.catalog.money import parse_money
from fitcheck.catalog.offers import Offer, Supplier

DAY = 86_400.0
WEEKEND = (5, 6)
FRIDAY = datetime(2026, 11, 27, 10, 0)


def offer(lead: float | None, own: float | None = None, **supplier: object) -> Offer:
    """Return an offer of a supplier with this lead time in days, the offer's `own` before it."""
    lead_time = None if lead is None else lead * DAY
    seller = Supplier("s", "S", "GBP", lead_time=lead_time, **supplier)  # type: ignore[arg-type]
    return Offer("p", seller, parse_money("1 GBP"), lead_time=None if own is None else own * DAY)


@pytest.mark.parametrize(
    ("lead", "supplier", "on", "day"),
    [
        (2, {}, FRIDAY, date(2026, 11, 29)),  # every day counts
        (2, {"closed": WEEKEND}, FRIDAY, date(2026, 12, 1)),  # Monday, Tuesday
        (0, {"closed": WEEKEND}, FRIDAY, date(2026, 11, 27)),  # fetched at the counter
        (0, {"closed": WEEKEND}, datetime(2026, 11, 28, 9, 0), date(2026, 11, 30)),  # open again on Monday
        (1, {"closed": WEEKEND, "cut_off": time(12)}, datetime(2026, 11, 27, 12, 0), date(2026, 11, 30)),  # in time
        (1, {"closed": WEEKEND, "cut_off": time(12)}, datetime(2026, 11, 27, 12, 1), date(2026, 12, 1)),  # too late
        (1, {"closed": WEEKEND, "closed_on": (date(2026, 11, 30),)}, FRIDAY, date(2026, 12, 1)),
        (0.25, {}, FRIDAY, date(2026, 11, 28)),  # a part of a day is a day
        (7, {"closed": WEEKEND}, FRIDAY, date(2026, 12, 8)),
    ],
)
def test_days_are_counted_as_on_a_calendar(lead: float, supplier: dict[str, object], on: datetime, day: date) -> None:
    """Working days, cut-off, single closed days and parts of a day come out as counted by hand."""
    assert arrival(offer(lead, **supplier), on) == day


def test_an_offers_own_lead_time_comes_first() -> None:
    """The offer's lead time takes the place of the supplier's; without either nobody knows."""
    assert arrival(offer(2, own=10), FRIDAY) == date(2026, 12, 7)
    assert arrival(offer(None, own=1), FRIDAY) == date(2026, 11, 28)
    assert arrival(offer(None), FRIDAY) is None


def test_a_plain_date_is_before_every_cut_off() -> None:
    """Without a time of the day an order counts as made in the morning."""
    supplier = Supplier("s", "S", "GBP", cut_off=time(0))
    assert taken(supplier, datetime(2026, 11, 27)) == date(2026, 11, 27)


@given(
    st.integers(0, 40),
    st.sets(st.integers(0, 6), max_size=6),
    st.datetimes(datetime(2026, 1, 1), datetime(2027, 1, 1)),
    st.none() | st.times(),
)
def test_days_never_run_backwards(lead: int, closed: set[int], on: datetime, cut_off: time | None) -> None:
    """Nothing arrives before it is ordered or on a closed day; a later order or a longer lead is never here sooner."""
    asked = offer(lead, closed=tuple(sorted(closed)), cut_off=cut_off)
    day = arrival(asked, on)
    assert day is not None
    assert day >= on.date() + timedelta(days=lead)
    assert day.weekday() not in closed
    later = arrival(asked, on + timedelta(hours=7))
    longer = arrival(offer(lead + 1, closed=tuple(sorted(closed)), cut_off=cut_off), on)
    assert later is not None
    assert longer is not None
    assert later >= day
    assert longer > day
