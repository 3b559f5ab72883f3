"""`reservoir-missing` and `reservoir-small`."""

from pathlib import Path

from tests.checks.circuit.cars import (
    CAR,
    assert_walked,
    context_of,
    findings,
    looked,
    said,
    spoilt,
    told,
    unchecked,
    without,
)

_HOUSE = """\
catalog: 1
parts:
  tank-house:
    kind: reservoir
    ports: {front: {seat: push-on, hose: 8 mm, gender: external}, rear: {same as: front}}
    %s
  caliper-house:
    kind: caliper
    ports: {inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
    bleeder: M10x1
    displacement: 60 cm3
  slave-house:
    kind: slave cylinder
    ports: {inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
    bleeder: M10x1
    displacement: 15 cm3
  mc-house:
    kind: master cylinder
    ports: {outlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
    outlets: [outlet]
    %s
"""
_BUILD = """\
build: 1
components:
  tank: {part: tank-house}
  mc_1: {part: mc-m10x1-bubble}
  mc_2: {part: mc-m10x1-bubble}
  one: {part: caliper-house}
  two: {part: %s}
lines:
  run_1: {from: mc_1.outlet, to: one.inlet, tube: tube-3-16-cuni}
  run_2: {from: mc_2.outlet, to: two.inlet, tube: tube-3-16-cuni}
hoses:
  feed_1: {part: feed-hose-8mm, from: tank.front, to: mc_1.feed}
  feed_2: {part: feed-hose-8mm, from: tank.rear, to: mc_2.feed}
"""
_OWN = """\
build: 1
components:
  mc: {part: mc-house}
  one: {part: caliper-house}
lines:
  run: {from: mc.outlet, to: one.inlet, tube: tube-3-16-cuni}
"""
_NOTHING = "reservoir_volume: 1 cm3"


def test_missing_feed_hose_names_feed_and_reservoir_port() -> None:
    """A feed hose left out is one finding at the feed, with the reservoir's open port."""
    text = without("feed_rear")
    (found,) = findings(context_of(text))
    assert (found.rule, found.level) == ("reservoir-missing", "error")
    assert found.message == "mc_rear.feed has no reservoir"
    assert found.at == ("mc_rear.feed", "tank.rear")
    assert found.evidence == {"feeds": ("mc_rear.feed",), "open_ends": ("tank.rear",)}
    assert text.splitlines()[found.place.line - 1].startswith("  mc_rear: {")


def test_hose_that_leads_to_no_reservoir_names_its_open_end() -> None:
    """A hose whose other end is open is part of the same finding."""
    (found,) = findings(context_of(spoilt(("from: tank.rear, to: mc_rear.feed", "to: mc_rear.feed"))))
    assert found.message == "mc_rear.feed has no reservoir"
    assert found.at == ("mc_rear.feed", "feed_rear.from", "tank.rear")


def test_reservoir_left_out_altogether() -> None:
    """With no reservoir at all each master cylinder is a finding."""
    text = without("tank", "feed_front", "feed_rear", "feed_clutch").replace("hoses:\n", "")
    assert told(context_of(text)) == [
        ("reservoir-missing", "error", f"{tag}.feed has no reservoir") for tag in ("mc_front", "mc_rear", "mc_clutch")
    ]


def test_open_reservoir_ports_stay_dead_ends_when_the_numbers_differ() -> None:
    """One feed hose missing and two reservoir ports open: the ports are told on their own."""
    text = without("feed_rear", "slave", "mc_clutch", "clutch_line", "feed_clutch", "clutch")
    assert sorted(told(context_of(text))) == [
        ("dead-end", "error", "tank.clutch is open"),
        ("dead-end", "error", "tank.rear is open"),
        ("reservoir-missing", "error", "mc_rear.feed has no reservoir"),
    ]


def test_feed_under_pressure_instead_of_a_reservoir() -> None:
    """A feed that another outlet fills is an error, with the way from that outlet."""
    text = spoilt(("from: tank.clutch, to: mc_clutch.feed", "from: mc_spare.outlet, to: mc_clutch.feed"))
    text = text.replace(
        "  tank: {part: reservoir-3-outlet}", "  tank: {part: reservoir-3-outlet}\n  mc_spare: {part: mc-m10x1-bubble}"
    )
    text = text.replace(
        "hoses:\n", "hoses:\n  feed_spare: {part: feed-hose-8mm, from: tank.clutch, to: mc_spare.feed}\n"
    )
    context = context_of(text)
    (found,) = findings(context)
    assert (found.rule, found.message) == (
        "reservoir-missing",
        "mc_clutch.feed is fed by mc_spare.outlet, not by a reservoir",
    )
    assert_walked(context, found.evidence["path"], "mc_spare.outlet", "mc_clutch.feed")


