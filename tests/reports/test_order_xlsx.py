"""The purchase plan as a workbook."""

import builtins
import io
import re
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction

import openpyxl
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from fitcheck.bom.ordering.record import Plan, Readiness
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.order_xlsx import order_xlsx
from fitcheck.reports.workbook import NoPrintError, rounded_as, sheet_names, shown
from tests.reports.order_hostile import LOOK, TEXT, TEXTS, hostile
from tests.reports.order_samples import (
    FROM_HALL,
    FROM_NORD,
    NOT_READY,
    NOTHING,
    NUTS,
    PLAN,
    READY,
    WHOLE,
    money,
)
from tests.reports.xlsx_reading import GRAMMAR, Workbook, read, worked_out


def texts(book: Workbook, sheet: str) -> list[str]:
    """Return the texts of a sheet in the order of its cells."""
    return [cell.text for cell in book.sheets[sheet].values() if cell.text]


def formulas(book: Workbook) -> dict[tuple[str, str], str]:
    """Return every formula by sheet and address."""
    return {
        (name, address): cell.formula
        for name, cells in book.sheets.items()
        for address, cell in cells.items()
        if cell.formula is not None
    }


def test_the_sheet_of_a_supplier() -> None:
    """A supplier's sheet has a row for each line, sums that compute, how carriage comes about, and the caution."""
    book = read(order_xlsx(PLAN, READY))
    assert list(book.sheets) == ["Summary", "Hall Fittings", "Nordteil"]
    sheet = book.sheets["Hall Fittings"]
    assert texts(book, "Hall Fittings") == [
        "Order to Hall Fittings (hall)",
        "Dunlin, as of 2026-11-29; all of it is here on 2026-12-02",
        "note: closed in August",
        *("packs", "number", "part", "description", "pack", "for", "note", "here on", "price, GBP", "cost, GBP"),
        *("N-3", "nut-3-8-24", "Tube nut, 3/8-24 UNF, for 3/16 in tube", "pack of 10"),
        "line_1.from, line_2.from, line_3.from, line_4.from, line_5.from, line_6.from, line_7.from, line_8.from, "
        "line_9.from, line_10.from, line_11.from and 5 more, 2 spare",
        "6 more than needed",
        *("P-25", "pipe", "Tube, 3/16 in, copper-nickel", "7620 mm", "front_feed, rear_feed, 1 spare"),
        "price holds until 2026-12-31",
        *("goods", "carriage", "total"),
        "carriage: by weight, 0.84 kg, without the weight of nut-3-8-24, which is not stated",
        "smallest order: 15.00 GBP",
        CAUTION,
    ]
    assert [(sheet[f"A{row}"].value, sheet[f"I{row}"].value) for row in (5, 6)] == [(2, 8), (1, Fraction("21.335"))]
    found = {address: (cell.formula, cell.value) for address, cell in sheet.items() if address.startswith("J")}
    assert {address: each for address, each in found.items() if each[1] is not None} == {
        "J5": ("A5*I5", 16),
        "J6": ("ROUND(A6*I6,2)", Fraction("21.34")),
        "J7": ("SUM(J5:J6)", Fraction("37.34")),
        "J8": (None, Fraction("4.5")),
        "J9": ("J7+J8", Fraction("41.84")),
    }


