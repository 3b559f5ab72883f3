"""Sheets of hoses: what to order or cut, every position, which end first, what will not do, what is not known."""

from math import dist

import pytest

from fitcheck.build.hose_curve import free_curve
from fitcheck.making.hose_sheet import HoseSheet
from fitcheck.making.make import sheets
from fitcheck.making.sheet import Remark
from tests.making.benches import graph_of

HOSE = "hose-braided-350-3-8-24-inverted-male-banjo-10mm"
BODIES = (
    "bodies:\n  upright:\n    poses: {droop: {shift: [0, 0, -60]}, lock: {turn: 30 deg, about: {point: [0, 300, 0],"
    " axis: [0, 0, 1]}}}\n"
)
FEED = "feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed%s}"


def hose_of(
    part: str = HOSE, start: str = "tee.left", tee: str = "[0, 100, 300]", caliper: str = "[0, 330, 300]"
) -> HoseSheet:
    """Return the sheet of a hose from a tee on the chassis to a caliper on an upright that drops and turns."""
    text = (
        f"{BODIES}components:\n  tee: {{part: tee-3-16-inverted, at: {tee}}}\n"
        f"  caliper: {{part: caliper-m10x1-washer, on: upright, at: {caliper}}}\n"
        f"hoses:\n  jump: {{part: {part}, from: {start}, to: caliper.inlet}}\n"
    )
    (found,) = sheets(graph_of(text), ("jump",)).hoses
    return found


def test_every_position_with_those_that_govern() -> None:
    """Rest, droop and lock combine to six positions; each has its chord, its slack and its curve, two govern."""
    made = hose_of()
    assert [pose.where for pose in made.poses] == [
        "at rest",
        "with upright in lock",
        "with upright in lock the other way",
        "with upright in droop",
        "with upright in droop and lock",
        "with upright in droop and lock the other way",
    ]
    assert (made.length_mm, made.pressed_mm, made.shrinks) == (350.0, pytest.approx(336.0), 0.04)
    for pose in made.poses:
        curve = free_curve(350.0, pose.chord_mm)
        assert curve is not None
        assert (pose.radius_mm, pose.sag_mm) == (curve.radius_mm, curve.sag_mm)
        assert (pose.slack_mm, pose.pressed_slack_mm) == (350.0 - pose.chord_mm, pytest.approx(336.0 - pose.chord_mm))
        assert pose.slack == pytest.approx(1.0 - pose.chord_mm / 350.0)
    assert made.far is not None
    assert made.near is not None
    assert made.far.chord_mm == pytest.approx(max(pose.chord_mm for pose in made.poses))
    assert made.near.chord_mm == pytest.approx(min(pose.chord_mm for pose in made.poses))
    assert made.far.where == "with upright in droop"
    assert made.far.chord_mm == pytest.approx(dist((0, 100, 300), (0, 330, 240)))
    assert (made.needed_mm, made.governs, made.governs_where) == (260.0, "reach", "with upright in droop")
    assert (made.faults, made.missing) == ((), ())


def test_the_end_that_turns_the_hose_comes_first() -> None:
    """The external thread is screwed in first, on whichever body; the banjo eye is turned until no twist is left."""
    made = hose_of()
    assert [(end.name, end.joined, end.body, end.holds) for end in made.ends] == [
        ("from", "tee.left", "chassis", "screws in"),
        ("to", "caliper.inlet", "upright", "eye"),
    ]
    assert made.first == "from"
    turned = (
        f"{BODIES}components:\n  tee: {{part: tee-3-16-inverted, on: upright, at: [0, 330, 300]}}\n"
        "  caliper: {part: caliper-m10x1-washer, at: [0, 100, 300]}\n"
        f"hoses:\n  jump: {{part: {HOSE}, from: tee.left, to: caliper.inlet}}\n"
    )
    (other,) = sheets(graph_of(turned), ("jump",)).hoses
    assert [(end.body, end.holds) for end in other.ends] == [("upright", "screws in"), ("chassis", "eye")]
    assert other.first == "from"


def test_a_hose_that_does_not_reach_will_not_do() -> None:
    """At droop 350 mm are short of 500 mm and have no curve there; the length to order is that of the reach."""
    made = hose_of(caliper="[0, 600, 300]")
    assert made.far is not None
    assert (made.far.reaches, made.far.radius_mm, made.far.sag_mm) == (False, None, None)
    (fault,) = made.faults
    assert fault.word == "does-not-reach"
    assert fault.values["where"] == made.far.where
    assert (fault.values["chord"], fault.values["usable"]) == (made.far.chord_mm, pytest.approx(336.0))
    assert made.needed_mm is not None
    assert made.needed_mm >= made.far.chord_mm / 0.95


