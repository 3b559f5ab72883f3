"""Prices in a bill."""

from datetime import date
from decimal import Decimal

from fitcheck.bom.take_off import take_off
from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.catalog.money import Money
from tests.bom.house import CAR, bom_of


def row_of(bom, part):
    """Return the row of one part."""
    (row,) = [row for row in bom.rows if row.part == part]
    return row


def test_no_offers_no_prices(tmp_path):
    """A build without offers has no prices and claims no total."""
    bom = bom_of(tmp_path, CAR)
    assert (bom.priced, bom.totals) == (False, ())


def test_cheapest_unit_price(tmp_path):
    """The cheapest unit price counts, not the cheapest pack; the cost is exact and rounded up to 0.01."""
    prices = """\
  - {part: pipe-nut, supplier: shed, price: 0.50 GBP}
  - {part: pipe-nut, supplier: hall, price: 1.00 GBP, pack: 3}
"""
    bom = bom_of(tmp_path, CAR, prices)
    row = row_of(bom, "pipe-nut")
    assert (row.price.supplier, row.price.pack_price) == ("hall", Money(Decimal("1.00"), "GBP"))
    assert row.cost == Money(Decimal("0.67"), "GBP")
    assert bom.totals == (row.cost,)
    assert bom.unpriced == 3


def test_price_by_length(tmp_path):
    """Tube is priced by the millimetre, from `per` or from the part's stock length."""
    by_per = "  - {part: pipe, supplier: shed, price: 10.00 GBP, per: 1 m}\n"
    row = row_of(bom_of(tmp_path, CAR.replace("route: [[0, 0, 100]]", "length: 243.6 mm"), by_per), "pipe")
    assert row.cost == Money(Decimal("2.50"), "GBP")
    car = CAR.replace("tube: pipe, route: [[0, 0, 100]]", "tube: plain-pipe, length: 243.6 mm")
    by_bar = "  - {part: plain-pipe, supplier: shed, price: 10.00 GBP}\n"
    assert row_of(bom_of(tmp_path, car, by_bar), "plain-pipe").cost == Money(Decimal("1.25"), "GBP")


def test_price_of_no_known_length(tmp_path):
    """A price for tube that does not say how much tube is no price."""
    row = row_of(bom_of(tmp_path, CAR, "  - {part: pipe, supplier: shed, price: 10.00 GBP}\n"), "pipe")
    assert (row.price, row.cost) == (None, None)


def test_unknown_length_has_a_price_but_no_cost(tmp_path):
    """Where the quantity is not known the cost is not known either, never nothing."""
    car = CAR.replace(", route: [[0, 0, 100]]", "")
    bom = bom_of(tmp_path, car, "  - {part: pipe, supplier: shed, price: 10.00 GBP, per: 1 m}\n")
    assert row_of(bom, "pipe").price is not None
    assert row_of(bom, "pipe").cost is None
    assert (bom.totals, bom.unpriced) == ((), 4)


def test_totals_by_currency(tmp_path):
    """Currencies are never added up; those of most offers are used first."""
    prices = """\
  - {part: pump, supplier: shed, price: 80.00 GBP}
  - {part: pump, supplier: hall, price: 85.00 GBP}
  - {part: pump, supplier: barn, price: 1.00 EUR}
  - {part: pipe-nut, supplier: shed, price: 0.50 GBP}
  - {part: brake, supplier: barn, price: 60.00 EUR}
"""
    bom = bom_of(tmp_path, CAR, prices)
    assert [str(total) for total in bom.totals] == ["60.00 EUR", "81.00 GBP"]


def test_binary_figures_add_no_cent(tmp_path):
    """A foot of tube sold by the foot costs the price of a foot: 12 in is 304.79999999999995 mm in binary."""
    car = CAR.replace("route: [[0, 0, 100]]", "length: 298.4 mm")
    bom = bom_of(tmp_path, car, "  - {part: pipe, supplier: shed, price: 3.00 GBP, per: 12 in}\n")
    assert row_of(bom, "pipe").cost == Money(Decimal("3.00"), "GBP")


def test_a_trifle_is_not_free(tmp_path):
    """A cost under 0.01 is rounded up, never to nothing."""
    prices = "  - {part: pipe-nut, supplier: shed, price: 0.01 GBP, pack: 1000}\n"
    assert row_of(bom_of(tmp_path, CAR, prices), "pipe-nut").cost == Money(Decimal("0.01"), "GBP")


def test_offers_that_have_run_out(tmp_path):
    """An offer is not used after its last day, if the day is given."""
    line = "  - {part: pump, supplier: shed, price: 80.00 GBP, valid_until: 2026-01-31}\n"
    bom_of(tmp_path, CAR, line)
    graph = assemble(load(tmp_path / "build.yaml"))
    assert row_of(take_off(graph, date(2026, 1, 31)), "pump").price.valid_until == date(2026, 1, 31)
    assert row_of(take_off(graph, date(2026, 2, 1)), "pump").price is None
