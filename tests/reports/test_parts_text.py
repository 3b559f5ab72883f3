"""What a search found and everything about one part: whole texts, and lines that can be pasted."""

import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.build.load import load_document
from fitcheck.catalog.joins import joins
from fitcheck.catalog.part import Part, part_from_row
from fitcheck.catalog.search import Index, Query
from fitcheck.catalog.shelf import Layer, Shelf
from fitcheck.quantities import parse as quantity
from fitcheck.reports.parts_text import Search, part_json, part_text, paste_lines, search_json, search_text
from fitcheck.sources import parse
from fitcheck.standards.seats import seat as seat_of
from tests.reports.samples import CAUTION_LINES

NUT = {"thread": "M10x1", "gender": "external", "seat": "bubble", "tube": 4.75}
ROWS: dict[str, dict[str, Any]] = {
    "nut-a": {"kind": "nut", "description": "Nut, long", "material": "steel", "ports": {"nut": NUT}},
    "nut-b": {"kind": "nut", "description": "Nut, short", "ports": {"nut": NUT | {"length": 9.5}}},
    "pump": {
        "kind": "master cylinder",
        "description": "Pump, 16 mm bore",
        "ports": {
            "out": NUT | {"gender": "internal", "depth": quantity("7/16 in", "length")},
            "out_2": NUT | {"gender": "internal", "depth": quantity("7/16 in", "length")},
            "feed": {"gender": "external", "seat": "push-on", "hose": 8.0},
            "rod": {"thread": "5/16-24 UNF", "gender": "internal", "pattern": "pushrod", "reach": 38.0},
        },
        "outlets": ["out", "out_2"],
        "bore": quantity("16 mm", "length"),
        "reservoir_volume": 25000.0,
        "fluid_families": ["glycol"],
        "source": "measured",
    },
    "eye": {
        "kind": "hose",
        "ports": {
            "from": {"thread": "3/8-24 UNF", "gender": "internal", "seat": "cone-37", "tube": 4.7625},
            "to": {"seat": "washer-face", "eye": 10.1},
        },
    },
}
PAGES = Layer("own.yaml", {key: row["kind"] for key, row in ROWS.items()}, lambda key: _make(key))
SHELF = Shelf([PAGES])


def _make(part_id: str) -> Part:
    return part_from_row(part_id, ROWS[part_id], "own.yaml")


def _part(part_id: str) -> Part:
    part = SHELF.get(part_id) or Shelf.generic().get(part_id)
    assert part is not None
    return part


def search(*words: str, most: int = 20, **options: Any) -> Search:
    """Return the answer to a search of the small catalog."""
    index, query = Index(SHELF), Query.of(words, **options)
    found = index.search(query)
    return Search(words, len(index.entries), found, most, None if found else index.miss(query))


def test_a_small_answer_is_a_table() -> None:
    """Count, a row for each part with its own catalog, and how to see more of one."""
    assert search_text(search("nut")) == (
        "2 of 4 parts\n\n"
        "nut-a (own.yaml)  Nut, long\n"
        "nut-b (own.yaml)  Nut, short\n\n"
        "fitcheck parts show ID: ports, what joins them, the line to paste into a build."
    )


def test_a_cut_answer_says_how_to_narrow() -> None:
    """What is not shown is counted, by kind, with what would show it; no description falls back on the kind."""
    assert search_text(search("m10x1", most=1)) == (
        "3 of 4 parts, the best 1 shown\n\n"
        "pump (own.yaml)  Pump, 16 mm bore\n\n"
        "By kind: nut 2, master cylinder 1\n"
        "Add a word, --kind, --thread, --seat or --tube to narrow it; --most 3 shows all.\n"
        "fitcheck parts show ID: ports, what joins them, the line to paste into a build."
    )
    assert search_text(search("eye")).split("\n")[2] == "eye (own.yaml)  hose"


def test_long_ids_stand_above_their_descriptions() -> None:
    """An id is never broken: where none fits beside it, the description stands under it."""
    lines = search_text(search("nut"), width=40).split("\n")
    assert lines[2:6] == ["nut-a (own.yaml)", "  Nut, long", "nut-b (own.yaml)", "  Nut, short"]


