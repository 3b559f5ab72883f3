"""What suppliers ask, and what is on the builder's own shelf."""

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from fitcheck.catalog.money import parse_money
from fitcheck.catalog.offer_file import read_offers
from fitcheck.catalog.offers import Offers, Shipping
from fitcheck.catalog.stock import Stock
from fitcheck.catalog.stock_file import read_stock
from fitcheck.sources import InputError

OFFERS = """\
offers: 1
suppliers:
  north: {name: North Counter, currency: GBP, shipping: 4.95 GBP, minimum_order: 10 GBP, lead_time: 2 d}
  south: {name: South Shop, currency: GBP}
  over: {name: Oversea, currency: EUR}
prices:
  - {part: nut-an3, supplier: north, number: N-3, price: 12.50 GBP, pack: 10}
  - {part: nut-an3, supplier: south, price: 1.30 GBP, lead_time: 5 d}
  - {part: nut-an3, supplier: over, price: 0.10 EUR}
  - {part: tube-3-16-cuni, supplier: south, price: 30.48 GBP, per: 7.62 m}
  - {part: tee-an3, supplier: south, number: B, price: 6.00 GBP}
  - {part: tee-an3, supplier: south, number: A, price: 12.00 GBP, pack: 2}
  - {part: tee-an3, supplier: north, price: 6 GBP, valid_until: 2026-01-31}
  - {part: cap-an3, supplier: over, price: 2 EUR}
"""
STOCK = """\
stock: 1
shelf:
  - {part: nut-an3, quantity: 4, note: tin on the left}
  - {part: nut-an3}
  - {part: tube-3-16-cuni, lengths: [400 mm, 1.2 m]}
"""


def _write(folder: Path, text: str, name: str = "offers.yaml") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture
def offers(tmp_path: Path) -> Offers:
    """Return the offers of the sample file."""
    return read_offers([_write(tmp_path, OFFERS)])


def _refusal(path: Path) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_offers([path])
    return [line.removeprefix(f"{path.as_posix()}:") for line in str(caught.value).splitlines()]


def test_offers_are_read_whole(offers: Offers) -> None:
    """Every field of suppliers and prices arrives, in working units and exact money."""
    first = offers.offers[0]
    north = first.supplier
    assert (first.part, first.number, str(first.price), first.pack) == ("nut-an3", "N-3", "12.50 GBP", 10)
    assert (north.tag, north.name, north.currency) == ("north", "North Counter", "GBP")
    assert (north.shipping, str(north.minimum_order)) == (Shipping(parse_money("4.95 GBP")), "10 GBP")
    assert north.lead_time == 2 * 86400
    assert offers.offers[1].lead_time == 5 * 86400
    assert offers.offers[6].valid_until == date(2026, 1, 31)
    assert offers.offers[3].per == pytest.approx(7620)


def test_unit_prices_are_exact(offers: Offers) -> None:
    """A pack's price is shared among its pieces, a length's price among its millimetres."""
    assert offers.offers[0].unit_price == Fraction(5, 4)
    assert float(offers.offers[3].unit_price) == pytest.approx(0.004)


def test_the_cheapest_is_by_unit_price(offers: Offers) -> None:
    """Ten in a pack at 12.50 beat one at 1.30; a price in another currency is not compared with them."""
    best = offers.cheapest("nut-an3")
    assert best is not None
    assert (best.supplier.tag, best.number) == ("north", "N-3")


def test_equal_prices_go_by_supplier_then_number(offers: Offers) -> None:
    """Of equal unit prices the first supplier wins, then the first number; an expired offer is left out."""
    best = offers.cheapest("tee-an3")
    assert best is not None
    assert best.supplier.tag == "north"
    later = offers.cheapest("tee-an3", on=date(2026, 2, 1))
    assert later is not None
    assert (later.supplier.tag, later.number) == ("south", "A")
    assert offers.cheapest("tee-an3", on=date(2026, 1, 31)) == best


def test_a_part_offered_only_abroad_has_its_offer(offers: Offers) -> None:
    """Where no offer is in the usual currency, the others count; a part nobody offers has none."""
    best = offers.cheapest("cap-an3")
    assert best is not None
    assert best.currency == "EUR"
    assert offers.currency == "GBP"
    assert offers.cheapest("cap-an4") is None
    assert Offers({}, ()).currency is None


def test_order_of_the_file_does_not_matter(tmp_path: Path) -> None:
    """Turning the prices round changes no choice."""
    lines = OFFERS.splitlines()
    at = lines.index("prices:") + 1
    turned = read_offers([_write(tmp_path, "\n".join(lines[:at] + lines[at:][::-1]) + "\n")])
    straight = read_offers([_write(tmp_path, OFFERS, "other.yaml")])
    for part in ("nut-an3", "tee-an3", "cap-an3", "tube-3-16-cuni"):
        assert turned.cheapest(part) == straight.cheapest(part)


