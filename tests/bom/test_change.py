"""What differs between two bills."""

from fitcheck.bom.change import compare
from tests.bom.house import CAR, bom_of


def test_same_bill_changes_nothing(tmp_path):
    """A bill compared with itself has no change."""
    bom = bom_of(tmp_path, CAR)
    assert compare(bom, bom).empty


def test_rows_gone_new_and_changed(tmp_path):
    """Exchanging the tube brings a row and takes one away; another line changes the count of nuts."""
    before = bom_of(tmp_path, CAR)
    other = CAR.replace("tube: pipe", "tube: plain-pipe")
    after = bom_of(tmp_path, other + "  more: {from: mc.out, to: fl.pipe, tube: plain-pipe, length: 1 m}\n")
    change = compare(before, after)
    assert [row.part for row in change.gone] == ["pipe"]
    assert [row.part for row in change.new] == ["plain-pipe"]
    assert [(old.part, old.quantity, new.quantity) for old, new in change.changed] == [("pipe-nut", 2, 4)]


def test_unknown_pieces_that_change(tmp_path):
    """A piece that changes under an unknown quantity is a change."""
    start = CAR + "  more: {from: mc.out, to: fl.pipe, tube: pipe}\n"
    before, after = bom_of(tmp_path, start), bom_of(tmp_path, start.replace("[[0, 0, 100]]", "[[0, 0, 150]]"))
    assert [new.part for _, new in compare(before, after).changed] == ["pipe"]


def test_price_totals_on_both_sides(tmp_path):
    """Totals before and after are carried along."""
    prices = "  - {part: pipe-nut, supplier: shed, price: 0.50 GBP}\n"
    before = bom_of(tmp_path, CAR, prices)
    after = bom_of(tmp_path, CAR + "  more: {from: mc.out, to: fl.pipe, tube: pipe}\n", prices)
    change = compare(before, after)
    assert [str(total) for total in change.totals_before] == ["1.00 GBP"]
    assert [str(total) for total in change.totals_after] == ["2.00 GBP"]
    assert change.unpriced == (3, 3)
