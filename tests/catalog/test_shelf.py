"""Looking parts up in catalogs laid one over the other."""

from pathlib import Path

import pytest

from fitcheck.catalog.shelf import Shelf, read_catalog
from fitcheck.sources import InputError
from fitcheck.standards.threads import parse

HOUSE = """\
catalog: 1
parts:
  nut-3-8-24-inverted:
    kind: nut
    description: Stainless nut
    ports: {nut: {thread: 3/8-24 UNF, gender: external, seat: inverted-flare, tube: 4.75 mm}}
  a-nut:
    kind: nut
    ports: {nut: {thread: 3/8-24 UNF, gender: external, seat: inverted-flare, tube: 3/16 in}}
  washer-wide:
    kind: washer
    inside: 10.4 mm
    outside: 16 mm
    thickness: 1 mm
  bolt-long:
    kind: banjo bolt
    ports: {bolt: {thread: M10x1, gender: external, seat: washer-face}}
  z-clip: {kind: clip, inside: 13 mm, for_hose: 8.4 mm}
  clip-unsized: {kind: clip, inside: 14 mm}
"""
NUT_3_8 = parse("3/8-24 UNF")


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    """Lay a house catalog over the generic one."""
    path = tmp_path / "house.yaml"
    path.write_text(HOUSE, encoding="utf-8")
    return Shelf.generic().under([read_catalog(path)])


def test_the_generic_shelf_is_made_once() -> None:
    """Every caller in a process gets the same generic shelf, and the same part from it."""
    assert Shelf.generic() is Shelf.generic()
    assert Shelf.generic().get("nut-an3") is Shelf.generic().get("nut-an3")
    assert Shelf.generic().under([]) is Shelf.generic()


def test_an_upper_layer_hides_a_lower_one(shelf: Shelf) -> None:
    """The builder's own part is found under an id that the generic catalog has too."""
    part = shelf.get("nut-3-8-24-inverted")
    assert part is not None
    assert (part.description, part.catalog) == ("Stainless nut", "house.yaml")
    lower = shelf.get("nut-an3")
    assert lower is not None
    assert lower.catalog == "generic"


def test_what_is_missing_is_missing(shelf: Shelf) -> None:
    """An unknown id gives None, is not contained, and has a nearest id."""
    assert shelf.get("nut-3-8-24-invertd") is None
    assert "nut-3-8-24-invertd" not in shelf
    assert "a-nut" in shelf
    assert shelf.nearest("nut-3-8-24-invertd") == "nut-3-8-24-inverted"
    assert shelf.nearest("zzzzzz") is None


def test_ids_come_by_layer_then_id_each_once(shelf: Shelf) -> None:
    """The house catalog's ids come first, sorted; a hidden id is not repeated."""
    ids = shelf.ids()
    house = ("a-nut", "bolt-long", "clip-unsized", "nut-3-8-24-inverted", "washer-wide", "z-clip")
    assert ids[:6] == house
    assert list(ids[6:]) == sorted(set(Shelf.generic().ids()) - {"nut-3-8-24-inverted"})


def test_kinds_come_by_layer_then_id(shelf: Shelf) -> None:
    """Parts of one kind are listed house parts first, and only that kind."""
    nuts = shelf.of_kind("nut")
    assert [part.id for part in nuts[:3]] == ["a-nut", "nut-3-8-24-inverted", "nut-1-2-20-inverted"]
    assert {part.kind for part in nuts} == {"nut"}
    assert shelf.of_kind("nut") is nuts
    assert shelf.of_kind("shut-off valve") == ()


def test_nuts_by_thread_side_seat_and_tube(shelf: Shelf) -> None:
    """A nut is found by its interface, 4.75 mm and 3/16 in counting as one size."""
    found = shelf.nuts(NUT_3_8, "external", "inverted-flare", 4.7625)
    assert [part.id for part in found] == ["a-nut", "nut-3-8-24-inverted"]
    assert shelf.nuts(NUT_3_8, "external", "inverted-flare", 4.75) == found
    assert shelf.nuts(NUT_3_8, "external", "inverted-flare", 6.35) == ()
    assert shelf.nuts(NUT_3_8, "internal", "inverted-flare", 4.75) == ()
    assert [part.id for part in shelf.nuts(NUT_3_8, "internal", "cone-37", 4.75)] == ["nut-an3"]


def test_a_tolerance_class_does_not_hide_a_nut(shelf: Shelf) -> None:
    """A thread stated with a closer class takes the same nuts."""
    close = parse("3/8-24 UNF-3A")
    assert shelf.nuts(close, "external", "inverted-flare", 4.75) == shelf.nuts(
        NUT_3_8, "external", "inverted-flare", 4.75
    )


