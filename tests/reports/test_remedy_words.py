"""Remedies in words: an act for every kind, all that has to be bought, the edit of the file, the cost."""

import re
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

import fitcheck.remedies.cures as cures
from fitcheck.bom.change import BomChange, RowChange
from fitcheck.bom.record import Length, Piece, Price, Row
from fitcheck.catalog.money import Money
from fitcheck.changes import Append, Drop, Put
from fitcheck.remedies.proof import Proven, Witness
from fitcheck.remedies.remedy import Remedy
from fitcheck.reports.remedy_words import cost_of, edit_text, flow, orders, remedy_lines, remedy_text, remedy_value


def _price(each: str, currency: str = "GBP") -> Price:
    return Price(Fraction(each), currency, "shed", None, 1, Money(Decimal(each), currency), None)


PLUG = Row("plug-1-8-npt", "plug", "Plug", 2, "each", ("a",), price=_price("0.50"))
TUBE = Row("tube-3-16-cuni", "tube", "Tube", 1200.0, "mm", ("run",), price=_price("0.01"))


def proven(remedy: Remedy, bill: BomChange | None = None) -> Proven:
    """Return a remedy with a witness that says no more than how the bill changes."""
    return Proven(remedy, Witness((), (), None, bill))


SAID = [
    (Remedy("adapters", (), ("a", "b"), added_joints=2), "fit a, then b (2 more joints)"),
    (Remedy("part", (), ("tee-x",), ("tee",)), "exchange tee for tee-x"),
    (Remedy("flare", (Put(("lines", "run", "ends", "to", "flare"), "bubble"),)), "flare run.to as bubble"),
    (
        Remedy("nut", (Drop(("lines", "run", "ends", "to", "nut")),), ("nut-x",)),
        "fit nut-x at run.to",
    ),
    (Remedy("washers", (Put(("joints", 3, "washers"), "2"),)), "fit 2 washers"),
    (
        Remedy("leave out", (), ("plug-a", "plug-b"), ("link",)),
        "leave out link; close what it leaves open with plug-a and plug-b",
    ),
    (Remedy("hose for line", (), ("hose-x",), ("run",)), "run hose-x in the place of run"),
    (Remedy("hose for line", (), ("hose-x",)), "run hose-x from the end of the line"),
    (Remedy("uncross", (), tags=("one", "two")), "lead one and two each where the other goes"),
    (Remedy("name", (), notes=("tea read as tee",)), "tea read as tee"),
]


@pytest.mark.parametrize(("remedy", "words"), SAID)
def test_act(remedy: Remedy, words: str) -> None:
    """The act comes verb first, with the parts and the tags it is about and the joints it adds."""
    assert remedy_text(proven(remedy)) == words


def test_every_kind_has_words() -> None:
    """No cure makes a remedy of a kind that no words are known for."""
    folder = Path(cures.__file__).parent
    kinds = {kind for file in folder.glob("*.py") for kind in re.findall(r'Remedy\(\s*"([a-z ]+)"', file.read_text())}
    assert len(kinds) > 15
    for kind in sorted(kinds):
        sample = Remedy(kind, (Put(("lines", "run", "ends", "to", "flare"), "2"),), ("part-x",), ("tag",), 0, ("note",))
        assert remedy_text(proven(sample))


def test_what_to_buy_and_to_edit() -> None:
    """New rows and more of a row are bought, gone rows and less of one come off; the edits stand as they are made."""
    bill = BomChange(
        gone=(PLUG._replace(part="cap-x", quantity=1),),
        new=(PLUG,),
        changed=(RowChange(TUBE, TUBE._replace(quantity=1350.5)), RowChange(PLUG, PLUG._replace(part="w", quantity=1))),
        priced=True,
    )
    remedy = Remedy("plug", (Put(("components", "p"), {"part": "plug-1-8-npt"}), Drop(("joints", 2))), notes=("where",))
    assert list(remedy_lines(proven(remedy, bill))) == [
        "look by hand: where",
        "buy: 2 plug-1-8-npt, 150.5 mm tube-3-16-cuni",
        "take off the order: 1 cap-x, 1 w",
        "cost: 1.51 GBP more than before",
        "edit: set components.p = {part: plug-1-8-npt}",
        "edit: take out joints.2",
    ]
    value = remedy_value(proven(remedy, bill))
    assert value["buy"] == ["2 plug-1-8-npt", "150.5 mm tube-3-16-cuni"]
    assert value["cost"] == "1.51 GBP more than before"
    assert [value[f"unpriced_{act}"] for act in ("bought", "dropped", "changed")] == [0, 0, 0]


