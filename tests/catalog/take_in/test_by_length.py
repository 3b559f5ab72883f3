"""Goods by the metre or foot: cut to length off a reel, in pieces of a length, or not sold by length at all."""

from pathlib import Path

import pytest

from tests.catalog.take_in.lists import TEE, offers, rejects, taken, write

TUBE = "Copper nickel brake line 3/16 in x 0.028 in"
HOSE = "Brake hose braided -3 AN female to 10 mm banjo, 14 in"
HEADER = ("Code", "Description", "Price GBP", "Unit", "Pack", "Per")
PIECES = "take_in: 1\nprice_for: piece\nto_length: no\n"

SOLD = [
    (TUBE, "ft", "", "1.45", "1.45 GBP", 304.8, True),
    (TUBE, "per metre", "", "4.75", "4.75 GBP", 1000.0, True),
    (TUBE, "m", "100", "475.00", "4.75 GBP", 1000.0, True),
    (TUBE, "25 ft roll", "", "31.00", "31.00 GBP", 7620.0, False),
    (f"{TUBE}, 25 ft", "25 ft", "", "31.00", "31.00 GBP", 7620.0, False),
    (f"{TUBE}, 25 ft", "7.6 m", "", "31.00", "31.00 GBP", 7600.0, False),
    (f"{TUBE}, 1 m", "m", "", "5.00", "5.00 GBP", 1000.0, False),
    (f"{TUBE}, 25 ft", "each", "", "31.00", "31.00 GBP", None, False),
]


@pytest.mark.parametrize(
    ("text", "unit", "per", "price", "paid", "length", "reel"), SOLD, ids=[f"{t} by {u} {p}" for t, u, p, *_ in SOLD]
)
def test_tube_by_length(
    tmp_path: Path, text: str, unit: str, per: str, price: str, paid: str, length: float | None, reel: bool
) -> None:
    """A price by the metre or foot is for tube off a reel, and counted; where a length is told, it is for pieces."""
    found = taken(write(tmp_path / "list.csv", [HEADER, ("T1", text, price, unit, "", per)]))
    offer = offers(tmp_path).offers[0]
    assert (str(offer.price), offer.per, offer.to_length, offer.pack) == (paid, length, reel, 1)
    assert found.to_length == reel


def test_a_part_that_is_named_by_length(tmp_path: Path) -> None:
    """Tube and feed hose of a catalog are priced off a reel; the answer counts them."""
    table = [
        ("part", "number", "price GBP", "unit"),
        ("tube-3-16-cuni", "A", "4.75", "m"),
        ("feed-hose-8mm", "B", "2.10", "ft"),
        ("tube-3-16-cuni", "C", "31.00", "25 ft"),
    ]
    assert taken(write(tmp_path / "list.csv", table)).to_length == 2
    assert [(offer.number, offer.to_length) for offer in offers(tmp_path).offers] == [
        ("A", True), ("B", True), ("C", False),
    ]  # fmt: skip


def test_pieces_of_one_foot_are_taken_when_said(tmp_path: Path) -> None:
    """With `to_length: no` in the mapping file a price by the foot is for pieces of a foot, in packs too."""
    mapping = tmp_path / "map.yaml"
    mapping.write_text(PIECES, encoding="utf-8")
    table = [HEADER, ("T1", TUBE, "1.45", "ft", "", ""), ("T2", TUBE, "1.45", "ft", "10", "")]
    found = taken(write(tmp_path / "list.csv", table), mapping=mapping)
    assert [(str(o.price), o.per, o.to_length, o.pack) for o in offers(tmp_path).offers] == [
        ("1.45 GBP", 304.8, False, 1), ("14.50 GBP", 304.8, False, 10),
    ]  # fmt: skip
    assert found.to_length == 0


REFUSED = [
    (TEE, "ft", "1", "unit", "the price is for 'ft', and a tee is not sold by length"),
    (TEE, "25 ft", "1", "unit", "the price is for '25 ft', and a tee is not sold by length"),
    (HOSE, "m", "1", "unit", "the price is for 'm', and a hose is not sold by length"),
    (
        f"{TUBE}, 25 ft", "ft", "1", "unit",
        "whether the price is for 1 ft or for the 25 ft of the wording is not said: write the same length in both",
    ),
    (
        f"{TUBE}, 25 ft", "50 ft", "1", "unit",
        "whether the price is for 50 ft or for the 25 ft of the wording is not said: write the same length in both",
    ),
    (
        TUBE, "m", "25", "pack",
        "whether the pack is 25 pieces of 1 m or one length is not said: write the length as the unit",
    ),
]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "unit", "pack", "code", "reason"), REFUSED, ids=[f"{t} by {u}" for t, u, *_ in REFUSED]
)
def test_lengths_that_are_refused(tmp_path: Path, text: str, unit: str, pack: str, code: str, reason: str) -> None:
    """What is not sold by length has no price by it; two lengths, or a pack of a length, are never chosen between."""
    found = taken(write(tmp_path / "list.csv", [HEADER, ("T1", text, "2.00", unit, pack, pack)]))
    assert (found.taken, dict(found.reasons)) == (0, {code: 1})
    assert rejects(tmp_path)[1][-1] == reason


def test_a_named_fitting_has_no_price_by_length(tmp_path: Path) -> None:
    """A nut of a catalog with a price by the foot comes back with the reason, and makes no offer."""
    path = write(tmp_path / "list.csv", [("part", "price GBP", "unit"), ("nut-3-8-24-inverted", "0.89", "ft")])
    assert taken(path).offers == 0
    assert rejects(tmp_path)[1][-1] == "the price is for 'ft', and a nut is not sold by length"
