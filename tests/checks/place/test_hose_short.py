"""Hoses that do not reach: whole messages, what is missing, and what cannot change the verdict."""

from itertools import permutations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.build.hose_reach import SHRINKS, SLACK, Reach, Span
from fitcheck.catalog.part import Part
from fitcheck.checks.place.hose_short import _level
from tests.checks.place.hose_builds import AXLE, build_of, missing, report_of, said

RULE = "hose-short"
LOCK = "lock: {turn: 90 deg, about: {point: [0, 0, 300], axis: [1, 0, 0]}}"
POSES = ("droop: {shift: [0, 0, -90]}", "bump: {shift: [0, 0, 70]}", LOCK)
COMBINED = (
    "error",
    "jump is 300 mm long, its ends are 306.1 mm apart with axle in droop and lock; 330 mm would do",
)
FEED = """\
build: 1
components:
  tank: {part: reservoir-2-outlet, at: [0, 0, 700]}
  mc: {part: mc-m10x1-bubble, at: [0, 0, 500]}
hoses:
  feed: {part: feed-hose-8mm, from: tank.front, to: mc.feed, length: %s}
"""
"""A feed hose of a length; its ends are 200 mm apart."""
MESSAGES = [
    # droop: 190 mm below the bracket, 250 mm beside it
    ("[0, 250, 400]", "error", "jump is 300 mm long, its ends are 314.0 mm apart with axle in droop; 340 mm would do"),
    ("[0, 290, 210]", "error", "jump is 300 mm long, its ends are 331.2 mm apart with axle in bump; 350 mm would do"),
    # nothing moves it farther than 294 mm, and 288 mm are left under pressure
    ("[0, 224.3, 400]", "error", "jump, 300 mm long, shortens to 288.0 mm under pressure, its ends are 294.0 mm apart "
     "with axle in droop; 310 mm would do"),
    ("[0, 214, 400]", "warning", "jump, 300 mm long, has 4.6 % slack, not 5 %, with axle in droop; 310 mm would do"),
]  # fmt: skip


@pytest.mark.parametrize(("at", "level", "message"), MESSAGES)
def test_whole_message(at: str, level: str, message: str, tmp_path: Path) -> None:
    """The governing pose, the distance there and the length that would do are told."""
    assert said(report_of(build_of(at), tmp_path), RULE) == [(level, message)]


def test_enough_slack_is_no_finding(tmp_path: Path) -> None:
    """A hose with 5 % slack where its ends are farthest apart is looked at and passes."""
    report = report_of(build_of("[0, 211, 400]"), tmp_path)
    assert (said(report, RULE), report.checked[RULE], missing(report, RULE)) == ([], 1, [])


def test_rest_governs_where_travel_brings_the_ends_together(tmp_path: Path) -> None:
    """A hose too short at rest already is told so, not by a pose that is no worse."""
    bodies = "axle: {poses: {bump: {shift: [0, 0, 70]}}}"
    report = report_of(build_of("[0, 290, 400]", bodies=bodies), tmp_path)
    assert said(report, RULE) == [
        ("error", "jump is 300 mm long, its ends are 306.8 mm apart at rest; 330 mm would do")
    ]


def test_droop_combined_with_lock_governs(tmp_path: Path) -> None:
    """Neither travel nor lock alone is too much, both together are: the port is 240 mm beside and 190 mm below."""
    for poses, found in ((POSES[:2], []), (POSES[2:], []), (POSES, [COMBINED])):
        text = build_of("[0, 200, 400]", bodies=f"axle: {{poses: {{{', '.join(poses)}}}}}", far="[0, 0, 340]")
        assert said(report_of(text, tmp_path), RULE) == found


def test_order_of_poses_does_not_matter(tmp_path: Path) -> None:
    """The finding is the same word for word in whatever order the file states the poses."""
    for order in permutations(POSES):
        text = build_of("[0, 200, 400]", bodies=f"axle: {{poses: {{{', '.join(order)}}}}}", far="[0, 0, 340]")
        assert said(report_of(text, tmp_path), RULE) == [COMBINED]


def test_poses_of_both_bodies_are_combined(tmp_path: Path) -> None:
    """A bracket on the engine moves away while the axle droops; the message names both."""
    text = build_of("[0, 205, 400]", bodies=f"{AXLE}, engine: {{poses: {{rock: {{shift: [0, 40, 0]}}}}}}")
    text = text.replace("at: [0, 205, 400]}", "at: [0, 205, 400], on: engine}")
    message = "jump is 300 mm long, its ends are 310.0 mm apart with axle in droop, engine in rock; 330 mm would do"
    assert said(report_of(text, tmp_path), RULE) == [("error", message)]


def test_ends_on_one_body_do_not_move_against_each_other(tmp_path: Path) -> None:
    """A hose along the axle is looked at once: the axle's poses need not even be known."""
    text = build_of("[0, 200, 400]", bodies="axle: {}").replace("at: [0, 200, 400]}", "at: [0, 200, 400], on: axle}")
    report = report_of(text, tmp_path)
    assert (said(report, RULE), missing(report, RULE), report.checked[RULE]) == ([], [], 1)


def test_poses_that_nobody_gave_are_missing(tmp_path: Path) -> None:
    """A moving body without poses is not passed; what is too short at rest is told, with a length that may not do."""
    report = report_of(build_of("[0, 200, 400]", bodies="axle: {}"), tmp_path)
    assert (said(report, RULE), missing(report, RULE)) == ([], ["bodies.axle.poses"])
    report = report_of(build_of("[0, 300, 400]", bodies="axle: {}"), tmp_path)
    message = "jump is 300 mm long, its ends are 316.2 mm apart at rest; it takes at least 340 mm"
    assert (said(report, RULE), missing(report, RULE)) == ([("error", message)], ["bodies.axle.poses"])


