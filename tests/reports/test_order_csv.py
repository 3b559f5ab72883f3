"""The purchase plan as CSV."""

import csv
import io
import unicodedata
from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from fitcheck.reports.cells import defused, restored, text_cell
from fitcheck.reports.order_csv import COLUMNS, order_csv
from tests.reports.order_hostile import LOOK, TEXT, TEXTS, hostile
from tests.reports.order_samples import FROM_NORD, NOTHING, NUTS, PLAN, SHED, money

_LINES = ", ".join(f"line_{number}.from" for number in range(1, 17))
_NUT = "Tube nut, 3/8-24 UNF, for 3/16 in tube"
_PIPE = "Tube, 3/16 in, copper-nickel"
WHOLE = f"""\
supplier,number,part,description,packs,pack,price,currency,cost,arrives,for,in_place_of,length_mm,contents_ml,short
Hall Fittings,N-3,nut-3-8-24,"{_NUT}",2,10,8.00,GBP,16.00,2026-12-02,"{_LINES}, spare",,,,
Hall Fittings,P-25,pipe,"{_PIPE}",1,1,21.335,GBP,21.34,2026-12-02,"front_feed, rear_feed, spare",,7620,,
Hall Fittings,,,carriage,,,,GBP,4.50,2026-12-02,,,,,
Nordteil,4711,tee-3-16-long,,2,1,6.25,EUR,12.50,2026-12-08,"tee_front, tee_rear",tee-3-16,,,
Nordteil,,fluid-dot-4,"Brake fluid, DOT 4",2,1,7.90,EUR,15.80,2026-12-04,the build,,,500,
Nordteil,,,carriage,,,,EUR,9.00,2026-12-08,,,,,
,,washer-m10,"CANNOT BE HERE BY 2026-12-10: Copper washer, M10",,,,,,,caliper_fl.inlet,,,,1
,,,"CANNOT BE HERE BY 2026-12-10: M10x1 external nut, bubble, for 1/2 in tube",,,,,,,big.to,,,,1
"""


def rows(text: str, delimiter: str = ",") -> list[list[str]]:
    """Return the cells of a CSV as a spreadsheet parts them at this mark."""
    return list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))


def test_whole_csv() -> None:
    """Each order line has a row, each order one for carriage, and what cannot be bought stands last."""
    assert order_csv(PLAN) == WHOLE.replace("\n", "\r\n")


def test_costs_add_up() -> None:
    """The costs in the rows, carriage included, add up to the orders' totals to the cent."""
    found: dict[str, Decimal] = {}
    for row in csv.DictReader(io.StringIO(order_csv(PLAN), newline="")):
        if row["supplier"]:
            found[row["supplier"]] = found.get(row["supplier"], Decimal(0)) + Decimal(row["cost"])
    assert found == {order.supplier.name: order.total.amount for order in PLAN.orders}
    assert sum(order.home.amount for order in PLAN.orders) == PLAN.cost.amount


def test_nothing_to_buy() -> None:
    """Without orders there is the row of names alone."""
    assert order_csv(NOTHING) == ",".join(COLUMNS) + "\r\n"


def test_a_day_that_nobody_states() -> None:
    """An order without a lead time has no day; carriage that nobody states has no amount, not that of nothing."""
    line = NUTS._replace(arrives=None, price=money("0.3333 GBP"), cost=money("0.67 GBP"))
    order = FROM_NORD._replace(supplier=SHED, lines=(line,), arrives=None, carriage=money("0.00 GBP"))
    row, carriage = rows(order_csv(PLAN._replace(orders=(order,), missing=())))[1:]
    assert row[:10] == ["shed", "N-3", "nut-3-8-24", row[3], "2", "10", "0.3333", "GBP", "0.67", ""]
    assert carriage[:10] == ["shed", "", "", "carriage", "", "", "", "GBP", "", ""]


def begins_a_formula(cell: str) -> bool:
    """Return whether a cell begins, after quotes and spaces, as a spreadsheet's formula does."""
    shown = unicodedata.normalize("NFKC", cell).lstrip(' "\u200b\ufeff')
    return shown.startswith(("=", "+", "-", "@", "\t", "\r"))


@pytest.mark.parametrize("delimiter", [",", ";"])
@LOOK
@given(lines=TEXTS)
@example(lines=["a;=1+1"])
@example(lines=['a;"=1+1'])
@example(lines=["a\n=1+1"])
@example(lines=["=1+1"])
def test_no_cell_is_a_formula(delimiter: str, lines: list[str]) -> None:
    """No cell is a formula, whether a spreadsheet parts cells at commas or, as in half the world, at semicolons."""
    plan, _ = hostile(lines)
    found = rows(order_csv(plan), delimiter)
    assert not [cell for row in found for cell in row if begins_a_formula(cell)]


@LOOK
@given(TEXT)
@example("a;=1")
@example(";';'=\n\n=")
def test_defused_text_comes_back(text: str) -> None:
    """A program that reads a cell gets the text back, semicolons, line ends and apostrophes included."""
    assert restored(defused(text)) == text


@given(st.text(alphabet=st.sampled_from("'\";=+ \t\r\na")))
def test_any_mixture_comes_back(text: str) -> None:
    """Defusing is undone exactly, whatever mixture of marks the text is."""
    assert restored(defused(text)) == text


def test_cells_hold_every_row_together() -> None:
    """Every row has every column, whatever is in it: nothing moves to the next column."""
    plan, _ = hostile(['",\r\n"', "a,b", 'say "no"'])
    assert {len(row) for row in rows(order_csv(plan))} == {len(COLUMNS)}
    assert text_cell("a\x1b[2J\r") == "a\\x1b[2J\\r"
