"""On which day an order is here: working days, the cut-off, the lead time."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from math import ceil
from typing import Final

from fitcheck.catalog.offers import Offer, Supplier
from fitcheck.quantities import Quantity

_DAY: Final = timedelta(days=1)
_DAY_SECONDS: Final = 86_400.0
_WEEKS: Final = ("week", "weeks")


def arrival(offer: Offer, on: datetime) -> date | None:
    """Return the day on which something ordered at `on` is here; None if no lead time is stated.

    The lead time is the offer's own, else the supplier's, in whole working days, a part of a day counting as one; one
    that is stated in weeks is weeks of the calendar. Days are counted from the first working day on which the order
    is taken: the day of the order, or the next working day if it comes after the cut-off or on a day that is none. It
    arrives on a working day.
    """
    lead = offer.lead_time if offer.lead_time is not None else offer.supplier.lead_time
    if lead is None:
        return None
    start = taken(offer.supplier, on)
    days = ceil(lead / _DAY_SECONDS)
    if isinstance(lead, Quantity) and lead.text.rstrip().endswith(_WEEKS):
        return next(_working_days(offer.supplier, start + days * _DAY))
    return next(day for number, day in enumerate(_working_days(offer.supplier, start)) if number == days)


def taken(supplier: Supplier, on: datetime) -> date:
    """Return the working day on which a supplier takes an order made at `on`."""
    late = supplier.cut_off is not None and on.time() > supplier.cut_off
    start = on.date() + _DAY if late else on.date()
    return next(_working_days(supplier, start))


def _working_days(supplier: Supplier, start: date) -> Iterator[date]:
    """Yield the supplier's working days from `start` on; nothing stops them, for it is never closed every day."""
    day = start
    while True:
        if day.weekday() not in supplier.closed and day not in supplier.closed_on:
            yield day
        day += _DAY
