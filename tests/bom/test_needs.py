"""Everything that has to be there, put together."""

import pytest

from fitcheck.bom.need import SPARE, Need, Use, merged
from fitcheck.bom.needs import needs
from fitcheck.bom.nesting.record import Cut
from fitcheck.bom.record import LEFT_OUT_OF_NEEDS
from fitcheck.bom.take_off import take_off
from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from tests.bom.needs_house import DEMO, car, line, needed, read


@pytest.fixture(scope="module")
def demo():
    """Return what the demo, put right, needs, in order."""
    graph = assemble(load(DEMO, "as_corrected"))
    return needs(graph, take_off(graph))


def test_rows_of_the_bill_say_what_each_place_takes(tmp_path):
    """Without spares and work a need is a row of the bill: how many for which place, or the pieces to cut."""
    found = needed(tmp_path, car(line("feed", "250 mm")), spares=False, consumables=False)
    assert list(found) == ["pump", "brake", "pipe-nut", "pipe"]
    assert found["pipe-nut"].uses == (Use("feed.from", 1), Use("feed.to", 1))
    assert found["pipe"] == Need("pipe", "tube", "Pipe", "mm", pieces=(Cut("feed", 256.4),))


def test_spares_are_uses_of_the_same_need(tmp_path):
    """Spares come on top of what the bill counts, in the same need, and are told apart."""
    found = needed(tmp_path, car(line("feed", "250 mm")), consumables=False)
    assert found["pipe-nut"].uses == (Use("feed.from", 1), Use("feed.to", 1), Use("", 2, "spare"))
    assert (found["pipe-nut"].quantity, found["pipe-nut"].spare) == (4, 2)
    assert found["pipe"].pieces == (Cut("feed", 256.4), Cut(SPARE, 256.4))
    assert "clip-3-16" not in found


def test_bill_and_work_in_one_need(tmp_path):
    """Clips that the build lists and those that the work takes are one need of one part."""
    body = car(line("feed", "700 mm")).replace("lines:\n", "  c1: {part: clip-3-16}\nlines:\n")
    found = needs(*read(tmp_path, body), spares=False)
    (need,) = [need for need in found if need.part == "clip-3-16"]
    assert need.uses == (Use("c1", 1), Use("feed", 2, "work"))


def test_pieces_of_unknown_length(tmp_path):
    """A piece whose length is not known is no piece: it is named with the reason."""
    need = needed(tmp_path, car(line("feed", None)), spares=False)["pipe"]
    assert (need.pieces, need.quantity) == ((), 0)
    assert need.unknown == (("feed", "lines.feed.route or lines.feed.length is not given"),)


def test_stated_id_that_no_catalog_has(tmp_path):
    """A stated id that means nothing stays in the needs, marked, with the bill's reason, and has no spares."""
    body = car("  feed: {from: mc.out, to: fl.pipe, tube: pipe, length: 1 m, ends: {to: {nut: zzzz}}}\n")
    need = needed(tmp_path, body)["zzzz"]
    assert need == Need("zzzz", "nut", "no catalog has a part 'zzzz'", "each", (Use("feed.to", 1),), unlisted=True)


def test_unknown_last_and_words_after_them(tmp_path):
    """Known parts stand first by kind, then stated ids that mean nothing, then words, then joints nobody can tell."""
    tube = "  big-pipe: {kind: tube, description: Big pipe, od: 6 mm, wall: 1 mm}\n"
    body = car(line("one", "400 mm", "big-pipe")).replace("part: pump", "part: zzzz")
    graph, bom = read(tmp_path, body, tube)
    found = needs(graph, bom)
    assert [(need.part, need.kind) for need in found] == [
        ("brake", "caliper"),
        ("big-pipe", "tube"),
        ("zzzz", ""),
        (None, "nut"),
        (None, "clip"),
        (None, "fluid"),
        (None, "dust cap"),
        (None, "fixing"),
    ]


