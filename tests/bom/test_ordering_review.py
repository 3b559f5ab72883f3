"""What a review of the purchase plan found wrong, each on a case small enough to work out by hand: cut goods."""

from datetime import date

import pytest

from fitcheck.bom.cutting import LeftOut
from fitcheck.bom.need import SPARE
from fitcheck.bom.nesting.record import Cut, Nest, NestingError
from fitcheck.bom.ordering import cut_goods
from fitcheck.bom.ordering import lengths as of_lengths
from fitcheck.bom.ordering.cut_goods import cut_want
from fitcheck.bom.ordering.lengths import LengthClass
from fitcheck.bom.ordering.plan import purchase_plan
from fitcheck.bom.ordering.record import FromStock, Plan, Serves
from fitcheck.catalog.money import parse_money
from fitcheck.catalog.offers import Shipping, WeightStep
from fitcheck.catalog.part import Part
from fitcheck.catalog.stock import Coming, Stocked

from .shops import bought, lengths, offer, part, shop, supplier, terms

NORTH, SOUTH = supplier("north"), supplier("south")
MANY = [offer(NORTH, "tube", "1.00", per=1010.0 + 10.0 * number, stock=1, number=f"N-{number}") for number in range(12)]
"""Twelve coils, each of another length, each good for one piece of 1 m."""


def tube(part_id: str) -> Part:
    """Return a tube that does the same as every other of these."""
    return part(part_id, "tube", od=4.75, wall=0.7, material="copper-nickel")


def cut_from(plan: Plan) -> list[tuple[str, float, list[str]]]:
    """Return what each length that is cut into comes from, how long it is [mm], and what is cut from it."""
    return [
        (
            "shelf" if bar.source.offcut else cuts.coils[bar.source.number].tag,
            bar.mm,
            [piece.tag for piece in bar.cuts],
        )
        for cuts in plan.cuts
        for bar in (cuts.nest.bars if cuts.nest is not None else ())
    ]


def short(plan: Plan) -> list[tuple[str | None, int, tuple[str, ...]]]:
    """Return what is missing, how much of it, and why."""
    return [(item.need.part, item.short, item.reasons) for item in plan.missing]


def test_one_piece_comes_off_one_reel() -> None:
    """Two reels in steps of 1 m at two suppliers, 4 m left on each: each piece of 3 m comes from one of them."""
    reels = [
        offer(seller, "tube", price, per=1000.0, to_length=True, stock=4)
        for seller, price in ((NORTH, "1.00"), (SOUTH, "1.50"))
    ]
    plan = purchase_plan(shop([lengths("tube", 3000.0, 3000.0)], reels), terms())
    assert bought(plan) == {("north", "tube"): 3, ("south", "tube"): 3}
    assert cut_from(plan) == [("north", 3000.0, ["line_0"]), ("south", 3000.0, ["line_1"])]
    too_long = purchase_plan(shop([lengths("tube", 5000.0)], reels), terms())
    assert bought(too_long) == {}
    assert [item.short for item in too_long.missing] == [1]


def test_many_lengths_are_weighed_against_one_dear_coil() -> None:
    """Twelve coils at 1.00 beat one at 100.00 that has everything; the proof owns up that not all ways were tried."""
    dear = offer(NORTH, "tube", "100.00", per=13_000.0, number="N-long")
    plan = purchase_plan(shop([lengths("tube", *[1000.0] * 12)], [*MANY, dear]), terms())
    assert str(plan.cost) == "12.00 GBP"
    assert (plan.bound.optimal, plan.bound.open) == (False, ("not all ways of cutting tube were tried",))


def test_many_lengths_are_not_called_unbuyable() -> None:
    """The same without the dear coil: all twelve are bought, and every piece is in the cutting list."""
    plan = purchase_plan(shop([lengths("tube", *[1000.0] * 12)], MANY), terms())
    assert (short(plan), str(plan.cost)) == ([], "12.00 GBP")
    assert sorted(tag for _, _, tags in cut_from(plan) for tag in tags) == sorted(f"line_{n}" for n in range(12))


def test_a_spare_piece_does_not_cancel_the_tube() -> None:
    """One coil of 5 m for a line of 4 m and a spare of 2 m: the spare is left out of the cutting list, no more."""
    need = lengths("tube", 4000.0)
    need = need._replace(pieces=(*need.pieces, Cut(SPARE, 2000.0)))
    plan = purchase_plan(shop([need], [offer(NORTH, "tube", "9.00", per=5000.0, stock=1)]), terms())
    assert (bought(plan), short(plan)) == ({("north", "tube"): 1}, [])
    assert cut_from(plan) == [("north", 5000.0, ["line_0"])]
    assert plan.cuts[0].left_out == (LeftOut(SPARE, "no length for it can be had"),)
    assert plan.finish == date(2026, 12, 2)


