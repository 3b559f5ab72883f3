"""An order as plain text to paste into a mail: what a supplier has to know, and nothing else."""

from typing import Final

from fitcheck.bom.ordering.record import Line, Order, Plan
from fitcheck.errors import FitcheckError
from fitcheck.naming import hint
from fitcheck.reports.order_words import day, line_words, money
from fitcheck.reports.plain import columns, wrapped

_WIDTH: Final = 76
"""Columns of a line: short enough that no mail program breaks it, below the 78 of RFC 5322, clause 2.1.1."""
_RULE: Final = f"\n\n{'=' * _WIDTH}\n\n"
_MOST_SUBJECT: Final = 50
"""Characters of a build's name in the subject."""


class NoOrderError(FitcheckError, LookupError):
    """A plan that orders nothing from the supplier `tag`; `suppliers` are the tags of those that it orders from."""

    def __init__(self, tag: str, suppliers: tuple[str, ...]) -> None:
        self.tag = tag
        self.suppliers = suppliers
        super().__init__(tag, suppliers)

    def __str__(self) -> str:
        named = f"; it does from {', '.join(self.suppliers)}" if self.suppliers else ""
        return f"the plan buys nothing from {self.tag!r}{hint(self.tag, self.suppliers)}{named}"


def order_mail(plan: Plan, supplier: str | None = None) -> str:
    """Return the order to the supplier with this tag, or all orders one after the other, each with its subject.

    No field can begin a line or break one, so that none of them becomes a header of the mail. The caution is not in it:
    this text goes to somebody else, and it stands in the plan.

    Raises:
        NoOrderError: the plan buys nothing from that supplier.
    """
    orders = [order for order in plan.orders if supplier in (None, order.supplier.tag)]
    if supplier is not None and not orders:
        raise NoOrderError(supplier, tuple(order.supplier.tag for order in plan.orders))
    return _RULE.join(_mail(plan, order) for order in orders)


def _mail(plan: Plan, order: Order) -> str:
    lines = [f"Subject: Order of parts for {_subject(plan.build)}, {day(plan.on)}", "", "Good day,", ""]
    lines += wrapped(f"I would like to order from {_clean(order.supplier.name)}:", _WIDTH, "", "    ")
    lines.append("")
    for line in order.lines:
        lines += _line(plan, order, line)
    lines += ["", f"Goods: {_clean(money(order.goods))}", ""]
    lines += wrapped(_confirm(order), _WIDTH)
    return "\n".join([*lines, "", "Deliver to:", "", "", "", "With kind regards,", "", ""])


def _line(plan: Plan, order: Order, line: Line) -> list[str]:
    """Return one line: `2 x N-3  Tube nut (pack of 10)  8.50 GBP  17.00 GBP`; the prices below if it is too long."""
    words = line_words(plan, order, line)
    listed = [need.description for need in words.needs if need.part == words.part and not need.unlisted]
    what = _clean(line.description or " ".join(listed[:1])) or _clean(words.part)
    number = _clean(words.number)
    named = f"{line.packs} x {f'{number}  ' if number else ''}{what}{f' ({words.pack})' if words.pack else ''}"
    prices = f"{_clean(money(line.price))}  {_clean(money(line.cost))}"
    whole = f"{named}  {prices}"
    if columns(whole) <= _WIDTH:
        return [whole]
    first = [named] if columns(named) <= _WIDTH else wrapped(named, _WIDTH, "", "    ")
    return [*first, f"    {prices}"]


def _confirm(order: Order) -> str:
    expected = (
        [f"carriage of {_clean(money(order.carriage))}"]
        if order.supplier.shipping is not None and not order.unweighed
        else []
    )
    expected += [f"delivery by {day(order.arrives)}"] if order.arrives is not None else []
    said = f" By your terms I expect {' and '.join(expected)}." if expected else ""
    return f"Please confirm prices, carriage and the day of delivery before you send.{said}"


def _subject(build: str) -> str:
    name = _clean(build)
    return name if len(name) <= _MOST_SUBJECT else f"{name[: _MOST_SUBJECT - 3].rstrip()}..."


def _clean(text: str) -> str:
    """Return text on one line: whatever drives a terminal or breaks a line becomes a space, spaces become one."""
    return " ".join("".join(char if char.isprintable() else " " for char in text).split())
