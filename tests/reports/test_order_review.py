"""What a review of the purchase reports found wrong: what is not counted, not stated, not proven, late or overdue."""

import json
from datetime import date
from decimal import Decimal

import pytest

from fitcheck.bom.ordering.change import PlanChange
from fitcheck.bom.ordering.record import Bound, FromStock, Order, Serves
from fitcheck.bom.record import LEFT_OUT_OF_NEEDS
from fitcheck.catalog.offers import Shipping
from fitcheck.reports.order_csv import order_csv
from fitcheck.reports.order_json import order_json, trade_off_json
from fitcheck.reports.order_mail import order_mail
from fitcheck.reports.order_text import order_text, trade_off_text
from fitcheck.reports.order_words import due_text, filled_up, headline, missing_heading, proof_text, uncounted_text
from fitcheck.reports.ready_text import ready_lines
from fitcheck.reports.swap_purchase import purchase_lines, purchase_value
from tests.reports.order_samples import (
    FROM_HALL,
    HALL,
    NOT_READY,
    NUTS,
    NUTS_ALONE,
    ON,
    PLAN,
    READY,
    SHED,
    TRADE_OFFS,
    WHOLE,
    money,
)

LEAST = HALL._replace(minimum_order=money("15.00 GBP"))
FILLED = NUTS_ALONE._replace(supplier=LEAST, lines=(NUTS._replace(serves=(Serves("nut-3-8-24", 4),), over=16),))
"""Two packs of ten at 8.00 GBP where four nuts are needed and 15.00 GBP is the smallest order."""


def without_carriage(order: Order) -> Order:
    """Return an order from somebody who says nothing of carriage."""
    return order._replace(supplier=order.supplier._replace(shipping=None), carriage=money("0.00 GBP"), unweighed=())


def test_o_rings_are_not_counted_and_it_says_so() -> None:
    """No field says which O-rings a joint takes: text and JSON say that none are in the plan."""
    assert LEFT_OUT_OF_NEEDS == ("O-rings",)
    assert json.loads(order_json(WHOLE, NOT_READY))["not_counted"] == ["O-rings"]
    assert "\n\nNot counted: O-rings.\n\n" in order_text(WHOLE, NOT_READY)


def test_what_is_not_here_in_time_is_not_called_unbuyable() -> None:
    """With a day asked for, parts cannot be here by it; without one they cannot be bought."""
    late, ever = PLAN, PLAN._replace(by=None)
    assert (missing_heading(late), missing_heading(ever)) == ("CANNOT BE HERE BY 2026-12-10", "CANNOT BE BOUGHT")
    assert headline(late).endswith("2 parts cannot be here by 2026-12-10, 1 amount not known")
    assert headline(ever).endswith("2 parts cannot be bought, 1 amount not known")
    assert "\nCANNOT BE BOUGHT (2)\n" in order_text(ever, READY)
    assert ',"CANNOT BE BOUGHT: Copper washer, M10",' in order_csv(ever)


def test_carriage_that_nobody_states_is_not_nothing() -> None:
    """Without stated carriage JSON has null, CSV an empty cell, the mail expects none, and the proof names it."""
    order = without_carriage(NUTS_ALONE)
    plan = WHOLE._replace(orders=(order,))
    (found,) = json.loads(order_json(plan, NOT_READY))["orders"]
    assert (found["carriage"], found["carriage_because"]) == (
        None,
        "nothing is said about carriage: it is not in this plan",
    )
    assert "\r\nHall Fittings,,,carriage,,,,GBP,,2026-12-02,,,,,\r\n" in order_csv(plan)
    assert "By\nyour terms I expect delivery by 2026-12-02." in order_mail(plan)
    assert proof_text(plan) == (
        "proven: no plan from these offers costs less; not counted: the carriage of hall, which is not stated"
    )


def test_carriage_that_is_free_is_nothing() -> None:
    """Stated carriage of nothing stands as nothing."""
    free = HALL._replace(shipping=Shipping(money("0.00 GBP")))
    plan = WHOLE._replace(orders=(NUTS_ALONE._replace(supplier=free, carriage=money("0.00 GBP")),))
    assert json.loads(order_json(plan, NOT_READY))["orders"][0]["carriage"] == "0.00 GBP"
    assert "\r\nHall Fittings,,,carriage,,,,GBP,0.00,2026-12-02,,,,,\r\n" in order_csv(plan)
    assert uncounted_text(plan) == ""


def test_weights_that_nobody_states_stand_beside_the_proof() -> None:
    """Carriage by weight of a part without one is told with the proof; the mail does not expect it."""
    plan = WHOLE._replace(orders=(NUTS_ALONE._replace(unweighed=("nut-3-8-24",)),))
    assert uncounted_text(plan) == "; not counted: weights not stated in the carriage of hall"
    assert "I expect delivery by 2026-12-02." in order_mail(plan)
    both = plan._replace(orders=(*plan.orders, without_carriage(FROM_HALL._replace(supplier=SHED))))
    assert uncounted_text(both) == (
        "; not counted: the carriage of shed, which is not stated and weights not stated in the carriage of hall"
    )


