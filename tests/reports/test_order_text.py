"""The purchase plan as text."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.bom.cutting import CutPart, LeftOut
from fitcheck.bom.nesting.record import Cut
from fitcheck.bom.ordering.record import Doable, Readiness
from fitcheck.reports.order_text import order_text, trade_off_text
from fitcheck.reports.plain import caution_lines, columns
from tests.reports.order_hostile import LOOK, TEXTS, hostile
from tests.reports.order_samples import (
    NOT_READY,
    NOTHING,
    NUTS,
    ON,
    PLAN,
    READY,
    TRADE_OFFS,
    WHOLE,
)
from tests.reports.samples import CAUTION_LINES

WHOLE_TEXT = """\
Dunlin: what to buy, as of 2026-11-29: 2 orders, 73.92 GBP, 2 parts cannot be
here by 2026-12-10, 1 amount not known

Asked for by 2026-12-10: NOT everything is here by then

check finds 3 errors in this build: do not order before they are put right
(fitcheck check)

ORDER 1 of 2: Hall Fittings (hall), 2 lines
  note: closed in August

  packs  number    part, and what it is for                    each       cost
-------  --------  ------------------------------------  ----------  ---------
      2  N-3       nut-3-8-24                              8.00 GBP  16.00 GBP
                     Tube nut, 3/8-24 UNF, for 3/16 in
                       tube
                     pack of 10
                     for line_1.from, line_2.from,
                       line_3.from and 13 more, 2 spare
                     6 more than needed
      1  P-25      pipe                                  21.335 GBP  21.34 GBP
                     Tube, 3/16 in, copper-nickel
                     7620 mm
                     for front_feed, rear_feed, 1 spare
                     price holds until 2026-12-31

  goods 37.34 GBP; smallest order 15.00 GBP
  carriage 4.50 GBP: by weight, 0.84 kg, without the weight of nut-3-8-24, which
    is not stated
  total 41.84 GBP
  all of it is here on 2026-12-02

ORDER 2 of 2: Nordteil (nord), 2 lines

  packs  number    part, and what it is for                      each       cost
-------  --------  ----------------------------------------  --------  ---------
      2  4711      tee-3-16-long                             6.25 EUR  12.50 EUR
                     in place of tee-3-16 (Tee, three ports
                       for 3/16 in tube)
                     for tee_front, tee_rear
                     note: bolt through the middle
      2            fluid-dot-4                               7.90 EUR  15.80 EUR
                     Brake fluid, DOT 4
                     500 ml
                     for the build
                     250 ml more than needed
                     here on 2026-12-04

  goods 28.30 EUR
  carriage 9.00 EUR: the same for every order
  total 37.30 EUR = 32.08 GBP at 1 EUR = 0.86 GBP as of 2026-11-01
  what is ready is sent at once, the last of it is here on 2026-12-08

FROM THE SHELF (2)

  2 nut-3-8-24, for line_1.from, line_2.from, line_3.from and 13 more, 2 spare
  pipe, 1 length: 1830 mm, for front_feed, rear_feed, 1 spare

ON ITS WAY (2): ordered before

  2 nut-3-8-24, for line_1.from, line_2.from, line_3.from and 13 more, 2 spare;
    due 2026-12-01, from hall
  1 washer-m10-al, in place of washer-m10, for caliper_fl.inlet; nobody knows
    when

CANNOT BE HERE BY 2026-12-10 (2)

  washer-m10: 1 short
    Copper washer, M10
    for caliper_fl.inlet
    hall W-10: has 0
    washer-m10-al: no supplier in the offer files has it
  no part (nut): 1 short
    M10x1 external nut, bubble, for 1/2 in tube
    for big.to
    no catalog has such a part

SPARES AND WORK: what the bill does not count

  nut-3-8-24: 18, of them 2 spare
    spares: 10 per cent of nuts, common practice, no source
  pipe: 3 pieces, of them 1 spare
    spare: one end in 20 is spoiled, common practice, no source
  fluid-dot-4: 750 ml
    three times what the system holds, 250 ml: common practice, no source

AMOUNTS NOT KNOWN (1): not in this plan

  pipe, for clutch_feed: lines.clutch_feed.route is not given

NOT LOOKED AT (1): offers and deliveries

  shed, pipe: the price does not say for what length it is

CUTTING

  pipe: Tube, 3/16 in, copper-nickel
  1. offcut of 1830 mm, left 30 mm
     cut front_feed 900, spare 900 mm
  2. length of 7620 mm from hall P-25, left 5119.5 mm
     cut rear_feed 2500.5 mm
  LEFT OUT (1): in no bar
    clutch_feed: lines.clutch_feed.route is not given

Not counted: O-rings.

not proven in the time given: at most 0.5 % could be saved; not counted: weights
not stated in the carriage of hall

READY as far as parts go (3 errors in this build): each circuit, if it is made
before all others

circuit    first day        here    coming    short  held up by
---------  -------------  ------  --------  -------  ---------------------
clutch     now                 9         0        0  nothing
front      2026-12-08         12         4        0  tee-3-16-long (nord)
rear       parts missing      10         5        1  washer-m10 (cannot be
                                                     bought)

WHAT CAN BE MADE NOW, with what is on the shelf alone

  whole circuits: clutch
  by themselves: clutch_feed, mc_front
  front_feed lacks nut-3-8-24, tee-3-16
"""


def test_whole_text() -> None:
    """The plan says what to buy where, what is there, missing, not known, what is cut, and when circuits are ready."""
    assert order_text(PLAN, READY, errors=3) == WHOLE_TEXT + CAUTION_LINES


def test_a_plan_that_brings_everything() -> None:
    """Without gaps the plan is short: the order, its sums, the proof, what can be made now."""
    wanted = """\
