"""Air in humps against numbers: lengths by scipy's root finder, whole networks by drops of fluid on a fine graph."""

from itertools import pairwise
from math import dist, pi
from pathlib import Path
from random import Random

import networkx as nx
import pytest
from scipy.optimize import brentq

from fitcheck.build.assemble import assemble
from fitcheck.build.circuits import Circuits
from fitcheck.build.curves import Curve, Piece, length_of, point_at
from fitcheck.build.load import load_document
from fitcheck.build.runs import runs
from fitcheck.build.trapped_air import Trap, traps
from fitcheck.sources import parse
from tests.build.bent import volume_above
from tests.build.test_curves import drawn

BORE = 3.34


def above(piece: Piece, level: float) -> float:
    """Return how much of a piece lies above a height: signs on a fine grid, each crossing found by Brent's method."""
    shares = [index / 400 for index in range(401)]
    heights = [point_at(piece, share)[2] - level for share in shares]
    total = 0.0
    for (a, high), (b, low) in pairwise(zip(shares, heights, strict=True)):
        if high >= 0.0 and low >= 0.0:
            total += b - a
        elif high * low < 0.0:
            cut = brentq(lambda share: point_at(piece, share)[2] - level, a, b, xtol=1e-14)
            total += cut - a if high > 0.0 else b - cut
    return total * length_of(piece)


def test_volume_agrees_with_numerical_integration() -> None:
    """Of 150 random bent lines the volume above a random height agrees with scipy to a part in a million."""
    draw = Random(7)
    for _ in range(150):
        curve, level = drawn(draw, corners=draw.randint(1, 5)), draw.uniform(20.0, 230.0)
        expected = pi / 4.0 * BORE**2 * sum(above(piece, level) for piece in curve)
        assert volume_above(curve, level, BORE) == pytest.approx(expected, rel=1e-6, abs=1e-2)


HEAD = """\
build: 1
components:
  tank: {{part: reservoir-1-outlet}}
  mc: {{part: mc-m10x1-bubble, at: [0, 0, {top}]}}
  tee: {{part: tee-m10x1-bubble, at: [600, 0, {tee}]}}
  one: {{part: slave-m10x1-bubble, at: [1500, 0, {one}]}}
  two: {{part: slave-m10x1-bubble, at: [600, 900, {two}]}}
lines:
  feed: {{from: mc.outlet, to: tee.left, tube: tube-3-16-cuni, route: [{a}]}}
  left: {{from: tee.right, to: one.inlet, tube: tube-3-16-cuni, route: [{b}]}}
  right: {{from: tee.top, to: two.inlet, tube: tube-3-16-cuni, route: [{c}]}}
hoses:
  fill: {{part: feed-hose-8mm, from: tank.outlet, to: mc.feed}}
"""


def network(draw: Random) -> tuple[tuple[Trap, ...], dict[str, Curve]]:
    """Return the humps of a random network of three lines, and the lines' curves."""

    def z() -> int:
        return draw.randint(0, 500)

    text = HEAD.format(
        top=z(),
        tee=z(),
        one=z(),
        two=z(),
        a=f"[150, 100, {z()}], [300, -100, {z()}], [450, 50, {z()}]",
        b=f"[800, 100, {z()}], [1100, -100, {z()}]",
        c=f"[700, 200, {z()}], [500, 500, {z()}]",
    )
    graph = assemble(load_document(parse(text, "build.yaml"), Path()))
    found = runs(graph)
    return traps(graph, Circuits(graph), found), {tag: run.curve for tag, run in found.items()}


def poured(curves: dict[str, Curve]) -> float:
    """Return the air that stays [mm3], by points every millimetre: each with the best of all ways out, by networkx.

    The way whose lowest place is highest lies in the tree of highest ways: a maximum spanning tree over the lower end
    of each step.
    """
    heights: dict[object, float] = {}
    steps: list[tuple[object, object, float]] = []
    ends = {"feed": ("mc", "tee"), "left": ("tee", "one"), "right": ("tee", "two")}
    for tag, curve in curves.items():
        points = [point_at(piece, index / 200) for piece in curve for index in range(200)] + [point_at(curve[-1], 1.0)]
        nodes = [ends[tag][0], *((tag, index) for index in range(1, len(points) - 1)), ends[tag][1]]
        heights |= {node: point[2] for node, point in zip(nodes, points, strict=True)}
        steps += [(a, b, dist(p, q)) for (a, p), (b, q) in pairwise(zip(nodes, points, strict=True))]
    graph: nx.Graph[object] = nx.Graph()
    for a, b, length in steps:
        graph.add_edge(a, b, low=min(heights[a], heights[b]), length=length)
    for end in ("mc", "one", "two"):
        graph.add_edge("out", end, low=heights[end], length=0.0)
    tree = nx.maximum_spanning_tree(graph, weight="low")
    lips = {"out": float("inf")}
    for near, far in nx.bfs_edges(tree, "out"):
        lips[far] = min(lips[near], tree.edges[near, far]["low"])
    held = 0.0
    for a, b, length in steps:
        held += length * ((heights[a] > lips[a] + 1e-9) + (heights[b] > lips[b] + 1e-9)) / 2.0
    return pi / 4.0 * (4.7625 - 2 * 0.7112) ** 2 * held


def test_humps_of_networks_agree_with_a_fine_graph() -> None:
    """In 30 random networks the air of all humps is that of a graph of a thousand points, to 2 % and 30 mm3."""
    draw, humps, looked = Random(11), 0, 0
    while looked < 30:
        found, curves = network(draw)
        if not all(curves.values()):
            continue  # a bend does not fit: nothing to compare
        looked += 1
        humps += len(found)
        assert sum(trap.mm3 or 0.0 for trap in found) == pytest.approx(poured(curves), rel=0.02, abs=30.0)
    assert humps > 30