def test_master_cylinder_with_neither_feed_nor_reservoir_is_unchecked(tmp_path: Path) -> None:
    """A catalog entry that states no feed port and no reservoir leaves the question open; a volume answers it."""
    open_question = context_of(_OWN, _HOUSE % (_NOTHING, "stroke: 30 mm"), tmp_path)
    assert ("reservoir-missing", ("mc",), "parts.mc-house.feeds") in unchecked(open_question)
    answered = context_of(_OWN, _HOUSE % (_NOTHING, "reservoir_volume: 90 cm3"), tmp_path)
    assert unchecked(answered, "reservoir-missing", "reservoir-small") == []
    assert told(answered) == []


def test_reservoir_that_is_too_small(tmp_path: Path) -> None:
    """A reservoir that holds less than its brakes take is told with both volumes."""
    context = context_of(_BUILD % "caliper-house", _HOUSE % ("reservoir_volume: 100 cm3", "stroke: 30 mm"), tmp_path)
    (found,) = findings(context)
    assert (found.rule, found.level) == ("reservoir-small", "error")
    assert found.message == "tank holds 100 cm3, the brakes take 120 cm3"
    assert found.at == ("tank",)
    assert found.evidence["holds_mm3"] == 100_000
    assert found.evidence["displacement_mm3"] == {"one": 60_000, "two": 60_000}
    assert found.evidence["source"] == "49 CFR 571.105 S5.4.2"


def test_reservoir_that_just_does(tmp_path: Path) -> None:
    """A reservoir that holds exactly what its brakes take passes, and counts as looked at."""
    context = context_of(_BUILD % "caliper-house", _HOUSE % ("volume: 120 cm3", "stroke: 30 mm"), tmp_path)
    assert told(context) == []
    assert looked(context, "reservoir-small") == 1


def test_clutch_fluid_does_not_count(tmp_path: Path) -> None:
    """What the clutch takes from a shared reservoir is not there for the brakes."""
    build = _BUILD % "slave-house"
    enough = context_of(build, _HOUSE % ("reservoir_volume: 75 cm3", "stroke: 30 mm"), tmp_path)
    assert told(enough) == []
    scarce = context_of(build, _HOUSE % ("reservoir_volume: 70 cm3", "stroke: 30 mm"), tmp_path)
    assert told(scarce) == [("reservoir-small", "error", "tank holds 70 cm3, the brakes and clutch take 75 cm3")]


def test_reservoir_for_a_clutch_alone_is_not_judged(tmp_path: Path) -> None:
    """The regulation asks nothing of a reservoir without brakes."""
    build = (_BUILD % "slave-house").replace("one: {part: caliper-house}", "one: {part: slave-house}")
    assert said(context_of(build, _HOUSE % (_NOTHING, "stroke: 30 mm"), tmp_path), "reservoir-small") == []


def test_own_reservoir_of_a_master_cylinder_is_judged(tmp_path: Path) -> None:
    """A reservoir built into the master cylinder is judged like any other."""
    context = context_of(_OWN, _HOUSE % (_NOTHING, "reservoir_volume: 50 cm3"), tmp_path)
    assert told(context) == [("reservoir-small", "error", "mc holds 50 cm3, the brakes take 60 cm3")]


def test_two_reservoirs_for_one_tandem_cylinder_are_added_up(tmp_path: Path) -> None:
    """Reservoirs that serve one master cylinder are judged together."""
    build = """\
build: 1
components:
  tank_1: {part: tank-single}
  tank_2: {part: tank-single}
  mc: {part: mc-tandem-m10x1-bubble}
  one: {part: caliper-house}
  two: {part: caliper-house}
lines:
  run_1: {from: mc.primary, to: one.inlet, tube: tube-3-16-cuni}
  run_2: {from: mc.secondary, to: two.inlet, tube: tube-3-16-cuni}
hoses:
  feed_1: {part: feed-hose-8mm, from: tank_1.front, to: mc.feed_primary}
  feed_2: {part: feed-hose-8mm, from: tank_2.front, to: mc.feed_secondary}
"""
    house = (_HOUSE % ("reservoir_volume: 55 cm3", "stroke: 30 mm")).replace(", rear: {same as: front}", "")
    context = context_of(build, house.replace("tank-house", "tank-single"), tmp_path)
    assert told(context) == [("reservoir-small", "error", "tank_1 and tank_2 hold 110 cm3, the brakes take 120 cm3")]


def test_missing_volumes_are_unchecked_by_name() -> None:
    """Each figure that the catalog lacks is named."""
    context = context_of(CAR)
    assert unchecked(context, "reservoir-small") == [
        ("reservoir-small", ("tank",), "parts.reservoir-3-outlet.reservoir_volume"),
        ("reservoir-small", ("tank",), "parts.caliper-m10x1-bubble.displacement"),
        ("reservoir-small", ("tank",), "parts.slave-m10x1-bubble.displacement"),
    ]
