"""What a finding explains: only what can be its other side, printed with it, and not hidden by an acceptance."""

import re
from pathlib import Path

import pytest

from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check
from fitcheck.reports.check_text import finding_lines
from tests.checks.circuit.cars import CAR, build_of, context_of, findings, spoilt, told, unchecked, without

_TANDEM = """\
build: 1
components:
  mc: {part: mc-tandem-m10x1-bubble}
  tank: {part: reservoir-2-outlet}
  tee_f: {part: tee-m10x1-bubble}
  tee_r: {part: tee-m10x1-bubble}
  boss: {part: tee-m10x1-bubble-1-8-npt}
  fl: {part: caliper-m10x1-bubble}
  fr: {part: caliper-m10x1-bubble}
  rl: {part: caliper-m10x1-bubble}
  rr: {part: caliper-m10x1-bubble}
  gauge: {part: gauge-1-8-npt}
joints:
  - [gauge.port, boss.top]
lines:
  front: {from: mc.primary, to: tee_f.top, tube: tube-3-16-cuni}
  run_fl: {from: tee_f.left, to: fl.inlet, tube: tube-3-16-cuni}
  run_fr: {from: tee_f.right, to: fr.inlet, tube: tube-3-16-cuni}
  rear: {from: mc.secondary, to: boss.left, tube: tube-3-16-cuni}
  rear_2: {from: boss.right, to: tee_r.top, tube: tube-3-16-cuni}
  run_rl: {from: tee_r.left, to: rl.inlet, tube: tube-3-16-cuni}
  run_rr: {from: tee_r.right, to: rr.inlet, tube: tube-3-16-cuni}
hoses:
  feed_1: {part: feed-hose-8mm, from: tank.front, to: mc.feed_primary}
  feed_2: {part: feed-hose-8mm, from: tank.rear, to: mc.feed_secondary}
"""
_CIRCUITS = """\
circuits:
  front: {from: mc.primary, feeds: [fl.inlet, fr.inlet]}
  rear: {from: mc.secondary, feeds: [rl.inlet, rr.inlet]}
"""
_GAUGE = ("joints:\n  - [gauge.port, boss.top]\n", "")
_ALL_ON_ONE = """\
build: 1
components:
  tank: {part: reservoir-2-outlet}
  mc: {part: mc-m10x1-bubble}
  mc_clutch: {part: mc-m10x1-bubble}
  tee: {part: tee-m10x1-bubble}
  fl: {part: caliper-m10x1-bubble}
  fr: {part: caliper-m10x1-bubble}
lines:
  run: {from: mc.outlet, to: tee.top, tube: tube-3-16-cuni}
  run_fl: {from: tee.left, to: fl.inlet, tube: tube-3-16-cuni}
  run_fr: {from: tee.right, to: fr.inlet, tube: tube-3-16-cuni}
hoses:
  feed_1: {part: feed-hose-8mm, from: tank.front, to: mc.feed}
  feed_2: {part: feed-hose-8mm, from: tank.rear, to: mc_clutch.feed}
"""


def test_the_cars_spoilt_here_are_sound() -> None:
    """The car with a tandem cylinder has no findings, whether or not it states its circuits."""
    assert told(context_of(_TANDEM)) == []
    assert told(context_of(_TANDEM + _CIRCUITS)) == []


def _explained(finding: Finding) -> list[str]:
    if finding.rule == "dead-end":
        return []
    return [*finding.evidence.get("open_ends", ()), *finding.evidence.get("left_out", ())]


def _accepting(text: str, *entries: tuple[str, str]) -> Report:
    """Return the answer for the build with these rules accepted at these places."""
    accepted = "".join(f"  - {{rule: {rule}, at: {at}, why: as it was made}}\n" for rule, at in entries)
    return check(build_of(f"{text}accept:\n{accepted}"))


def _errors(report: Report) -> list[tuple[str, str]]:
    return [(one.rule, one.message) for one in report.findings if one.level == "error"]