Plover: what to buy, as of 2026-11-29: 1 order, 20.50 GBP, all here on
2026-12-02

ORDER 1 of 1: Hall Fittings (hall), 1 line
  note: closed in August

  packs  number    part, and what it is for        each       cost
-------  --------  --------------------------  --------  ---------
      2  N-3       nut-3-8-24                  8.00 GBP  16.00 GBP
                     Tube nut
                     pack of 10
                     for feed.from
                     6 more than needed

  goods 16.00 GBP; smallest order 15.00 GBP
  carriage 4.50 GBP: by weight, 0.3 kg
  total 20.50 GBP
  all of it is here on 2026-12-02

Not counted: O-rings.

proven: no plan from these offers costs less

WHAT CAN BE MADE NOW, with what is on the shelf alone

  whole circuits: none
  by themselves: none
"""
    assert order_text(WHOLE, NOT_READY) == wanted + CAUTION_LINES


def test_nothing_to_buy() -> None:
    """With everything on the shelf the plan says that nothing has to be bought."""
    wanted = """\
Plover: what to buy, as of 2026-11-29: nothing to buy, all here on 2026-11-29

Not counted: O-rings.

proven: no plan from these offers costs less
"""
    assert order_text(NOTHING, NOT_READY).startswith(wanted)


def test_narrow_terminal() -> None:
    """Where the table does not fit the lines of an order become a list, and nothing is lost."""
    text = order_text(PLAN, READY, width=40)
    wanted = """
  2 x N-3: nut-3-8-24
    Tube nut, 3/8-24 UNF, for 3/16 in
      tube
    pack of 10
    for line_1.from, line_2.from,
      line_3.from and 13 more, 2 spare
    6 more than needed
    8.00 GBP each, cost 16.00 GBP
  1 x P-25: pipe
"""
    assert wanted in text
    assert "\n  clutch: now; 9 here, 0 coming, 0\n    short; held up by nothing\n" in text


@pytest.mark.parametrize("width", [1, 20, 25, 33, 40, 50, 60, 66, 72, 79, 80, 100, 200])
def test_width(width: int) -> None:
    """No line is wider than the terminal, down to the least width that counts."""
    for plan, readiness in ((PLAN, READY), (WHOLE, NOT_READY)):
        text = order_text(plan, readiness, errors=1, width=width)
        assert max(columns(line) for line in text.split("\n")) <= max(width, 20)
    text = trade_off_text("Dunlin", TRADE_OFFS, ON, width=width)
    assert max(columns(line) for line in text.split("\n")) <= max(width, 52)


@LOOK
@given(TEXTS, st.integers(1, 120))
def test_no_text_drives_the_terminal(lines: list[str], width: int) -> None:
    """Whatever stands in names, numbers, notes and places, the report is printable lines, and the caution ends it."""
    plan, readiness = hostile(lines)
    text = order_text(plan, readiness, width=width)
    assert all(char == "\n" or char.isprintable() for char in text)
    assert text.endswith("\n".join(caution_lines(width)))


def test_orders_without_numbers() -> None:
    """Where no line has a supplier's number, the table has no column for it."""
    line = NUTS._replace(offer=NUTS.offer._replace(number=None))
    text = order_text(WHOLE._replace(orders=(WHOLE.orders[0]._replace(lines=(line,)),)), NOT_READY)
    assert "\n  packs  part, and what it is for        each       cost\n" in text


def test_long_lists_are_counted() -> None:
    """Of many offers not looked at, and many places that lack something, the first are named and the rest counted."""
    offers = tuple(LeftOut(f"shed {number}", "too late") for number in range(14))
    lacking = tuple((f"line_{number}", ("nut",)) for number in range(13))
    text = order_text(WHOLE._replace(left_out=offers), Readiness((), Doable((), (), lacking)))
    assert "NOT LOOKED AT (14): offers and deliveries\n\n  shed 0: too late\n" in text
    assert "\n  shed 11: too late\n  and 2 more\n" in text
    assert "\n  line_11 lacks nut\n  and 1 more that lack something\n" in text


def test_offers_ignored_in_cutting_are_named_once() -> None:
    """What the cutting list did not look at stands with the other offers, and once."""
    offer = LeftOut("shed", "no length")
    part = CutPart("hose", "Hose", "none", (), (), None, None, (Cut("drain", 210.0),), (), (offer,))
    text = order_text(WHOLE._replace(cuts=(part,), left_out=(offer,)), NOT_READY)
    wanted = """
NOT LOOKED AT (1): offers and deliveries

  shed: no length

CUTTING

  hose: Hose
  off a reel: drain 210 mm
"""
    assert wanted in text


def test_trade_off() -> None:
    """Each row says by when, how long that is, what it costs, and whether that is proven."""
    wanted = """\
Dunlin: cost against waiting, as of 2026-11-29

all here on      days       cost    orders  proven
-------------  ------  ---------  --------  --------
2026-12-01          2  98.40 GBP         3  yes
2026-12-08          9  73.90 GBP         2  no
not stated             70.00 GBP         1  yes

not proven: in the time given no cheaper plan was found, and there may be one
"""
    assert trade_off_text("Dunlin", TRADE_OFFS, ON) == wanted + CAUTION_LINES
    assert "not proven" not in trade_off_text("Dunlin", TRADE_OFFS[:1], ON)


def test_no_trade_off() -> None:
    """Without rows there is nothing to choose from."""
    wanted = """\
Dunlin: cost against waiting, as of 2026-11-29

No plan brings everything: there is nothing to choose from
"""
    assert trade_off_text("Dunlin", (), ON) == wanted + CAUTION_LINES
