"""`circuits-crossed` and `single-circuit`."""

from pathlib import Path

from fitcheck.checks.findings import Finding
from tests.checks.circuit.cars import (
    CAR,
    UNSTATED,
    assert_walked,
    context_of,
    findings,
    reached,
    said,
    spoilt,
    told,
    unchecked,
    without,
)

_LIGHT_TO_REAR = (
    ("  slave: {", "  tee_spare: {part: tee-m10x1-bubble}\n  slave: {"),
    ("from: limiter.out, to: tee_rear.left", "from: limiter.out, to: tee_spare.left"),
    (
        "  rear_left: {",
        "  link_1: {from: tee_spare.right, to: tee_rear.left, tube: tube-3-16-cuni}\n"
        "  link_2: {from: tee_spare.top, to: tee_light.top, tube: tube-3-16-cuni}\n  rear_left: {",
    ),
    ("  - [switch.port, tee_light.top]\n", ""),
    ("joints:\n", ""),
    ("  switch: {part: pressure-switch-1-8-npt}\n", ""),
)
"""A line between the front circuit and the rear one."""

_TANDEM = """\
build: 1
components:
  mc: {part: mc-tandem-m10x1-bubble}
  tank: {part: reservoir-2-outlet}
  joiner: {part: tee-m10x1-bubble}
  left: {part: caliper-m10x1-bubble}
  right: {part: caliper-m10x1-bubble}
lines:
  run: {from: mc.primary, to: joiner.top, tube: tube-3-16-cuni}
  run_l: {from: joiner.left, to: left.inlet, tube: tube-3-16-cuni}
  run_r: {from: joiner.right, to: right.inlet, tube: tube-3-16-cuni}
hoses:
  feed_1: {part: feed-hose-8mm, from: tank.front, to: mc.feed_primary}
  feed_2: {part: feed-hose-8mm, from: tank.rear, to: mc.feed_secondary}
"""


def _notes(text: str) -> list[Finding]:
    answers = said(context_of(text), "single-circuit")
    return [one for one in answers if isinstance(one, Finding) and one.level == "note"]


def test_two_outlets_joined_are_one_finding_with_the_way_between_them() -> None:
    """A line between two circuits is one finding, and its witness leads from one outlet to the other."""
    context = context_of(spoilt(*_LIGHT_TO_REAR))
    (found,) = findings(context)
    assert (found.rule, found.level) == ("circuits-crossed", "error")
    assert found.message == "mc_front.outlet and mc_rear.outlet are joined into one circuit"
    assert found.at == ("mc_front.outlet", "mc_rear.outlet")
    assert_walked(context, found.evidence["path"], "mc_front.outlet", "mc_rear.outlet")


def test_joined_circuits_are_found_without_stated_circuits() -> None:
    """Nothing need be stated for two outlets in one network to be found."""
    found = findings(context_of(spoilt(*_LIGHT_TO_REAR, text=UNSTATED)))
    assert [one.rule for one in found] == ["circuits-crossed"]


def test_two_lines_swapped_are_one_finding() -> None:
    """A front and a rear line swapped are one finding, with the way to each end from the outlet that feeds it."""
    text = spoilt(("to: caliper_fl.inlet", "to: @"), ("to: caliper_rl.inlet", "to: caliper_fl.inlet"))
    context = context_of(text.replace("@", "caliper_rl.inlet"))
    (found,) = findings(context)
    assert (found.rule, found.level) == ("circuits-crossed", "error")
    assert found.message == "front and rear are crossed at caliper_fl.inlet and caliper_rl.inlet"
    assert found.at == ("caliper_fl.inlet", "caliper_rl.inlet", "front", "rear")
    assert found.evidence["circuits"] == ("front", "rear")
    first, second = found.evidence["crossings"]
    assert (first["end"], first["circuit"], first["fed_by"]) == ("caliper_fl.inlet", "front", "mc_rear.outlet")
    assert (second["end"], second["circuit"], second["fed_by"]) == ("caliper_rl.inlet", "rear", "mc_front.outlet")
    assert_walked(context, first["path"], "mc_rear.outlet", "caliper_fl.inlet")
    assert_walked(context, second["path"], "mc_front.outlet", "caliper_rl.inlet")
    assert "caliper_fl.inlet" not in reached(context, "mc_front.outlet")


