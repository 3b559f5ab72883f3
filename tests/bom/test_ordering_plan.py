"""The purchase plan: each rule of buying on a case small enough to work out by hand."""

from datetime import date, datetime
from decimal import Decimal

import pytest

from fitcheck.bom.need import Need, Use
from fitcheck.bom.ordering.placing import placed
from fitcheck.bom.ordering.plan import purchase_plan, soonest, trade_off
from fitcheck.bom.ordering.record import Missing, Plan, Serves
from fitcheck.catalog.money import parse_money
from fitcheck.catalog.offers import Shipping, WeightStep
from fitcheck.catalog.rates import Rate
from fitcheck.catalog.stock import Coming, Stocked

from .shops import DAY, bought, flat, lengths, need, offer, only, part, shop, supplier, terms

NORTH = supplier("north", shipping=flat("5.00 GBP"))
SOUTH = supplier("south", shipping=flat("5.00 GBP"))


def reasons(plan: Plan) -> dict[str, tuple[int, tuple[str, ...]]]:
    """Return what is short, by part: how much, and why."""
    return {item.need.part or "": (item.short, item.reasons) for item in plan.missing}


def test_one_order_beats_two_cheaper_ones() -> None:
    """Each part is cheapest elsewhere, but a second carriage costs more than that saves."""
    offers = [
        offer(NORTH, "a", "10.00"),
        offer(SOUTH, "a", "9.00"),
        offer(NORTH, "b", "4.00"),
        offer(SOUTH, "b", "6.00"),
    ]
    plan = purchase_plan(shop([need("a", 1), need("b", 1)], offers), terms())
    assert bought(plan) == {("north", "a"): 1, ("north", "b"): 1}
    assert str(plan.cost) == "19.00 GBP"
    assert plan.bound.optimal
    assert plan.finish == date(2026, 12, 2)


def test_packs_breaks_and_free_carriage_are_weighed_together() -> None:
    """Seven of 1.20 cost 8.40; ten at 0.80 cost 8.00; 13 reach free carriage, and are dearer."""
    seller = supplier("north", shipping=flat("2.00 GBP", "10.00 GBP"))
    plan = purchase_plan(shop([need("a", 7)], [offer(seller, "a", "1.20", breaks={10: "0.80"})]), terms())
    line = only(plan)
    assert (line.packs, line.over, str(line.price), str(line.cost)) == (10, 3, "0.80 GBP", "8.00 GBP")
    assert str(plan.cost) == "10.00 GBP"  # 8.00 and 2.00 carriage; 13 packs at 10.40 are dearer


def test_a_smallest_order_is_filled_up_with_what_costs_least() -> None:
    """Needs for 6.00 from a supplier who takes 10.00: filled up with packs that come nearest above it."""
    seller = supplier("north", minimum_order=parse_money("10.00 GBP"))
    plan = purchase_plan(
        shop([need("a", 1), need("b", 1)], [offer(seller, "a", "4.00"), offer(seller, "b", "2.00")]), terms()
    )
    assert str(plan.cost) == "10.00 GBP"
    (order,) = plan.orders
    assert order.goods.amount >= Decimal("10.00")
    assert all(line.packs >= 1 for line in order.lines)


def test_the_shelf_comes_first_then_what_is_on_its_way() -> None:
    """Of 10 needed 3 are here and 4 coming: a pack of 5 is bought for the other 3."""
    shelves = [Stocked("a", 3)]
    coming = [Coming("a", 4, supplier="south", due=date(2026, 12, 9))]
    plan = purchase_plan(
        shop([need("a", 10)], [offer(NORTH, "a", "2.00", pack=5)], stock=shelves, coming=coming), terms()
    )
    assert [(item.quantity, item.coming, item.due) for item in plan.stock] == [
        (3, False, None),
        (4, True, date(2026, 12, 9)),
    ]
    assert (only(plan).packs, only(plan).over, only(plan).serves) == (1, 2, (Serves("a", 3),))
    assert plan.finish == date(2026, 12, 9)


