"""The length of hose to order: what governs it, and that it does."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.build.assemble import assemble
from fitcheck.build.graph import PortGraph
from fitcheck.build.hose_curve import free_curve
from fitcheck.build.hose_reach import SLACK, HoseNeed, Reach, Reaches, Span, need_of, rounded_up
from fitcheck.build.load import load_document
from fitcheck.catalog.part import Part
from fitcheck.sources import parse

DEMO = Path(__file__).parents[2] / "demo_vehicle"
CAR = """\
build: 1
bodies:
  upright: {poses: {droop: {shift: [0, 0, -60]}, lock: {turn: 30 deg, about: {point: [0, 300, 0], axis: [0, 0, 1]}}}}
components:
  tee: {part: tee-3-16-inverted, at: [0, 100, 300]}
  caliper: {part: caliper-m10x1-washer, on: upright, at: [0, 330, 300]}
hoses:
  jump: {part: hose-braided-350-3-8-24-inverted-male-banjo-10mm, from: tee.left, to: caliper.inlet}
  lost: {part: no-such-hose, from: tee.right}
  loose: {part: hose-braided-350-3-8-24-inverted-male-banjo-10mm, from: tee.top}
"""


def graph_of(text: str) -> PortGraph:
    """Return the graph of a build."""
    return assemble(load_document(parse(text, "build.yaml"), Path()))


def hose_needed(graph: PortGraph, tag: str) -> HoseNeed | None:
    """Return what length of hose to order for a tag."""
    found = Reaches(graph).of(tag)
    return need_of(found, "mm") if found is not None else None


def test_need_of_a_hose_with_its_governing_pose() -> None:
    """At droop the ends are 237.7 mm apart: 250.2 mm leave 5 % slack, which is 260 mm to order."""
    assert hose_needed(graph_of(CAR), "jump") == HoseNeed("jump", 260.0, "reach", "with upright in droop", ())


def test_unknown_part_and_open_end() -> None:
    """A hose that no catalog has needs nothing said of it; one with an open end lacks that end."""
    graph = graph_of(CAR)
    assert hose_needed(graph, "lost") is None
    assert hose_needed(graph, "tee") is None
    assert hose_needed(graph, "loose") == HoseNeed("loose", None, "", "", ("hoses.loose.to",))
    assert [found.tag for found in Reaches(graph).all()] == ["jump", "loose"]


def test_lock_twists_a_hose_that_lies_along_the_kingpin() -> None:
    """A hose that hangs straight down the axis of the lock is twisted by all of it, and is no longer for it."""
    text = CAR.replace("at: [0, 330, 300]", "at: [0, 300, 100]").replace("at: [0, 100, 300]", "at: [0, 300, 300]")
    found = Reaches(graph_of(text)).of("jump")
    assert found is not None
    assert found.twisted is not None
    assert found.twisted.where == "with upright in lock"
    # seen from the tee the hose runs down, against the axis
    assert found.twisted.twist_deg == pytest.approx(-30.0)


def test_lengths_are_rounded_up_to_ten() -> None:
    """A length that is whole tens but for rounding errors stays, all else goes up."""
    assert [rounded_up(value) for value in (199.0, 200.0, 200.0000000001, 200.1)] == [200.0, 200.0, 200.0, 210.0]


def test_lengths_in_inches_are_rounded_up_to_a_quarter() -> None:
    """Where lengths are in inches they are asked for in quarters of one: 5 % slack over 8.2462 in is 8 3/4 in."""
    inch = 25.4
    lengths = (8.0, 8.25, 8.2500000001, 8.2462 / 0.95)
    assert [rounded_up(value * inch, "in") / inch for value in lengths] == pytest.approx([8.0, 8.25, 8.25, 8.75])


@given(st.floats(0.0, 800.0), st.floats(0.0, 1.0), st.floats(5.0, 150.0))
@settings(derandomize=True, database=None, deadline=None)
def test_what_is_ordered_hangs_well(far: float, share: float, radius: float) -> None:
    """The length to order has its slack at the farthest, keeps to the radius at the nearest, and is whole tens."""
    part = Part("x", "hose", "", {}, (), bend_radius=radius)
    ends = Span(far, 0.0, "far"), Span(far * share, 0.0, "near")
    need = need_of(Reach("jump", part, None, ends[0], ends[1], ends[0], ()), "mm")
    length = need.length_mm
    assert length is not None
    assert length % 10.0 == 0.0
    assert far <= length * (1.0 - SLACK) + 1e-6
    curve = free_curve(length, ends[1].chord_mm)
    assert length == 0.0 or (curve is not None and curve.radius_mm >= radius * (1.0 - 1e-9))
    assert need.where == ("near" if need.governs == "bend" else "far")


def test_demo_hoses_are_known() -> None:
    """In the corrected demo every hose hangs well by the figures of the file, and none is half as long again."""
    from fitcheck.build.load import load

    graph = assemble(load(DEMO, "as_corrected"))
    found = {reach.tag: (reach, need_of(reach, "mm")) for reach in Reaches(graph).all()}
    assert set(found) == set(graph.build.file.hoses)
    for reach, need in found.values():
        assert reach.missing == ()
        assert reach.length_mm is not None
        assert need.length_mm is not None
        assert need.length_mm <= reach.length_mm <= 1.5 * need.length_mm
