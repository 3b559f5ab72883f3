"""Searching catalogs: words as builders type them, options, order, and what is said when nothing is found."""

from typing import Any

import pytest

from fitcheck.catalog.part import Part, part_from_row
from fitcheck.catalog.search import Index, Miss, Query, by_kind
from fitcheck.catalog.search_words import query_words, spelled
from fitcheck.catalog.shelf import Layer, Shelf
from fitcheck.standards.sizes import same_tube
from fitcheck.standards.threads import parse

INDEX = Index(Shelf.generic())
BY_ID = {entry.id: entry for entry in INDEX.entries}
ROWS: dict[str, dict[str, Any]] = {
    "nut-m10x1-bubble": {"kind": "nut", "description": "Nut of the house", "material": "brass"},
    "mc_16": {"kind": "master cylinder", "description": "Pump,\n16 mm bore", "outlets": ["out"]},
    "odd-banjo": {"kind": "union", "description": "Ring fitting 10 mm eye", "material": "red bronze"},
    "fitting": {"kind": "adapter", "description": "-3 AN to G 1/8, öse"},
}
HOUSE = Layer("house.yaml", {key: row["kind"] for key, row in ROWS.items()}, lambda key: _house_part(key))


def _house_part(part_id: str) -> Part:
    return part_from_row(part_id, ROWS[part_id], "house.yaml")


def found(*words: str, index: Index = INDEX) -> list[str]:
    """Return the ids that the words find, best first."""
    return [entry.id for entry in index.search(Query.of(words))]


def first(*words: str) -> str:
    """Return the best id that the words find."""
    return found(*words)[0]


def test_every_part_is_found_by_its_own_id() -> None:
    """A part's id, in capitals or not, finds it before any other."""
    assert len(INDEX.entries) > 800
    assert [entry.id for entry in INDEX.entries if first(entry.id) != entry.id] == []
    assert [entry.id for entry in INDEX.entries[::20] if first(entry.id.upper()) != entry.id] == []


def test_every_part_is_found_by_its_description() -> None:
    """The words of a part's description find it, also when its parts stand in another order, with kind and material."""
    for entry in INDEX.entries:
        turned = [*reversed(entry.description.split(", ")), entry.kind, entry.material or ""]
        assert entry in INDEX.search(Query.of(turned)), entry.id
    for entry in INDEX.entries[::20]:
        assert entry in INDEX.search(Query.of(entry.description.split())), entry.id


def test_every_part_is_found_by_any_word_of_its_id() -> None:
    """Each word of an id, typed alone, finds its part among others even when cut short to three letters."""
    words = {word for entry in INDEX.entries for word in entry.id.split("-") if word.isalpha()}
    for word in words:
        answer = set(found(word[:3]))
        assert {entry.id for entry in INDEX.entries if word in entry.id.split("-")} <= answer, word


SPELLINGS = [
    ("3/16", "3/16 in", '3/16"', "3/16in", "3/16 inch", "3-16"),
    ("M10x1", "m10x1", "M10 x 1", "m 10x1.0", "M10\u00d71"),
    ("an3", "AN-3", "-3 AN", "3an", "JIC 3", "jic-3"),
    ("10mm", "10 mm", "10 MM"),
    ("1/8 npt", "1/8-npt", "1/8NPT", "1/8 in NPT"),
    ("g1/8", "G 1/8", "G1/8"),
    ("nut", "nuts", "NUTS", "nut,"),
]


@pytest.mark.parametrize("spellings", SPELLINGS, ids=lambda spellings: spellings[0])
def test_spellings_of_one_size_find_the_same(spellings: tuple[str, ...]) -> None:
    """However a size is written, the same parts are found, in the same order, and some are."""
    answers = [found(*text.split()) for text in spellings]
    assert answers[0]
    assert answers == [answers[0]] * len(spellings)


def test_numbers_are_found_whole() -> None:
    """3/1 is not the beginning of 3/16, nor M10x1 of M10x1.25, nor 25 the end of 1.25."""
    assert found("3/1", "tee") == []
    assert "nut-m10x1-bubble" in found("m10x1")
    assert "nut-m10x1-25-bubble-for-4-75" not in found("m10x1")
    assert found("m10x1.25", "nut") == found("m10x1-25", "nut") != []
    assert "nut-m10x1-25-bubble-for-4-75" in found("m10", "nut")
    assert all(".25" not in BY_ID[part_id].description.replace("x1.25", "") for part_id in found("1.25"))


def test_every_word_must_fit() -> None:
    """More words find fewer parts: what all of them find alone."""
    both = set(found("tee", "npt"))
    assert both == set(found("tee")) & set(found("npt"))
    assert set() < both < set(found("tee"))


@pytest.mark.parametrize(
    ("words", "best"),
    [
        ("tee 3/16", "tee-3-16-inverted"),
        ("3/16 tee npt", "tee-3-16-inverted-1-8-npt"),
        ("m10 washer", "washer-copper-m10"),
        ("m10x1 bubble nut", "nut-m10x1-bubble"),
        ("m10x1 nut bub", "nut-m10x1-bubble"),
        ("37 union", "union-an2"),
        ("3/16 clip", "clip-3-16"),
        ("8 mm feed hose", "feed-hose-8mm"),
        ("dot 4", "fluid-dot-4"),
        ("copper-nickel 3/16 tube", "tube-3-16-cuni"),
        ("3/8-24 UNF plug washer", "plug-3-8-24-washer"),
        ("brass 1/8 npt tee", "tee-1-4-inverted-1-8-npt"),
    ],
)
def test_the_best_comes_first(words: str, best: str) -> None:
    """What a builder most likely means is the first line."""
    assert first(*words.split()) == best


