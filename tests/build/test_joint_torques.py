"""Typical torques of joints: by seat, tube and material, by a banjo bolt's thread; none where no table has one."""

from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.joint_torques import joint_torque
from fitcheck.build.load import load_document
from fitcheck.sources import parse

BUILD = """\
build: 1
components:
  tank: {part: reservoir-1-outlet}
  mc: {part: mc-m10x1-bubble}
  tee: {part: tee-m10x1-bubble-1-8-npt}
  plug: {part: plug-1-8-npt}
  brake: {part: caliper-m10x1-washer}
joints:
  - [plug.end, tee.top]
lines:
  soft: {from: mc.outlet, to: tee.left, tube: tube-3-16-copper}
  hard: {from: tee.right, to: hose.from, tube: tube-3-16-cuni}
hoses:
  hose: {part: hose-braided-350-m10x1-bubble-female-banjo-10mm, to: brake.inlet}
  feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}
"""


@pytest.mark.parametrize(
    ("end", "span"),
    [
        ("soft.from", (8_000.0, 8_000.0)),
        ("hard.from", (13_000.0, 16_000.0)),
        ("brake.inlet", (34_000.0, 54_000.0)),
        ("plug.end", None),
        ("feed.from", None),
    ],
)
def test_torque_of_each_kind_of_joint(end: str, span: tuple[float, float] | None) -> None:
    """Copper takes less than copper-nickel, a banjo bolt more; a taper plug and a barb have no figure here."""
    graph = assemble(load_document(parse(BUILD, "build.yaml"), Path()))
    (joint,) = graph.joints_at[end]
    found = joint_torque(joint)
    assert (None if found is None else (found.low_n_mm, found.high_n_mm)) == span
