"""Purchase plans written by hand, invented from beginning to end, that the report tests share."""

from datetime import date, time
from decimal import Decimal
from fractions import Fraction

from fitcheck.bom.cutting import CutPart, LeftOut
from fitcheck.bom.need import SPARE, Need, Use
from fitcheck.bom.nesting.record import Bar, Coil, Cut, Nest, Proof, Source
from fitcheck.bom.ordering.record import (
    Bound,
    CircuitReady,
    Doable,
    FromStock,
    Line,
    Missing,
    Order,
    Plan,
    Readiness,
    Serves,
    TradeOff,
)
from fitcheck.catalog.money import Money, parse_money
from fitcheck.catalog.offers import Break, Offer, Shipping, Supplier, WeightStep
from fitcheck.catalog.rates import Rate

ON = date(2026, 11, 29)


def money(text: str) -> Money:
    """Return the money that a text means."""
    return parse_money(text)


HALL = Supplier(
    "hall",
    "Hall Fittings",
    "GBP",
    minimum_order=money("15.00 GBP"),
    shipping=Shipping(
        by_weight=(WeightStep(1.0, money("4.50 GBP")), WeightStep(5.0, money("7.00 GBP"))),
        free_over=money("100.00 GBP"),
        packing=0.2,
    ),
    lead_time=3 * 86400.0,
    cut_off=time(14),
    note="closed in August",
)
NORD = Supplier("nord", "Nordteil", "EUR", shipping=Shipping(flat=money("9.00 EUR")), part_deliveries=True)
SHED = Supplier("shed", "shed", "GBP")

NUT = Need(
    "nut-3-8-24",
    "nut",
    "Tube nut, 3/8-24 UNF, for 3/16 in tube",
    "each",
    (*(Use(f"line_{number}.from", 1) for number in range(1, 17)), Use("", 2, "spare")),
    why=("spares: 10 per cent of nuts, common practice, no source",),
)
TEE = Need("tee-3-16", "tee", "Tee, three ports for 3/16 in tube", "each", (Use("tee_front", 1), Use("tee_rear", 1)))
PIPE = Need(
    "pipe",
    "tube",
    "Tube, 3/16 in, copper-nickel",
    "mm",
    pieces=(Cut("front_feed", 900.0), Cut("rear_feed", 2500.5), Cut(SPARE, 900.0)),
    unknown=(("clutch_feed", "lines.clutch_feed.route is not given"),),
    why=("spare: one end in 20 is spoiled, common practice, no source",),
)
FLUID = Need(
    "fluid-dot-4",
    "fluid",
    "Brake fluid, DOT 4",
    "ml",
    (Use("", 750, "work"),),
    why=("three times what the system holds, 250 ml: common practice, no source",),
)
WASHER = Need("washer-m10", "washer", "Copper washer, M10", "each", (Use("caliper_fl.inlet", 2),))
ODD = Need(None, "nut", "M10x1 external nut, bubble, for 1/2 in tube", "each", (Use("big.to", 1),))

NUTS = Line(
    Offer("nut-3-8-24", HALL, money("8.50 GBP"), "N-3", 10, breaks=(Break(2, money("8.00 GBP")),), mass=0.1),
    2,
    money("8.00 GBP"),
    money("16.00 GBP"),
    date(2026, 12, 2),
    (Serves("nut-3-8-24", 14),),
    6,
)
COILS = Line(
    Offer("pipe", HALL, money("21.335 GBP"), "P-25", per=7620.0, mass=0.44, valid_until=date(2026, 12, 31)),
    1,
    money("21.335 GBP"),
    money("21.34 GBP"),
    date(2026, 12, 2),
    (Serves("pipe", 3),),
    lengths=(7620.0,),
)
TEES = Line(
    Offer("tee-3-16-long", NORD, money("6.25 EUR"), "4711", note="bolt through the middle"),
    2,
    money("6.25 EUR"),
    money("12.50 EUR"),
    date(2026, 12, 8),
    (Serves("tee-3-16", 2, True),),
)
BOTTLES = Line(
    Offer("fluid-dot-4", NORD, money("7.9 EUR"), None, contents=500_000.0),
    2,
    money("7.9 EUR"),
    money("15.80 EUR"),
    date(2026, 12, 4),
    (Serves("fluid-dot-4", 750),),
    250,
)
FROM_HALL = Order(
    HALL,
    (NUTS, COILS),
    money("37.34 GBP"),
    money("4.50 GBP"),
    money("41.84 GBP"),
    money("41.84 GBP"),
    date(2026, 12, 2),
    0.84,
    ("nut-3-8-24",),
)
FROM_NORD = Order(
    NORD,
    (TEES, BOTTLES),
    money("28.30 EUR"),
    money("9.00 EUR"),
    money("37.30 EUR"),
    money("32.08 GBP"),
    date(2026, 12, 8),
)
EURO = Rate("EUR", Decimal("0.86"), "GBP", date(2026, 11, 1))