def test_branch_moved_to_another_circuit_is_one_finding() -> None:
    """A caliper's line that starts at a free port of the other circuit leaves its own port open: one finding."""
    text = spoilt(
        ("  slave: {", "  tee_more: {part: tee-m10x1-bubble}\n  slave: {"),
        ("from: tee_rear.top, to: caliper_rr.inlet", "from: tee_rear.top, to: tee_more.left"),
        (
            "  clutch_line: {",
            "  more: {from: tee_more.right, to: caliper_rr.inlet, tube: tube-3-16-cuni}\n  clutch_line: {",
        ),
        ("from: tee_front.right, to: caliper_fl.inlet", "from: tee_more.top, to: caliper_fl.inlet"),
    )
    (found,) = findings(context_of(text))
    assert found.message == "caliper_fl.inlet is fed by circuit rear, not by circuit front"
    assert found.at == ("caliper_fl.inlet", "tee_front.right", "front", "rear")
    assert found.evidence["open_ends"] == ("tee_front.right",)


def test_outlet_without_a_name_is_called_by_its_port() -> None:
    """A crossing with an outlet that no stated circuit begins at names the port."""
    text = spoilt(("  rear: {from: mc_rear.outlet, feeds: [caliper_rl.inlet, caliper_rr.inlet]}\n", ""))
    swapped = (
        text.replace("to: caliper_fl", "to: @").replace("to: caliper_rl", "to: caliper_fl").replace("@", "caliper_rl")
    )
    (found,) = findings(context_of(swapped))
    assert found.message == "caliper_fl.inlet is fed by mc_rear.outlet, not by circuit front"


def test_two_inlets_without_a_common_passage_are_no_crossing(tmp_path: Path) -> None:
    """A caliper whose two inlets share no passage may hang on two circuits."""
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
  caliper: {part: caliper-twin}
lines:
  one: {from: mc.primary, to: caliper.upper, tube: tube-3-16-cuni}
  two: {from: mc.secondary, to: caliper.lower, tube: tube-3-16-cuni}
hoses:
  feed_1: {part: feed-hose-8mm, from: tank.front, to: mc.feed_primary}
  feed_2: {part: feed-hose-8mm, from: tank.rear, to: mc.feed_secondary}
circuits:
  first: {from: mc.primary, feeds: [caliper.upper]}
  second: {from: mc.secondary, feeds: [caliper.lower]}
"""
    assert told(context_of(text, house, tmp_path)) == []


def test_crossing_through_a_port_used_twice_is_left_to_that_port() -> None:
    """A crossing that only exists because a port is joined twice is not checked; the other circuit's outlet is open."""
    context = context_of(
        spoilt(("from: mc_front.outlet, to: tee_light.left", "from: mc_rear.outlet, to: tee_light.left"))
    )
    assert told(context) == [
        ("dead-end", "error", "mc_front.outlet is open"),
        ("port-reused", "error", "mc_rear.outlet is joined 2 times"),
    ]
    missing = "one joint at mc_rear.outlet instead of several"
    assert ("circuits-crossed", ("caliper_fl.inlet",), missing) in unchecked(context)


def test_crossing_through_an_unknown_part_is_unchecked() -> None:
    """What an unknown part joins is not known."""
    text = spoilt(*_LIGHT_TO_REAR).replace("tee_spare: {part: tee-m10x1-bubble}", "tee_spare: {part: nobody-knows}")
    context = context_of(text)
    assert told(context) == []
    outlets = ("mc_front.outlet", "mc_rear.outlet")
    assert ("circuits-crossed", outlets, "parts.nobody-knows") in unchecked(context)


def test_all_brakes_on_one_outlet() -> None:
    """Brakes that all hang on one outlet of a tandem cylinder are an error that names the idle outlet too."""
    (found,) = findings(context_of(_TANDEM))
    assert (found.rule, found.level) == ("single-circuit", "error")
    assert found.message == "all 2 brakes hang on mc.primary and mc.secondary is open"
    assert found.at == ("mc.primary", "mc.secondary")
    assert found.evidence["brakes"] == ["left.inlet", "right.inlet"]
    assert set(found.evidence["brakes"]) <= reached(context_of(_TANDEM), "mc.primary")


def test_name_of_the_circuit_comes_first() -> None:
    """A stated circuit is named in front, so that an acceptance may name it."""
    text = _TANDEM + "circuits:\n  all: {from: mc.primary, feeds: [left.inlet, right.inlet]}\n"
    (found,) = findings(context_of(text))
    assert found.at == ("all", "mc.primary", "mc.secondary")


def test_clutch_alone_on_an_outlet_is_a_note() -> None:
    """A clutch needs no second circuit: a note, by the circuit's name if it has one."""
    (named,) = _notes(CAR)
    assert named.message == "circuit clutch hangs on one outlet, mc_clutch.outlet"
    assert named.at == ("clutch", "mc_clutch.outlet", "slave.inlet")
    (unnamed,) = _notes(UNSTATED)
    assert unnamed.message == "slave.inlet hangs on one outlet, mc_clutch.outlet"
    assert unnamed.at == ("mc_clutch.outlet", "slave.inlet")


