"""`dead-end` and `port-reused`."""

from pathlib import Path

from fitcheck.reports.check_text import finding_lines
from tests.checks.circuit.cars import CAR, context_of, findings, looked, spoilt, told, unchecked, without

_SPARE = ("  slave: {", "  spare: {part: tee-m10x1-bubble}\n  slave: {")
_PLUGGED = ("  slave: {", "  stop: {part: plug-m10x1-bubble}\n  slave: {")


def test_open_port_is_told_with_the_outlet_that_would_empty_through_it() -> None:
    """A port left open under pressure is an error that names the outlet."""
    text = without("switch", text=CAR).replace("joints:\n  - [switch.port, tee_light.top]\n", "")
    (found,) = findings(context_of(text))
    assert (found.rule, found.level, found.message) == ("dead-end", "error", "tee_light.top is open")
    assert found.at == ("tee_light.top",)
    assert found.evidence == {"open_ends": ("tee_light.top",), "outlet": "mc_front.outlet"}
    assert text.splitlines()[found.place.line - 1].startswith("  tee_light: {")


def test_part_that_nothing_is_joined_to_is_one_finding() -> None:
    """A spare tee has three open ports and is one finding."""
    (found,) = findings(context_of(spoilt(_SPARE)))
    assert (found.rule, found.level, found.message) == ("dead-end", "error", "nothing is joined to spare")
    assert found.at == ("spare.left", "spare.right", "spare.top")
    assert found.evidence == {"open_ends": found.at, "outlet": None}


def test_loose_switch_and_the_port_it_belongs_in_are_one_finding() -> None:
    """A switch that nothing is joined to and the one open port that takes it are told together."""
    (found,) = findings(context_of(CAR.replace("joints:\n  - [switch.port, tee_light.top]\n", "")))
    assert found.message == "tee_light.top is open and nothing is joined to switch"
    assert found.at == ("tee_light.top", "switch.port")


def test_loose_plug_of_another_thread_is_a_finding_of_its_own() -> None:
    """A plug that does not fit the open port says nothing about it."""
    text = spoilt(_PLUGGED).replace("joints:\n  - [switch.port, tee_light.top]\n", "").replace("  switch: {", "  #")
    text = "".join(line + "\n" for line in text.splitlines() if "#" not in line)
    assert sorted(told(context_of(text))) == [
        ("dead-end", "error", "nothing is joined to stop"),
        ("dead-end", "error", "tee_light.top is open"),
    ]


def test_master_cylinder_that_nothing_is_joined_to_is_one_finding() -> None:
    """A spare master cylinder is one finding: its feed is not told apart."""
    text = spoilt(("  slave: {", "  mc_spare: {part: mc-m10x1-bubble}\n  slave: {"))
    (found,) = findings(context_of(text))
    assert found.message == "nothing is joined to mc_spare"
    assert found.at == ("mc_spare.outlet",)


def test_joined_port_without_a_passage_leads_nowhere(tmp_path: Path) -> None:
    """A joined port that shares no passage and is no end by its nature is a warning, one for each part."""
    house = """\
catalog: 1
parts:
  joiner-blind:
    kind: union
    ports:
      a: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      b: {same as: a}
    passages: [[a], [b]]
"""
    text = """\
build: 1
components:
  joiner: {part: joiner-blind}
  stop_a: {part: plug-m10x1-bubble}
  stop_b: {part: plug-m10x1-bubble}
joints:
  - [stop_a.end, joiner.a]
  - [stop_b.end, joiner.b]
"""
    (found,) = findings(context_of(text, house, tmp_path))
    assert (found.rule, found.level) == ("dead-end", "warning")
    assert found.message == "joiner.a and joiner.b lead nowhere"
    assert found.evidence == {"ports": ("joiner.a", "joiner.b")}


def test_mechanical_and_unknown_ends_are_not_looked_at() -> None:
    """Rods and pushrods carry no fluid; ports of an unknown part are not judged."""
    context = context_of("build: 1\ncomponents:\n  pedals: {part: pedal-box-twin}\n  what: {part: nobody-knows}\n")
    assert told(context) == []
    assert looked(context, "dead-end") == 0


def test_other_side_of_a_lost_reference_is_unchecked() -> None:
    """A port that only a misspelt reference leaves open is listed, not found."""
    context = context_of(spoilt(("[switch.port, tee_light.top]", "[switch.port, xyz.foo]")))
    assert told(context) == []
    assert ("dead-end", ("tee_light.top",), "a port that exists") in unchecked(context)


def test_port_used_twice_explains_the_open_port_beside_it() -> None:
    """Two lines on one port of a tee leave another open: one finding, at the second line, that names both."""
    text = spoilt(("from: tee_front.top, to", "from: tee_front.right, to"))
    (found,) = findings(context_of(text))
    lines = text.splitlines()
    assert (found.rule, found.level) == ("port-reused", "error")
    assert found.message == "tee_front.right is joined 2 times"
    assert found.at == ("tee_front.right", "tee_front.top")
    joints = found.evidence["joints"]
    assert [joint["ends"] for joint in joints] == [
        ("tee_front.right", "front_left.from"),
        ("tee_front.right", "front_right.from"),
    ]
    assert [lines[joint["line"] - 1].split(":")[0].strip() for joint in joints] == ["front_left", "front_right"]
    assert found.place.line == joints[1]["line"]
    assert found.evidence["left_out"] == ("tee_front.top",)


def test_line_that_goes_to_another_caliper_is_one_finding() -> None:
    """A caliper joined twice accounts for the one that is left without a line; that one is listed as not checked."""
    context = context_of(spoilt(("to: caliper_fr.inlet", "to: caliper_fl.inlet")))
    (found,) = findings(context)
    assert found.message == "caliper_fl.inlet is joined 2 times"
    assert found.at == ("caliper_fl.inlet", "caliper_fr.inlet")
    missing = "one joint at caliper_fl.inlet instead of several"
    assert ("circuit-not-fed", ("caliper_fr.inlet",), missing) in unchecked(context)


def test_end_joined_to_itself() -> None:
    """A joint that names one port twice is told as such."""
    text = "build: 1\ncomponents:\n  stop: {part: plug-m10x1-bubble}\njoints:\n  - [stop.end, stop.end]\n"
    (found,) = findings(context_of(text))
    assert (found.rule, found.message) == ("port-reused", "stop.end is joined to itself")


def test_eyes_under_one_bolt_are_one_joint() -> None:
    """Two banjo eyes stated as one joint do not use the port twice; stated as two joints they do."""
    hoses = """\
build: 1
components:
  caliper: {part: caliper-m10x1-washer}
hoses:
  one: {part: hose-braided-350-3-8-24-inverted-female-banjo-10mm%s}
  two: {part: hose-braided-350-3-8-24-inverted-female-banjo-10mm%s}
"""
    together = hoses % ("", "") + "joints:\n  - {port: caliper.inlet, eyes: [one.to, two.to]}\n"
    apart = hoses % (", to: caliper.inlet", ", to: caliper.inlet")
    assert told(context_of(together), "port-reused") == []
    (found,) = findings(context_of(apart), "port-reused")
    assert (found.level, found.message) == ("error", "caliper.inlet is joined 2 times")
    reason = "eyes on one bolt are written {port: caliper.inlet, eyes: [one.to, two.to]} under joints"
    assert found.evidence["reason"] == reason
    assert f"      {reason}" in list(finding_lines(found, 120))
    assert "reason" not in findings(context_of(spoilt(("to: caliper_fr.inlet", "to: caliper_fl.inlet"))))[0].evidence
