"""Orders as mails."""

from email import message_from_string

import pytest
from hypothesis import example, given

from fitcheck.bom.need import Need
from fitcheck.reports.order_mail import NoOrderError, order_mail
from fitcheck.reports.plain import columns
from tests.reports.order_hostile import LOOK, TEXTS, hostile
from tests.reports.order_samples import FROM_HALL, NOTHING, NUTS, PLAN, SHED

HALL = """\
Subject: Order of parts for Dunlin, 2026-11-29

Good day,

I would like to order from Hall Fittings:

2 x N-3  Tube nut, 3/8-24 UNF, for 3/16 in tube (pack of 10)
    8.00 GBP  16.00 GBP
1 x P-25  Tube, 3/16 in, copper-nickel (7620 mm)  21.335 GBP  21.34 GBP

Goods: 37.34 GBP

Please confirm prices, carriage and the day of delivery before you send. By
your terms I expect delivery by 2026-12-02.

Deliver to:



With kind regards,

"""
NORD = """\
Subject: Order of parts for Dunlin, 2026-11-29

Good day,

I would like to order from Nordteil:

2 x 4711  tee-3-16-long  6.25 EUR  12.50 EUR
2 x Brake fluid, DOT 4 (500 ml)  7.90 EUR  15.80 EUR

Goods: 28.30 EUR

Please confirm prices, carriage and the day of delivery before you send. By
your terms I expect carriage of 9.00 EUR and delivery by 2026-12-08.

Deliver to:



With kind regards,

"""


def test_the_order_to_one_supplier() -> None:
    """The mail has lines with prices, the sum of goods, and expects carriage only where all weights are known."""
    assert order_mail(PLAN, "hall") == HALL
    assert order_mail(PLAN, "nord") == NORD


def test_all_orders() -> None:
    """Without a supplier all orders follow one another, a rule between them."""
    assert order_mail(PLAN) == f"{HALL}\n\n{'=' * 76}\n\n{NORD}"
    assert order_mail(NOTHING) == ""


def test_nothing_is_expected_that_nobody_stated() -> None:
    """Without stated carriage and lead time the mail asks and expects nothing."""
    order = FROM_HALL._replace(supplier=SHED, arrives=None)
    text = order_mail(PLAN._replace(orders=(order,)))
    assert "\n\nPlease confirm prices, carriage and the day of delivery before you send.\n\nDeliver to:\n" in text


def test_a_part_that_means_nothing_here() -> None:
    """What the build says about a part that no catalog has is not the supplier's business: the part's id is sent."""
    need = Need("pmp", "", "no catalog has a part 'pmp'", "each", unlisted=True)
    line = NUTS._replace(offer=NUTS.offer._replace(part="pmp"), serves=(NUTS.serves[0]._replace(part="pmp"),))
    plan = PLAN._replace(needs=(need,), orders=(FROM_HALL._replace(lines=(line,)),))
    assert "\n2 x N-3  pmp (pack of 10)  8.00 GBP  16.00 GBP\n" in order_mail(plan)


def test_a_supplier_that_nothing_is_bought_from() -> None:
    """The message names the supplier asked for, the nearest one, and those that there are orders for."""
    with pytest.raises(NoOrderError) as caught:
        order_mail(PLAN, "hal")
    assert str(caught.value) == "the plan buys nothing from 'hal'; nearest is 'hall'; it does from hall, nord"
    with pytest.raises(NoOrderError) as caught:
        order_mail(NOTHING, "hall")
    assert str(caught.value) == "the plan buys nothing from 'hall'"


@LOOK
@given(TEXTS)
@example(["a\r\nBcc: a@example.org\r\n\r\n"])
@example(["Bcc: a@example.org"])
@example(["word " * 300])
def test_no_field_becomes_a_header(lines: list[str]) -> None:
    """Whatever stands in names and numbers, a mail has one header, its subject, and lines that no program breaks."""
    plan, _ = hostile(lines)
    for order in plan.orders:
        text = order_mail(plan._replace(orders=(order,)))
        message = message_from_string(text)
        assert message.keys() == ["Subject"]
        assert text.split("\n")[1:3] == ["", "Good day,"]
        assert all(char == "\n" or char.isprintable() for char in text)
        assert max(columns(line) for line in text.split("\n")[1:]) <= 76
        assert not [line for line in text.split("\n")[1:] if line.lower().startswith(("bcc:", "subject:", "from "))]