def test_the_summary() -> None:
    """The summary refers to the sheets for its sums, converts at the stated rate, and says what is missing."""
    book = read(order_xlsx(PLAN, READY, errors=3))
    assert texts(book, "Summary") == [
        "Dunlin: what to buy, as of 2026-11-29: 2 orders, 73.92 GBP, 2 parts cannot be here by 2026-12-10, "
        "1 amount not known",
        "check finds 3 errors in this build: do not order before they are put right (fitcheck check)",
        "Asked for by 2026-12-10: NOT everything is here by then",
        "not proven in the time given: at most 0.5 % could be saved; "
        "not counted: weights not stated in the carriage of hall",
        *("supplier", "lines", "goods", "carriage", "total", "currency", "in GBP", "here on", "carriage is"),
        *("Hall Fittings (hall)", "GBP"),
        "by weight, 0.84 kg, without the weight of nut-3-8-24, which is not stated",
        *("Nordteil (nord)", "EUR", "the same for every order"),
        "all orders",
        *("1 EUR, as of 2026-11-01", "GBP"),
        "CANNOT BE HERE BY 2026-12-10 (2)",
        *("part", "short", "description, what it is for, and why"),
        *("washer-m10", "1"),
        "Copper washer, M10; for caliper_fl.inlet; hall W-10: has 0; "
        "washer-m10-al: no supplier in the offer files has it",
        *("no part (nut)", "1"),
        "M10x1 external nut, bubble, for 1/2 in tube; for big.to; no catalog has such a part",
        "AMOUNTS NOT KNOWN (1): not in this plan",
        *("part", "for", "why", "pipe", "clutch_feed", "lines.clutch_feed.route is not given"),
        "READY: each circuit, if it is made before all others",
        *("circuit", "first day", "here", "coming", "short", "held up by"),
        *("clutch", "nothing", "front", "tee-3-16-long (nord)"),
        *("rear", "parts missing", "washer-m10 (cannot be bought)"),
        "WHAT CAN BE MADE NOW, with what is on the shelf alone",
        "whole circuits: clutch",
        "by themselves: clutch_feed, mc_front",
        CAUTION,
    ]
    assert {address: formula for (name, address), formula in formulas(book).items() if name == "Summary"} == {
        "C7": "'Hall Fittings'!J7",
        "D7": "'Hall Fittings'!J8",
        "E7": "'Hall Fittings'!J9",
        "G7": "E7",
        "C8": "'Nordteil'!J6",
        "D8": "'Nordteil'!J7",
        "E8": "'Nordteil'!J8",
        "G8": "ROUND(E8*B11,2)",
        "G9": "SUM(G7:G8)",
    }
    assert book.sheets["Summary"]["G9"].value == Fraction(PLAN.cost.amount)


def agree(book: Workbook) -> None:
    """Assert that each formula is one of ours, and that it comes to what is stored with it, to the cent."""
    for (sheet, address), formula in formulas(book).items():
        assert GRAMMAR.fullmatch(formula), formula
        stored = book.sheets[sheet][address].value
        assert stored is not None
        assert worked_out(book, sheet, address) == stored


@pytest.mark.parametrize("plan", [PLAN, WHOLE, NOTHING])
def test_formulas_come_to_what_is_stored(plan: Plan) -> None:
    """A viewer that computes and one that does not show the same sums."""
    agree(read(order_xlsx(plan, READY)))


PRICES = st.decimals(min_value=0, max_value=9999, places=4)


@LOOK
@given(st.lists(st.tuples(st.integers(1, 99), PRICES), min_size=1, max_size=6), PRICES, st.integers(1, 4000))
def test_sums_hold_to_the_cent(rows: list[tuple[int, Decimal]], sent: Decimal, rate: int) -> None:
    """Whatever packs, prices, carriage and rate are, every formula comes to the amount of the plan, to the cent."""
    cent = Decimal("0.01")
    costs = [(packs * price).quantize(cent, "ROUND_HALF_UP") for packs, price in rows]
    lines = [
        NUTS._replace(packs=packs, price=money(f"{price} EUR"), cost=money(f"{cost} EUR"))
        for (packs, price), cost in zip(rows, costs, strict=True)
    ]
    carriage = sent.quantize(cent, "ROUND_HALF_UP")
    total = sum(costs, carriage)
    worth = Decimal(rate) / 1000
    home = (total * worth).quantize(Decimal("0.0001"), "ROUND_HALF_UP").quantize(cent, "ROUND_HALF_UP")
    order = FROM_NORD._replace(
        lines=tuple(lines),
        goods=money(f"{sum(costs)} EUR"),
        carriage=money(f"{carriage} EUR"),
        total=money(f"{total} EUR"),
        home=money(f"{home} GBP"),
    )
    plan = PLAN._replace(orders=(order,), cost=money(f"{home} GBP"), rates=(PLAN.rates[0]._replace(worth=worth),))
    book = read(order_xlsx(plan, READY))
    assert len(formulas(book)) == len(lines) + 2 + 5
    agree(book)
    assert book.sheets["Summary"]["G6"].value == Fraction(home)


def test_a_sum_that_no_rounding_explains_is_a_number() -> None:
    """Where nothing stated leads from one amount to the other, the amount stands alone: no formula that is wrong."""
    plan = PLAN._replace(rates=())
    book = read(order_xlsx(plan, READY))
    assert book.sheets["Summary"]["G7"] == (None, Fraction("32.08"), None, False)
    odd = FROM_HALL._replace(lines=(NUTS._replace(cost=money("15.99 GBP")), *FROM_HALL.lines[1:]))
    book = read(order_xlsx(PLAN._replace(orders=(odd,)), READY))
    assert book.sheets["Hall Fittings"]["J5"] == (None, Fraction("15.99"), None, False)