def test_what_was_not_looked_at_stands_for_the_proof() -> None:
    """A plan that the solver proved among what it was given is not proven while something was not looked at."""
    unseen = ("not all ways of cutting pipe were tried", "whether pipe and tube could share a length was not looked at")
    plan = WHOLE._replace(bound=Bound(Decimal("20.50"), False, 10.0, unseen))
    told = (
        "not proven: not all ways of cutting pipe were tried; "
        "whether pipe and tube could share a length was not looked at"
    )
    assert proof_text(plan) == told
    proof = json.loads(order_json(plan, NOT_READY))["proof"]
    assert (proof["optimal"], proof["says"]) == (False, told)


def test_what_only_fills_up_an_order_is_said() -> None:
    """Of 16.00 GBP one pack is needed, the other only reaches the smallest order: text and JSON say what it costs."""
    plan = WHOLE._replace(orders=(FILLED,))
    assert filled_up(FILLED) == money("8.00 GBP")
    assert json.loads(order_json(plan, NOT_READY))["orders"][0]["only_to_fill_up"] == "8.00 GBP"
    text = " ".join(order_text(plan, NOT_READY).split())
    assert "of this 8.00 GBP is bought only to reach the smallest order or free carriage" in text


@pytest.mark.parametrize(
    "order",
    [
        NUTS_ALONE,  # both packs are needed
        FILLED._replace(supplier=HALL._replace(minimum_order=None)),  # nothing that it could reach
        FILLED._replace(supplier=HALL._replace(minimum_order=money("5.00 GBP"))),  # reached by what is needed
    ],
)
def test_what_fills_nothing_up_is_not_said(order: Order) -> None:
    """Packs beyond need that reach no sum, or one that is reached without them, are not blamed on it."""
    assert filled_up(order) is None
    assert json.loads(order_json(WHOLE._replace(orders=(order,)), NOT_READY))["orders"][0]["only_to_fill_up"] is None


@pytest.mark.parametrize(
    ("due", "supplier", "told"),
    [
        (date(2026, 12, 1), "hall", "due 2026-12-01, from hall"),
        (ON, None, "due 2026-11-29"),
        (date(2026, 11, 28), "hall", "was due 2026-11-28, overdue, from hall"),
        (None, None, "nobody knows when"),
    ],
)
def test_words_for_what_is_coming(due: date | None, supplier: str | None, told: str) -> None:
    """A day that is past is said to be overdue, and not promised again."""
    taken = FromStock("nut-3-8-24", 2, Serves("nut-3-8-24", 2), (), True, due, supplier)
    assert due_text(taken, ON) == told
    assert f"spare; {told}" in " ".join(order_text(PLAN._replace(stock=(taken,)), READY).split())


def test_the_table_says_what_it_lacks() -> None:
    """A table of plans that lack something says how much, in text and in each row of the JSON."""
    rows = tuple(row._replace(missing=2) for row in TRADE_OFFS)
    text = " ".join(trade_off_text("Dunlin", rows, ON).split())
    assert "NOT all of it: 2 parts cannot be had or counted, whatever the day (`fitcheck order` names them)" in text
    assert "NOT all of it" not in trade_off_text("Dunlin", TRADE_OFFS, ON)
    found = json.loads(trade_off_json("Dunlin", rows, ON))["trade_offs"]
    assert [row["missing"] for row in found] == [2, 2, 2]


@pytest.mark.parametrize(
    ("errors", "heading"),
    [
        (0, "READY: each circuit, if it is made before all others"),
        (1, "READY as far as parts go (1 error in this build): each circuit, if it is made before all others"),
        (3, "READY as far as parts go (3 errors in this build): each circuit, if it is made before all others"),
    ],
)
def test_parts_do_not_make_a_build_ready_that_has_errors(errors: int, heading: str) -> None:
    """With errors in the build nothing is called ready but as far as its parts go."""
    assert list(ready_lines(READY, ON, 120, errors))[1] == heading


CHANGE = PlanChange(
    (money("20.50 GBP"), money("24.00 GBP")), (1, 1), (None, None), (), (), ("nut-a",), True, missing_both=2
)


def test_an_exchange_says_what_neither_sum_has_in_it() -> None:
    """Parts missing before and after are counted beside the sums, which do not have them."""
    lines = list(purchase_lines(CHANGE, 100))
    assert lines[3:] == [
        "  cost: 20.50 GBP -> 24.00 GBP (+3.50 GBP), carriage in it",
        "  cannot be had: nut-a",
        "  2 parts cannot be had before or after: neither sum has them in it",
    ]
    assert purchase_value(CHANGE)["purchase"]["missing_both"] == 2
    assert "before or after" not in "\n".join(purchase_lines(CHANGE._replace(missing_both=0), 100))