def _statements() -> list[str]:
    return [line for line in CAR.splitlines() if re.match(r"  (- \[|\w+: \{from|\w+: \{part: feed-hose)", line)]


@pytest.mark.parametrize("statement", [line for line in _statements() if "feeds:" not in line])
def test_all_that_goes_with_a_missing_joint_is_printed_and_stays(statement: str) -> None:
    """Every open end that a finding explains stands in its lines; accepted, the finding leaves it as a dead end."""
    text = CAR.replace(statement + "\n", "").replace("joints:\nlines", "joints: []\nlines")
    (found,) = findings(context_of(text))
    shown = " ".join(" ".join(finding_lines(found, 500)).split())
    assert all(ref in shown for ref in _explained(found))
    report = _accepting(text, (found.rule, found.at[0]))
    standing = [ref for one in report.findings if one.rule == "dead-end" for ref in one.at]
    beside = list(found.at[1:]) if found.rule == "dead-end" else _explained(found)
    assert sorted(standing) == sorted(beside)
    assert report.failed is bool(standing)


def test_ends_that_are_accepted_as_dead_ends_too_stay_accepted() -> None:
    """Accepting the gap and each end that goes with it leaves nothing standing, and no acceptance is stale."""
    text = without("front_left")
    places = [("circuit-not-fed", "caliper_fl"), ("dead-end", "caliper_fl.inlet"), ("dead-end", "tee_front.right")]
    report = _accepting(text, *places)
    assert _errors(report) == []
    assert "acceptance-stale" not in {one.rule for one in report.findings}
    assert [(one.rule, one.message) for one in report.accepted if one.level == "error"] == [
        ("circuit-not-fed", "circuit front does not reach caliper_fl.inlet"),
        ("dead-end", "tee_front.right is open"),
        ("dead-end", "nothing is joined to caliper_fl"),
    ]


def test_accepting_a_loose_switch_leaves_the_open_port_standing() -> None:
    """Of two things told as one dead end, the one that no acceptance names is told again by itself."""
    text = CAR.replace("joints:\n  - [switch.port, tee_light.top]\n", "")
    assert _errors(_accepting(text, ("dead-end", "switch"))) == [("dead-end", "tee_light.top is open")]
    assert _errors(_accepting(text, ("dead-end", "switch"), ("dead-end", "tee_light.top"))) == []


def test_accepting_a_port_used_twice_leaves_what_it_explains() -> None:
    """The caliper whose line went to another one's port is told as open once that port is accepted."""
    text = spoilt(("to: caliper_fr.inlet", "to: caliper_fl.inlet"))
    report = _accepting(text, ("port-reused", "caliper_fl.inlet"))
    assert _errors(report) == [("dead-end", "nothing is joined to caliper_fr")]


def test_accepting_a_line_back_to_its_own_port_leaves_the_gap() -> None:
    """A slave cylinder joined to nothing but its own line is told as not fed once its port is accepted."""
    text = spoilt(("from: mc_clutch.outlet, to", "from: slave.inlet, to"))
    assert told(context_of(text)) == [("port-reused", "error", "slave.inlet is joined 2 times")]
    report = _accepting(text, ("port-reused", "slave.inlet"))
    assert _errors(report) == [
        ("circuit-not-fed", "circuit clutch does not reach slave.inlet"),
        ("dead-end", "mc_clutch.outlet is open"),
    ]


def test_outlet_of_another_master_cylinder_is_no_part_of_a_single_circuit() -> None:
    """A clutch cylinder without line is open whatever the brakes hang on, and whether or not that is accepted."""
    assert told(context_of(_ALL_ON_ONE)) == [
        ("dead-end", "error", "mc_clutch.outlet is open"),
        ("single-circuit", "error", "all 2 brakes hang on mc.outlet"),
    ]
    assert _errors(_accepting(_ALL_ON_ONE, ("single-circuit", "mc.outlet"))) == [
        ("dead-end", "mc_clutch.outlet is open")
    ]