def test_joints_that_the_bill_cannot_count(tmp_path):
    """A joint whose fixings nobody can tell is in the needs too, with the missing field."""
    lines = line("feed", "250 mm").replace("fl.pipe", "fl.bare")
    need = needs(*read(tmp_path, car(lines)))[-1]
    assert need == Need(
        None,
        "fixing",
        "fixings of joints that cannot be told",
        "each",
        unknown=(("fl.bare and feed.to", "parts.brake.ports.bare.seat is not given"),),
    )


def test_nothing_is_no_need(tmp_path):
    """Nought washers, as the build states, are nothing to get."""
    body = """\
components:
  fl: {part: brake}
hoses:
  h: {part: whip}
joints:
  - {port: fl.in, eyes: [h.to], washers: 0}
"""
    found = needed(tmp_path, body, consumables=False)
    assert list(found) == ["brake", "banjo-bolt-m10x1", "whip"]


def test_needs_of_one_part_are_one():
    """Needs are one by part, unit and mark; uses add up in order, and words and unknowns are said once."""
    one = Need("a", "clip", "A", "each", (Use("x", 1),), unknown=(("y", "why"),), why=("words",))
    two = Need("a", "clip", "A", "each", (Use("z", 2, "work"),), unknown=(("y", "why"),), why=("words", "more"))
    liquid = Need("a", "clip", "A", "ml", (Use("", 5, "work"),))
    marked = Need("a", "clip", "no", "each", (Use("", 1, "work"),), unlisted=True)
    words = [Need(None, "clip", text, "each", (Use("", 1),)) for text in ("big", "small", "big")]
    found = merged([one, liquid, two, marked, *words])
    assert found == (
        one._replace(uses=(Use("x", 1), Use("z", 2, "work")), why=("words", "more")),
        liquid,
        marked,
        words[0]._replace(uses=(Use("", 1), Use("", 1))),
        words[1],
    )


def test_what_is_left_out():
    """Only O-rings are counted nowhere."""
    assert LEFT_OUT_OF_NEEDS == ("O-rings",)


def test_demo_covers_its_bill(demo):
    """Every part of the demo's bill is needed at least as often as the bill asks for it, spares and work apart."""
    graph = assemble(load(DEMO, "as_corrected"))
    by_part = {need.part: need for need in demo}
    for row in take_off(graph).rows:
        need = by_part[row.part]
        if row.unit == "mm":
            assert [cut.mm for cut in need.pieces if cut.tag != SPARE] == [piece.length.mm for piece in row.pieces]
        else:
            assert sum(use.quantity for use in need.uses if use.origin == "bill") == row.quantity


def test_demo_work(demo):
    """The demo's work, counted by hand from its ten runs of 76 to 1460 mm and its two taper joints."""
    counted = {need.part: need.quantity for need in demo if any(use.origin == "work" for use in need.uses)}
    # Clips: front_run 4, front_left 2, front_right 2, rear_link 1, rear_run 5, axle_left 2, axle_right 3, clutch_run 2
    assert {part: number for part, number in counted.items() if part != "fluid-dot-4"} == {
        "clip-3-16": 21,
        "sealant-taper": 1,
        "dust-cap-3-16": 20,
    }
    # Held: reservoir 240.0, cylinders 6.03 + 8.51 + 6.03, tube 47.91, hoses 11.10, feed hoses 31.67, front calipers
    # 2 x 18, rear cylinders 2 x 3, slave 7 ml: 400.25 ml, times 2.5
    assert counted["fluid-dot-4"] == 1000


def test_demo_is_whole(demo):
    """The demo says all that its needs ask of it: every part is in a catalog, and nothing is of unknown amount."""
    assert [need.description for need in demo if need.part is None or need.unlisted] == []
    assert [entry for need in demo for entry in need.unknown] == []


def test_same_build_same_needs(demo):
    """The needs of a build are the same, in the same order, each time they are asked for."""
    graph = assemble(load(DEMO, "as_corrected"))
    assert needs(graph, take_off(graph)) == demo