def test_what_is_overdue_or_undated_makes_the_last_day_unknown() -> None:
    """Nobody knows when an overdue delivery comes, nor when all is here; with a day set it is bought again."""
    coming = [Coming("a", 1, due=date(2026, 11, 1))]
    offers = [offer(NORTH, "a", "2.00")]
    assert purchase_plan(shop([need("a", 1)], offers, coming=coming), terms()).finish is None
    in_time = purchase_plan(shop([need("a", 1)], offers, coming=coming), terms(by=date(2026, 12, 5)))
    assert bought(in_time) == {("north", "a"): 1}
    assert [tuple(item) for item in in_time.left_out] == [("on its way, a", "due 2026-11-01")]


def test_a_part_that_does_the_same_is_bought_where_it_saves() -> None:
    """A substitute proven by its ports is taken if it is cheaper, and said; never with exact parts asked for."""
    parts = [part("a"), part("b", max_pressure=20.0)]
    asked = shop([need("a", 2)], [offer(NORTH, "a", "3.00"), offer(NORTH, "b", "2.00")], parts=parts)
    plan = purchase_plan(asked, terms())
    assert bought(plan) == {("north", "b"): 2}
    assert only(plan).serves == (Serves("a", 2, True),)
    assert bought(purchase_plan(asked, terms(substitutes=False))) == {("north", "a"): 2}


def test_at_equal_cost_the_part_asked_for_is_bought() -> None:
    """A substitute that saves nothing is not worth the question whether it fits."""
    parts = [part("a"), part("b")]
    asked = shop([need("a", 2)], [offer(NORTH, "b", "2.00"), offer(NORTH, "a", "2.00")], parts=parts)
    assert bought(purchase_plan(asked, terms())) == {("north", "a"): 2}


def test_two_needs_share_what_there_is_of_one_part() -> None:
    """Parts `a` and `b` can both be served by `b`, of which there are three: nothing is given out twice."""
    parts = [part("a"), part("b", max_pressure=20.0)]
    asked = shop(
        [need("a", 2), need("b", 2)], [offer(NORTH, "b", "1.00", stock=3), offer(NORTH, "a", "9.00")], parts=parts
    )
    assert bought(purchase_plan(asked, terms())) == {("north", "a"): 1, ("north", "b"): 3}


def test_money_of_two_currencies_meets_only_by_a_stated_rate() -> None:
    """10.00 EUR at 0.86 beat 9.00 GBP; without a rate the offer is not looked at, and the answer says so."""
    euro = supplier("over", currency="EUR")
    offers = [offer(euro, "a", "10.00"), offer(NORTH, "a", "9.00"), offer(NORTH, "c", "1.00")]
    rate = Rate("EUR", Decimal("0.86"), "GBP", date(2026, 11, 20))
    plan = purchase_plan(shop([need("a", 1)], offers, rates=[rate]), terms())
    (order,) = plan.orders
    assert (str(order.total), str(order.home), plan.rates) == ("10.00 EUR", "8.60 GBP", (rate,))
    plan = purchase_plan(shop([need("a", 1)], offers, parts=[part("c")]), terms())
    assert bought(plan) == {("north", "a"): 1}
    assert [tuple(item) for item in plan.left_out] == [("over, a", "its price is in EUR, and no rate to GBP is given")]
    assert plan.rates == ()


def test_carriage_by_weight_takes_the_step_that_bears_it() -> None:
    """Three of 400 g and a box of 100 g are 1.3 kg: the second step; a part without weight is named."""
    steps = (WeightStep(1.0, parse_money("3.00 GBP")), WeightStep(2.0, parse_money("5.00 GBP")))
    seller = supplier("north", shipping=Shipping(None, steps, None, 0.1))
    plan = purchase_plan(
        shop([need("a", 3), need("b", 1)], [offer(seller, "a", "1.00", mass=0.4), offer(seller, "b", "1.00")]), terms()
    )
    (order,) = plan.orders
    assert (str(order.carriage), order.unweighed) == ("5.00 GBP", ("b",))
    assert order.weight == pytest.approx(1.3)


def test_what_is_too_heavy_for_the_last_step_is_told() -> None:
    """Three of 1 kg are more than the supplier sends: one is short, and the reason is the weight."""
    seller = supplier("north", shipping=Shipping(None, (WeightStep(2.0, parse_money("5.00 GBP")),)))
    plan = purchase_plan(shop([need("a", 3)], [offer(seller, "a", "1.00", mass=1.0)]), terms())
    assert reasons(plan) == {"a": (1, ("north: an order of more than 2 kg is not taken",))}