def test_port_used_twice_explains_no_port_of_another_form_or_circuit() -> None:
    """A pipe-thread boss, and a free port of the other circuit, are open for reasons of their own."""
    twice = ("hoses:\n", "  more: {from: tee_f.top, to: gauge.port, tube: tube-3-16-cuni}\nhoses:\n")
    boss = spoilt(_GAUGE, twice, text=_TANDEM)
    assert told(context_of(boss)) == [
        ("dead-end", "error", "boss.top is open"),
        ("port-reused", "error", "tee_f.top is joined 2 times"),
    ]
    assert _errors(_accepting(boss, ("port-reused", "tee_f.top")))[-1] == ("dead-end", "boss.top is open")
    same_form = spoilt(("tee-m10x1-bubble-1-8-npt", "tee-m10x1-bubble"), text=boss)
    assert told(context_of(same_form)) == told(context_of(boss))


def test_port_used_twice_on_a_caliper_with_two_inlets(tmp_path: Path) -> None:
    """A line on the upper inlet instead of the lower one of the same caliper is one finding that names the lower."""
    house = """\
catalog: 1
parts:
  caliper-twin:
    kind: caliper
    ports:
      upper: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      lower: {same as: upper}
    passages: [[upper], [lower]]
    bleeder: M10x1
"""
    text = """\
build: 1
components:
  mc: {part: mc-tandem-m10x1-bubble}
  tank: {part: reservoir-2-outlet}
  one: {part: tee-m10x1-bubble}
  two: {part: tee-m10x1-bubble}
  fl: {part: caliper-twin}
  fr: {part: caliper-twin}
lines:
  a: {from: mc.primary, to: one.top, tube: tube-3-16-cuni}
  b: {from: one.left, to: fl.upper, tube: tube-3-16-cuni}
  c: {from: one.right, to: fr.upper, tube: tube-3-16-cuni}
  d: {from: mc.secondary, to: two.top, tube: tube-3-16-cuni}
  e: {from: two.left, to: fl.upper, tube: tube-3-16-cuni}
  f: {from: two.right, to: fr.lower, tube: tube-3-16-cuni}
hoses:
  feed_1: {part: feed-hose-8mm, from: tank.front, to: mc.feed_primary}
  feed_2: {part: feed-hose-8mm, from: tank.rear, to: mc.feed_secondary}
circuits:
  first: {from: mc.primary, feeds: [fl.upper, fr.upper]}
  second: {from: mc.secondary, feeds: [fl.lower, fr.lower]}
"""
    (found,) = findings(context_of(text, house, tmp_path))
    assert (found.message, found.at) == ("fl.upper is joined 2 times", ("fl.upper", "fl.lower"))
    assert "      open with it: fl.lower" in list(finding_lines(found, 80))


def test_joint_of_a_port_with_itself_explains_nothing() -> None:
    """A port joined to itself takes no other end's joint: what is open elsewhere stays a dead end."""
    text = spoilt(("[gauge.port, boss.top]", "[boss.left, boss.left]"), text=_TANDEM)
    assert told(context_of(text)) == [
        ("dead-end", "error", "boss.top is open and nothing is joined to gauge"),
        ("port-reused", "error", "boss.left is joined 2 times"),
    ]


def test_part_that_nothing_is_joined_to_is_not_explained() -> None:
    """A spare union is a finding of its own, whatever else is joined more than once."""
    text = spoilt(
        ("  gauge: {", "  spare: {part: union-m10x1-bubble}\n  gauge: {"),
        ("from: tee_f.right, to: fr.inlet", "from: tee_f.left, to: fr.inlet"),
        text=_TANDEM,
    )
    assert told(context_of(text)) == [
        ("dead-end", "error", "nothing is joined to spare"),
        ("port-reused", "error", "tee_f.left is joined 2 times"),
    ]


