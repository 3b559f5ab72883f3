"""Whole lists of an invented supplier taken in: every reason, every count, files that stay or are refused."""

from pathlib import Path

import pytest

from fitcheck.catalog.take_in import writing
from fitcheck.catalog.take_in.rows import REASONS
from fitcheck.sources import InputError
from tests.catalog.take_in.lists import ADAPTER, HEADER, NUT, TEE, files, offers, parts, rejects, taken, write

GERMAN = [
    ["Erfundene Bremsteile", "", "", "", ""],
    ["Artikelnummer", "Bezeichnung", "VPE", "Stückpreis EUR", "Lieferzeit (Tage)"],
    ["B-100", NUT, "10", "0,85", "3"],
    ["B-101", "T-Stück 3x M10x1 innen F-Bördel 4,75 mm", "", "1.112,50", "3-5"],
    ["B-102", "Bremsschlauch irgendwas", "", "9,90", ""],
    ["B-101", "T-Stück 3x M10x1 innen F-Bördel 4,75 mm", "", "1.112,50", "3-5"],
    ["", "", "", "", ""],
    ["B-103", "Kupferdichtring 10x14x1", "100", "0,08", "2 Wochen"],
]


def test_a_german_list(tmp_path: Path) -> None:
    """Parts, prices, packs and lead times are those of the list; every row is accounted for."""
    found = taken(write(tmp_path / "list.csv", GERMAN, ";", "cp1252"))
    assert (found.encoding, found.separator, found.decimal, found.currency) == ("cp1252", ";", "comma", "EUR")
    assert (found.rows, found.taken, found.rejected, found.repeated, found.blank) == (5, 3, 1, 1, 1)
    assert (found.repeats, found.above, found.parts, found.offers) == (((6, 4),), 1, 3, 3)
    got = [(o.part, str(o.price), o.pack, o.number, o.lead_time) for o in offers(tmp_path).offers]
    assert got == [
        ("invented-b-100", "8.50 EUR", 10, "B-100", 3 * 86400),
        ("invented-b-101", "1112.50 EUR", 1, "B-101", 5 * 86400),
        ("invented-b-103", "8.00 EUR", 100, "B-103", 14 * 86400),
    ]
    tee = parts(tmp_path).get("invented-b-101")
    assert tee is not None
    assert [(p.thread and p.thread.designation, p.gender, p.seat, p.tube) for p in tee.ports.values()] == [
        ("M10x1", "internal", "bubble", 4.75)
    ] * 3
    assert tee.source == "the supplier's wording in list.csv, read with high confidence"
    reason = "an end has no thread; a hose has 2 ends; the wording gives 1"
    assert rejects(tmp_path, separator=";")[1:] == [["B-102", "Bremsschlauch irgendwas", "", "9,90", "", "5", reason]]


COLUMNS = ("Part", "Code", "Description", "Price", "Currency", "Pack", "Per", "Unit", "Lead time", "Valid until")
GOOD = ("", "X1", TEE, "2.00", "GBP", "", "", "", "", "")


def row_with(**cells: str) -> list[str]:
    """Return a good row with some cells exchanged."""
    names = ("part", "code", "text", "price", "currency", "pack", "per", "unit", "lead", "valid")
    return [cells.get(name, good) for name, good in zip(names, GOOD, strict=True)]


REJECTED = [
    ("cells", [*GOOD, "more"], "the row has 11 cells, the header 10"),
    ("characters", row_with(text="Tee \x07"), "the character U+0007 is not taken in a file"),
    ("part-unknown", row_with(part="tee-nowhere"), "no catalog has a part 'tee-nowhere'"),
    ("no-description", row_with(text=" "), "the row has no description"),
    ("not-understood", row_with(text="Tee"), "an end has no thread"),
    ("likely", row_with(text="Plug G1/8"), "the seat is not said"),
    ("no-price", row_with(price=""), "no price"),
    ("price", row_with(price="on request"), "'on request' is no price such as 12.50 or 1.234,50"),
    ("price", row_with(price="0.00"), "the price is zero"),
    ("price", row_with(price="-3.00"), "'-3.00' is no price such as 12.50 or 1.234,50"),
    (
        "price",
        row_with(price="1.2345", pack="1", per="100"),
        "the price of a pack, 0.012345, is not exact to four decimals below a thousand million",
    ),
    ("currency", row_with(currency="EUR"), "the price is in 'EUR'; the list is in GBP"),
    ("currency", row_with(price="$2.00", currency=""), "the price is in dollars; the list is in GBP"),
    ("currency", row_with(price="EUR 2.00"), "the price is in EUR, the column of currencies says 'GBP'"),
    ("pack", row_with(pack="0"), "'0' is no pack size; expected a whole number from 1 to 9999"),
    (
        "pack",
        row_with(pack="10"),
        "whether the price is for 1 piece or for 10 is not said: give price_for in --columns",
    ),
    ("pack", row_with(pack="10", unit="pair"), "the unit is of 2 pieces, the pack of 10"),
    ("price_unit", row_with(per="x"), "'x' is no number that a price is for; expected a whole number from 1 to 9999"),
    ("unit", row_with(unit="bucket"), "'bucket' is no unit of sale; expected each, m, ft, pair or pack of 10"),
    ("lead-time", row_with(lead="soon"), "'soon' is no lead time such as 3 days or 2 weeks"),
    ("date", row_with(valid="3/4/2026"), "'3/4/2026' is no date such as 2026-12-31 or 31.12.2026"),
    ("no-id", row_with(code="***"), "'***' has no letters or digits to call the part by"),
    ("id-taken", row_with(code="G1", text=ADAPTER), "row 2 has the same number and is another part"),
    ("offer-repeated", row_with(code="G1", price="3.00"), "row 2 has a price for the same part, number and pack"),
]