def test_split_is_not_known_while_a_brake_is_not_fed() -> None:
    """As long as a brake is not fed, whether the circuits are split is listed as not checked."""
    context = context_of(without("rear_feed"))
    assert told(context, "single-circuit") == []
    missing = "a way from an outlet to caliper_rl.inlet"
    assert ("single-circuit", ("caliper_fl.inlet",), missing) in unchecked(context)


def test_one_brake_cannot_be_split() -> None:
    """A file with one brake so far is not accused of a single circuit; it is listed as not checked."""
    context = context_of(without("right", "run_r", text=_TANDEM))
    assert ("single-circuit", ("left.inlet",), "a second brake") in unchecked(context)
    assert told(context, "single-circuit") == []


_SLAVE = ("from: mc_clutch.outlet, to: slave.inlet", "from: tee_spare.top, to: slave.inlet")
_ON_FRONT = (
    _SLAVE,
    ("from: tee_front.right, to: caliper_fl.inlet", "from: tee_spare.right, to: caliper_fl.inlet"),
    ("  clutch: {from: mc_clutch.outlet, feeds: [slave.inlet]}\n", ""),
    (
        "  clutch_line: {",
        "  more: {from: tee_front.right, to: tee_spare.left, tube: tube-3-16-cuni}\n  clutch_line: {",
    ),
    ("  slave: {", "  tee_spare: {part: tee-m10x1-bubble}\n  slave: {"),
)
"""The slave cylinder hung on the front brakes, and no circuit that lists it."""


def _crossed(text: str) -> list[Finding]:
    return [one for one in said(context_of(text), "circuits-crossed") if isinstance(one, Finding)]


def test_clutch_on_a_brake_circuit_that_does_not_list_it_is_a_warning() -> None:
    """A slave cylinder reached by the front brakes' circuit is a warning, with the way to it."""
    text = without("mc_clutch", "feed_clutch", text=spoilt(*_ON_FRONT))
    (found,) = _crossed(text)
    assert (found.level, found.message) == (
        "warning",
        "circuit front also reaches slave.inlet, which it does not list",
    )
    assert found.at == ("slave.inlet", "front")
    assert text.splitlines()[found.place.line - 1].startswith("  front: {from")
    assert_walked(context_of(text), found.evidence["path"], "mc_front.outlet", "slave.inlet")


def test_brake_left_out_of_its_circuit_is_a_note() -> None:
    """A caliper that its circuit reaches and no circuit lists is a note, one for each circuit."""
    text = spoilt(("feeds: [caliper_rl.inlet, caliper_rr.inlet]", "feeds: []"), (", caliper_fr.inlet]", "]"))
    assert [(one.level, one.message) for one in _crossed(text)] == [
        ("note", "circuit front also reaches caliper_fr.inlet, which it does not list"),
        ("note", "circuit rear also reaches caliper_rl.inlet and caliper_rr.inlet, which it does not list"),
    ]


def test_circuit_that_lists_nothing_and_reaches_both_duties_is_a_warning() -> None:
    """With nothing listed, a brake and a clutch on one circuit are still of two duties."""
    text = without("mc_clutch", "feed_clutch", text=spoilt(*_ON_FRONT))
    (found,) = _crossed(spoilt(("feeds: [caliper_fl.inlet, caliper_fr.inlet]", "feeds: []"), text=text))
    assert found.level == "warning"
    assert found.message == (
        "circuit front also reaches caliper_fl.inlet, caliper_fr.inlet and slave.inlet, which it does not list"
    )


def test_what_a_circuit_should_list_is_unchecked_while_a_listed_port_does_not_exist() -> None:
    """A misspelt port under `feeds` may be the very one that seems to be missing there."""
    context = context_of(spoilt(("feeds: [slave.inlet]", "feeds: [slave.inlte]")))
    assert ("circuits-crossed", ("slave.inlet",), "a port that exists") in unchecked(context)
    assert _crossed(spoilt(("feeds: [slave.inlet]", "feeds: [slave.inlte]"))) == []


def test_reached_through_a_port_used_twice_is_unchecked() -> None:
    """What a circuit reaches only through a port joined twice may not hang on it on the car."""
    text = spoilt(_SLAVE, ("  clutch: {from: mc_clutch.outlet, feeds: [slave.inlet]}\n", ""))
    context = context_of(without("mc_clutch", "feed_clutch", text=text).replace("tee_spare.top", "tee_front.top"))
    missing = "one joint at tee_front.top instead of several"
    assert ("circuits-crossed", ("slave.inlet",), missing) in unchecked(context)
    assert "circuits-crossed" not in {rule for rule, _, _ in told(context)}
