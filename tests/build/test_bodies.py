"""Which body a component is on when it does not say so itself."""

from pathlib import Path

from fitcheck.build.assemble import assemble
from fitcheck.build.bodies import Bodies
from fitcheck.build.load import load_document
from fitcheck.sources import parse

_CAR = """
build: 1
bodies: {axle: {}, engine: {}}
components:
  caliper: {part: caliper-m10x1-washer, on: axle}
  eye: {part: adapter-m10x1-bubble-female-banjo-10mm}
  tee: {part: tee-m10x1-bubble, on: chassis}
  bend: {part: adapter-m10x1-bubble-male-1-8-npt-female}
  plug: {part: plug-m10x1-bubble, on: engine}
  alone: {part: union-m10x1-bubble}
joints:
  - [eye.b, caliper.inlet]
  - [bend.a, tee.top]
  - [plug.end, tee.left]
"""


def bodies_of(text: str) -> Bodies:
    """Return the bodies of a build."""
    return Bodies(assemble(load_document(parse(text, "build.yaml"), Path())))


def test_bolted_on_part_is_on_the_same_body() -> None:
    """An adapter held by a banjo bolt moves with the caliper that it is bolted to."""
    assert bodies_of(_CAR).of("eye") == "axle"


def test_nearest_statement_counts() -> None:
    """Where two bodies are stated of parts screwed together, one that says nothing is on that of its neighbour."""
    bodies = bodies_of(_CAR)
    assert (bodies.of("bend"), bodies.of("alone")) == ("chassis", "chassis")


def test_clash_is_told_at_the_joint_where_the_bodies_differ() -> None:
    """Of parts screwed together on two bodies, the joint and the two parts on either side of it are named."""
    ((joint, near, far),) = bodies_of(_CAR).clashes
    assert set(joint.refs) == {"plug.end", "tee.left"}
    assert {near, far} == {("plug", "engine"), ("tee", "chassis")}
