"""The port graph: nodes, passages and joints, what is chosen for a joint, and which body things are on."""

from pathlib import Path

from fitcheck.build.assemble import assemble
from fitcheck.build.bodies import Bodies
from fitcheck.build.fixings import fixings
from fitcheck.build.graph import PortGraph
from fitcheck.build.load import load_document
from fitcheck.sources import parse


def graph_of(text: str) -> PortGraph:
    """Return the graph of a build text."""
    return assemble(load_document(parse("build: 1\n" + text, "car.yaml"), Path()))


CAR = """\
components:
  mc: {part: mc-3-8-24-inverted}
  tee: {part: tee-3-16-inverted}
  left: {part: caliper-m10x1-washer}
lines:
  run: {from: mc.outlet, to: tee.top, tube: tube-3-16-cuni}
hoses:
  hose: {part: hose-braided-350-3-8-24-inverted-male-banjo-10mm, from: tee.left, to: left.inlet}
"""


def test_every_port_and_tube_end_is_a_node() -> None:
    """The nodes are the ports of components and hoses and both ends of lines; edges say what they are."""
    graph = graph_of(CAR)
    assert set(graph.graph) == {
        *("mc.outlet", "mc.feed", "mc.pushrod", "tee.left", "tee.right", "tee.top"),
        *("left.inlet", "run.from", "run.to", "hose.from", "hose.to"),
    }
    edges = {frozenset((a, b)): kind for a, b, kind in graph.graph.edges(data="kind")}
    assert edges[frozenset(("mc.outlet", "run.from"))] == "joint"
    assert edges[frozenset(("run.from", "run.to"))] == "passage"
    assert frozenset(("mc.feed", "mc.outlet")) not in edges


def test_the_same_joint_stated_twice_is_one() -> None:
    """A hose's end, a banjo entry and a line that speak of one joint make one edge and one joint."""
    twice = CAR + "joints:\n  - {port: left.inlet, eyes: [hose.to], washers: 2}\n  - [hose.from, tee.left]\n"
    assert len(graph_of(twice).joints) == len(graph_of(CAR).joints) == 4


def test_fixings_are_chosen_to_suit() -> None:
    """A tube end gets the port's flare and nut, a 37 degree one a sleeve too, an eye its bolt and two washers."""
    graph = graph_of(CAR)
    by_kind = {joint.kind: fixings(graph, joint) for joint in graph.joints}
    assert by_kind["tube"].flare == "double-45"
    assert [(item.word, item.quantity, item.part and item.part.id) for item in by_kind["tube"].items] == [
        ("nut", 1, "nut-3-8-24-inverted")
    ]
    assert [(item.word, item.quantity, item.part and item.part.id) for item in by_kind["banjo"].items] == [
        ("banjo bolt", 1, "banjo-bolt-m10x1"),
        ("washer", 2, "washer-copper-m10"),
    ]
    cone = graph_of("components: {u: {part: union-an3}}\nlines: {r: {from: u.a, to: u.b, tube: tube-3-16-steel}}\n")
    needs = fixings(cone, cone.joints[0])
    assert needs.flare == "single-37"
    assert [item.part and item.part.kind for item in needs.items] == ["nut", "sleeve"]


def test_two_eyes_take_a_longer_bolt_and_three_washers() -> None:
    """Several eyes on one bolt need a bolt long enough and one washer more than eyes."""
    graph = graph_of(
        "components: {c: {part: caliper-m10x1-washer}}\n"
        "hoses:\n"
        "  a: {part: hose-braided-350-an3-banjo-10mm}\n"
        "  b: {part: hose-braided-350-an3-banjo-10mm}\n"
        "joints: [{port: c.inlet, eyes: [a.to, b.to]}]\n"
    )
    needs = fixings(graph, graph.joints[0])
    assert [(item.quantity, item.part and item.part.id) for item in needs.items] == [
        (1, "banjo-bolt-m10x1-double"),
        (3, "washer-copper-m10"),
    ]


def test_a_slip_is_read_as_the_nearest_free_port() -> None:
    """A reference that means nothing is kept, and the joint is read as if the nearest free port were meant."""
    graph = graph_of(CAR.replace("to: tee.top", "to: tee.tip"))
    assert [(unknown.ref, unknown.assumed) for unknown in graph.unknown_refs] == [("tee.tip", "tee.top")]
    assert [joint.assumed for joint in graph.joints if "tee.top" in joint.refs] == [True]


def test_fluid_is_taken_to_pass_an_unknown_part() -> None:
    """The ports that are used of a part which no catalog has share one passage."""
    graph = graph_of(CAR.replace("tee-3-16-inverted", "tee-3-16-invertd"))
    assert [unknown.part_id for unknown in graph.unknown_parts] == ["tee-3-16-invertd"]
    assert graph.graph.has_edge("tee.top", "tee.left")


def test_bodies_follow_what_a_part_is_screwed_into() -> None:
    """A part that does not say what it is on takes the body of its neighbour, else the chassis."""
    graph = graph_of(
        "bodies: {axle: {}}\n"
        "components:\n"
        "  tee: {part: tee-3-16-inverted, on: axle}\n"
        "  plug: {part: plug-3-8-24-inverted}\n"
        "  other: {part: plug-3-8-24-inverted}\n"
        "joints: [[plug.end, tee.left]]\n"
    )
    bodies = Bodies(graph)
    assert [bodies.of(tag) for tag in ("tee", "plug", "other")] == ["axle", "axle", "chassis"]
