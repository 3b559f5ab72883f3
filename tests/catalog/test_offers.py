"""What suppliers ask: offers, carriage, days, breaks and rates."""

from datetime import date, time
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from fitcheck.catalog.money import parse_money
from fitcheck.catalog.offer_file import read_offers
from fitcheck.catalog.offers import Break, Offers, Shipping, WeightStep
from fitcheck.catalog.rates import Rate
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


DETAIL = """\
offers: 1
rates:
  EUR: {worth: 0.86 GBP, on: 2026-11-20, note: as the bank said}
  SEK: {worth: 0.0645 GBP, on: 2026-11-19}
suppliers:
  north:
    name: North Counter
    currency: GBP
    shipping: {flat: 4.50 GBP, free_over: 60 GBP}
    cut_off: 14:00
    closed: [Sunday, sat, sun]
    closed_on: [2026-12-25, 2026-12-26]
    part_deliveries: yes
  post:
    name: By post
    currency: EUR
    shipping:
      by_weight:
        - {up_to: 500 g, price: 4.20 EUR}
        - {up_to: 5 kg, price: 8.90 EUR}
      packing: 150 g
prices:
  - part: nut
    supplier: post
    price: 0.95 EUR
    breaks: [{packs: 10, price: 0.80 EUR}, {packs: 50, price: 0.70 EUR}]
    stock: 0
    mass: 12 g
  - {part: tube, supplier: north, price: 3.90 GBP, per: 1 m, to_length: yes}
  - {part: fluid, supplier: north, price: 7.20 GBP, contents: 500 mL, note: "no: water"}
"""


def test_carriage_and_days_in_detail(tmp_path: Path) -> None:
    """Steps of weight, packing, free carriage, cut-off, closed days and part deliveries all arrive in working units."""
    suppliers = read_offers([_write(tmp_path, DETAIL)]).suppliers
    north, post = suppliers["north"], suppliers["post"]
    assert north.shipping == Shipping(parse_money("4.50 GBP"), free_over=parse_money("60 GBP"))
    assert (north.cut_off, north.closed, north.part_deliveries) == (time(14, 0), (5, 6), True)
    assert north.closed_on == (date(2026, 12, 25), date(2026, 12, 26))
    steps = (WeightStep(0.5, parse_money("4.20 EUR")), WeightStep(5.0, parse_money("8.90 EUR")))
    assert post.shipping == Shipping(None, steps, None, 0.15)
    assert (post.cut_off, post.closed, post.closed_on, post.part_deliveries) == (None, (), (), False)


def test_breaks_lengths_and_contents(tmp_path: Path) -> None:
    """A price says its breaks, what is in stock, its mass, its step of length and its contents."""
    nut, tube, fluid = read_offers([_write(tmp_path, DETAIL)]).offers
    assert nut.breaks == (Break(10, parse_money("0.80 EUR")), Break(50, parse_money("0.70 EUR")))
    assert [str(nut.price_of(packs)) for packs in (1, 9, 10, 49, 50, 9999)] == [
        "0.95 EUR",
        "0.95 EUR",
        "0.80 EUR",
        "0.80 EUR",
        "0.70 EUR",
        "0.70 EUR",
    ]
    assert (nut.stock, nut.mass, tube.stock, tube.mass) == (0, 0.012, None, None)
    assert (tube.per, tube.to_length, nut.to_length) == (1000, True, False)
    assert (fluid.contents, fluid.note) == (500_000, "no: water")


def test_rates_of_several_files(tmp_path: Path) -> None:
    """Each stated rate arrives with its day; the same rate in two files is one."""
    more = "offers: 1\nsuppliers: {}\nrates:\n  EUR: {worth: 0.86 GBP, on: 2026-11-20}\n"
    rates = read_offers([_write(tmp_path, DETAIL), _write(tmp_path, more, "more.yaml")]).rates.rates
    assert rates == (
        Rate("EUR", Decimal("0.86"), "GBP", date(2026, 11, 20)),
        Rate("SEK", Decimal("0.0645"), "GBP", date(2026, 11, 19)),
    )