def test_rounding_is_written_as_it_was_done() -> None:
    """The formula rounds to the cent, to four places, or to four and then two, whichever gives the amount."""
    assert rounded_as("A1", Fraction(5, 2), Decimal("2.50")) == "A1"
    assert rounded_as("A1", Fraction("2.345"), Decimal("2.35")) == "ROUND(A1,2)"
    assert rounded_as("A1", Fraction("2.34561"), Decimal("2.3456")) == "ROUND(A1,4)"
    assert rounded_as("A1", Fraction("2.34496"), Decimal("2.35")) == "ROUND(ROUND(A1,4),2)"
    assert rounded_as("A1", Fraction("2.34"), Decimal("2.35")) is None


@LOOK
@given(TEXTS)
@example(["=1+1"])
@example(["Jo's 'n' Al's"])
@example(["<r><t>x</t></r>", "<r>&</r>"])
def test_no_text_is_a_formula(lines: list[str]) -> None:
    """Whatever stands in names, numbers, notes and places: it is text marked as such, and every formula is ours."""
    plan, readiness = hostile(lines)
    book = read(order_xlsx(plan, readiness, errors=1))
    agree(book)
    assert len(formulas(book)) == len(formulas(read(order_xlsx(PLAN, READY, errors=1))))
    for cells in book.sheets.values():
        for cell in cells.values():
            assert cell.text is None or (cell.quoted and cell.formula is None)
            assert all(char.isprintable() for char in cell.text or "")


@LOOK
@given(TEXTS)
def test_another_reader_takes_it(lines: list[str]) -> None:
    """A second library reads every sheet and finds no link, nor a part of the package that could fetch or run."""
    plan, readiness = hostile(lines)
    content = order_xlsx(plan, readiness)
    book = openpyxl.load_workbook(io.BytesIO(content))
    assert len(book.sheetnames) == 1 + len(plan.orders)
    assert not any(cell.hyperlink for sheet in book for row in sheet.iter_rows() for cell in row)
    known = r"\[Content_Types\]\.xml|_rels/\.rels|docProps/(app|core)\.xml|xl/(workbook|styles|sharedStrings)\.xml"
    known += r"|xl/theme/theme1\.xml|xl/_rels/workbook\.xml\.rels|xl/worksheets/sheet[1-3]\.xml"
    assert all(re.fullmatch(known, name) for name in read(content).files)


def test_text_arrives_as_it_was() -> None:
    """A number with a leading zero or sign stays text; controls are shown as escapes; markup is only text."""
    offer = NUTS.offer._replace(number="-007", note="<r><t>=1</t></r>")
    order = FROM_HALL._replace(lines=(NUTS._replace(offer=offer),))
    book = read(order_xlsx(PLAN._replace(build="a\x1b[2Jb", orders=(order,)), READY))
    sheet = book.sheets["Hall Fittings"]
    assert sheet["B5"] == ("-007", None, None, True)
    assert (sheet["G5"].text or "").endswith("<r><t>=1</t></r>")
    assert (sheet["A2"].text or "").startswith("a\\x1b[2Jb, as of")


def test_paper() -> None:
    """Each sheet prints on A4 across, one page wide, its header row on every page, and keeps that row in view."""
    book = openpyxl.load_workbook(io.BytesIO(order_xlsx(PLAN, READY)))
    for name, area, row in (
        ("Summary", "$A$1:$I$31", 1),
        ("Hall Fittings", "$A$1:$J$14", 4),
        ("Nordteil", "$A$1:$J$12", 3),
    ):
        sheet = book[name]
        assert (sheet.page_setup.orientation, sheet.page_setup.paperSize) == ("landscape", 9)
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet.print_area == f"'{name}'!{area}"
        assert sheet.print_title_rows == f"${row}:${row}"
        assert sheet.freeze_panes == f"A{row + 1}"


