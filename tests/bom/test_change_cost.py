"""What a change of the bill costs: over what is known on both sides, and which lines are not in it."""

from decimal import Decimal
from pathlib import Path

from fitcheck.bom.change import compare
from fitcheck.bom.change_cost import CostChange, cost_change
from fitcheck.catalog.money import Money
from tests.bom.house import CAR, bom_of

TUBE = "  - {part: pipe, supplier: shed, price: 10.00 GBP, per: 1 m, to_length: yes}\n"
NUT = "  - {part: pipe-nut, supplier: shed, price: 0.50 GBP}\n"
MORE = "  more: {from: mc.out, to: fl.pipe, tube: pipe, length: 1 m}\n"
OPEN = "  open: {from: mc.out, to: fl.pipe, tube: pipe}\n"


def change(folder: Path, before: str, after: str, prices: str) -> CostChange:
    """Return what the step from one car to another costs at these prices."""
    return cost_change(compare(bom_of(folder, before, prices), bom_of(folder, after, prices)))


def gbp(amount: str) -> tuple[Money, ...]:
    """Return one sum."""
    return (Money(Decimal(amount), "GBP"),)


def test_all_known_is_the_difference_of_the_totals(tmp_path: Path) -> None:
    """Where every line has a price the change is what the totals differ by, and its opposite the other way round."""
    before, after = (bom_of(tmp_path, text, TUBE + NUT) for text in (CAR, CAR + MORE))
    found = cost_change(compare(before, after))
    assert found.by == (Money(after.totals[0].amount - before.totals[0].amount, "GBP"),)
    assert (found.counted, found.lacking) == (True, {})
    assert cost_change(compare(after, before)).by == (Money(-found.by[0].amount, "GBP"),)


def test_no_price(tmp_path: Path) -> None:
    """A line without a price is counted by what becomes of it, and the others are summed."""
    assert change(tmp_path, CAR, CAR + MORE, NUT) == CostChange(gbp("1.00"), True, {("bought", "price"): 1})
    assert change(tmp_path, CAR + MORE, CAR, NUT) == CostChange(gbp("-1.00"), True, {("dropped", "price"): 1})


def test_piece_of_unknown_length(tmp_path: Path) -> None:
    """A tube that loses its length by a new piece takes no money off; pieces known on both sides still count."""
    added = change(tmp_path, CAR, CAR + OPEN, TUBE + NUT)
    assert added == CostChange(gbp("1.00"), True, {("bought", "length"): 1})
    assert change(tmp_path, CAR + OPEN, CAR, TUBE + NUT).lacking == {("dropped", "length"): 1}
    known = change(tmp_path, CAR + OPEN, CAR + OPEN + MORE, TUBE)
    assert (known.by, known.counted) == (gbp("10.07"), True)
    assert known.lacking == {("bought", "price"): 1}  # the nuts


def test_length_that_becomes_known(tmp_path: Path) -> None:
    """What was needed before at an unknown length is neither bought nor dropped: it is told as changed."""
    measured = CAR + OPEN.replace("pipe}", "pipe, length: 1 m}")
    for before, after in ((CAR + OPEN, measured), (measured, CAR + OPEN)):
        assert change(tmp_path, before, after, TUBE + NUT) == CostChange((), False, {("changed", "length"): 1})


def test_nothing_changes(tmp_path: Path) -> None:
    """A bill beside itself costs no more, and lacks nothing."""
    assert change(tmp_path, CAR, CAR, NUT) == CostChange((), False, {})
