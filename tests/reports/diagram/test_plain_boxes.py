"""Plain boxes of parts whose symbol does not fit: bleed points from the border, names that can be read."""

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from fitcheck.reports.diagram.circuit import circuit_drawing, diagram
from fitcheck.reports.diagram.symbols import INSET_MM, is_plain
from fitcheck.reports.drawing import sheet
from tests.reports.diagram.looking import SVG, checked, faults, overlapping, words_of

_PORT = "{thread: 3/8-24 UNF, gender: internal, seat: inverted-flare, tube: 3/16 in}"
_TWO = f"ports: {{a: {_PORT}, b: {_PORT}}}"
PARTS = {
    "caliper of two circuits": f"kind: caliper, bleeder: M10x1, passages: [[a], [b]], {_TWO}",
    "wheel cylinder with a way on": f"kind: wheel cylinder, bleeder: 3/8-24 UNF, {_TWO}",
    "slave cylinder with a way on": f"kind: slave cylinder, bleeder: M8x1.25, {_TWO}",
}
TEES = f"""\
catalog: 1
parts:
  cross: {{kind: tee, passages: [[a, b], [c]], ports: {{a: {_PORT}, b: {_PORT}, c: {_PORT}}}}}
  twice: {{kind: adapter, passages: [[a], [b]], {_TWO}}}
"""


def svg_of(part: str, folder: Path) -> tuple[ElementTree.Element, object]:
    """Return the circuit in which a part stands between two lines, and its layout."""
    (folder / "house.yaml").write_text(f"catalog: 1\nparts:\n  odd: {{{part}}}\n")
    text = "build: 1\ncatalogs: [house.yaml]\ncomponents:\n  mc: {part: mc-3-8-24-inverted}\n  x: {part: odd}\n"
    text += "  on: {part: wheel-cylinder-3-8-24-inverted}\nlines:\n"
    text += "  one: {from: mc.outlet, to: x.a, tube: tube-3-16-cuni}\n"
    text += "  two: {from: x.b, to: on.inlet, tube: tube-3-16-cuni}\n"
    context, report = checked(text, folder)
    return ElementTree.fromstring(sheet(circuit_drawing(context, report))), diagram(context, report).layout


@pytest.mark.parametrize("name", PARTS)
def test_the_bleed_line_begins_at_the_border(name: str, tmp_path: Path) -> None:
    """The line to the bleed point of a plain box leaves its right border, and lies on no wire and no words."""
    root, layout = svg_of(PARTS[name], tmp_path)
    (placed,) = [each for each in layout.placed if each.node.tag == "x"]  # type: ignore[attr-defined]
    assert is_plain(placed)
    x, y, wide, high = placed.body
    group = next(each for each in root.iter(f"{SVG}g") if each.get("data-tag") == "x")
    ways = [re.findall(r"-?[\d.]+", each.get("d") or "") for each in group.iter(f"{SVG}path")]
    border = x + wide - INSET_MM
    leaving = [
        numbers for numbers in ways if len(numbers) == 4 and float(numbers[0]) == pytest.approx(border, abs=1e-3)
    ]
    bleeding = [numbers for numbers in leaving if float(numbers[2]) == pytest.approx(x + wide + 0.8, abs=1e-3)]
    ((start_x, start_y, _, end_y),) = bleeding
    assert float(start_x) == pytest.approx(border, abs=1e-3)
    assert y + INSET_MM < float(start_y) == float(end_y) < y + high - INSET_MM
    assert all(abs(pin.y - float(start_y)) > 3.0 for pin in placed.right)
    assert faults(layout) == []  # type: ignore[arg-type]
    assert overlapping(words_of(root)) == []


def test_a_name_in_a_narrow_box_goes_upwards(tmp_path: Path) -> None:
    """A box too narrow for its name has it upright, in type of 1.5 mm at least, within the box."""
    (tmp_path / "house.yaml").write_text(TEES)
    text = "build: 1\ncatalogs: [house.yaml]\ncomponents:\n  t: {part: cross}\n  u: {part: twice}\n"
    context, report = checked(text, tmp_path)
    root = ElementTree.fromstring(sheet(circuit_drawing(context, report)))
    turned = [each for each in root.iter(f"{SVG}g") if (each.get("transform") or "").startswith("rotate(-90 ")]
    names = [(words.text, float(words.get("font-size", "0"))) for each in turned for words in each.iter(f"{SVG}text")]
    assert sorted(name or "" for name, _ in names) == ["adapter", "tee"]
    assert all(size >= 1.5 for _, size in names)


@pytest.mark.parametrize("number", [1, 9, 10, 15, 99, 100, 128])
def test_numbers_stay_within_their_triangle(number: int) -> None:
    """The upper corners of a warning's number lie within the sides of its triangle."""
    from fitcheck.reports.drawing import words_mm
    from fitcheck.reports.level_marks import level_mark

    root = ElementTree.fromstring(level_mark(0.0, 0.0, number, "warning").replace("class=", "data-class="))
    points = [float(each) for each in next(root.iter("polygon")).get("points", "").replace(",", " ").split()]
    words = next(root.iter("text"))
    size = float(words.get("font-size", "0"))
    top = float(words.get("y", "0")) - 0.72 * size
    apex, base, half = min(points[1::2]), max(points[1::2]), max(points[::2])
    usual = 0.57 * size * len(str(number))
    assert words_mm(str(number), size, True) > usual
    assert usual / 2.0 < half * (top - apex) / (base - apex)
