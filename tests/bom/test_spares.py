"""What is bought beyond the bill."""

from fractions import Fraction

import pytest

from fitcheck.bom.need import SPARE, Use
from fitcheck.bom.nesting.record import Cut
from fitcheck.bom.spares import Policy, Rule, flared_ends, policy, spares
from fitcheck.bom.take_off import take_off
from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from tests.bom.needs_house import DEMO, car, line, read

BANJO = """\
components:
  mc: {part: pump}
  fl: {part: brake}
hoses:
  h: {part: whip, from: mc.out, to: fl.in}
"""


def spared(tmp_path, body, more_parts=""):
    """Return the spares of a build, by part."""
    return {need.part: need for need in spares(*read(tmp_path, body, more_parts))}


@pytest.mark.parametrize(
    ("rule", "quantity", "more"),
    [
        (Rule(plus=4), 3, 4),
        (Rule(Fraction(10)), 10, 1),
        (Rule(Fraction(10)), 11, 2),
        (Rule(Fraction(10), 2), 11, 4),
        (Rule(Fraction("33.3")), 3, 1),
        (Rule(plus=4), 0, 0),
        (Rule(), 5, 0),
    ],
)
def test_more_of_a_kind(rule, quantity, more):
    """The percentage is rounded up and what is on top added; of nothing there are no spares."""
    assert rule.more(quantity) == more


@pytest.mark.parametrize(("ends", "spoiled"), [(0, 0), (1, 1), (20, 1), (21, 2), (40, 2), (41, 3)])
def test_spoiled_ends(ends, spoiled):
    """One flared end in twenty is spoiled, rounded up, and none of none."""
    assert Policy({}).spoiled(ends) == spoiled


def test_no_end_is_spoiled():
    """Nought ends per spoiled one means none is."""
    assert Policy({}, 0).spoiled(100) == 0


def test_usual_spares(tmp_path):
    """Where the build says nothing there are two more of each nut and four more of each washer, and their source."""
    found = spared(tmp_path, car(line("feed", "250 mm")))
    assert found["pipe-nut"].uses == (Use("", 2, "spare"),)
    assert found["pipe-nut"].why == ("spare: 2, common practice, no source",)
    washers = spared(tmp_path, BANJO)
    assert (list(washers), washers["ring"].quantity) == (["ring"], 4)


def test_stated_kind_replaces_the_usual(tmp_path):
    """A kind that the build names has what it states, and nothing of the usual; other kinds keep theirs."""
    top = "spares:\n  kinds: {washer: {percent: 50}, caliper: {plus: 1}}\n"
    found = spared(tmp_path, top + BANJO)
    assert {part: (need.quantity, need.why) for part, need in found.items()} == {
        "brake": (1, ("spare: 1, spares.kinds.caliper",)),
        "ring": (1, ("spare: 1, spares.kinds.washer",)),
    }
    nuts = spared(tmp_path, top + car(line("feed", "250 mm")))["pipe-nut"]
    assert nuts.quantity == 2


def test_kind_with_nothing_stated_has_no_spares(tmp_path):
    """A kind that is named without figures has no spares."""
    assert "ring" not in spared(tmp_path, "spares:\n  kinds: {washer: {}}\n" + BANJO)


def test_no_spares_of_no_washers(tmp_path):
    """A joint that the build gives no washers asks for no spare ones."""
    joint = "joints:\n  - {port: fl.in, eyes: [h.to], washers: 0}\n"
    assert spared(tmp_path, BANJO.replace(", to: fl.in}", "}") + joint) == {}


def test_pieces_for_spoiled_ends(tmp_path):
    """For each spoiled end of a tube there is one more piece, as long as the longest of that tube with its flares."""
    lines = "".join(line(f"run_{number}", f"{number}00 mm") for number in range(1, 12))
    need = spared(tmp_path, car(lines))["pipe"]
    assert need.unit == "mm"
    assert need.pieces == (Cut(SPARE, 1106.4), Cut(SPARE, 1106.4))
    assert (need.quantity, need.spare) == (2, 2)
    assert need.why == (
        "spare: 2 pieces as long as the longest, 1106.4 mm, one in 20 of 22 flared ends is spoiled, "
        "common practice, no source",
    )