def test_length_that_is_not_known_is_no_saving() -> None:
    """A row that loses its known length is not told as money saved: the rest is, and what keeps it from being all."""
    pieces = (Piece("run", Length(1200.0)), Piece("link", Length(None, "no route")))
    before = TUBE._replace(pieces=pieces[:1])
    longer = TUBE._replace(quantity=None, known_mm=1200.0, pieces=pieces)
    clips = RowChange(PLUG, PLUG._replace(quantity=3))
    proven_one = proven(Remedy("line", ()), BomChange((), (), (RowChange(before, longer), clips), True))
    assert list(remedy_lines(proven_one)) == [
        "buy: tube-3-16-cuni for link, length to be measured, 1 plug-1-8-npt",
        "cost: not known: 1 line bought has no known length; without it 0.50 GBP more than before",
    ]


NO_PRICE = PLUG._replace(part="hose-x", price=None)
COSTS = [
    (BomChange((), (), (), True), "no change"),
    (BomChange((PLUG,), (PLUG._replace(part="w"),), (), True), "no change"),
    (BomChange((PLUG,), (), (), True), "1.00 GBP less than before"),
    (
        BomChange((PLUG,), (PLUG._replace(price=_price("0.75", "EUR")),), (), True),
        "1.50 EUR more and 1.00 GBP less than before",
    ),
    (BomChange((), (NO_PRICE,), (), True), "not known: 1 line bought has no price"),
    (
        BomChange((PLUG,), (NO_PRICE,), (), True),
        "not known: 1 line bought has no price; without it 1.00 GBP less than before",
    ),
    (
        BomChange((NO_PRICE, PLUG), (NO_PRICE._replace(part="a"), NO_PRICE._replace(part="b")), (), True),
        "not known: 2 lines bought and 1 line dropped have no price; without them 1.00 GBP less than before",
    ),
    (BomChange((NO_PRICE,), (), (RowChange(NO_PRICE, PLUG),)), None),
]


@pytest.mark.parametrize(("bill", "told"), COSTS)
def test_cost(bill: BomChange, told: str | None) -> None:
    """What nothing is known of is said to be not known; a currency that stays is not told; no saving but a real one."""
    assert cost_of(Witness((), (), None, bill)) == told


def test_what_has_no_part_is_on_no_order() -> None:
    """What no catalog has comes off no order and lacks no price when it goes; when it is needed, it is bought."""
    nut = Row(None, "nut", "3/8-24 nut, inverted", 2, "each", ("run.to",))
    fewer = BomChange((nut._replace(description="other"),), (), (RowChange(nut, nut._replace(quantity=1)),), True)
    assert list(orders(Witness((), (), None, fewer))) == []
    assert cost_of(Witness((), (), None, fewer)) == "no change"
    more = BomChange((), (nut,), (), True)
    assert list(orders(Witness((), (), None, more))) == [("buy", ["2 no part (nut)"])]
    assert cost_of(Witness((), (), None, more)) == "not known: 1 line bought has no price"


def test_values_as_the_file_would_write_them() -> None:
    """Nested values on one line; text that YAML would read otherwise is quoted."""
    assert flow({"part": "x", "ends": ["a.b", "c: d"]}) == '{part: x, ends: [a.b, "c: d"]}'
    assert edit_text(Append(("joints",), ["a.b", "c.d"])) == "add to joints: [a.b, c.d]"