COIL = Coil(7620.0, Fraction(0), 1, 1, "hall P-25")
CUT = CutPart(
    "pipe",
    "Tube, 3/16 in, copper-nickel",
    "offers",
    (COIL,),
    (1830.0,),
    "GBP",
    Nest(
        (
            Bar(Source(True, 0), 1830.0, (Cut("front_feed", 900.0), Cut(SPARE, 900.0)), 30.0),
            Bar(Source(False, 0), 7620.0, (Cut("rear_feed", 2500.5),), 5119.5),
        ),
        (),
        (1,),
        Fraction(0),
        Fraction(7620),
        2500.5,
        5119.5,
        Proof(Fraction(0), 2500.5, 5119.5),
    ),
    left_out=(LeftOut("clutch_feed", "lines.clutch_feed.route is not given"),),
)

PLAN = Plan(
    build="Dunlin",
    on=ON,
    needs=(NUT, TEE, PIPE, FLUID, WASHER, ODD),
    orders=(FROM_HALL, FROM_NORD),
    stock=(
        FromStock("nut-3-8-24", 2, Serves("nut-3-8-24", 2)),
        FromStock("pipe", 1, Serves("pipe", 1), (1830.0,)),
        FromStock("nut-3-8-24", 2, Serves("nut-3-8-24", 2), (), True, date(2026, 12, 1), "hall"),
        FromStock("washer-m10-al", 1, Serves("washer-m10", 1, True), (), True),
    ),
    missing=(
        Missing(WASHER, 1, ("hall W-10: has 0", "washer-m10-al: no supplier in the offer files has it")),
        Missing(ODD, 1, ("no catalog has such a part",)),
    ),
    cost=money("73.92 GBP"),
    finish=None,
    bound=Bound(Decimal("73.60"), False, 10.0),
    cuts=(CUT,),
    left_out=(LeftOut("shed, pipe", "the price does not say for what length it is"),),
    rates=(EURO,),
    by=date(2026, 12, 10),
)
READY = Readiness(
    (
        CircuitReady("clutch", ON, (), 9, 0, 0),
        CircuitReady("front", date(2026, 12, 8), (("tee-3-16-long", "nord"),), 12, 4, 0),
        CircuitReady("rear", None, (("washer-m10", "cannot be bought"),), 10, 5, 1),
    ),
    Doable(("clutch",), ("clutch_feed", "mc_front"), (("front_feed", ("nut-3-8-24", "tee-3-16")),)),
)

NUTS_ALONE = Order(
    HALL, (NUTS,), money("16.00 GBP"), money("4.50 GBP"), money("20.50 GBP"), money("20.50 GBP"), date(2026, 12, 2), 0.3
)
WHOLE = Plan(
    build="Plover",
    on=ON,
    needs=(Need("nut-3-8-24", "nut", "Tube nut", "each", (Use("feed.from", 12),)),),
    orders=(NUTS_ALONE,),
    stock=(),
    missing=(),
    cost=money("20.50 GBP"),
    finish=date(2026, 12, 2),
    bound=Bound(Decimal("20.50"), True, 10.0),
)
"""One order, nothing missing, proven."""
NOTHING = WHOLE._replace(orders=(), cost=money("0.00 GBP"), finish=ON, bound=Bound(Decimal(0), True, 10.0), needs=())
"""All is on the shelf."""
NOT_READY = Readiness((), Doable((), (), ()))

TRADE_OFFS = (
    TradeOff(date(2026, 12, 1), money("98.40 GBP"), 3, True),
    TradeOff(date(2026, 12, 8), money("73.9 GBP"), 2, False),
    TradeOff(None, money("70.00 GBP"), 1, True),
)