def test_rows_are_high_enough() -> None:
    """A row is as high as its longest cell needs when the words are wrapped, in narrow columns too."""
    offer = NUTS.offer._replace(number="1234567 1234567 1234567 1234567")
    order = FROM_HALL._replace(lines=(NUTS._replace(offer=offer), FROM_HALL.lines[1]))
    sheet = openpyxl.load_workbook(io.BytesIO(order_xlsx(PLAN._replace(orders=(order,)), READY)))["Hall Fittings"]
    assert [sheet.row_dimensions[row].height for row in (4, 5, 6)] == [None, 90, None]
    line = NUTS._replace(offer=offer, serves=())
    plan = PLAN._replace(orders=(order._replace(lines=(line,)),))
    assert openpyxl.load_workbook(io.BytesIO(order_xlsx(plan, READY)))["Hall Fittings"].row_dimensions[5].height == 60


def test_days_are_days() -> None:
    """A day is a date to the spreadsheet, words where it is not stated, text before the calendar begins."""
    plan = PLAN._replace(on=date(1066, 10, 14), orders=(FROM_HALL._replace(arrives=None),))
    book = openpyxl.load_workbook(io.BytesIO(order_xlsx(plan, READY)))
    assert (book["Summary"]["H6"].value, book["Hall Fittings"]["H5"].value) == ("not stated", "not stated")
    book = openpyxl.load_workbook(io.BytesIO(order_xlsx(PLAN, READY)))
    assert book["Summary"]["H6"].value == datetime(2026, 12, 2)
    early = FROM_HALL._replace(arrives=date(1066, 10, 14))
    book = openpyxl.load_workbook(io.BytesIO(order_xlsx(PLAN._replace(orders=(early,)), READY)))
    assert book["Summary"]["H6"].value == "1066-10-14"


def test_the_same_plan_makes_the_same_bytes() -> None:
    """Nothing in the file depends on the hour, and it says that it was made on the day of the plan."""
    content = order_xlsx(PLAN, READY)
    assert content == order_xlsx(PLAN, READY)
    assert openpyxl.load_workbook(io.BytesIO(content)).properties.created == datetime(2026, 11, 29)


@pytest.mark.parametrize("readiness", [READY, NOT_READY])
def test_nothing_to_buy(readiness: Readiness) -> None:
    """A plan without orders has the summary alone."""
    book = read(order_xlsx(NOTHING, readiness))
    assert list(book.sheets) == ["Summary"]
    assert texts(book, "Summary")[:2] == [
        "Plover: what to buy, as of 2026-11-29: nothing to buy, all here on 2026-11-29",
        "proven: no plan from these offers costs less",
    ]


def test_sheet_names() -> None:
    """Names are made legal, kept to 31 characters and apart, whatever their case."""
    assert sheet_names(["a/b[c]:*?\\d", "'quoted'", "", "HISTORY", "summary"], ["Summary"]) == [
        "a-b-c-----d",
        "quoted",
        "Supplier",
        "HISTORY (2)",
        "summary (2)",
    ]
    long = "x" * 40
    assert sheet_names([long, long.upper(), long]) == ["x" * 31, f"{'X' * 27} (2)", f"{'x' * 27} (3)"]
    assert sheet_names(["\U0001f600" * 20]) == ["\U0001f600" * 15]


@LOOK
@given(st.lists(TEXT, max_size=8))
def test_sheet_names_are_legal(wanted: list[str]) -> None:
    """Whatever suppliers are called, the names are legal and none is like another."""
    names = sheet_names(wanted, ["Summary"])
    assert len({name.lower() for name in [*names, "summary", "history"]}) == len(wanted) + 2
    for name in names:
        assert 0 < len(name.encode("utf-16-le")) <= 62
        assert not re.search(r"[\[\]:*?/\\]|^'|'$", name)
        assert name.isprintable()


def test_text_for_a_cell() -> None:
    """Text that the writer or the reader would take for something else is broken; text too long is cut, visibly."""
    assert shown("a\nb\x00") == "a\\nb\\x00"
    assert shown("<r>&</r>") == "<r>&</r> "
    assert shown("_x0041_x0042_") == "_x0041_ x0042_"
    assert shown("x" * 40_000) == "x" * 31_997 + "..."
    assert shown("a\U0001f600b", 3) == "..."


def test_without_the_library(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the library the answer is which extra installs it."""
    real = builtins.__import__

    def missing(name: str, *rest: object) -> object:
        if name == "xlsxwriter":
            raise ImportError(name)
        return real(name, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(builtins, "__import__", missing)
    with pytest.raises(NoPrintError) as caught:
        order_xlsx(PLAN, READY)
    wanted = 'this report needs a library that is not installed: pip install "fitcheck[print]"'
    assert str(caught.value) == wanted