@pytest.mark.parametrize(("code", "row", "reason"), REJECTED, ids=[f"{c}: {r[:30]}" for c, _, r in REJECTED])
def test_every_reason(tmp_path: Path, code: str, row: list[str], reason: str) -> None:
    """A row that is not taken comes back as it was, with its number and the reason, and is counted under it."""
    found = taken(write(tmp_path / "list.csv", [COLUMNS, row_with(code="G1"), row_with(code="G2"), row]))
    assert (found.taken, found.rejected, dict(found.reasons)) == (2, 1, {code: 1})
    back = rejects(tmp_path)[1]
    assert (back[: len(row)], back[-2:]) == (list(row), ["4", reason])


def test_every_reason_is_tested() -> None:
    """The table of reasons has none that no row of these tests is rejected for."""
    assert {code for code, _, _ in REJECTED} | {"quotes"} == set(REASONS)


def test_spoilt_quotes_come_back_whole(tmp_path: Path) -> None:
    """A row that could not be cut into cells comes back as the one line it was."""
    path = tmp_path / "list.csv"
    path.write_text(f'Code,Description,Price\nA1,{TEE},1 GBP\nA2,"Tee,2 GBP\n', encoding="utf-8")
    assert dict(taken(path).reasons) == {"quotes": 1}
    assert rejects(tmp_path)[1] == ['A2,"Tee,2 GBP', "", "", "3", "a quote is opened and never closed"]


def test_a_part_that_is_named_becomes_an_offer(tmp_path: Path) -> None:
    """A row that names a part of the catalog is priced without its wording being read."""
    table = [COLUMNS, row_with(part="tube-3-16-cuni", text="anything", unit="25 ft", valid="31.12.2026")]
    found = taken(write(tmp_path / "list.csv", table))
    assert (found.parts, found.offers, found.counts["known"]) == (0, 1, 1)
    offer = offers(tmp_path).offers[0]
    assert (offer.part, offer.per, str(offer.valid_until)) == ("tube-3-16-cuni", 25 * 304.8, "2026-12-31")
    assert parts(tmp_path).kinds == {}


def test_price_breaks_are_offers_of_one_part(tmp_path: Path) -> None:
    """The same number and wording in another pack is a second offer and no second part."""
    table = [COLUMNS, row_with(), row_with(pack="10", per="10", price="15.00"), row_with(unit="pack of 50")]
    found = taken(write(tmp_path / "list.csv", table))
    assert (found.parts, found.offers) == (1, 3)
    assert [offer.pack for offer in offers(tmp_path).offers] == [1, 10, 50]


def test_likely_wording_is_taken_when_asked(tmp_path: Path) -> None:
    """With also_likely a part that is understood in part is made, and its note says what to look at."""
    path = write(tmp_path / "list.csv", [HEADER, ["A1", "Plug G1/8", "1.00", "GBP"]])
    assert taken(path).taken == 0
    found = taken(path, also_likely=True)
    assert (found.taken, found.counts["medium"]) == (1, 1)
    plug = parts(tmp_path).get("invented-a1")
    assert plug is not None
    assert (plug.kind, plug.ports["end"].seat) == ("plug", None)
    text = (tmp_path / "invented-parts.yaml").read_text(encoding="utf-8")
    assert 'note: "look at it before you buy: the seat is not said"' in text


