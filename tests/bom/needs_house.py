"""Builds of the house catalog with their needs, for tests of what has to be there."""

from pathlib import Path

from fitcheck.bom.consumables import consumables
from fitcheck.bom.need import Need
from fitcheck.bom.needs import needs
from fitcheck.bom.record import Bom
from fitcheck.bom.take_off import take_off
from fitcheck.build.assemble import assemble
from fitcheck.build.graph import PortGraph
from fitcheck.build.load import load
from tests.bom.house import CATALOG

DEMO = Path(__file__).parents[2] / "demo_vehicle"


def read(tmp_path: Path, body: str, more_parts: str = "") -> tuple[PortGraph, Bom]:
    """Write a build with the house catalog and more parts, and return its graph and bill."""
    (tmp_path / "house.yaml").write_text(CATALOG + more_parts, encoding="utf-8")
    text = f"build: 1\nname: Plover\ncatalogs: [house.yaml]\n{body}"
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    graph = assemble(load(tmp_path / "build.yaml"))
    return graph, take_off(graph)


def work(tmp_path: Path, body: str, more_parts: str = "") -> dict[str, Need]:
    """Return what the work on a build uses up, by part or by words."""
    graph, bom = read(tmp_path, body, more_parts)
    found = consumables(graph, {piece.tag: piece.length for row in bom.rows for piece in row.pieces})
    return {need.part or need.description: need for need in found}


def needed(tmp_path: Path, body: str, more_parts: str = "", **wanted: bool) -> dict[str, Need]:
    """Return everything that a build needs, by part or by words."""
    return {need.part or need.description: need for need in needs(*read(tmp_path, body, more_parts), **wanted)}


def car(lines: str, top: str = "") -> str:
    """Return a build of a pump and a brake with these lines, and `top` before them."""
    return f"""\
{top}components:
  mc: {{part: pump}}
  fl: {{part: brake}}
lines:
{lines}"""


def line(tag: str, length: str | None, tube: str = "pipe") -> str:
    """Return a line of a build from pump to brake."""
    run = f", length: {length}" if length is not None else ""
    return f"  {tag}: {{from: mc.out, to: fl.pipe, tube: {tube}{run}}}\n"
