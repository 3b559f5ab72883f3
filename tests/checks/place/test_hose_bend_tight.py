"""Hoses bent tighter than they may be: whole messages, which limit counts, what is missing."""

from pathlib import Path

import pytest

from fitcheck.build.hose_curve import free_curve, widest_radius_mm
from tests.checks.place.hose_builds import build_of, missing, report_of, said

RULE = "hose-bend-tight"


def test_whole_message(tmp_path: Path) -> None:
    """The position where the ends come nearest governs; radius and limit are told."""
    report = report_of(build_of("[0, 10, 390]"), tmp_path)
    message = "jump bends to a radius of 38.3 mm with axle in bump; hose-300 stands 40 mm"
    assert (said(report, RULE), missing(report, RULE), report.checked[RULE]) == ([("error", message)], [], 1)


def test_radius_is_that_of_the_curve(tmp_path: Path) -> None:
    """The evidence gives the free curve's radius over the chord at bump, and the widest that any curve could have."""
    (finding,) = [each for each in report_of(build_of("[0, 10, 390]"), tmp_path).findings if each.rule == RULE]
    chord = (10.0**2 + 20.0**2) ** 0.5
    curve = free_curve(300.0, chord)
    assert curve is not None
    assert finding.evidence == {
        "length_mm": 300.0,
        "chord_mm": pytest.approx(chord),
        "radius_mm": pytest.approx(curve.radius_mm),
        "radius_at_best_mm": pytest.approx(widest_radius_mm(300.0, chord)),
        "allowed_mm": 40.0,
        "position": "with axle in bump",
        "length_needed_mm": 320.0,
        "twist_deg": 0.0,
        "source": "hose-300: bend_radius",
    }


def test_wide_enough_is_no_finding(tmp_path: Path) -> None:
    """A hose whose curve keeps to its limit in every pose is looked at and passes."""
    report = report_of(build_of("[0, 200, 400]"), tmp_path)
    assert (said(report, RULE), missing(report, RULE), report.checked[RULE]) == ([], [], 1)


def test_without_a_radius_of_its_own_the_table_warns(tmp_path: Path) -> None:
    """A part that states no radius is measured by wire-braided hose of its bore, and stays not checked."""
    report = report_of(build_of("[0, 100, 400]", "hose-plain"), tmp_path)
    message = "jump bends to a radius of 50.5 mm with axle in bump; wire-braided hose of this bore stands 76.2 mm"
    assert said(report, RULE) == [("warning", message)]
    assert missing(report, RULE) == ["parts.hose-plain.bend_radius"]


def test_a_pass_by_the_table_is_no_pass(tmp_path: Path) -> None:
    """A curve that the table would allow is still listed as not checked, and so is a bore that no table has."""
    for at, part in (("[0, 280, 300]", "hose-plain"), ("[0, 100, 400]", "hose-odd")):
        report = report_of(build_of(at, part), tmp_path)
        assert (said(report, RULE), RULE in report.checked) == ([], False)
        assert missing(report, RULE) == [f"parts.{part}.bend_radius"]


def test_a_hose_that_does_not_reach_is_told_once(tmp_path: Path) -> None:
    """Where the hose reaches in no pose there is no curve: the other rule speaks alone."""
    report = report_of(build_of("[0, 500, 400]"), tmp_path)
    assert (said(report, RULE), len(said(report, "hose-short"))) == ([], 1)


def test_what_is_not_known_is_named(tmp_path: Path) -> None:
    """Places, poses and length that are missing are told, each by its field."""
    report = report_of(build_of("", "hose-endless", bodies="axle: {}"), tmp_path)
    assert missing(report, RULE) == ["components.bracket.at", "parts.hose-endless.length"]
    report = report_of(build_of("[0, 200, 400]", bodies="axle: {}"), tmp_path)
    assert missing(report, RULE) == ["bodies.axle.poses"]


def test_feed_hose_has_no_wire_braid(tmp_path: Path) -> None:
    """A feed hose without a radius of its own is not measured by pressure hose: it is listed as not checked."""
    text = """\
build: 1
components:
  tank: {part: reservoir-2-outlet, at: [0, 0, 700]}
  mc: {part: mc-m10x1-bubble, at: [0, 0, 650]}
hoses:
  feed: {part: feed-hose-8mm, from: tank.front, to: mc.feed, length: 150 mm}
"""
    report = report_of(text, tmp_path)
    assert (said(report, RULE), missing(report, RULE)) == ([], ["parts.feed-hose-8mm.bend_radius"])