def test_oversize_nuts_are_told_from_usual_ones() -> None:
    """A 7/16-24 inverted port for 3/16 in tube gets the oversize nut, one for 1/4 in tube the usual one."""
    thread = parse("7/16-24 UNS")
    small = Shelf.generic().nuts(thread, "external", "inverted-flare", 4.7625)
    usual = Shelf.generic().nuts(thread, "external", "inverted-flare", 6.35)
    assert [part.id for part in small] == ["nut-7-16-24-inverted-for-3-16"]
    assert [part.id for part in usual] == ["nut-7-16-24-inverted"]


def test_sleeves_by_seat_and_tube() -> None:
    """Only the 37 degree cone has sleeves, one for each tube size."""
    assert [part.id for part in Shelf.generic().sleeves("cone-37", 4.75)] == ["sleeve-an3"]
    assert Shelf.generic().sleeves("cone-37", 6.0) == ()
    assert Shelf.generic().sleeves("inverted-flare", 4.75) == ()


def test_bolts_by_thread_and_eye(shelf: Shelf) -> None:
    """A bolt goes through an eye up to 0.8 mm larger than its thread, never through a smaller one."""
    m10 = parse("M10x1")
    generic = ["banjo-bolt-m10x1", "banjo-bolt-m10x1-double"]
    assert [part.id for part in shelf.bolts(m10, 10.0)] == ["bolt-long", *generic]
    assert [part.id for part in shelf.bolts(m10, 10.8)] == ["bolt-long", *generic]
    assert shelf.bolts(m10, 10.81) == ()
    assert shelf.bolts(m10, 9.9) == ()
    assert [part.id for part in shelf.bolts(NUT_3_8, 10.0)] == [
        "banjo-bolt-3-8-24",
        "banjo-bolt-3-8-24-double",
    ]


def test_bolts_by_number_of_eyes(shelf: Shelf) -> None:
    """Asked for two eyes, the double bolt and those of unstated length are left."""
    found = shelf.bolts(parse("M10x1"), 10.0, eyes=2)
    assert [part.id for part in found] == ["bolt-long", "banjo-bolt-m10x1-double"]


def test_washers_come_closest_first_within_a_layer(shelf: Shelf) -> None:
    """A washer's bore is the bolt's or up to 0.6 mm more; house washers come before closer generic ones."""
    assert [part.id for part in shelf.washers(10.0)] == [
        "washer-wide",
        "washer-copper-m10",
        "washer-copper-m10-13-5mm",
        "washer-aluminium-m10",
    ]
    assert [part.id for part in Shelf.generic().washers(9.525)] == [
        "washer-copper-3-8",
        "washer-copper-3-8-thin",
        "washer-copper-m10",
        "washer-copper-m10-13-5mm",
    ]
    assert shelf.washers(8.0) == ()


def test_clips_by_the_hose_they_are_for(shelf: Shelf) -> None:
    """A hose clip serves bores within 0.5 mm of its own; house clips come first, line clips never."""
    assert [part.id for part in shelf.clips(8.0)] == ["z-clip", "hose-clip-8mm"]
    assert [part.id for part in shelf.clips(8.5)] == ["z-clip", "hose-clip-8mm"]
    assert [part.id for part in shelf.clips(8.51)] == ["z-clip"]
    assert shelf.clips(8.0) is shelf.clips(8.0)
    assert shelf.clips(4.75) == ()


@pytest.mark.parametrize(("bore", "clip"), [(6.35, "6mm"), (7.9375, "8mm"), (9.525, "10mm")])
def test_inch_feed_hoses_take_the_clip_of_their_metric_twin(bore: float, clip: str) -> None:
    """1/4, 5/16 and 3/8 in feed hose are clamped by the clips for 6, 8 and 10 mm."""
    assert [part.id for part in Shelf.generic().clips(bore)] == [f"hose-clip-{clip}"]


def test_a_bad_catalog_names_file_line_and_column(tmp_path: Path) -> None:
    """What is wrong in a user's catalog is said with its place and the nearest known word."""
    path = tmp_path / "bad.yaml"
    path.write_text(
        "catalog: 1\nparts:\n  x:\n    kind: teee\n  y:\n    kind: washer\n    inside: 10\n", encoding="utf-8"
    )
    with pytest.raises(InputError) as caught:
        read_catalog(path)
    lines = str(caught.value).splitlines()
    name = path.as_posix()
    assert len(lines) == 2
    assert lines[0].startswith(f"{name}:4:11: 'teee' is no kind of part; nearest is 'tee'; known: pedal box,")
    assert lines[1].startswith(f"{name}:7:13: ")
