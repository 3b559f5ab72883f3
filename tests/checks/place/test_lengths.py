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


TOLD = f"{CUNI}, route: 'run forward 400 mm, left 90 radius 20 mm, run LEG mm'"


@pytest.mark.parametrize(("leg", "miss"), [(300, None), (312, None), (315, 15.0), (282, 18.0)])
def test_words_that_miss_the_far_end(leg: int, miss: float | None) -> None:
    """Between stated faces words may end 5 mm and 2 % beside the other end, further it is told with figures."""
    told = TOLD.replace("LEG", str(leg))
    where = "ends: {from: {at: [0, 0, 0]}, to: {at: [400, 300, 0]}}"
    text = car(f"{told}, {where}", start="", end="")
    if miss is None:
        assert said(text, "length-disagrees") == []
        return
    (finding,) = found(text, "length-disagrees")
    assert finding.message == f"the route of run in words ends {miss:g} mm from run.to"
    assert (finding.level, finding.at) == ("warning", ("run",))
    evidence = finding.evidence
    assert dist(evidence["points_mm"][-1], evidence["ends_mm"][1]) == pytest.approx(evidence["misses_mm"])
    assert evidence["misses_mm"] > max(5.0, 0.02 * evidence["route_mm"])


def test_words_between_parts_of_a_rough_place() -> None:
    """Where only the parts' places are stated, 25 mm more are allowed at each end."""
    assert said(car(TOLD.replace("LEG", "360")), "length-disagrees") == []
    ((_, message, _),) = said(car(TOLD.replace("LEG", "370")), "length-disagrees")
    assert message == "the route of run in words ends 70 mm from run.to"


def test_words_of_which_nobody_knows_where_they_lead() -> None:
    """Without a heading, or with an end whose place is not known, it is said that nothing was looked at."""
    told = TOLD.replace("LEG", "300")
    assert missing(car(told, end=""), "length-disagrees") == [(("run",), "components.far.at")]
    assert missing(car(told.replace("forward ", "")), "length-disagrees") == [(("run",), "lines.run.route")]


def test_what_is_wrong_with_a_bend_is_told_at_the_text() -> None:
    """A bend of a route in words has no entry of its own: the place is where the text starts."""
    told = TOLD.replace("LEG", "300").replace("20 mm", "5 mm")
    findings = [finding for finding in report_of(car(told)).findings if finding.rule == "bend-tight"]
    line = next(row for row in car(told).splitlines() if row.startswith("  run:"))
    assert [finding.place.column for finding in findings] == [line.index("'run forward") + 1]


def test_words_are_in_space_for_other_rules() -> None:
    """Heat beside a route in words is found as beside points; without a heading nobody knows where it is."""
    hot = "heat: {pipe: {path: [[200, 20, -50], [200, 20, 50]], clearance: 50 mm}}\n"
    told = TOLD.replace("LEG", "300")
    drawn = f"{CUNI}, route: [{{at: [400, 0, 0], bend: 20 mm}}]"
    messages = [said(car(line, hot), "near-heat") for line in (told, drawn)]
    assert messages[0] == messages[1] != []
    assert missing(car(told.replace("forward ", ""), hot), "near-heat") == [(("run",), "lines.run.route")]


def test_a_u_is_not_crowded() -> None:
    """Within a U no straight is asked for, given as two corners, as legs or in words; its legs still need theirs."""
    us = (
        "route: [{at: [400, 0, 0], bend: 20 mm}, {at: [400, 40, 0], bend: 20 mm}]",
        "route: [{leg: 400 mm, angle: 180 deg, bend: 20 mm}, {leg: LEG mm}]",
        "route: 'run forward 400 mm, left 180 radius 20 mm, run LEG mm'",
    )
    for u in us:
        assert said(car(f"{CUNI}, {u.replace('LEG', '200')}", end="[200, 40, 0]"), "bend-crowded") == []
        ((_, message, _),) = said(car(f"{CUNI}, {u.replace('LEG', '40')}", end="[360, 40, 0]"), "bend-crowded")
        assert message == (
            "run is straight for 20 mm before run.to, the flaring tool needs 25 mm, by the usual figure: "
            "flare this end before bending"
        )
