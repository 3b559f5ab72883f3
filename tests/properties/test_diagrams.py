"""Circuit diagrams of random builds, and of schemes wilder than any car: nothing overlaps, nothing is slanted."""

from pathlib import Path
from xml.etree import ElementTree

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load_document
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.reports.diagram.circuit import Diagram, circuit_drawing, diagram
from fitcheck.reports.diagram.packing import packed
from fitcheck.reports.diagram.record import Node, Pin, Scheme, Wire
from fitcheck.reports.drawing import sheet
from fitcheck.sources import InputError, parse
from tests.properties.growing import Draw, Plan
from tests.properties.mangling import mangled_tree
from tests.properties.strategies import builds, read
from tests.reports.diagram.looking import crossings, drawn_joints, faults, joined, overlapping, words_of

KINDS = ("tee", "union", "caliper", "reservoir", "gauge", "no such kind", "pedal box", "plug")


def drawn(context: Context) -> tuple[Diagram, ElementTree.Element]:
    """Return the diagram of a build and its SVG."""
    report = check_context(context)
    return diagram(context, report), ElementTree.fromstring(sheet(circuit_drawing(context, report)))


def branches_only(scheme: Scheme) -> bool:
    """Return whether no two ways lead from one symbol to another."""
    graph: nx.MultiGraph[int] = nx.MultiGraph()
    graph.add_nodes_from(range(len(scheme.nodes)))
    graph.add_edges_from((wire.a, wire.b) for wire in scheme.wires)
    return nx.is_forest(graph)


def sound(made: Diagram, root: ElementTree.Element) -> None:
    """Fail if anything is wrong with a diagram."""
    assert faults(made.layout) == []
    assert drawn_joints(made.layout) == joined(made.scheme)
    assert overlapping(words_of(root)) == []
    assert made.layout.crossings == crossings(made.layout)


@given(builds())
@settings(settings.get_profile("brief"), max_examples=40)
def test_random_build_is_drawn_soundly(plan: Plan) -> None:
    """Nothing overlaps, every joint is drawn once, and what only branches has no crossing."""
    made, root = drawn(Context(assemble(read(plan))))
    sound(made, root)
    if branches_only(made.scheme):
        assert made.layout.crossings == 0


@pytest.mark.slow
@given(builds())
@settings(settings.get_profile("long"), max_examples=400)
def test_random_build_is_drawn_soundly_at_length(plan: Plan) -> None:
    """As above, over hundreds of builds."""
    made, root = drawn(Context(assemble(read(plan))))
    sound(made, root)
    if branches_only(made.scheme):
        assert made.layout.crossings == 0


@given(builds(), st.data())
@settings(settings.get_profile("brief"), max_examples=60)
def test_mangled_build_is_drawn_soundly(plan: Plan, data: st.DataObject) -> None:
    """Whatever joints a file states, if it can be read it is drawn with nothing over anything."""
    try:
        build = load_document(parse(mangled_tree(plan, data.draw), "build.yaml"), Path())
    except InputError:
        return
    sound(*drawn(Context(assemble(build))))


@st.composite
def schemes(draw: Draw) -> Scheme:
    """Draw symbols of any kind, any two of them joined, some by joints of three ends."""
    count = draw(st.integers(2, 14))
    ends: list[list[Pin]] = [[] for _ in range(count)]
    wires = []
    pairs = draw(st.lists(st.tuples(st.integers(0, count - 1), st.integers(0, count - 1)), min_size=4, max_size=30))
    for joint, (a, b) in enumerate((a, b) for a, b in pairs if a != b):
        mechanical, colour = draw(st.booleans()), draw(st.sampled_from(["ink", "blue"]))
        marks = tuple(draw(st.lists(st.integers(1, 120), max_size=2)))
        for place in (a, b):
            pin = Pin(f"n{place}.p{joint}", joint, f"p{joint}", "3/8-24 inv", "", marks, mechanical, colour)
            ends[place].append(pin)
        wires.append(Wire(joint, a, len(ends[a]) - 1, b, len(ends[b]) - 1))
    nodes = tuple(
        Node(f"n{place}", "components", draw(st.sampled_from(KINDS)), (f"n{place}",), "", tuple(pins))
        for place, pins in enumerate(ends)
    )
    return Scheme(nodes, tuple(wires), (), ())


@given(schemes())
@settings(settings.get_profile("brief"), max_examples=150)
def test_any_scheme_is_laid_out_soundly(scheme: Scheme) -> None:
    """However symbols are joined, none overlap, no wire runs through one, and no two wires lie on one line."""
    layout = packed(scheme)
    assert faults(layout) == []
    assert drawn_joints(layout) == joined(scheme)
    assert layout.crossings == crossings(layout)


@given(schemes())
@settings(settings.get_profile("brief"), max_examples=50)
def test_same_scheme_same_places(scheme: Scheme) -> None:
    """Laying a scheme out twice gives the same places."""
    assert packed(scheme) == packed(scheme)