def test_a_miss_is_told_in_full() -> None:
    """Unknown words with the nearest, what the options took away, and the nearest id."""
    assert search_text(search("nutt", "short")) == (
        "nothing found for 'nutt short' among 4 parts\n"
        "  no part has the word 'nutt'; nearest is 'nut'\n"
        "  nearest id is nut-b"
    )
    assert search_text(search("nut", kind="tee")) == (
        "nothing found for 'nut' among 4 parts\n  without the options: 2 parts\n  nearest id is nut-a"
    )
    assert search_text(search(kind="tee")) == "nothing found among 4 parts"
    assert search_text(search("nut\x1b[1m", kind="tee")).startswith("nothing found for 'nut\\x1b[1m' among 4 parts\n")


def test_search_json_counts_all_and_shows_some() -> None:
    """JSON has the counts of everything found and the parts that are shown."""
    assert json.loads(search_json(search("m10x1", most=1))) == {
        "words": ["m10x1"],
        "looked_at": 4,
        "found": 3,
        "kinds": {"nut": 2, "master cylinder": 1},
        "parts": [
            {
                "id": "pump",
                "kind": "master cylinder",
                "description": "Pump, 16 mm bore",
                "material": None,
                "catalog": "own.yaml",
            }
        ],
    }


def test_everything_about_a_pump() -> None:
    """Ports alike stand together, figures are as their catalog wrote them, fixings are named or said to be missing."""
    assert part_text(SHELF, _part("pump")) == (
        "pump: master cylinder, from own.yaml\n"
        "Pump, 16 mm bore\n\n"
        "PORTS (4)\n\n"
        "  out, out_2: M10x1 internal, bubble, 4.75 mm tube, depth 7/16 in\n"
        "    joins M10x1 external, bubble, 4.75 mm tube\n"
        "    tube end: bubble; nut: nut-a, nut-b\n"
        "  feed: no thread external, push-on, 8 mm hose\n"
        "    joins no thread internal, push-on, 8 mm hose\n"
        "    feed hose: in no catalog; clip: in no catalog\n"
        "  rod: 5/16-24 UNF internal, pushrod, reach 38 mm\n"
        "    joins 5/16-24 UNF external, pushrod\n\n"
        "FIGURES\n\n"
        "  bore: 16 mm\n"
        "  reservoir volume: 25 mL\n"
        "  outlets: out, out_2\n"
        "  feeds: feed\n"
        "  fluid families: glycol\n"
        "  source: measured\n\n"
        "PASTE INTO A BUILD\n\n"
        "  components:\n"
        "    tag: {part: pump}\n" + CAUTION_LINES
    )


def test_everything_about_an_eye() -> None:
    """A banjo eye has no mate of its own but a bolt; a figure without source says so."""
    assert part_text(SHELF, _part("eye")) == (
        "eye: hose, from own.yaml\n\n"
        "PORTS (2)\n\n"
        "  from: 3/8-24 UNF internal, cone-37, 3/16 in tube\n"
        "    joins 3/8-24 UNF external, cone-37, 3/16 in tube\n"
        "  to: no thread, washer-face, 10.1 mm eye\n"
        "    banjo bolt: in no catalog\n\n"
        "FIGURES\n\n"
        "  source: not stated\n\n"
        "PASTE INTO A BUILD\n\n"
        "  hoses:\n"
        "    tag: {part: eye, from: TAG.PORT, to: TAG.PORT}\n" + CAUTION_LINES
    )


def test_a_hidden_part_is_named() -> None:
    """A part of the house that hides the generic one of the same id says so."""
    layer = Layer("own.yaml", {"union-an3": "union"}, lambda key: part_from_row(key, {"kind": "union"}, "own.yaml"))
    shelf = Shelf.generic().under([layer])
    part = shelf.get("union-an3")
    assert part is not None
    head = "union-an3: union, from own.yaml, which hides the one in the generic catalog\n"
    assert part_text(shelf, part).startswith(head)


def test_part_json_has_ports_fixings_and_the_lines() -> None:
    """JSON has each port's figures in mm, what joins it, the fixings by id, and the lines to paste."""
    found = json.loads(part_json(SHELF, _part("nut-b")))
    assert found.pop("caution").startswith("Brakes hurt people")
    assert found == {
        "id": "nut-b",
        "kind": "nut",
        "description": "Nut, short",
        "catalog": "own.yaml",
        "ports": {
            "nut": {
                "thread": "M10x1",
                "gender": "external",
                "seat": "bubble",
                "tube": 4.75,
                "length": 9.5,
                "joins": "M10x1 internal, bubble, 4.75 mm tube",
                "flare": None,
                "fixings": {},
            }
        },
        "passages": [["nut"]],
        "paste": [
            "lines:",
            "  tag: {from: TAG.PORT, to: TAG.PORT, tube: TUBE, ends: {from: {nut: nut-b}}}",
        ],
    }