def test_several_files_are_read_together(tmp_path: Path) -> None:
    """A supplier described in one file may have prices in another."""
    more = "offers: 1\nsuppliers: {}\nprices:\n  - {part: cap-an8, supplier: north, price: 3 GBP}\n"
    both = read_offers([_write(tmp_path, more, "more.yaml"), _write(tmp_path, OFFERS)])
    best = both.cheapest("cap-an8")
    assert best is not None
    assert best.supplier.name == "North Counter"


def test_contradictions_are_refused_with_their_places(tmp_path: Path) -> None:
    """Unknown suppliers, foreign prices and repeated prices are all reported at once."""
    text = (
        "offers: 1\n"
        "suppliers:\n"
        "  north: {name: N, currency: GBP, shipping: 1 EUR}\n"
        "prices:\n"
        "  - {part: a, supplier: nort, price: 1 GBP}\n"
        "  - {part: a, supplier: north, price: 1 USD}\n"
        "  - {part: b, supplier: north, price: 1 GBP}\n"
        "  - {part: b, supplier: north, price: 2 GBP}\n"
    )
    assert _refusal(_write(tmp_path, text)) == [
        "3:45: expected GBP, the currency of north, got 1 EUR",
        "5:25: no supplier is called 'nort'; nearest is 'north'",
        "6:39: expected GBP, the currency of north, got 1 USD",
        "8:12: north has a price for this number and pack of b already",
    ]


def test_a_supplier_described_in_two_ways_is_refused(tmp_path: Path) -> None:
    """Two files that disagree about a supplier are not merged in silence."""
    other = _write(tmp_path, "offers: 1\nsuppliers:\n  south: {name: Another, currency: GBP}\n", "other.yaml")
    with pytest.raises(InputError) as caught:
        read_offers([_write(tmp_path, OFFERS), other])
    expected = f"{other.as_posix()}:3:3: the supplier south is described in another way in an earlier file"
    assert str(caught.value) == expected


@pytest.mark.parametrize(
    ("price", "said"),
    [
        (
            "price: 12.50",
            "expected an amount and a currency, such as 12.50 GBP, got '12.50': the currency is missing",
        ),
        ("price: 1 GBP, pack: 0", "expected a whole number from 1 to 9999, got '0'"),
        ("price: 1 GBP, pack: some", "expected a whole number from 1 to 9999, got 'some'"),
        ("price: 1 GBP, per: 0 mm", "expected more than zero, got '0 mm'"),
        ("price: 1 GBP, lead_time: -1 d", "expected zero or more, got '-1 d'"),
        ("price: 1 GBP, valid_until: 31.1.2026", "expected a date such as 2026-12-31, got '31.1.2026'"),
        ("price: 1 GBP, valid_until: 2026-02-30", "expected a date such as 2026-12-31, got '2026-02-30'"),
    ],
)
def test_bad_values_are_refused_with_their_sentence(tmp_path: Path, price: str, said: str) -> None:
    """Each bad value in a price has its whole sentence, at its place."""
    head = "offers: 1\nsuppliers:\n  s: {name: S, currency: GBP}\nprices:\n"
    refusal = _refusal(_write(tmp_path, head + f"  - {{part: a, supplier: s, {price}}}\n"))
    assert len(refusal) == 1
    place, _, message = refusal[0].partition(" ")
    assert place.startswith("5:")
    assert message == said


def test_stock_is_read(tmp_path: Path) -> None:
    """Pieces are added up, one if not counted; cut goods list their lengths, longest first."""
    stock = read_stock(_write(tmp_path, STOCK, "stock.yaml"))
    assert stock.quantity("nut-an3") == 5
    assert stock.quantity("tee-an3") == 0
    assert stock.lengths("tube-3-16-cuni") == pytest.approx((1200, 400))
    assert stock.quantity("tube-3-16-cuni") == 0
    assert stock.entries[0].note == "tin on the left"


def test_an_empty_shelf() -> None:
    """A build without a stock file has nothing on the shelf."""
    assert Stock.empty().quantity("nut-an3") == 0
    assert Stock.empty().lengths("tube-3-16-cuni") == ()


def test_an_unknown_key_in_stock_has_its_place(tmp_path: Path) -> None:
    """A misspelt key in the stock file is refused with line, column and the nearest key."""
    path = _write(tmp_path, "stock: 1\nshelf:\n  - {part: a, quanttiy: 2}\n", "stock.yaml")
    with pytest.raises(InputError) as caught:
        read_stock(path)
    expected = "3:15: unknown key 'quanttiy' in a part in stock; nearest is 'quantity'"
    assert str(caught.value) == f"{path.as_posix()}:{expected}"