def test_every_reason_why_something_cannot_be_had() -> None:
    """No supplier, run out, too late, no rate, too few, a smallest order out of reach: each is told where it is so."""
    small = supplier("small", minimum_order=parse_money("50.00 GBP"))
    slow = supplier("slow", lead_time=20 * DAY)
    euro = supplier("over", currency="EUR")
    offers = [
        offer(NORTH, "late", "1.00", valid_until=date(2026, 11, 1), number="N-1"),
        offer(slow, "late", "1.00"),
        offer(euro, "late", "1.00"),
        offer(NORTH, "few", "1.00", stock=2),
        offer(SOUTH, "few", "1.00", stock=1, pack=3),
        offer(small, "little", "1.00", stock=1),
        offer(supplier("vague", lead_time=None), "vague", "1.00"),
        offer(NORTH, "tube", "1.00"),
    ]
    needs = [
        need("nobody", 1),
        need("late", 1),
        need("few", 9),
        need("little", 1),
        need("vague", 1),
        lengths("tube", 99.0),
    ]
    plan = purchase_plan(shop(needs, offers), terms(by=date(2026, 12, 10)))
    assert reasons(plan) == {
        "nobody": (1, ("no supplier in the offer files has it",)),
        "late": (
            1,
            (
                "north N-1: its price ran out on 2026-11-01",
                "slow: here on 2026-12-20 at the earliest",
                "over: its price is in EUR, and no rate to GBP is given",
            ),
        ),
        "few": (4, ("north: has 2", "south: has 1 pack of 3")),
        "little": (1, ("small: its smallest order of 50.00 GBP is not reached by all that it could send",)),
        "vague": (1, ("vague: no lead time is given",)),
        "tube": (1, ("north: the price does not say for what length it is",)),
    }
    assert plan.finish is None
    assert bought(plan) == {("north", "few"): 2, ("south", "few"): 1}


def test_what_no_catalog_has_is_missing() -> None:
    """A need in words only is never passed over."""
    nameless = Need(None, "nut", "a nut of a kind that nobody makes", "each", (Use("here", 2),))
    plan = purchase_plan(shop([nameless], []), terms())
    assert plan.missing == (Missing(nameless, 2, ("no catalog has such a part",)),)


def test_fluid_is_bought_by_what_a_bottle_holds() -> None:
    """Of 1200 ml needed 250 are here: two bottles of 500 at 6.00 cost less than one litre at 13.00."""
    offers = [
        offer(NORTH, "fluid", "6.00", contents=500_000.0),
        offer(NORTH, "fluid", "13.00", contents=1_000_000.0, number="L"),
    ]
    plan = purchase_plan(shop([need("fluid", 1200, "ml")], offers, stock=[Stocked("fluid", 0, (), 250_000.0)]), terms())
    assert (only(plan).packs, only(plan).serves, only(plan).over) == (2, (Serves("fluid", 950),), 50)
    assert placed(plan) == (Coming("fluid", 0, (), 1_000_000.0, "north", None, date(2026, 11, 30), date(2026, 12, 2)),)


def test_coils_are_bought_for_what_is_cut() -> None:
    """Three pieces of 3 m and one of 1 m, with an offcut of 1.2 m: coils of 5 m and 7 m, and a reel."""
    offers = [
        offer(NORTH, "tube", "20.00", per=7000.0),
        offer(NORTH, "tube", "12.00", per=5000.0, number="five"),
        offer(SOUTH, "tube", "3.00", per=1000.0, to_length=True),
    ]
    asked = shop([lengths("tube", 3000.0, 3000.0, 3000.0, 1000.0)], offers, stock=[Stocked("tube", 0, (1200.0,))])
    plan = purchase_plan(asked, terms())
    # 9 m off the reel at 27.00 beat 7 m and 5 m at 32.00, and three of 5 m at 36.00
    assert (only(plan).packs, only(plan).lengths, str(plan.cost)) == (9, (9000.0,), "32.00 GBP")
    (cut,) = plan.cuts
    assert cut.nest is not None
    assert [(bar.source.offcut, [piece.mm for piece in bar.cuts]) for bar in cut.nest.bars] == [
        (True, [1000.0]),
        (False, [3000.0, 3000.0, 3000.0]),
    ]