def test_a_list_without_prices_makes_parts_only(tmp_path: Path) -> None:
    """No column of prices is no fault: there are parts and no offers file."""
    found = taken(write(tmp_path / "list.csv", [["Code", "Description"], ["A1", TEE], ["A1", f"{TEE} steel"]]))
    assert (found.parts, found.offers, dict(found.reasons)) == (1, 0, {"id-taken": 1})
    assert not (tmp_path / "invented-offers.yaml").exists()


def test_no_part_of_a_supplier_hides_one_that_ships(tmp_path: Path) -> None:
    """A supplier's name and number that together are the id of a shipped part are refused."""
    found = taken(write(tmp_path / "list.csv", [HEADER, ["3-16-inverted", TEE, "1.00", "GBP"]]), "tee")
    reason = "the catalog that ships has a part tee-3-16-inverted; give another --supplier"
    assert (found.rejected, rejects(tmp_path)[1][-1]) == (1, reason)


def test_twice_changes_nothing(tmp_path: Path) -> None:
    """The second run writes no byte and says so; another run elsewhere gives the same bytes."""
    path = write(tmp_path / "list.csv", GERMAN, ";")
    assert {one.state for one in taken(path).files} == {"new"}
    before = files(tmp_path)
    times = {one.name: one.stat().st_mtime_ns for one in tmp_path.iterdir()}
    assert {one.state for one in taken(path).files} == {"unchanged"}
    assert files(tmp_path) == before
    assert {one.name: one.stat().st_mtime_ns for one in tmp_path.iterdir()} == times
    taken(path, out=tmp_path / "else")
    assert files(tmp_path / "else") == {name: data for name, data in before.items() if name != "list.csv"}


def test_a_new_list_replaces_what_take_in_wrote(tmp_path: Path) -> None:
    """A price that changed in the list changes the files that nobody edited."""
    path = write(tmp_path / "list.csv", [HEADER, ["A1", TEE, "1.00", "GBP"]])
    taken(path)
    write(path, [HEADER, ["A1", TEE, "2.00", "GBP"], ["A2", "?", "1.00", "GBP"]])
    assert [one.state for one in taken(path).files] == ["changed"] * 3
    assert str(offers(tmp_path).offers[0].price) == "2.00 GBP"


@pytest.mark.parametrize("name", ["invented-parts.yaml", "invented-offers.yaml", "list-rejects.csv"])
def test_a_file_edited_by_hand_is_not_replaced(tmp_path: Path, name: str) -> None:
    """What somebody wrote into a file is kept: nothing at all is written, unless asked for."""
    path = write(tmp_path / "list.csv", [HEADER, ["A1", TEE, "1.00", "GBP"], ["A2", "?", "1.00", "GBP"]])
    taken(path)
    edited = tmp_path / name
    edited.write_bytes(edited.read_bytes().replace(b"A1", b"A9").replace(b"A2", b"A8").replace(b"tee", b"TEE"))
    before = files(tmp_path)
    with pytest.raises(InputError) as error:
        taken(path)
    assert str(error.value) == (
        f"{edited.as_posix()}:1:1: this file was not written by take-in from this list, or was edited since; "
        "move it away, write elsewhere (--out) or replace it (--write-over)"
    )
    assert files(tmp_path) == before
    assert "changed" in {one.state for one in taken(path, write_over=True).files}


def test_another_list_of_the_supplier_does_not_replace_the_first(tmp_path: Path) -> None:
    """Files from a list of another name are not taken for an earlier state of this one."""
    taken(write(tmp_path / "list.csv", [HEADER, ["A1", TEE, "1.00", "GBP"]]))
    with pytest.raises(InputError):
        taken(write(tmp_path / "other.csv", [HEADER, ["A2", TEE, "1.00", "GBP"]]))


def test_long_lists_make_several_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that would grow too large is followed by a numbered one, and those of a longer list are removed."""
    monkeypatch.setattr(writing, "MOST_BYTES", 500)
    path = write(tmp_path / "list.csv", [HEADER, *([f"A{n}", TEE, "1.00", "GBP"] for n in range(9))])
    names = {one.path.name for one in taken(path).files}
    assert {"invented-parts.yaml", "invented-parts-2.yaml", "invented-offers-2.yaml"} <= names
    assert {one.state for one in taken(path).files} == {"unchanged"}
    write(path, [HEADER, ["A1", TEE, "1.00", "GBP"]])
    states = {one.path.name: one.state for one in taken(path).files}
    assert (states["invented-parts-2.yaml"], states["invented-offers-2.yaml"]) == ("removed", "removed")
    assert sorted(files(tmp_path)) == ["invented-offers.yaml", "invented-parts.yaml", "list-rejects.csv", "list.csv"]