@pytest.mark.parametrize(
    ("at", "far", "part", "field"),
    [
        ("", "[0, 0, 300]", "hose-300", "components.bracket.at"),
        ("[0, 200, 400]", "", "hose-300", "components.far.at"),
        ("[0, 200, 400]", "[0, 0, 300]", "hose-endless", "parts.hose-endless.length"),
    ],
)
def test_what_is_not_known_is_named(at: str, far: str, part: str, field: str, tmp_path: Path) -> None:
    """Without a place at either end, or a length, nothing is passed: the missing field is told."""
    report = report_of(build_of(at, part, far=far), tmp_path)
    assert (said(report, RULE), missing(report, RULE), RULE in report.checked) == ([], [field], False)


def test_end_at_a_line_is_where_the_line_says(tmp_path: Path) -> None:
    """A hose on a line's end hangs where the line states that end, on the body of the line's other end."""
    line = """\
lines:
  run: {from: bracket.b, to: jump.from, tube: tube-3-16-cuni%s}
"""
    hose = build_of("[0, 900, 400]").replace("from: bracket.b, to: far.a", "to: far.a")
    report = report_of(hose + line % "", tmp_path)
    assert missing(report, RULE) == ["lines.run.ends.to.at"]
    report = report_of(hose + line % ", ends: {to: {at: [0, 250, 400]}}", tmp_path)
    assert said(report, RULE) == [MESSAGES[0][1:]]


def test_points_are_in_the_unit_of_coordinates(tmp_path: Path) -> None:
    """A build in inches is judged by the same millimetres, and told in inches."""
    bodies = "axle: {poses: {droop: {shift: [0, 0, -3.543307]}}}"
    text = build_of("[0, 9.84252, 15.74803]", bodies=bodies, far="[0, 0, 11.81102]", head="coordinates: in\n")
    told = "jump is 11.811 in long, its ends are 12.362 in apart with axle in droop; 13 1/4 in would do"
    assert said(report_of(text, tmp_path), RULE) == [("error", told)]


def test_too_many_poses_are_told(tmp_path: Path) -> None:
    """A body with hundreds of poses has the first of them looked at, and that is told."""
    poses = ", ".join(f"s{number}: {{shift: [0, 0, -{number}]}}" for number in range(200))
    report = report_of(build_of("[0, 290, 300]", bodies=f"axle: {{poses: {{{poses}}}}}"), tmp_path)
    assert missing(report, RULE) == ["bodies.axle.poses: fewer of them, which make 100 positions at most"]
    message = "jump is 300 mm long, its ends are 306.1 mm apart with axle in s98; it takes at least 330 mm"
    assert said(report, RULE) == [("error", message)]


def test_a_feed_hose_is_under_no_pressure(tmp_path: Path) -> None:
    """A feed hose loses no length: it is told where it does not reach, and where it has hardly any slack."""
    found = [said(report_of(FEED % length, tmp_path), RULE) for length in ("190 mm", "205 mm", "211 mm")]
    assert found == [
        [("error", "feed is 190 mm long, its ends are 200.0 mm apart at rest; 220 mm would do")],
        [("warning", "feed, 205 mm long, has 2.4 % slack, not 5 %, at rest; 220 mm would do")],
        [],
    ]


def test_a_limit_never_reads_as_kept(tmp_path: Path) -> None:
    """A hose that lacks a hundredth of a mm, or a thousandth of its slack, is told with the decimals that show it."""
    found = [said(report_of(FEED % length, tmp_path), RULE) for length in ("199.99 mm", "210.52 mm")]
    assert found == [
        [("error", "feed is 199.99 mm long, its ends are 200 mm apart at rest; 220 mm would do")],
        [("warning", "feed, 210.52 mm long, has 4.997 % slack, not 5 %, at rest; 220 mm would do")],
    ]


def test_figures_behind_it(tmp_path: Path) -> None:
    """The evidence holds what the verdict rests on: lengths, distance, slack, twist and where they are from."""
    (finding,) = [each for each in report_of(build_of("[0, 250, 400]"), tmp_path).findings if each.rule == RULE]
    assert finding.at == ("jump", "jump.from", "jump.to")
    assert finding.evidence == {
        "length_mm": 300.0,
        "shortened_mm": 288.0,
        "chord_mm": pytest.approx((250.0**2 + 190.0**2) ** 0.5),
        "slack": pytest.approx(1.0 - (250.0**2 + 190.0**2) ** 0.5 / 300.0),
        "slack_wanted": 0.05,
        "position": "with axle in droop",
        "length_needed_mm": 340.0,
        "twist_deg": 0.0,
        "source": "AC 43.13-1B, p 9-23",
    }


@given(st.floats(10.0, 2000.0), st.floats(0.0, 2000.0), st.floats(1.0, 3.0), st.sampled_from(["hose", "feed hose"]))
@settings(derandomize=True, database=None, deadline=None)
def test_a_longer_hose_never_fails_where_a_shorter_passes(length: float, chord: float, more: float, kind: str) -> None:
    """Of two hoses in one place the longer is judged no worse; limits are 4 % (brake hose) and 5 % of the length."""
    far = Span(chord, 0.0, "at rest")
    found = Reach("jump", Part("x", kind, "", {}, ()), length, far, far, far, ())
    worse = {None: 0, "warning": 1, "error": 2}
    assert worse[_level(found, far, length * more)] <= worse[_level(found, far, length)]
    assert (_level(found, far, length) is None) == (chord <= length * (1.0 - SLACK + 1e-9))
    assert (_level(found, far, length) == "error") == (chord > length * (1.0 - found.shrinks + 1e-9))
    assert found.shrinks == (SHRINKS if kind == "hose" else 0.0)