def test_crossing_explains_only_a_port_that_the_branch_would_go_into() -> None:
    """A caliper moved to the other circuit leaves the port its line fits; an open boss there is a dead end."""
    moved = ("from: tee_r.right, to: rr.inlet", "from: more.top, to: rr.inlet")
    more = ("  gauge: {", "  more: {part: tee-m10x1-bubble}\n  gauge: {")
    middle = ("from: tee_f.right, to: fr.inlet", "from: tee_f.right, to: more.left")
    beyond = ("hoses:\n", "  run_m: {from: more.right, to: fr.inlet, tube: tube-3-16-cuni}\nhoses:\n")
    text = spoilt(more, moved, middle, beyond, _GAUGE, ("  gauge: {part: gauge-1-8-npt}\n", ""), text=_TANDEM)
    context = context_of(text + _CIRCUITS)
    assert told(context) == [
        ("circuits-crossed", "error", "rr.inlet is fed by circuit front, not by circuit rear"),
        ("dead-end", "error", "boss.top is open"),
    ]
    assert findings(context)[0].evidence["open_ends"] == ("tee_r.right",)
    assert _errors(_accepting(text + _CIRCUITS, ("circuits-crossed", "rr.inlet"))) == [
        ("dead-end", "tee_r.right is open"),
        ("dead-end", "boss.top is open"),
    ]


def test_crossing_that_puts_all_brakes_on_one_outlet_says_so() -> None:
    """Where a moved branch leaves one outlet with all brakes, the finding says it and lists the open outlet."""
    text = spoilt(
        ("from: mc.secondary, to: boss.left", "from: more.left, to: boss.left"),
        ("from: mc.primary, to: tee_f.top", "from: mc.primary, to: more.top"),
        ("  gauge: {", "  more: {part: tee-m10x1-bubble}\n  gauge: {"),
        ("hoses:\n", "  link: {from: more.right, to: tee_f.top, tube: tube-3-16-cuni}\nhoses:\n"),
        text=_TANDEM,
    )
    (found,) = findings(context_of(text + _CIRCUITS))
    assert found.message == "front and rear are crossed at rl.inlet and rr.inlet: all 4 brakes hang on mc.primary"
    assert "      open with it: mc.secondary" in list(finding_lines(found, 80))


def test_lost_reference_excuses_only_what_its_joint_would_go_into() -> None:
    """An open end that does not fit the joint with the unknown reference is a dead end, not unchecked."""
    context = context_of(spoilt(_GAUGE, ("to: rr.inlet", "to: xyz.foo"), text=_TANDEM))
    assert told(context) == [("dead-end", "error", "boss.top is open and nothing is joined to gauge")]
    assert ("circuit-not-fed", ("rr.inlet",), "a port that exists") in unchecked(context)


def test_reservoir_with_one_port_is_named_with_the_feed_that_lacks_it() -> None:
    """The one hose missing between a lone reservoir and a feed is one finding, whose message names both."""
    text = """\
build: 1
components:
  mc: {part: mc-m10x1-bubble}
  tank: {part: reservoir-1-outlet}
  slave: {part: slave-m10x1-bubble}
lines:
  run: {from: mc.outlet, to: slave.inlet, tube: tube-3-16-cuni}
"""
    (found,) = findings(context_of(text))
    assert found.message == "mc.feed has no reservoir and nothing is joined to tank"
    assert found.at == ("mc.feed", "tank.outlet")


def test_part_without_ports_is_unchecked(tmp_path: Path) -> None:
    """A part whose kind carries fluid and whose entry has no ports is listed with the missing field."""
    house = "catalog: 1\nparts:\n  tee-bare: {kind: tee}\n  box-bare: {kind: pedal box}\n"
    text = "build: 1\ncomponents:\n  joiner: {part: tee-bare}\n  box: {part: box-bare}\n"
    assert unchecked(context_of(text, house, tmp_path), "dead-end") == [
        ("dead-end", ("joiner",), "parts.tee-bare.ports")
    ]
