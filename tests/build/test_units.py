"""What a build is told in: by `coordinates`, else by its lengths; pounds by its forces; one rule for mixed builds."""

from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.build.units import length_unit, units_of
from fitcheck.measures import Units
from fitcheck.quantities import parse

PLACE = "components: {mc: {part: mc-5-8, at: [1, 2, 3]}}\n"
LINES = """\
lines:
  one: {from: a.b, to: c.d, tube: tube-3-16-cuni, length: %s}
  two: {from: a.b, to: c.d, tube: tube-3-16-cuni, length: %s}
hoses:
  soft: {part: feed-hose-8mm, from: a.b, to: c.d, length: %s}
"""


def units(text: str, folder: Path, variant: str | None = None) -> Units:
    """Return what a build is told in."""
    file = folder / "build.yaml"
    file.write_text(f"build: 1\n{text}", encoding="utf-8")
    return units_of(load(file, variant).file)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "mm"),
        ("coordinates: mm\n", "mm"),
        ("coordinates: cm\n", "mm"),
        ("coordinates: m\n", "mm"),
        ("coordinates: in\n", "in"),
        (PLACE, "mm"),
        (LINES % ("10 in", "2 ft", '4"'), "in"),
        (LINES % ("10 in", "2 ft", "90 mm"), "in"),
        (LINES % ("10 in", "20 cm", "90 mm"), "mm"),
        ("lines: {one: {from: a.b, to: c.d, tube: t, route: 'run 9 in, up 90, run 4 in'}}\n", "in"),
        ("lines: {one: {from: a.b, to: c.d, tube: t, route: [{leg: 9 in, angle: 90 deg}, {leg: 40 mm}]}}\n", "mm"),
        ("panels: {bulkhead: {hole: 3/8 in}}\n", "in"),
        ("pedal: {travel: 5 in}\n", "in"),
        ("clutch: {travel: 130 mm}\n", "mm"),
    ],
)
def test_lengths_are_told_as_the_author_writes_them(text: str, told: str, tmp_path: Path) -> None:
    """`coordinates` decides where it is stated, then the majority of lengths; half and half is mm."""
    assert units(text, tmp_path).length == told


@pytest.mark.parametrize("lengths", [("10 in", "2 ft", "4 in"), ("10 mm", "2 m", "4 cm")])
def test_points_outweigh_lengths(lengths: tuple[str, str, str], tmp_path: Path) -> None:
    """Who places parts measures in the unit of the points, whatever lengths are written in."""
    assert units(f"coordinates: in\n{LINES % lengths}", tmp_path).length == "in"
    assert units(f"coordinates: mm\n{LINES % lengths}", tmp_path).length == "mm"
    assert units(PLACE + LINES % lengths, tmp_path).length == "mm"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", Units("mm", "1 N", "1 MPa")),
        ("coordinates: in\n", Units("in", "1 lbf", "1 psi")),
        ("pedal: {force: 80 lbf}\n", Units("mm", "80 lbf", "1 psi")),
        ("clutch: {force: 30 lbf}\n", Units("mm", "30 lbf", "1 psi")),
        ("pedal: {force: 400 N}\nclutch: {force: 30 lbf}\n", Units("mm", "400 N", "1 MPa")),
        ("coordinates: in\npedal: {force: 400 N}\n", Units("in", "400 N", "1 MPa")),
        ("pedal: {force: 40 kgf}\n", Units("mm", "40 kgf", "1 MPa")),
    ],
)
def test_forces_are_told_like_the_push_and_pressures_go_with_them(text: str, told: Units, tmp_path: Path) -> None:
    """Pounds go with psi; the pedal's push comes before the clutch's; without either lengths decide."""
    assert units(text, tmp_path) == told


def test_a_push_that_is_asked_about_comes_first(tmp_path: Path) -> None:
    """`--force 80 lbf` is answered in pounds, of a build in newtons too."""
    file = tmp_path / "build.yaml"
    file.write_text("build: 1\npedal: {force: 400 N}\n", encoding="utf-8")
    assert units_of(load(file).file, parse("80 lbf", "force")) == Units("mm", "80 lbf", "1 psi")


def test_a_variant_has_its_own(tmp_path: Path) -> None:
    """A variant that is written in other units is told in those."""
    text = "variants: {inches: {set: {coordinates: in}}}\n"
    assert units(text, tmp_path).length == "mm"
    assert units(text, tmp_path, "inches").length == "in"


def test_a_graph_decides_once(tmp_path: Path) -> None:
    """The graph of a build keeps what was decided."""
    file = tmp_path / "build.yaml"
    file.write_text("build: 1\ncoordinates: in\n", encoding="utf-8")
    graph = assemble(load(file))
    assert graph.units is graph.units
    assert graph.unit == length_unit(graph.build.file) == "in"