def test_long_enough_at_rest_but_not_under_pressure() -> None:
    """With 340 mm between its ends a hose of 350 mm hangs, and pulls as soon as it is pressed: it will not do."""
    made = hose_of(caliper="[0, 434.66, 300]")
    assert made.far is not None
    assert made.far.chord_mm == pytest.approx(340.0, abs=0.01)
    assert made.far.slack_mm is not None
    assert made.far.slack_mm > 0.0
    assert [fault.word for fault in made.faults] == ["does-not-reach"]


def test_ends_that_come_too_near_bend_it_too_tight() -> None:
    """A hose of 350 mm whose ends meet bends to 41.5 mm, less than the 80 mm its part allows; longer would do."""
    made = hose_of(tee="[0, 300, 300]", caliper="[0, 310, 300]")
    assert made.near is not None
    assert made.bend_radius_mm is not None
    assert made.near.radius_mm is not None
    assert made.near.radius_mm < made.bend_radius_mm
    assert [(fault.word, fault.values["radius"]) for fault in made.faults] == [("bends-tight", made.near.radius_mm)]
    assert (made.governs, made.governs_where) == ("bend", made.near.where)


def test_hardly_any_slack_is_told() -> None:
    """Between 4 and 5 per cent it reaches, and is to be looked at."""
    made = hose_of(caliper="[0, 429.5, 300]")
    assert made.far is not None
    assert made.far.slack is not None
    assert 0.04 < made.far.slack < 0.05
    assert made.faults == ()
    assert made.concerns[0] == Remark("slack-small", {"slack": made.far.slack, "where": made.far.where, "wanted": 0.05})


def test_twist_is_told_with_its_position() -> None:
    """A hose that hangs down the kingpin is twisted by the whole lock of 30 degrees."""
    made = hose_of(tee="[0, 300, 300]", caliper="[0, 300, 100]")
    assert made.concerns == (Remark("twisted", {"twist": pytest.approx(30.0), "where": "with upright in lock"}),)


def test_a_feed_hose_is_cut_and_clamped() -> None:
    """It is cut to what the build states, loses nothing, and has a clip on each barb; its bend radius is missing."""
    text = (
        "components:\n  tank: {part: reservoir-8mm, at: [0, 0, 300]}\n"
        "  mc: {part: mc-3-4-3-8-24-inverted, at: [0, 100, 200]}\n"
        f"hoses:\n  {FEED % ', length: 200 mm'}\n"
    )
    graph = graph_of(text)
    (made,) = sheets(graph, ("feed",)).hoses
    assert (made.kind, made.cut, made.length_mm, made.length_field) == ("feed hose", True, 200.0, "hoses.feed.length")
    assert (made.pressed_mm, made.shrinks) == (None, 0.0)
    assert [(end.holds, end.clip) for end in made.ends] == [("barb", "hose-clip-8mm")] * 2
    assert made.missing == ("parts.feed-hose-8mm.bend_radius",)


def test_what_is_not_known_is_named() -> None:
    """Without places nothing is said of how it hangs; each missing field is named, the part's own length is told."""
    text = (
        "components:\n  tee: {part: tee-3-16-inverted}\n  caliper: {part: caliper-m10x1-washer, at: [0, 0, 0]}\n"
        f"hoses:\n  jump: {{part: {HOSE}, from: tee.left, to: caliper.inlet}}\n"
        "  lost: {part: no-such, from: tee.right}\n"
    )
    jump, lost = sheets(graph_of(text)).hoses
    assert (jump.poses, jump.far, jump.near, jump.needed_mm) == ((), None, None, None)
    assert (jump.length_mm, jump.missing) == (350.0, ("components.tee.at",))
    assert jump.faults == ()
    assert lost.faults == (Remark("hose-unknown", {"part": "no-such"}),)
    assert [end.holds for end in lost.ends] == ["unknown", "unknown"]


def test_lines_and_hoses_may_be_named_alone() -> None:
    """Without names all lines and hoses have a sheet; a name of either kind brings that one only."""
    text = (
        "components:\n  a: {part: union-3-16-inverted, at: [0, 0, 0]}\n"
        "  b: {part: union-3-16-inverted, at: [300, 0, 0]}\n"
        "lines:\n  run: {from: a.b, to: b.a, tube: tube-3-16-cuni, length: 320 mm}\n"
        f"hoses:\n  jump: {{part: {HOSE}, from: b.b}}\n"
    )
    graph = graph_of(text)
    told = [sheets(graph, tags) for tags in (None, ("run",), ("jump",))]
    assert [[sheet.tag for sheet in made.sheets] for made in told] == [["run"], ["run"], []]
    assert [[hose.tag for hose in made.hoses] for made in told] == [["jump"], [], ["jump"]]