def test_rates_that_differ_are_refused(tmp_path: Path) -> None:
    """A second file with another rate, and a currency that is worth itself, are refused at their places."""
    bad = "  EUR: {worth: 0.87 GBP, on: 2026-11-20}\n  GBP: {worth: 1 GBP, on: 2026-01-01}\n"
    more = f"offers: 1\nsuppliers: {{}}\nrates:\n{bad}"
    other = _write(tmp_path, more, "more.yaml")
    with pytest.raises(InputError) as caught:
        read_offers([_write(tmp_path, DETAIL), other])
    assert str(caught.value).splitlines() == [
        f"{other.as_posix()}:4:3: an earlier file has another rate for EUR: 1 EUR = 0.86 GBP as of 2026-11-20",
        f"{other.as_posix()}:5:16: GBP is worth itself; expected another currency",
    ]


def test_a_price_stated_in_two_files_is_refused(tmp_path: Path) -> None:
    """The same number and pack of one supplier may stand in one of the files only: no file goes before another."""
    more = "offers: 1\nsuppliers: {}\nprices:\n  - {part: tee-an3, supplier: south, number: B, price: 1 GBP}\n"
    other = _write(tmp_path, more, "more.yaml")
    with pytest.raises(InputError) as caught:
        read_offers([_write(tmp_path, OFFERS), other])
    said = "south has a price for this number and pack of tee-an3 already"
    assert str(caught.value) == f"{other.as_posix()}:4:12: {said}"


SUPPLIERS = [
    ("currency: pounds", "expected a currency as three capital letters (ISO 4217), such as GBP, got 'pounds'"),
    (
        "currency: GBP, shipping: free",
        "expected an amount and a currency, such as 12.50 GBP, got 'free': put one space before the currency",
    ),
    ("currency: GBP, shipping: {free_over: 9 GBP}", "carriage is flat or by_weight: give one of the two"),
    (
        "currency: GBP, shipping: {flat: 1 GBP, by_weight: [{up_to: 1 kg, price: 1 GBP}]}",
        "carriage is flat or by_weight: give one of the two",
    ),
    ("currency: GBP, shipping: {by_weight: []}", "carriage is flat or by_weight: give one of the two"),
    (
        "currency: GBP, shipping: {by_weight: [{up_to: 1 kg, price: 1 GBP}, {up_to: 1000 g, price: 2 GBP}]}",
        "by_weight goes from the lightest step to the heaviest",
    ),
    (
        "currency: GBP, shipping: {by_weight: [{up_to: 1 kg, price: 2 GBP}, {up_to: 2 kg, price: 1 GBP}]}",
        "a heavier order never costs less to send than a lighter one",
    ),
    ("currency: GBP, shipping: {by_weight: [{up_to: 0 g, price: 1 GBP}]}", "expected more than zero, got '0 g'"),
    ("currency: GBP, shipping: {by_weight: [{price: 1 GBP}]}", "a weight step needs 'up_to'"),
    ("currency: GBP, shipping: {flatt: 1 GBP}", "unknown key 'flatt' in carriage; nearest is 'flat'"),
    ("currency: GBP, shipping: {flat: 1 EUR}", "expected GBP, the currency of s, got 1 EUR"),
    ("currency: GBP, shipping: {flat: 1 GBP, free_over: 1 EUR}", "expected GBP, the currency of s, got 1 EUR"),
    (
        "currency: GBP, shipping: {by_weight: [{up_to: 1 kg, price: 1 EUR}]}",
        "expected GBP, the currency of s, got 1 EUR",
    ),
    ("currency: GBP, minimum_order: 1 EUR", "expected GBP, the currency of s, got 1 EUR"),
    ("currency: GBP, cut_off: 2 pm", "expected a time of the day such as 14:00, got '2 pm'"),
    ("currency: GBP, cut_off: 24:00", "expected a time of the day such as 14:00, got '24:00'"),
    (
        "currency: GBP, closed: [sax]",
        "'sax' is no day of the week; nearest is 'sat'; write mon, tue, wed, thu, fri, sat, sun",
    ),
    (
        "currency: GBP, closed: [mon, tue, wed, thu, fri, sat, sun]",
        "closed on every day of the week, it would never send anything",
    ),
    ("currency: GBP, closed_on: [25.12.2026]", "expected a date such as 2026-12-31, got '25.12.2026'"),
    ("currency: GBP, part_deliveries: maybe", "expected yes or no, got 'maybe'"),
    ("currency: GBP, lead_time: -1 d", "expected zero or more, got '-1 d'"),
    ("currency: GBP, lead_time: 3654 d", "expected a lead time of at most 10 years, got '3654 d'"),
    ("currency: GBP, lead_time: 522 weeks", "expected a lead time of at most 10 years, got '522 weeks'"),
    ("currency: GBP, lead_time: 2", "a bare number where a time is needed: write '30 min' or '2 d'"),
]


