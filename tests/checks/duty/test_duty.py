"""Rules about duty and place: fluid, tube material, parts not made for pressure, bodies that move."""

from pathlib import Path

import pytest

from fitcheck.build.load import load, load_document
from fitcheck.checks.findings import Report
from fitcheck.checks.run import check
from fitcheck.sources import parse

CLUTCH = """\
build: 1
fluid: DOT 4
components:
  tank: {part: reservoir-1-outlet}
  mc: {part: mc-m10x1-bubble}
  slave: {part: slave-m10x1-bubble}
lines:
  run: {from: mc.outlet, to: slave.inlet, tube: tube-3-16-cuni}
hoses:
  feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed, length: 200 mm}
"""


def report_of(text: str) -> Report:
    """Return the report of a build text that needs the generic catalog only."""
    return check(load_document(parse(text, "car.yaml"), Path()))


def said(text: str) -> list[tuple[str, str, tuple[str, ...]]]:
    """Return rule, message and places of every error and warning."""
    return [(f.rule, f.message, f.at) for f in report_of(text).findings if f.level != "note"]


def test_sound_clutch_has_nothing_to_say() -> None:
    """The build that the others are made from is in order."""
    assert said(CLUTCH) == []


def test_a_fluid_that_attacks_rubber_is_one_finding() -> None:
    """The wrong fluid is one slip, told once, with every part it attacks."""
    ((rule, message, at),) = said(CLUTCH.replace("DOT 4", "mineral oil"))
    assert rule == "fluid-unsuitable"
    assert message == "mineral oil (mineral) attacks the rubber of feed, mc and slave"
    assert at == ("feed", "mc", "slave")


def test_a_circuit_may_hold_its_own_fluid() -> None:
    """The fluid of a circuit goes for its parts instead of the build's."""
    text = CLUTCH + "circuits:\n  clutch: {from: mc.outlet, feeds: [slave.inlet], fluid: mineral oil}\n"
    assert [(rule, at) for rule, _, at in said(text)] == [("fluid-unsuitable", ("feed", "mc", "slave"))]
    assert said(text.replace("fluid: mineral oil", "fluid: DOT 5.1")) == []


TWO = """\
build: 1
fluid: DOT 4
components:
  tank: {part: TANK}
  mc: {part: mc-m10x1-bubble}
  slave: {part: slave-m10x1-bubble}
  mc_2: {part: mc-m10x1-bubble}
  slave_2: {part: slave-m10x1-bubble}
lines:
  run: {from: mc.outlet, to: slave.inlet, tube: tube-3-16-cuni}
  run_2: {from: mc_2.outlet, to: slave_2.inlet, tube: tube-3-16-cuni}
hoses:
  feed: {part: feed-hose-8mm, from: tank.front, to: mc.feed, length: 200 mm}
  feed_2: {part: feed-hose-8mm, from: tank.rear, to: mc_2.feed, length: 200 mm}
circuits:
  one: {from: mc.outlet, feeds: [slave.inlet], fluid: DOT 4}
  two: {from: mc_2.outlet, feeds: [slave_2.inlet], fluid: DOT 5}
"""


def test_two_fluids_meet_only_where_a_reservoir_is_shared() -> None:
    """A reservoir with one chamber mixes what it feeds; with two it does not."""
    assert said(TWO.replace("TANK", "reservoir-2-outlet")) == []
    ((rule, message, at),) = said(TWO.replace("TANK", "reservoir-2-outlet-shared"))
    assert (rule, message, at) == ("fluid-unsuitable", "DOT 4 and DOT 5 meet in tank", ("tank",))


@pytest.mark.parametrize("material", ["cuni", "steel", "stainless"])
def test_usual_tube_passes(material: str) -> None:
    """Copper-nickel, steel and stainless are in order under pressure."""
    assert said(CLUTCH.replace("tube-3-16-cuni", f"tube-3-16-{material}")) == []


def test_plain_copper_is_refused_and_may_be_accepted() -> None:
    """Plain copper is refused under pressure; where the local code allows it an acceptance says so."""
    copper = CLUTCH.replace("tube-3-16-cuni", "tube-3-16-copper")
    assert said(copper) == [("tube-material-refused", "run is plain copper tube under pressure", ("run",))]
    accepted = copper + "accept:\n  - {rule: tube-material-refused, at: run, why: our code allows it}\n"
    report = report_of(accepted)
    assert [found.accepted for found in report.accepted if found.rule == "tube-material-refused"] == [
        "our code allows it"
    ]
    assert not report.failed


def test_tube_without_material_is_listed(tmp_path: Path) -> None:
    """A tube whose material the catalog does not state is not passed."""
    (tmp_path / "mine.yaml").write_text("catalog: 1\nparts: {t: {kind: tube, od: 3/16 in, wall: 0.7 mm}}\n")
    text = CLUTCH.replace("build: 1", "build: 1\ncatalogs: [mine.yaml]").replace("tube-3-16-cuni", "t")
    (tmp_path / "build.yaml").write_text(text)
    unchecked = check(load(tmp_path)).unchecked
    assert ("tube-material-refused", ("run",), "parts.t.material") in [(u.rule, u.at, u.missing) for u in unchecked]


def test_feed_hose_under_pressure_is_found_with_its_way() -> None:
    """A push-on hose in a pressure line is one finding, and the evidence leads from the outlet to it."""
    text = """\
build: 1
components:
  tank: {part: reservoir-1-outlet}
  mc: {part: mc-an4}
  slave: {part: slave-an4}
  barb_a: {part: adapter-an4-female-barb-8mm}
  barb_b: {part: adapter-an4-female-barb-8mm}
joints:
  - [barb_a.a, mc.outlet]
  - [barb_b.a, slave.inlet]
hoses:
  feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}
  run: {part: feed-hose-8mm, from: barb_a.b, to: barb_b.b}
"""
    (finding,) = [found for found in report_of(text).findings if found.level == "error"]
    assert (finding.rule, finding.at) == ("unpressurised-part", ("run",))
    assert finding.message == "run, a feed hose, is under pressure from mc.outlet"
    assert finding.evidence["path"][0] == "mc.outlet"
    assert finding.evidence["path"][-1].startswith("run.")


def test_rigid_line_to_a_body_that_moves() -> None:
    """A line between two bodies is found; a component takes the body of what it is screwed into."""
    moving = CLUTCH.replace("build: 1", "build: 1\nbodies: {engine: {}}").replace(
        "slave-m10x1-bubble}", "slave-m10x1-bubble, on: engine}"
    )
    ((rule, message, at),) = said(moving)
    assert (rule, message) == ("rigid-across-bodies", "run, a rigid line, runs from chassis to engine")
    assert at == ("run", "mc.outlet", "slave.inlet")


def test_parts_screwed_together_cannot_be_on_two_bodies() -> None:
    """Two components in one rigid joint that say different bodies are found at that joint."""
    text = """\
build: 1
bodies: {axle: {}}
components:
  joiner: {part: union-3-16-inverted, on: axle}
  stop_a: {part: plug-3-8-24-inverted, on: chassis}
  stop_b: {part: plug-3-8-24-inverted}
joints: [[stop_a.end, joiner.a], [stop_b.end, joiner.b]]
"""
    ((rule, message, at),) = said(text)
    assert (rule, message) == ("rigid-across-bodies", "joiner on axle is screwed to stop_a on chassis")
    assert set(at) == {"stop_a.end", "joiner.a"}