def test_no_field_of_a_part_is_left_out() -> None:
    """Whatever a catalog says of a part as a whole is told in words and in JSON."""
    told = {
        "bore": 41.0, "stroke": 42.0, "cut_off": 43.0, "give": 44.0, "od": 45.0, "wall": 46.0, "length": 47.0,
        "bend_radius": 48.0, "inside": 49.0, "outside": 50.0, "thickness": 51.0, "for_hose": 52.0, "volume": 53000.0,
        "reservoir_volume": 54000.0, "displacement": 55000.0, "mass": 56.0, "max_pressure": 57.0, "burst": 58.0,
        "setting": 59.0, "material": "steel", "eyes": 60, "bleeder": "M8x1.25", "bleed_screws": 61,
        "bleeder_at": (62.0, 63.0, 64.0), "side": "left", "panel": (65.0, 66.0), "outlets": ("out",), "feeds": ("in",),
        "ends": frozenset({"end"}), "one_way": ("in", "out"), "fluid_families": ("glycol",), "rubber": ("EPDM",),
        "equivalent_to": ("twin",), "style": "fixed", "expansion_limit": "low", "pistons": (67.0,), "chambers": (68.0,),
        "slope": 0.69, "expansion": ((70.0, 71.0),), "source": "measured", "passages": (("a", "b"), ("c",)),
    }  # fmt: skip
    assert set(told) == set(Part._fields) - {"id", "kind", "description", "catalog", "ports"}
    part = Part(id="pump", kind="caliper", description="", ports={}, catalog="own.yaml", **told)
    figures = part_text(SHELF, part).split("FIGURES\n\n")[1].split("\n\n")[0]
    words = {name: f"  {name.replace('_', ' ')}: " for name in told}
    assert [name for name in told if name != "bleed_screws" and words[name] not in f"  {figures}"] == []
    assert "bleeder: M8x1.25, 61 of them" in figures
    assert told.keys() <= json.loads(part_json(SHELF, part)).keys()


GENERIC = [part for part in map(Shelf.generic().get, Shelf.generic().ids()) if part is not None]


def test_every_generic_part_can_be_shown_and_its_line_pasted() -> None:
    """No part of the shipped catalog fails to show, and its line is one that a build file takes."""
    for part in GENERIC:
        assert part.id in part_text(Shelf.generic(), part)
        assert json.loads(part_json(Shelf.generic(), part))["id"] == part.id
    for part in {part.kind: part for part in GENERIC}.values():
        lines = "\n".join(paste_lines(part)).replace("TAG.PORT", "tee.left").replace("TUBE", "tube-3-16-cuni")
        assert load_document(parse(f"build: 1\n{lines}\n", "build.yaml"), Path()).file


def test_every_tube_port_of_the_generic_catalog_has_its_nut() -> None:
    """A port that carries the seat of a flared tube names nuts that fit it, and a sleeve where its seat needs one."""
    looked_at = 0
    for part in GENERIC:
        for join in joins(Shelf.generic(), part):
            if join.flare is None:
                continue
            looked_at += 1
            port = part.ports[join.port]
            fixings = dict(join.fixings)
            assert port.seat is not None
            assert join.flare == seat_of(port.seat).flare
            assert fixings["nut"], (part.id, join.port)
            assert bool(fixings.get("sleeve")) == seat_of(port.seat).sleeve
            for nut_id in fixings["nut"]:
                (nut,) = _part(nut_id).ports.values()
                assert (nut.thread, nut.seat) == (port.thread, port.seat)
                assert nut.gender != port.gender
    assert looked_at > 100


@pytest.mark.parametrize(
    ("part_id", "port", "words"),
    [
        ("washer-copper-m10", None, []),
        ("banjo-bolt-m10x1", "bolt", ["washer"]),
        ("caliper-m10x1-washer", "inlet", ["banjo bolt", "washer"]),
        ("sleeve-an3", "sleeve", ["nut"]),
        ("union-barb-8mm", "a", ["feed hose", "clip"]),
        ("feed-hose-8mm", "from", ["clip"]),
        ("plug-1-8-npt", "end", []),
    ],
)
def test_other_ports_name_what_holds_them(part_id: str, port: str | None, words: list[str]) -> None:
    """Bolts, washers, clips and the nut over a sleeve are named from the catalog where they are needed."""
    found = {join.port: dict(join.fixings) for join in joins(Shelf.generic(), _part(part_id))}
    assert list(found) == [] if port is None else list(found[port]) == words
    assert all(ids for fixings in found.values() for ids in fixings.values())