def test_nuts_for_a_tube_begin_with_the_usual_ones() -> None:
    """A nut that only its description gives the tube size of is no worse than one whose id says `for`."""
    nuts = [part_id for part_id in found("nut", "3/16") if BY_ID[part_id].kind == "nut"]
    usual = [part_id for part_id in nuts if "-for-" not in part_id]
    assert nuts[: len(usual)] == usual == sorted(usual, key=lambda part_id: (len(part_id), part_id))
    assert "nut-3-8-24-inverted" in usual


def test_options_are_met_by_one_port() -> None:
    """Thread, seat and tube are of the same port; a tube and a clip have their size without a port."""
    thread, tube = parse("3/8-24"), 4.75
    query = Query.of([], thread=thread, seat="inverted-flare", tube=tube)
    answer = INDEX.search(query)
    expected = {
        part.id
        for part in map(Shelf.generic().get, BY_ID)
        if part
        and any(
            port.thread is not None
            and port.thread.key == thread.key
            and port.seat == "inverted-flare"
            and port.tube is not None
            and same_tube(port.tube, tube)
            for port in part.ports.values()
        )
    }
    assert {entry.id for entry in answer} == expected != set()
    by_tube = {entry.id for entry in INDEX.search(Query.of([], tube=4.7625))}
    assert {"tube-3-16-cuni", "clip-3-16", "grommet-3-16", "nut-m10x1-bubble", "union-an3"} <= by_tube
    assert not {"tube-1-4-steel", "washer-copper-m10"} & by_tube


def test_kind_and_words_together() -> None:
    """`--kind` leaves only parts of that kind, whatever their words are."""
    answer = INDEX.search(Query.of(["bubble", "m10x1"], kind="adapter"))
    assert {entry.kind for entry in answer} == {"adapter"}
    assert by_kind(answer) == (("adapter", len(answer)),)


def test_a_house_catalog_is_searched_first_and_hides() -> None:
    """A part of the house is found by id, material and description, and hides the generic one of its id."""
    index = Index(Shelf.generic().under([HOUSE]))
    assert len(index.entries) == len(INDEX.entries) + len(ROWS) - 1
    assert [entry.catalog for entry in index.entries if entry.id == "nut-m10x1-bubble"] == ["house.yaml"]
    for words in (["mc_16"], ["MC_16"], ["pump", "16mm"], ["pump", "16", "mm", "bore"], ["master", "16"]):
        assert "mc_16" in found(*words, index=index)
    assert found("bronze", "ring", index=index) == ["odd-banjo"]
    assert found("an3", "g1/8", "ÖSE", index=index) == ["fitting"]


def test_what_is_missed_is_explained() -> None:
    """A slip is named with the word it is near, and the id with most of the words is offered."""
    assert INDEX.miss(Query.of(["teee", "3/16"])) == Miss((("teee", "tee"),), None, "tee-3-16-inverted")
    assert INDEX.miss(Query.of(["qqqqq"])) == Miss((("qqqqq", None),), None, None)
    narrowed = Query.of(["tee", "3/16"], seat="ferrule")
    assert INDEX.search(narrowed) == ()
    assert INDEX.miss(narrowed) == Miss((), len(found("tee", "3/16")), "tee-3-16-inverted")
    apart = Query.of(["feed-hose-8mm", "fluid", "tee"])
    assert INDEX.miss(apart).unknown == ()
    assert INDEX.miss(apart).nearest == "feed-hose-8mm"


def test_the_order_of_words_and_of_catalog_changes_nothing() -> None:
    """The same words in another order, or given twice, give the same list."""
    assert found("npt", "1/8", "adapter") == found("adapter", "npt", "1/8") == found("npt", "npt", "1/8", "adapter")
    assert [entry.id for entry in Index(Shelf.generic()).search(Query.of(["m10"]))] == found("m10")


def test_an_empty_query_says_so() -> None:
    """Nothing but punctuation asks for nothing; one option is enough to ask for something."""
    assert Query.of(["-", "?!", " "]).empty
    assert not Query.of(["a"]).empty
    assert not Query.of([], tube=4.75).empty


def test_an_empty_shelf_is_searched_without_harm() -> None:
    """Without any catalog nothing is found and nothing is near."""
    index = Index(Shelf([]))
    assert index.search(Query.of(["tee"])) == ()
    assert index.miss(Query.of(["tee"])) == Miss((("tee", None),), None, None)


def test_spelling_keeps_lines_and_decimals() -> None:
    """Lines stay lines, a decimal point between digits stays, every other sign becomes one space."""
    assert spelled("A,  b. M10x1.25; 0.7 mm\n-x.y-") == " a b m10x1.25 0.7mm \n x y "
    assert [word.typed for word in query_words(["An", "8 mm", "barb", "and", "an", "3/16", "in"])] == [
        "an",
        "8mm",
        "barb",
        "and",
        "3/16",
    ]