def test_sooner_costs_more_and_the_table_says_what() -> None:
    """Three ways: 30.00 tomorrow, 20.00 in three days, 15.00 in ten; each row is the cheapest of its day."""
    quick, usual, slow = (
        supplier(tag, lead_time=days * DAY) for tag, days in (("quick", 1), ("usual", 3), ("slow", 10))
    )
    offers = [offer(quick, "a", "30.00"), offer(usual, "a", "20.00"), offer(slow, "a", "15.00")]
    asked = shop([need("a", 1)], offers)
    rows = trade_off(asked, terms())
    assert [(row.finish, str(row.cost)) for row in rows] == [
        (date(2026, 12, 1), "30.00 GBP"),
        (date(2026, 12, 3), "20.00 GBP"),
        (date(2026, 12, 10), "15.00 GBP"),
    ]
    assert bought(soonest(asked, terms())) == {("quick", "a"): 1}
    assert bought(purchase_plan(asked, terms(by=date(2026, 12, 9)))) == {("usual", "a"): 1}


def test_no_row_is_later_and_as_dear() -> None:
    """A supplier who is quicker and no dearer leaves one row, whatever order the solver finds plans in."""
    quick, slow = supplier("quick", lead_time=DAY), supplier("slow", lead_time=9 * DAY)
    asked = shop([need("a", 1)], [offer(slow, "a", "15.00"), offer(quick, "a", "15.00")])
    assert [(row.finish, str(row.cost)) for row in trade_off(asked, terms())] == [(date(2026, 12, 1), "15.00 GBP")]


def test_an_order_waits_for_its_last_line() -> None:
    """One order is one delivery unless the supplier sends parts of it; each line knows its own day."""
    offers = [offer(NORTH, "a", "1.00"), offer(NORTH, "b", "1.00", lead_time=9 * DAY)]
    plan = purchase_plan(shop([need("a", 1), need("b", 1)], offers), terms())
    (order,) = plan.orders
    assert ([line.arrives for line in order.lines], order.arrives) == (
        [date(2026, 12, 2), date(2026, 12, 9)],
        date(2026, 12, 9),
    )
    assert [entry.due for entry in placed(plan)] == [date(2026, 12, 9)] * 2


def test_what_is_placed_is_not_bought_again() -> None:
    """The orders of a plan, noted as coming, leave nothing to buy; the day stays."""
    offers = [offer(NORTH, "a", "1.00", pack=4), offer(NORTH, "tube", "9.00", per=5000.0)]
    asked = shop([need("a", 6), lengths("tube", 1000.0)], offers)
    first = purchase_plan(asked, terms())
    again = purchase_plan(asked._replace(stock=type(asked.stock)((), placed(first))), terms())
    assert again.orders == ()
    assert (again.cost.amount, again.finish) == (0, first.finish)


def test_cents_add_up() -> None:
    """Lines add up to the goods, goods and carriage to the total, totals to the cost, with prices of four places."""
    seller = supplier("north", shipping=flat("4.95 GBP"))
    offers = [offer(seller, "a", "0.0125"), offer(seller, "b", "3.3333"), offer(SOUTH, "c", "0.005")]
    plan = purchase_plan(shop([need("a", 7), need("b", 3), need("c", 1)], offers), terms())
    for order in plan.orders:
        assert sum(line.cost.amount for line in order.lines) == order.goods.amount
        assert order.goods.amount + order.carriage.amount == order.total.amount
    assert sum(order.home.amount for order in plan.orders) == plan.cost.amount
    assert str(plan.cost) == "20.05 GBP"  # 0.09 + 10.00 + 4.95, 0.01 + 5.00


def test_the_cut_off_moves_the_day() -> None:
    """The same order is here a day later if it goes out after the cut-off."""
    seller = supplier("north", lead_time=DAY, cut_off=datetime(2026, 1, 1, 12, 0).time())
    asked = shop([need("a", 1)], [offer(seller, "a", "1.00")])
    assert purchase_plan(asked, terms()).finish == date(2026, 12, 1)
    assert purchase_plan(asked, terms(on=datetime(2026, 11, 30, 12, 1))).finish == date(2026, 12, 2)
