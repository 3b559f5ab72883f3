"""The route in words that README shows is read, goes where README has its ends, and gives a sheet."""

import re
from math import dist
from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load_document
from fitcheck.build.positions import end_position
from fitcheck.checks.run import check
from fitcheck.making.make import sheet
from fitcheck.sources import parse

README = Path(__file__).parents[2] / "README.md"


def test_example_of_a_route_in_words() -> None:
    """Its bends are as the words say; it ends at the other union to 2 mm; nothing is wrong but the open unions."""
    blocks = re.findall(r"```yaml\n(.*?)```", README.read_text("utf-8"), re.DOTALL)
    (text,) = [block for block in blocks if "run forward" in block]
    build = load_document(parse(text, "build.yaml"), README.parent)
    graph = assemble(build)
    made = sheet(graph, "up_the_wall")
    assert (made.faults, made.given) == ((), "points")
    assert sorted(bend.angle_deg for bend in made.bends) == pytest.approx([45.0, 90.0, 90.0])
    assert sorted(bend.radius_mm for bend in made.bends) == pytest.approx([14.2875, 14.2875, 20.0])
    assert made.points is not None
    ends = [end_position(graph, f"up_the_wall.{name}") for name in ("from", "to")]
    assert min(max(map(dist, made.points[:: len(made.points) - 1][::way], ends)) for way in (1, -1)) < 2.0
    findings = check(build).findings
    assert {finding.rule for finding in findings if finding.level == "error"} == {"dead-end"}
    assert [finding.rule for finding in findings if finding.level == "warning"] == []
