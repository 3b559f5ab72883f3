"""Builds that are odd: hostile words, joints of many ends, ends joined to themselves, parts that nobody knows."""

from pathlib import Path
from xml.etree import ElementTree

import pytest

from fitcheck.reports.diagram.circuit import circuit_drawing, diagram
from fitcheck.reports.drawing import COLOURS, sheet
from tests.reports.diagram.looking import SVG, checked, drawn_joints, faults, joined, overlapping, words_of

HOSTILE = '</text><script>alert(1)</script> class="s-ink" & \' \u202e \u8f66'
HOSE = "hose-braided-350-3-8-24-inverted-male-banjo-10mm"
BANJO = f"""\
build: 1
name: Wren
components:
  mc: {{part: mc-3-8-24-inverted}}
  tee: {{part: tee-3-16-inverted}}
  one: {{part: caliper-m10x1-washer}}
  two: {{part: caliper-m10x1-washer}}
joints:
  - {{port: one.inlet, eyes: [a.to, b.to, c.to]}}
  - [tee.left, tee.top]
  - [two.inlet, two.inlet]
lines:
  run: {{from: mc.outlet, to: tee.right, tube: tube-3-16-cuni}}
  again: {{from: mc.outlet, to: tee.right, tube: tube-3-16-cuni}}
  lost: {{from: nowhere.at_all, to: mc.outlet, tube: no-such-tube}}
hoses:
  a: {{part: {HOSE}, from: tee.left}}
  b: {{part: {HOSE}}}
  c: {{part: no-such-hose}}
"""


@pytest.mark.parametrize("theme", ["auto", "light", "dark"])
def test_hostile_words_are_shown_as_words(theme: str, tmp_path: Path) -> None:
    """What files say in words of their own is text of the drawing, never an element."""
    quoted = HOSTILE.replace("\\", "\\\\").replace('"', '\\"').replace("\u202e", "\\u202e")
    (tmp_path / "house.yaml").write_text(
        f'catalog: 1\nparts:\n  odd:\n    kind: tee\n    description: "{quoted}"\n    ports:\n'
        "      a: {thread: 3/8-24 UNF, gender: internal, seat: inverted-flare, tube: 3/16 in}\n"
    )
    text = f'build: 1\nname: "{quoted}"\ncatalogs: [house.yaml]\ncomponents:\n  t: {{part: odd}}\n'
    text += f'  u: {{part: nobody-knows}}\naccept:\n  - {{rule: part-unknown, at: u, why: "{quoted}"}}\n'
    context, report = checked(text, tmp_path)
    svg = sheet(circuit_drawing(context, report), theme)  # type: ignore[arg-type]
    root = ElementTree.fromstring(svg)
    known = {"svg", "g", "path", "rect", "circle", "ellipse", "polygon", "text", "title", "desc", "style"}
    assert {each.tag.removeprefix(SVG) for each in root.iter()} <= known
    shown = '</text><script>alert(1)</script> class="s-ink" & \' \\u202e \u8f66'
    assert root[0].text == f"{shown}: circuit"
    titles = [each.text or "" for each in root.iter(f"{SVG}title")]
    assert sum(shown in title for title in titles) == 2
    assert f"because: {shown}" in " ".join(each.text or "" for each in root.iter(f"{SVG}text"))


def test_joints_of_many_ends_and_of_one() -> None:
    """Three eyes on a bolt meet in a dot; so do a tee bridged by itself and a port joined to itself."""
    context, report = checked(BANJO)
    made = diagram(context, report)
    assert faults(made.layout) == []
    assert drawn_joints(made.layout) == joined(made.scheme) == list(range(len(context.graph.joints)))
    root = ElementTree.fromstring(sheet(circuit_drawing(context, report)))
    meetings = [each for each in root.iter(f"{SVG}g") if each.get("class") == "meeting"]
    assert len(meetings) == 3
    assert overlapping(words_of(root)) == []


@pytest.mark.parametrize("name", ["of a car that has not been named in few words " * 6, "W" * 400])
def test_long_names_stay_on_the_sheet(name: str) -> None:
    """A build's name is shown whole, in as many lines as it needs, none of them past the edge or over another."""
    context, report = checked(f"build: 1\nname: {name.strip()}\ncomponents:\n  a: {{part: union-3-16-inverted}}\n")
    drawing = circuit_drawing(context, report)
    words = words_of(ElementTree.fromstring(sheet(drawing)))
    title = [each for each in words if each.foot - each.y > 4.0]
    assert "".join(each.name for each in title).replace(" ", "") == f"{name.replace(' ', '')}:circuit"
    assert max(each.end for each in words) <= drawing.width_mm
    assert overlapping(words) == []


TWO_CIRCUITS = """\
build: 1
components:
  mc: {part: mc-tandem-m10x1-bubble}
  left: {part: caliper-m10x1-bubble}
  right: {part: caliper-m10x1-bubble}
lines:
  l1: {from: mc.primary, to: left.inlet, tube: tube-3-16-cuni}
  l2: {from: mc.secondary, to: right.inlet, tube: tube-3-16-cuni}
"""


def test_circuits_are_named_at_both_ends() -> None:
    """Where there are several circuits, each brake says in words which one it hangs on, named or not."""
    names = "circuits: {one: {from: mc.primary, feeds: [left.inlet]}}\n"
    for more, first in (("", "inlet: mc.primary"), (names, "inlet: one")):
        made = diagram(*checked(TWO_CIRCUITS + more))
        above = [pin.above for node in made.scheme.nodes for pin in node.pins if node.kind == "caliper"]
        assert above == [first, "inlet: mc.secondary"]


def test_every_colour_is_seen_on_its_paper() -> None:
    """Words have a contrast of 7 with their paper, lines and marks one of 3 (WCAG 2.1, 1.4.6 and 1.4.11)."""
    for theme in (0, 1):
        paper = COLOURS["paper"][theme]
        assert contrast(COLOURS["ink"][theme], paper) > 7.0
        assert contrast(COLOURS["soft"][theme], paper) > 7.0
        lines = [name for name in COLOURS if name not in ("paper", "faint", "ink", "soft")]
        assert {
            name: contrast(COLOURS[name][theme], paper) for name in lines if contrast(COLOURS[name][theme], paper) < 3.0
        } == {}


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours by WCAG 2.1."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour by WCAG 2.1."""
    parts = [int(colour[index : index + 2], 16) / 255.0 for index in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_themes_differ_in_colours_only() -> None:
    """Light and dark have the same lines; `auto` is light with a style for readers who ask for dark."""
    context, report = checked(BANJO)
    drawing = circuit_drawing(context, report)
    light, dark, auto = (ElementTree.fromstring(sheet(drawing, theme)) for theme in ("light", "dark", "auto"))
    shapes = [[each.get("d") for each in root.iter() if each.get("d")] for root in (light, dark, auto)]
    assert shapes[0] == shapes[1] == shapes[2]
    assert [root.find(f"{SVG}style") is not None for root in (light, dark, auto)] == [False, False, True]
    papers = [next(each.get("fill") for each in root.iter(f"{SVG}rect")) for root in (light, dark, auto)]
    assert papers == [COLOURS["paper"][0], COLOURS["paper"][1], COLOURS["paper"][0]]
