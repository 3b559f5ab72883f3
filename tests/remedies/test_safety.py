"""What a cure must never do, one small build for each: found by a reviewer who tried to be harmed."""

from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load_document
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.remedies.cure import Cured, cure
from fitcheck.sources import parse


def cured(text: str) -> Cured:
    """Return the cure of a build text."""
    context = Context(assemble(load_document(parse(text, "car.yaml"), Path())))
    return cure(context, check_context(context))


def kinds(found: Cured) -> list[str]:
    """Return which sorts of remedies were applied."""
    return [each.proven.remedy.kind for each in found.applied]


CAR = """\
build: 1
components:
  tank: {{part: reservoir-2-outlet}}
  mc: {{part: mc-m10x1-bubble}}
  {other}: {{part: mc-m10x1-bubble}}
  tee: {{part: tee-m10x1-bubble}}
  left: {{part: wheel-cylinder-m10x1-bubble}}
  right: {{part: wheel-cylinder-m10x1-bubble}}
{components}
lines:
  run: {{from: mc.outlet, to: tee.top, tube: tube-3-16-cuni}}
  a: {{from: tee.left, to: left.inlet, tube: tube-3-16-cuni}}
  b: {{from: tee.right, to: right.inlet, tube: tube-3-16-cuni}}
hoses:
  feed_1: {{part: feed-hose-8mm, from: tank.front, to: mc.feed}}
  feed_2: {{part: feed-hose-8mm, from: tank.rear, to: {other}.feed}}
{more}
"""


def test_no_brake_is_hung_on_an_idle_clutch_cylinder() -> None:
    """A second cylinder that nothing says is for brakes feeds none after the cure, nor is it plugged."""
    found = cured(CAR.format(other="mc_clutch", components="", more=""))
    assert "move" not in kinds(found)
    assert "uncross" not in kinds(found)
    assert {finding.rule for finding in found.left} >= {"dead-end"}
    assert found.text == CAR.format(other="mc_clutch", components="", more="")


def test_a_stated_brake_circuit_may_be_restored() -> None:
    """Where a circuit that begins at the idle outlet lists a brake, one line is hung on it."""
    more = (
        "circuits:\n  front: {from: mc.outlet, feeds: [left.inlet]}\n  rear: {from: mc_2.outlet, feeds: [right.inlet]}"
    )
    found = cured(CAR.format(other="mc_2", components="", more=more))
    assert not found.report_after.failed


def test_the_open_side_of_a_valve_is_not_plugged() -> None:
    """What a proportioning valve should feed is not in the file: no plug hides that."""
    text = """\
build: 1
components:
  tank: {part: reservoir-1-outlet}
  mc: {part: mc-m10x1-bubble}
  valve: {part: residual-valve-2-psi}
lines:
  run: {from: mc.outlet, to: valve.in, tube: tube-3-16-cuni}
hoses:
  feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}
"""
    found = cured(text)
    assert not {"plug", "cap"} & set(kinds(found))
    assert any("valve.out" in finding.at for finding in found.left)


def test_a_loose_switch_goes_into_the_open_port() -> None:
    """A switch of the wrong thread that nothing is joined to is exchanged for one that fits, not plugged out."""
    text = """\
build: 1
components:
  tee: {part: tee-3-16-inverted-1-8-npt}
  a: {part: plug-3-8-24-inverted}
  b: {part: plug-3-8-24-inverted}
  switch: {part: pressure-switch-m10x1-bubble}
joints:
  - [a.end, tee.left]
  - [b.end, tee.right]
"""
    found = cured(text)
    assert "plug" not in kinds(found)
    part = found.after.graph.fitted["switch"].part
    assert part is not None
    assert part.kind == "pressure switch"
    assert found.after.graph.joined("switch.port")


def test_a_misspelt_brake_stays_on_its_circuit() -> None:
    """A slip in a list of what a circuit feeds is read as the port that was meant, never struck off."""
    more = "circuits:\n  only: {from: mc.outlet, feeds: [left.inlet, right.inlt]}"
    found = cured(CAR.format(other="mc_2", components="", more=more))
    assert list(found.after.file.circuits["only"].feeds) == ["left.inlet", "right.inlet"]


def test_a_bore_is_never_guessed() -> None:
    """An id of a master cylinder that differs in a figure from every known one is left to the builder."""
    text = CAR.format(other="mc_2", components="  third: {part: mc-3-8-24-inverted-bore-11-16}", more="")
    found = cured(text)
    assert "bore-11-16" in found.text
    assert any(finding.rule == "part-unknown" for finding in found.left)


VARIANTS = [
    "variants: {other: {swap: {spare: plug-m10x1-inverted}}}",
    "variants: {other: {drop: [components.spare]}}",
    "variants: {other: {set: {joints.0.1: tee.right}}}",
]


@pytest.mark.parametrize("variant", VARIANTS)
def test_a_variant_still_means_what_it_meant(variant: str) -> None:
    """No cure takes out what a variant of the file names, by its tag or by its number."""
    text = """\
build: 1
components:
  tee: {part: tee-m10x1-bubble}
  spare: {part: plug-m10x1-bubble}
  a: {part: plug-m10x1-bubble}
  b: {part: plug-m10x1-bubble}
  c: {part: plug-m10x1-bubble}
joints:
  - [spare.end, tee.left]
  - [a.end, tee.left]
  - [b.end, tee.right]
  - [c.end, tee.top]
"""
    found = cured(text + variant + "\n")
    document = parse(found.text, "car.yaml")
    assert load_document(document, Path(), "other")
    joints = found.after.file.joints
    if "joints.0" in variant:
        assert len(joints) >= 4


def test_a_hose_reaches() -> None:
    """Where both ends have their place no hose is offered that is shorter than the way between them."""
    text = """\
build: 1
bodies: {axle: {}}
components:
  tank: {part: reservoir-1-outlet}
  mc: {part: mc-3-8-24-inverted, at: [0, 0, 0]}
  drum: {part: wheel-cylinder-3-8-24-inverted, on: axle, at: [400, 0, 0]}
hoses:
  feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}
"""
    found = cured(text)
    lengths = [
        item.part.length
        for item in found.after.graph.fitted.values()
        if item.part is not None and item.part.kind == "hose"
    ]
    assert all(length is not None and length >= 440.0 for length in lengths)