@pytest.mark.parametrize(("supplier", "said"), SUPPLIERS)
def test_bad_suppliers_are_refused_with_their_sentence(tmp_path: Path, supplier: str, said: str) -> None:
    """Each bad value of a supplier, its carriage and its days has its whole sentence, on its line."""
    refusal = _refusal(_write(tmp_path, f"offers: 1\nsuppliers:\n  s: {{name: S, {supplier}}}\n"))
    assert len(refusal) == 1
    place, _, message = refusal[0].partition(" ")
    assert place.startswith("3:")
    assert message == said


def test_falling_weight_steps_are_refused_where_they_stand(tmp_path: Path) -> None:
    """Carriage that falls with weight is a slip: the refusal names file, line and column."""
    text = """\
offers: 1
suppliers:
  s:
    name: S
    currency: GBP
    shipping: {by_weight: [{up_to: 1 kg, price: 5 GBP}, {up_to: 2 kg, price: 3 GBP}]}
"""
    path = _write(tmp_path, text)
    with pytest.raises(InputError) as caught:
        read_offers([path])
    said = "a heavier order never costs less to send than a lighter one"
    assert str(caught.value) == f"{path.as_posix()}:6:5: {said}"


RATES = [
    ("EUR: {worth: 0.86, on: 2026-01-01}", "expected a rate and a currency, such as 0.86 GBP, got '0.86'"),
    ("EUR: {worth: 0 GBP, on: 2026-01-01}", "expected a rate and a currency, such as 0.86 GBP, got '0 GBP'"),
    ("EUR: {worth: [], on: 2026-01-01}", "expected a rate and a currency, such as 0.86 GBP"),
    ("EUR: {worth: 0.86 GBP}", "a rate needs 'on'"),
    ("EUR: {worth: 0.86 GBP, on: today}", "expected a date such as 2026-12-31, got 'today'"),
    (
        "euro: {worth: 0.86 GBP, on: 2026-01-01}",
        "expected a currency as three capital letters (ISO 4217), such as GBP, got 'euro'",
    ),
]


@pytest.mark.parametrize(("rate", "said"), RATES)
def test_bad_rates_are_refused_with_their_sentence(tmp_path: Path, rate: str, said: str) -> None:
    """Each bad rate has its whole sentence, on its line."""
    refusal = _refusal(_write(tmp_path, f"offers: 1\nsuppliers: {{}}\nrates:\n  {rate}\n"))
    assert len(refusal) == 1
    place, _, message = refusal[0].partition(" ")
    assert place.startswith("4:")
    assert message == said


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
        ("price: 1 GBP, lead_time: 30000 d", "expected a lead time of at most 10 years, got '30000 d'"),
        ("price: 1 GBP, valid_until: 31.1.2026", "expected a date such as 2026-12-31, got '31.1.2026'"),
        ("price: 1 GBP, valid_until: 2026-02-30", "expected a date such as 2026-12-31, got '2026-02-30'"),
        ("number: N", "a price needs 'price'"),
        ("price: 1 GBP, stock: -1", "expected a whole number from 0 to 9999, got '-1'"),
        ("price: 1 GBP, mass: 0 g", "expected more than zero, got '0 g'"),
        ("price: 1 GBP, contents: 0 mL", "expected more than zero, got '0 mL'"),
        ("price: 1 GBP, to_length: maybe", "expected yes or no, got 'maybe'"),
        ("price: 1 GBP, to_length: yes", "to_length needs per, the step of length, and no pack"),
        ("price: 1 GBP, to_length: yes, per: 1 m, pack: 2", "to_length needs per, the step of length, and no pack"),
        ("price: 1 GBP, breaks: 10", "expected a list, got text '10'"),
        ("price: 1 GBP, breaks: [{price: 1 GBP}]", "a price break needs 'packs'"),
        ("price: 1 GBP, breaks: [{packs: 5, price: 1 EUR}]", "expected GBP, the currency of s, got 1 EUR"),
        (
            "price: 1 GBP, breaks: [{packs: 1, price: 1 GBP}]",
            "breaks go from few packs to many, and begin above 1",
        ),
        (
            "price: 1 GBP, breaks: [{packs: 9, price: 1 GBP}, {packs: 9, price: 1 GBP}]",
            "breaks go from few packs to many, and begin above 1",
        ),
        ("prise: 1 GBP, price: 1 GBP", "unknown key 'prise' in a price; nearest is 'price'"),
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
