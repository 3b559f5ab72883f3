"""The circuit diagram of whole builds: every joint once, nothing over anything else, no needless crossing."""

from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.checks.run import check_context
from fitcheck.reports.diagram.circuit import Diagram, circuit_drawing, diagram
from fitcheck.reports.drawing import sheet
from tests.benchmarks.cars import fleet
from tests.reports.diagram.looking import (
    SVG,
    checked,
    crossings,
    drawn_joints,
    faults,
    joined,
    overlapping,
    words_of,
)

DEMO = Path(__file__).parents[3] / "demo_vehicle"
VARIANTS = (None, "as_corrected", "bigger_front")


TWO_UNIONS = """\
build: 1
name: Wren
components: {a: {part: union-3-16-inverted}, b: {part: union-3-16-inverted}}
lines: {run: {from: a.b, to: b.a, tube: tube-3-16-cuni}}
"""


class Demo(NamedTuple):
    """The demo, its report, its diagram and its SVG."""

    context: Context
    report: Report
    made: Diagram
    root: ElementTree.Element


def demo(variant: str | None = None) -> Demo:
    """Return the demo as it is drawn."""
    context = Context(assemble(load(DEMO, variant)))
    report = check_context(context)
    root = ElementTree.fromstring(sheet(circuit_drawing(context, report)))
    return Demo(context, report, diagram(context, report), root)


@pytest.mark.parametrize("variant", VARIANTS)
def test_demo_has_nothing_over_anything(variant: str | None) -> None:
    """No symbol lies on another, no wire is slanted, runs through a symbol or lies on another."""
    assert faults(demo(variant).made.layout) == []


@pytest.mark.parametrize("variant", VARIANTS)
def test_demo_crosses_nowhere(variant: str | None) -> None:
    """No two lines of the demo cross, by the layout's own count and by that of every pair."""
    layout = demo(variant).made.layout
    assert (layout.crossings, crossings(layout)) == (0, 0)


@pytest.mark.parametrize("variant", VARIANTS)
def test_no_words_stand_on_others(variant: str | None) -> None:
    """No two lines of words overlap anywhere on the sheet, by the widths of a wide face."""
    assert overlapping(words_of(demo(variant).root)) == []


@pytest.mark.parametrize("variant", VARIANTS)
def test_every_joint_is_drawn_once(variant: str | None) -> None:
    """The SVG has one group for each joint of the graph, which names its ends."""
    context, _, made, root = demo(variant)
    assert drawn_joints(made.layout) == joined(made.scheme) == list(range(len(context.graph.joints)))
    drawn = [each.get("data-at") for each in root.iter(f"{SVG}g") if each.get("class") == "joint"]
    assert drawn == [" ".join(joint.refs) for joint in context.graph.joints]


def test_every_component_line_and_hose_is_drawn() -> None:
    """Each tag stands on the sheet, with its part; a reservoir once for each outlet in use."""
    context, _, _, root = demo()
    drawn = [
        (each.get("data-tag"), each.get("data-part"))
        for each in root.iter(f"{SVG}g")
        if each.get("class") in ("component", "line", "hose")
    ]
    twice = [("tank", "tank-three-way")]
    assert sorted(map(str, drawn)) == sorted(
        map(str, [*((item.tag, item.part_id) for item in context.graph.fitted.values()), *twice])
    )


def test_ports_and_ends_are_told() -> None:
    """Thread and seat stand at each port, size, flare and nut at each line, the circuit at its outlet."""
    words = {rect.name for rect in words_of(demo().root)}
    wanted = {"outlet: front", "3/8-24 inv", "1/8-27 NPT taper", "M10x1 washer", "eye 10 mm", "front 8 mm push-on"}
    assert words >= wanted | {"double-45", "bubble", "nut M10x1", "3/16 in", "chamber, 1 of 2", "M8x1.25", "5/16-24"}


