"""What a review of the purchase plan found wrong, each on a case small enough to work out by hand: amounts and days."""

from datetime import date

import pytest

from fitcheck.bom.ordering.change import compare_plans
from fitcheck.bom.ordering.dates import arrival
from fitcheck.bom.ordering.plan import purchase_plan, soonest, trade_off
from fitcheck.bom.ordering.record import Doable, Plan, Readiness
from fitcheck.catalog.money import parse_money
from fitcheck.catalog.offers import Shipping, WeightStep
from fitcheck.catalog.stock import Coming, Stocked
from fitcheck.quantities import parse
from fitcheck.reports.order_words import filled_up, proof_text

from .shops import DAY, ON, bought, flat, lengths, need, offer, only, part, shop, supplier, terms

NORTH = supplier("north", shipping=flat("5.00 GBP"))
READY = Readiness((), Doable((), (), ()))


def left_out(plan: Plan) -> list[tuple[str, str]]:
    """Return what a plan did not look at, and why."""
    return [(item.what, item.reason) for item in plan.left_out]


def test_unknown_carriage_and_weights_stand_beside_the_proof() -> None:
    """One supplier says nothing of carriage, one sends by weight a part without one: the proof counts neither."""
    by_weight = Shipping(None, (WeightStep(1.0, parse_money("3.00 GBP")),))
    offers = [offer(supplier("silent"), "a", "1.00"), offer(supplier("scales", shipping=by_weight), "b", "1.00")]
    plan = purchase_plan(shop([need("a", 1), need("b", 1)], offers), terms())
    assert [order.unweighed for order in plan.orders] == [(), ("b",)]
    assert proof_text(plan) == (
        "proven: no plan from these offers costs less; not counted: the carriage of silent, which is not stated "
        "and weights not stated in the carriage of scales"
    )


def test_what_is_bought_to_reach_a_smallest_order_is_said() -> None:
    """One of 4.00 is needed and 10.00 the smallest order: three are bought, two of them only to fill it up."""
    least = supplier("north", minimum_order=parse_money("10.00 GBP"))
    plan = purchase_plan(shop([need("a", 1)], [offer(least, "a", "4.00")]), terms())
    assert (only(plan).packs, only(plan).over) == (3, 2)
    (order,) = plan.orders
    assert filled_up(order) == parse_money("8.00 GBP")


def test_packs_over_for_another_reason_fill_nothing_up() -> None:
    """What comes over because of a pack, or a price break, is not bought to reach a sum."""
    least = supplier("north", minimum_order=parse_money("2.00 GBP"))
    plan = purchase_plan(shop([need("a", 3)], [offer(least, "a", "4.00", pack=5)]), terms())
    assert only(plan).over == 2
    assert [filled_up(order) for order in plan.orders] == [None]
    plan = purchase_plan(shop([need("a", 7)], [offer(least, "a", "1.20", breaks={10: "0.80"})]), terms())
    assert only(plan).over == 3
    assert [filled_up(order) for order in plan.orders] == [None]


def test_no_more_than_9999_packs_are_ordered() -> None:
    """A smallest order that only tens of thousands of packs would reach is out of reach, and so is such a need."""
    least = supplier("north", minimum_order=parse_money("200.00 GBP"))
    plan = purchase_plan(shop([need("a", 1)], [offer(least, "a", "0.01")]), terms())
    assert bought(plan) == {}
    assert [item.reasons for item in plan.missing] == [
        ("north: its smallest order of 200.00 GBP is not reached by all that it could send",)
    ]
    plan = purchase_plan(shop([need("a", 10_000)], [offer(NORTH, "a", "0.01")]), terms())
    assert bought(plan) == {("north", "a"): 9999}
    assert [(item.short, item.reasons) for item in plan.missing] == [
        (1, ("north: no more than 9999 packs are ordered",))
    ]


def test_nobody_knows_when_all_is_here_while_an_amount_is_not_known() -> None:
    """A part of which nobody knows how many leaves the last day open; of fluid it is a rule of thumb anyway."""
    offers = [offer(NORTH, "a", "1.00"), offer(NORTH, "fluid", "9.00", contents=500_000.0)]
    known, fluid = need("a", 1), need("fluid", 200, "ml")
    why = (("clutch_feed", "lines.clutch_feed.route is not given"),)
    assert purchase_plan(shop([known, fluid], offers), terms()).finish == date(2026, 12, 2)
    assert purchase_plan(shop([known._replace(unknown=why), fluid], offers), terms()).finish is None
    assert purchase_plan(shop([known, fluid._replace(unknown=why)], offers), terms()).finish == date(2026, 12, 2)


def test_the_table_counts_what_it_lacks() -> None:
    """A part that nobody sells and an amount that nobody knows are in no row's cost: each row says how many."""
    offers = [offer(supplier("quick", lead_time=DAY), "a", "9.00"), offer(NORTH, "a", "1.00")]
    known, unknown = need("a", 1), need("b", 0)._replace(unknown=(("here", "nobody knows"),))
    rows = trade_off(shop([known, unknown, need("gone", 1)], offers), terms())
    assert [(row.finish, str(row.cost), row.missing) for row in rows] == [
        (date(2026, 12, 1), "9.00 GBP", 2),
        (date(2026, 12, 2), "6.00 GBP", 2),
    ]
    assert [row.missing for row in trade_off(shop([known], offers), terms())] == [0, 0]