def test_a_line_longer_than_every_coil_is_missing_alone() -> None:
    """Of lines of 6 m and 2 m only the second fits a coil of 5 m: it is bought, the first is missing and named."""
    plan = purchase_plan(shop([lengths("tube", 6000.0, 2000.0)], [offer(NORTH, "tube", "9.00", per=5000.0)]), terms())
    assert bought(plan) == {("north", "tube"): 1}
    assert short(plan) == [
        (
            "tube",
            1,
            ("north: its lengths are not enough", "the lengths to be had are not enough for line_0 6000 mm"),
        )
    ]
    assert cut_from(plan) == [("north", 5000.0, ["line_1"])]
    assert plan.cuts[0].left_out == (LeftOut("line_0", "no length for it can be had"),)


@pytest.mark.parametrize(
    ("mm", "due"), [(1010.0, date(2026, 11, 1)), (1010.0, date(2026, 12, 20)), (1010.0, None), (5000.0, None)]
)
def test_what_lies_here_is_cut_before_what_is_coming(mm: float, due: date | None) -> None:
    """A piece is cut from the shelf though what is coming would fit more closely; nothing then waits for that."""
    stock, coming = [Stocked("tube", 0, (1200.0,))], [Coming("tube", 0, (mm,), due=due)]
    plan = purchase_plan(shop([lengths("tube", 1000.0)], [], stock=stock, coming=coming), terms())
    assert plan.stock == (FromStock("tube", 1, Serves("tube", 1), (1200.0,)),)
    assert (plan.finish, cut_from(plan)) == (date(2026, 11, 30), [("shelf", 1200.0, ["line_0"])])


def test_what_is_cut_out_of_a_delivery_waits_for_it() -> None:
    """Two pieces, one length here and one due: the second is cut from that, and the day is that of the delivery."""
    stock = [Stocked("tube", 0, (1200.0,))]
    coming = [Coming("tube", 0, (1100.0, 9000.0), supplier="north", due=date(2026, 12, 9))]
    plan = purchase_plan(shop([lengths("tube", 1000.0, 1050.0)], [], stock=stock, coming=coming), terms())
    assert [(item.coming, item.due, len(item.lengths)) for item in plan.stock] == [
        (False, None, 1),
        (True, date(2026, 12, 9), 1),
    ]
    assert plan.finish == date(2026, 12, 9)


def test_lengths_of_a_substitute_keep_their_name() -> None:
    """A length of a tube that does the same is taken off the shelf under its own id, and said to stand in."""
    asked = shop(
        [lengths("tube", 1000.0)], [], stock=[Stocked("pipe", 0, (1200.0,))], parts=[tube("tube"), tube("pipe")]
    )
    plan = purchase_plan(asked, terms())
    assert plan.stock == (FromStock("pipe", 1, Serves("tube", 1, True), (1200.0,)),)
    assert cut_from(plan) == [("the shelf, pipe", 1200.0, ["line_0"])]
    assert purchase_plan(asked, terms(substitutes=False)).stock == ()


def test_needs_that_could_share_a_coil_are_not_called_proven() -> None:
    """Two tubes that do the same, 1 m of each: one coil of 5 m would do for both, which nobody looked at."""
    parts = [tube("tube"), tube("pipe")]
    asked = shop(
        [lengths("tube", 1000.0), lengths("pipe", 1000.0)], [offer(NORTH, "tube", "9.00", per=5000.0)], parts=parts
    )
    bound = purchase_plan(asked, terms()).bound
    assert (bound.optimal, bound.open) == (False, ("whether tube and pipe could share a length was not looked at",))
    asked = shop([lengths("tube", 1000.0)], [offer(NORTH, "tube", "9.00", per=5000.0)], parts=parts)
    bound = purchase_plan(asked, terms()).bound
    assert (bound.optimal, bound.open) == (True, ())


def test_a_reel_shared_by_two_needs_is_laid_out_once() -> None:
    """Of 5 m off one reel 2 m are for one need and 3 m for the other: the cutting lists add up to what is bought."""
    asked = shop(
        [lengths("tube", 1500.0), lengths("pipe", 2500.0)],
        [offer(NORTH, "tube", "1.00", per=1000.0, to_length=True)],
        parts=[tube("tube"), tube("pipe")],
    )
    plan = purchase_plan(asked, terms())
    assert bought(plan) == {("north", "tube"): 5}
    assert cut_from(plan) == [("north", 2000.0, ["line_0"]), ("north", 3000.0, ["line_0"])]