def test_every_finding_is_marked_and_told_once() -> None:
    """Each finding's number stands once on the diagram and once in the list, in the shape of its level."""
    _, report, made, root = demo()
    marked = [each.get("data-finding") for each in root.iter(f"{SVG}g") if each.get("data-finding")]
    numbers = [str(number) for number in range(1, len(report.findings) + 1)]
    assert sorted(marked) == sorted([*numbers, *numbers])
    assert made.marks.nowhere == ()
    told = [rect.name for rect in words_of(root)]
    assert "error seat-mismatch: bubble of hose_axle.to against inverted-flare of tee_axle.top" in told
    assert any(words.endswith("not made for lack of data: fitcheck check --unchecked lists them.") for words in told)


def test_sheet_is_told_to_those_who_hear_it() -> None:
    """The drawing is an image with a title and a description that counts what it shows."""
    context, report = checked(TWO_UNIONS)
    root = ElementTree.fromstring(sheet(circuit_drawing(context, report)))
    title, desc = root[0], root[1]
    assert (root.get("role"), title.tag, title.text) == ("img", f"{SVG}title", "Wren: circuit")
    assert desc.text == (
        "Circuit diagram from the pedals on the left to the wheels on the right: 2 components, 1 line, 0 hoses,"
        " 2 joints. Marked on it: 2 errors, 0 warnings, 0 notes."
    )


def test_circuits_stand_one_under_the_other() -> None:
    """No symbol of the rear circuit stands among those of the front circuit."""
    context, _, made, _ = demo()
    rows: dict[str, list[float]] = {"front": [], "rear": [], "clutch": []}
    for placed in made.layout.placed:
        for name, row in rows.items():
            network = context.circuits.of(context.file.circuits[name].from_)
            if network is not None and any(end.startswith(f"{placed.node.tag}.") for end in network.ends):
                row.append(placed.body[1] + placed.body[3] / 2.0)
    assert max(rows["front"]) < min(rows["rear"])
    assert max(rows["rear"]) < min(rows["clutch"])


def test_wheels_stand_on_the_far_side() -> None:
    """Pedals stand furthest left, brakes and the slave furthest right, the reservoir above its cylinder."""
    made = demo().made
    at = {placed.node.tag: placed for placed in reversed(made.layout.placed)}
    middle = {tag: placed.x + placed.width / 2.0 for tag, placed in at.items()}
    assert min(middle, key=middle.__getitem__) == "pedals"
    brakes = {"caliper_fl", "caliper_fr", "drum_rl", "drum_rr", "slave"}
    assert set(sorted(middle, key=middle.__getitem__)[-5:]) == brakes
    assert at["tank"].y < at["feed_front"].y < at["mc_front"].y


def test_same_build_same_bytes() -> None:
    """Two readings of one build give the same text."""
    first, second = (sheet(circuit_drawing(each.context, each.report)) for each in (demo(), demo()))
    assert first == second


def test_without_findings_nothing_is_marked() -> None:
    """A drawing without a report has no marks, and says that findings are not drawn."""
    root = ElementTree.fromstring(sheet(circuit_drawing(demo().context)))
    assert [each for each in root.iter() if each.get("data-finding")] == []
    assert "Findings are not drawn: fitcheck check tells them." in {rect.name for rect in words_of(root)}


def test_many_cars_on_one_sheet() -> None:
    """A build of forty circuits is drawn without an overlap or a crossing, wider than high."""
    context, report = checked(fleet(200))
    layout = diagram(context, report).layout
    assert (faults(layout), layout.crossings) == ([], 0)
    assert 0.8 < layout.width / layout.height < 2.5


def test_empty_build_is_a_sheet_with_words() -> None:
    """A build without components is drawn as its title and the words under it."""
    context, report = checked("build: 1\nname: Wren\n")
    drawing = circuit_drawing(context, report)
    told = {rect.name for rect in words_of(ElementTree.fromstring(sheet(drawing)))}
    assert {"Wren: circuit", "fluid not stated", "Nothing was checked: the build has no parts."} <= told