def test_what_no_catalog_has_is_named() -> None:
    """A slip of the pen in an offer, on the shelf or in what is coming is not passed over in silence."""
    asked = shop(
        [need("a", 1)],
        [offer(NORTH, "a", "1.00"), offer(NORTH, "aa", "0.10")],
        stock=[Stocked("b", 1)],
        coming=[Coming("c", 1)],
        parts=[part("a")],
    )
    assert left_out(purchase_plan(asked, terms())) == [
        ("on offer, aa", "no catalog has such a part"),
        ("in the stock file, b", "no catalog has such a part"),
        ("in the stock file, c", "no catalog has such a part"),
    ]


def test_pieces_without_lengths_and_bottles_without_contents_are_named() -> None:
    """Two coils of nobody knows what length are no tube, and a bottle of nobody knows what size no fluid."""
    asked = shop(
        [lengths("tube", 1000.0), need("fluid", 200, "ml")],
        [offer(NORTH, "tube", "9.00", per=5000.0), offer(NORTH, "fluid", "9.00", contents=500_000.0)],
        stock=[Stocked("tube", 2), Stocked("fluid", 1)],
        coming=[Coming("tube", 1)],
    )
    plan = purchase_plan(asked, terms())
    assert left_out(plan) == [
        ("on the shelf, tube", "how long the pieces are is not given: `lengths`"),
        ("on the shelf, fluid", "how much it is is not given: `contents`"),
        ("on its way, tube", "how long the pieces are is not given: `lengths`"),
    ]
    assert bought(plan) == {("north", "tube"): 1, ("north", "fluid"): 1}


def test_soonest_hurries_the_rest_though_one_part_has_no_day() -> None:
    """Nobody says when `a` comes; `b` is still bought where it comes first, though that costs more."""
    offers = [
        offer(supplier("vague", lead_time=None), "a", "1.00"),
        offer(supplier("slow", lead_time=10 * DAY), "b", "1.00"),
        offer(supplier("quick", lead_time=DAY), "b", "9.00"),
    ]
    asked = shop([need("a", 1), need("b", 1)], offers)
    assert bought(purchase_plan(asked, terms())) == {("vague", "a"): 1, ("slow", "b"): 1}
    plan = soonest(asked, terms())
    assert bought(plan) == {("vague", "a"): 1, ("quick", "b"): 1}
    assert (plan.finish, plan.by) == (None, None)


@pytest.mark.parametrize(("due", "told"), [(None, "on no known day"), (date(2026, 12, 20), "due 2026-12-20")])
def test_a_late_delivery_is_a_reason(due: date | None, told: str) -> None:
    """What is on its way and not here by the day asked for is named where the part is missing."""
    asked = shop([need("a", 1)], [], coming=[Coming("a", 1, due=due)])
    plan = purchase_plan(asked, terms(by=date(2026, 12, 5)))
    assert [item.reasons for item in plan.missing] == [(f"on its way, {told}", "no supplier in the offer files has it")]


def test_plans_that_lack_the_same_say_so() -> None:
    """A part missing before and after is counted apart from what an exchange brings or cures."""
    offers = [offer(NORTH, "a", "1.00")]
    before = purchase_plan(shop([need("a", 1), need("gone", 1), need("cured", 1)], offers), terms())
    after = purchase_plan(shop([need("a", 1), need("gone", 1), need("new", 1)], offers), terms())
    change = compare_plans((before, READY), (after, READY))
    assert (change.missing_both, change.missing_gone, change.missing_new) == (1, ("cured",), ("new",))
    assert compare_plans((before, READY), (before, READY)).missing_both == 2


@pytest.mark.parametrize(
    ("lead", "day"),
    [
        ("1 week", date(2026, 12, 7)),  # Monday to Monday
        ("2 weeks", date(2026, 12, 14)),
        ("7 d", date(2026, 12, 9)),  # the seventh working day after Monday
    ],
)
def test_a_week_is_of_the_calendar_and_a_day_is_a_working_day(lead: str, day: date) -> None:
    """Seven days are seven working days; a week is seven days, and then the next working day."""
    shut = supplier("shut", lead_time=parse(lead, "time"), closed=(5, 6))
    assert arrival(offer(shut, "a", "1.00"), ON) == day


def test_a_week_that_ends_on_a_closed_day_ends_on_the_next() -> None:
    """A week from Monday is a Monday, and where that is closed it is the Tuesday."""
    shut = supplier("shut", lead_time=parse("1 week", "time"), closed=(5, 6), closed_on=(date(2026, 12, 7),))
    assert arrival(offer(shut, "a", "1.00"), ON) == date(2026, 12, 8)


def test_soonest_prefers_stated_days() -> None:
    """Where everything can be had on a stated day the soonest plan does so and says when."""
    vague, late = supplier("vague", lead_time=None), supplier("late", lead_time=30 * DAY)
    quick, slow = supplier("quick", lead_time=3 * DAY), supplier("slow", lead_time=10 * DAY)
    offers = [offer(vague, "p", "1.00"), offer(late, "p", "2.00"), offer(quick, "c", "5.00"), offer(slow, "c", "1.00")]
    plan = soonest(shop([need("p", 1), need("c", 1)], offers), terms())
    assert bought(plan) == {("late", "p"): 1, ("slow", "c"): 1}
    assert plan.finish == date(2026, 12, 30)
