"""Parts of a purchase plan in words."""

from datetime import date
from decimal import Decimal

from fitcheck.bom.need import Need
from fitcheck.bom.ordering.record import Bound, Plan, Serves
from fitcheck.catalog.offers import Offer, Shipping
from fitcheck.reports.order_words import (
    arrives_text,
    asked_text,
    carriage_text,
    errors_text,
    headline,
    home_text,
    line_words,
    pack_text,
    proof_text,
)
from tests.reports.order_samples import (
    COILS,
    FROM_HALL,
    FROM_NORD,
    HALL,
    NORD,
    NOTHING,
    NUT,
    NUTS,
    PLAN,
    SHED,
    WASHER,
    WHOLE,
    money,
)


def test_headlines() -> None:
    """The first line owns up to what is missing, not known, or on its way without a day."""
    start = "Plover: what to buy, as of 2026-11-29: 1 order, 20.50 GBP"
    assert headline(WHOLE) == f"{start}, all here on 2026-12-02"
    assert headline(WHOLE._replace(finish=None)) == f"{start}, nobody knows when all is here"
    unknown = WASHER._replace(unknown=(("a", "b"), ("c", "d")))
    plan = WHOLE._replace(finish=None, needs=(unknown,), missing=PLAN.missing[:1])
    assert headline(plan) == f"{start}, 1 part cannot be bought, 2 amounts not known"


def test_the_day_that_was_asked_for() -> None:
    """A day that was asked for is kept or not; nothing is said where none was."""
    kept = WHOLE._replace(by=date(2026, 12, 2))
    assert asked_text(kept) == "Asked for by 2026-12-02: all is here by then"
    assert asked_text(kept._replace(by=date(2026, 12, 1))) == "Asked for by 2026-12-01: NOT everything is here by then"
    assert asked_text(kept._replace(finish=None)) == "Asked for by 2026-12-02: NOT everything is here by then"
    assert asked_text(WHOLE) == ""


def test_errors_in_the_build() -> None:
    """Errors of the check are counted before anything is ordered."""
    one = "check finds 1 error in this build: do not order before it is put right (fitcheck check)"
    assert [errors_text(count) for count in (0, 1)] == ["", one]


def test_carriage_in_words() -> None:
    """Carriage says why it costs what it costs, and what it leaves out."""
    free = FROM_HALL._replace(goods=money("100.00 GBP"), carriage=money("0.00 GBP"))
    assert carriage_text(free) == "free: goods are worth 100.00 GBP or more"
    assert carriage_text(free._replace(goods=money("99.99 GBP"), unweighed=())) == "by weight, 0.84 kg"
    assert carriage_text(FROM_NORD) == "the same for every order"
    assert carriage_text(FROM_NORD._replace(supplier=SHED)) == "nothing is said about carriage: it is not in this plan"
    dear = FROM_NORD._replace(supplier=NORD._replace(shipping=Shipping(money("9 EUR"), (), money("20 EUR"))))
    assert carriage_text(dear) == "the same for every order"


def test_arrival_in_words() -> None:
    """An order is here on a day, in parts or as a whole, or nobody says when."""
    assert arrives_text(FROM_HALL) == "all of it is here on 2026-12-02"
    assert arrives_text(FROM_NORD) == "what is ready is sent at once, the last of it is here on 2026-12-08"
    assert arrives_text(FROM_HALL._replace(arrives=None)) == "nobody states when it is here: no lead time is given"


def test_currencies_in_words() -> None:
    """A total in another currency is converted at rates that are named, all of them."""
    assert home_text(PLAN, FROM_HALL) == ""
    assert home_text(PLAN._replace(rates=()), FROM_NORD) == "32.08 GBP at a rate that the plan does not state"
    (euro,) = PLAN.rates
    way = (euro._replace(to="USD", worth=Decimal("1.1")), euro._replace(of="GBP", to="USD", worth=Decimal("1.25")))
    wanted = "32.08 GBP at 1 EUR = 1.1 USD as of 2026-11-01, 1 GBP = 1.25 USD as of 2026-11-01"
    assert home_text(PLAN._replace(rates=way), FROM_NORD) == wanted


def test_packs_in_words() -> None:
    """What comes in a pack says pieces, lengths and contents; goods off a reel come in one piece."""
    offer = Offer("a", HALL, money("1.00 GBP"))
    assert pack_text(offer, 3) == ""
    assert pack_text(offer._replace(pack=10), 3) == "pack of 10"
    assert pack_text(offer._replace(pack=2, per=1000.0), 3) == "pack of 2, each 1000 mm"
    assert pack_text(offer._replace(per=500.0, to_length=True), 3) == "1500 mm in one piece, priced by 500 mm"
    assert pack_text(offer._replace(pack=6, contents=250_000.0), 3) == "pack of 6, each 250 ml"


def test_lengths_that_the_offer_does_not_state() -> None:
    """Where the price is for the length that the part comes in, the line says that length."""
    line = COILS._replace(offer=COILS.offer._replace(per=None, pack=2), lengths=(5000.0, 5000.0))
    assert line_words(PLAN, FROM_HALL, line).pack == "pack of 2, each 5000 mm"
    assert line_words(PLAN, FROM_HALL, COILS).pack == "7620 mm"


def proven(plan: Plan, least: str, optimal: bool = False) -> str:
    """Return the proof of a plan in words."""
    return proof_text(plan._replace(bound=Bound(Decimal(least), optimal, 2.5)))


def test_proofs_in_words() -> None:
    """What is not proven says by how much the plan could be cheaper, rounded up; what is says among which plans."""
    assert proven(WHOLE, "20.50", True) == "proven: no plan from these offers costs less"
    assert proven(WHOLE, "20.50") == "proven: no plan from these offers costs less"
    assert proven(WHOLE, "20.49") == "not proven in the time given: at most 0.1 % could be saved"
    assert proven(WHOLE, "0") == "not proven in the time given: at most 100 % could be saved"
    assert proven(NOTHING, "0") == "proven: no plan from these offers costs less"
    wanted = "proven: no plan from these offers that lacks as little and is here by 2026-12-10 costs less"
    apart = "; not counted: weights not stated in the carriage of hall"
    assert proven(PLAN, "73.92", True) == wanted + apart
    late = PLAN._replace(by=date(2026, 12, 7))
    wanted = "proven: no plan from these offers that lacks as little costs less"
    assert proven(late, "73.92", True) == wanted + apart


def test_a_stated_part_that_no_catalog_has() -> None:
    """A part that means nothing here is bought all the same, and the line says that it is unknown."""
    need = Need("pmp", "", "no catalog has a part 'pmp'", "each", NUT.uses, unlisted=True)
    line = NUTS._replace(offer=NUTS.offer._replace(part="pmp"), serves=(Serves("pmp", 16),))
    plan = WHOLE._replace(needs=(need,), orders=(FROM_HALL._replace(lines=(line,)),))
    assert line_words(plan, plan.orders[0], line).description == "UNKNOWN: no catalog has a part 'pmp'"