def test_each_coil_is_in_one_cutting_list() -> None:
    """Three coils from one supplier and one from another, two needs of two each: no list names a coil twice."""
    asked = shop(
        [lengths("tube", 4000.0, 4000.0), lengths("pipe", 4000.0, 4000.0)],
        [offer(NORTH, "tube", "1.00", per=5000.0, stock=3), offer(SOUTH, "tube", "2.00", per=5000.0)],
        parts=[tube("tube"), tube("pipe")],
    )
    plan = purchase_plan(asked, terms())
    assert bought(plan) == {("north", "tube"): 3, ("south", "tube"): 1}
    assert [source for source, _, _ in cut_from(plan)] == ["north", "north", "north", "south"]


def test_lengths_too_heavy_to_send_are_not_called_too_few() -> None:
    """A coil of 3 kg from a supplier who sends no more than 2 kg is long enough: the reason is the weight."""
    heavy = supplier("north", shipping=Shipping(None, (WeightStep(2.0, parse_money("5.00 GBP")),)))
    plan = purchase_plan(shop([lengths("tube", 1000.0)], [offer(heavy, "tube", "9.00", per=5000.0, mass=3.0)]), terms())
    assert short(plan) == [("tube", 1, ("north: an order of more than 2 kg is not taken",))]


def test_lengths_that_run_out_say_so() -> None:
    """One coil of 5 m for two lines of 4 m: the supplier has one, and the line that it is not enough for is named."""
    plan = purchase_plan(
        shop([lengths("tube", 4000.0, 4000.0)], [offer(NORTH, "tube", "9.00", per=5000.0, stock=1)]), terms()
    )
    assert short(plan) == [
        ("tube", 1, ("north: has 1", "the lengths to be had are not enough for line_0 4000 mm")),
    ]


class Watch:
    """A clock that goes on by a tenth of a second whenever it is looked at, and a saw that finds nothing in time."""

    def __init__(self) -> None:
        self.now = 0.0
        self.tried = 0

    def look(self) -> float:
        """Return the time, in seconds."""
        self.now += 0.1
        return self.now

    def nest(self, *_: object) -> Nest:
        """Count a try that takes half a second and comes to nothing."""
        self.tried += 1
        self.now += 0.5
        raise NestingError("no plan was found in the time given")


@pytest.fixture
def watch(monkeypatch: pytest.MonkeyPatch) -> Watch:
    """Let time pass by the number of looks at the clock alone."""
    found = Watch()
    for module in (cut_goods, of_lengths):
        monkeypatch.setattr(module, "monotonic", found.look)
        monkeypatch.setattr(module, "nest", found.nest)
    return found


def test_a_hundred_lines_take_bounded_time(watch: Watch) -> None:
    """With many lengths of coil the search ends with its time; what it says then is enough, and not called best."""
    pieces = [Cut(f"line_{number}", 800.0 + 7.0 * number) for number in range(100)]
    coils = [LengthClass(2000.0 + 137.0 * number) for number in range(12)]
    want = cut_want(pieces, coils, (), lambda each: 100)
    assert (want.dropped, want.all_tried) == ((), False)
    assert want.sets.sets
    for chosen in want.sets.sets:
        there = sum(each.mm * count for each, count in zip(want.classes, chosen, strict=True))
        assert there >= sum(piece.mm for piece in pieces)
    assert watch.tried <= 2 * cut_goods.SECONDS / 0.5 + 2


def test_a_hundred_lines_and_too_few_coils_take_bounded_time(watch: Watch) -> None:
    """Twenty-four coils of which each bears one line: those given up cost no search once the time is over."""
    pieces = [Cut(f"line_{number}", 800.0 + 7.0 * number) for number in range(100)]
    coils = [LengthClass(1530.0 + 5.0 * number, most=2) for number in range(12)]
    want = cut_want(pieces, coils, (), lambda each: 100)
    assert sorted(want.pieces) == sorted(pieces[:24])
    assert sorted(want.dropped) == sorted(pieces[24:])
    assert want.sets.sets == ((2,) * 12,)
    assert want.all_tried is False
    assert watch.tried <= 2 * cut_goods.SECONDS / 0.5 + 2