def test_stated_ends_per_spoiled(tmp_path):
    """The build's own figure is used and named; nought switches the spare pieces off."""
    need = spared(tmp_path, car(line("feed", "250 mm"), "spares: {ends_per_spoiled: 2}\n"))["pipe"]
    assert need.why == (
        "spare: 1 piece as long as the longest, 256.4 mm, one in 2 of 2 flared ends is spoiled, "
        "spares.ends_per_spoiled",
    )
    assert "pipe" not in spared(tmp_path, car(line("feed", "250 mm"), "spares: {ends_per_spoiled: 0}\n"))


def test_spares_of_cut_goods_are_pieces(tmp_path):
    """A rule for a kind that is cut counts pieces, and comes on top of those for spoiled ends."""
    top = "spares:\n  kinds: {tube: {percent: 50, plus: 1}}\n"
    need = spared(tmp_path, car(line("one", "250 mm") + line("two", "400 mm") + line("three", "300 mm"), top))["pipe"]
    assert need.pieces == (Cut(SPARE, 406.4),) * 4
    assert need.why[0] == "spare: 3 pieces as long as the longest, 406.4 mm, spares.kinds.tube"


def test_hose_has_no_flared_ends(tmp_path):
    """Hose that is cut has no flares to spoil."""
    hose = "hoses:\n  h: {part: drip, from: mc.out, to: fl.in, length: 300 mm}\n"
    assert "drip" not in spared(tmp_path, car(line("feed", "250 mm")) + hose)


def test_longest_of_what_is_known(tmp_path):
    """A spare piece is as long as the longest that is known; where none is, the spare is unknown and says so."""
    known = spared(tmp_path, car(line("feed", "250 mm") + line("more", None)))["pipe"]
    assert known.pieces == (Cut(SPARE, 256.4),)
    unknown = spared(tmp_path, car(line("more", None)))["pipe"]
    assert (unknown.pieces, unknown.unknown) == ((), ((SPARE, "no piece of it has a known length"),))


def test_no_spares_of_what_no_catalog_has(tmp_path):
    """A nut that no catalog has cannot be bought twice either."""
    body = car("  feed: {from: mc.out, to: fl.pipe, tube: pipe, length: 1 m, ends: {to: {nut: zzz}}}\n")
    assert list(spared(tmp_path, body)) == ["pipe-nut", "pipe"]


def test_flared_ends_are_counted_by_tube(tmp_path):
    """An end is flared where a seat asks for it or the build states it, not where the port is unknown."""
    lines = line("one", "1 m") + line("two", "1 m", "plain-pipe").replace("fl.pipe", "fl.bare")
    lines += "  three: {from: mc.out, to: fl.bare, tube: plain-pipe, ends: {to: {flare: bubble}}}\n"
    graph, _ = read(tmp_path, car(lines))
    assert flared_ends(graph) == {"pipe": 2, "plain-pipe": 3}


def test_policy_without_the_section():
    """A build that says nothing has the usual policy."""
    usual = policy(None)
    assert {kind: rule.plus for kind, rule in usual.kinds.items()} == {"washer": 4, "nut": 2}
    assert usual.ends_per_spoiled == 20


def test_demo_vehicle():
    """The demo, put right: 20 flared ends of one tube spoil one, as long as the measured rear run."""
    graph = assemble(load(DEMO, "as_corrected"))
    found = {need.part: need for need in spares(graph, take_off(graph))}
    assert {part: need.quantity for part, need in found.items()} == {
        "washer-copper-7-16": 4,
        "washer-copper-m10": 4,
        "nut-3-8-24-inverted": 2,
        "nut-m10x1-bubble": 2,
        "tube-3-16-cuni": 1,
    }
    assert found["tube-3-16-cuni"].pieces == (Cut(SPARE, 1466.0),)
