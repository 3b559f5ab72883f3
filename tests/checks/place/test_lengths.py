"""Lengths that disagree with places, and lines without a bend."""

from math import dist

import pytest

from tests.checks.place.bench import CUNI, car, found, missing, report_of, said

ROUTE = f"{CUNI}, route: [{{at: [400, 0, 0], bend: 20 mm}}]"
EXACT = f"{CUNI}, ends: {{from: {{at: [0, 0, 0]}}, to: {{at: [400, 300, 0]}}}}"


def test_length_and_route_differ() -> None:
    """The route comes to 691.4 mm: 720 mm is more than 2 % away, 700 mm is not."""
    (finding,) = found(car(f"{ROUTE}, length: 720 mm"), "length-disagrees")
    assert finding.level == "warning"
    assert finding.message == "run is said to be 720 mm long, its route comes to 691.4 mm"
    evidence = finding.evidence
    assert evidence["apart_mm"] == pytest.approx(evidence["length_mm"] - evidence["route_mm"])
    assert evidence["apart_mm"] > max(5.0, 0.02 * 720)
    assert said(car(f"{ROUTE}, length: 700 mm"), "length-disagrees") == []
    assert [level for level, *_ in said(car(f"{ROUTE}, length: 670 mm"), "length-disagrees")] == ["warning"]


def test_short_lines_have_five_millimetres() -> None:
    """Of 100 mm two hundredths would be 2 mm: 4 mm are still allowed."""
    legs = f"{CUNI}, route: [{{leg: 50 mm, angle: 90 deg, bend: 20 mm}}, {{leg: 58.6 mm}}]"
    assert said(car(f"{legs}, length: 104 mm", start="", end=""), "length-disagrees") == []
    ((_, message, _),) = said(car(f"{legs}, length: 108 mm", start="", end=""), "length-disagrees")
    assert message == "run is said to be 108 mm long, its route comes to 100 mm"


def test_no_tube_is_shorter_than_the_straight_way() -> None:
    """Between faces whose places are stated it is an error, between parts of a rough place a warning."""
    message = "run is said to be 480 mm long, its ends are 500 mm apart"
    assert said(car(f"{CUNI}, length: 480 mm"), "length-disagrees") == [("warning", message, ("run",))]
    (finding,) = found(car(f"{EXACT}, length: 480 mm", start="", end=""), "length-disagrees")
    assert (finding.level, finding.message) == ("error", message)
    assert dist(*finding.evidence["ends_mm"]) == pytest.approx(finding.evidence["apart_mm"])
    assert said(car(f"{CUNI}, length: 502 mm"), "length-disagrees") == []


def test_one_fault_is_one_finding() -> None:
    """A length that is too short for the straight way is not held against the route as well."""
    assert len(said(car(f"{ROUTE}, length: 400 mm"), "length-disagrees")) == 1


def test_length_alone_is_not_passed() -> None:
    """A length between ends of unknown place is listed; a line without length has nothing to disagree."""
    assert missing(car(f"{CUNI}, length: 600 mm", end=""), "length-disagrees") == [(("run",), "components.far.at")]
    assert missing(car(CUNI, end=""), "length-disagrees") == []
    folded = car(f"{CUNI}, route: [[400, 0, 0]], length: 700 mm", end="[100, 0, 0]")
    assert missing(folded, "length-disagrees") == [(("run",), "lines.run.route")]


def test_a_line_without_a_bend() -> None:
    """By route or by length, between two parts: told with both ends; one small bend is enough."""
    message = "run is dead straight, 500 mm from far.a to near.b"
    at = ("run", "far.a", "near.b")
    assert said(car(f"{CUNI}, route: []"), "line-dead-straight") == [("warning", message, at)]
    assert said(car(f"{CUNI}, route: [[200, 150, 0]]"), "line-dead-straight") == [("warning", message, at)]
    assert said(car(f"{CUNI}, length: 500 mm"), "line-dead-straight") == [("warning", message, at)]
    assert said(car(f"{CUNI}, length: 530 mm"), "line-dead-straight") == []
    assert said(car(f"{CUNI}, route: [[200, 170, 0]]"), "line-dead-straight") == []


def test_a_hose_at_one_end_gives_way() -> None:
    """A straight line that ends in a hose is left alone."""
    text = """\
build: 1
components:
  near: {part: union-3-16-inverted, at: [0, 0, 0]}
  stop: {part: plug-3-8-24-inverted}
  caliper: {part: caliper-m10x1-washer}
joints: [[stop.end, near.a]]
hoses:
  hose: {part: hose-braided-350-3-8-24-inverted-female-banjo-10mm, to: caliper.inlet}
lines:
  run: {from: near.b, to: hose.from, tube: tube-3-16-cuni, route: [], ends: {to: {at: [500, 0, 0]}}}
"""
    report = report_of(text)
    assert "part-unknown" not in {finding.rule for finding in report.findings}
    assert "line-dead-straight" not in {finding.rule for finding in report.findings}


def test_straightness_that_nobody_can_tell_is_listed() -> None:
    """Neither route nor length, or a length between unknown places: not passed."""
    assert missing(car(CUNI), "line-dead-straight") == [(("run",), "lines.run.route")]
    one = missing(car(f"{CUNI}, length: 500 mm", start=""), "line-dead-straight")
    assert one == [(("run",), "components.near.at")]
