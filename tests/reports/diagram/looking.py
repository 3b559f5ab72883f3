"""Looking at a laid-out diagram and at its SVG with eyes of our own: what overlaps, what is slanted, what crosses."""

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load_document
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.checks.run import check_context
from fitcheck.reports.diagram.record import Layout, Scheme
from fitcheck.reports.drawing import Spot, words_mm
from fitcheck.sources import parse

SVG = "{http://www.w3.org/2000/svg}"
NEAR = 1e-6


class Rect(NamedTuple):
    """A box on paper [mm], with what it is of."""

    name: str
    x: float
    y: float
    end: float
    foot: float

    def meets(self, other: "Rect") -> bool:
        """Return whether two boxes share more than an edge."""
        level = self.x < other.end - NEAR and other.x < self.end - NEAR
        return level and self.y < other.foot - NEAR and other.y < self.foot - NEAR


def checked(text: str, folder: Path = Path()) -> tuple[Context, Report]:
    """Return a build read from its text, and its report."""
    context = Context(assemble(load_document(parse(text, "build.yaml"), folder)))
    return context, check_context(context)


def boxes(layout: Layout) -> list[Rect]:
    """Return the boxes of all symbols with their words and marks."""
    return [
        Rect(
            f"{placed.node.tag} {placed.node.words[1:]}",
            placed.x,
            placed.y,
            placed.x + placed.width,
            placed.y + placed.height,
        )
        for placed in layout.placed
    ]


def overlapping(rects: Sequence[Rect]) -> list[tuple[str, str]]:
    """Return the pairs of boxes that share more than an edge."""
    return [(a.name, b.name) for a, b in combinations(rects, 2) if a.meets(b)]


def pieces(layout: Layout) -> list[tuple[int, Spot, Spot]]:
    """Return the straight pieces of all wires with the numbers of their joints; none of no length."""
    return [(run.joint, a, b) for run in layout.runs for way in run.ways for a, b in pairwise(way) if a != b]


def slanted(layout: Layout) -> list[tuple[int, Spot, Spot]]:
    """Return the pieces that are neither level nor upright."""
    return [piece for piece in pieces(layout) if piece[1][0] != piece[2][0] and piece[1][1] != piece[2][1]]


def through_symbols(layout: Layout) -> list[tuple[int, str]]:
    """Return the joints whose wires run through the inside of a symbol's box."""
    return [(joint, rect.name) for joint, a, b in pieces(layout) for rect in boxes(layout) if _rect(a, b).meets(rect)]


def _rect(a: Spot, b: Spot) -> Rect:
    """Return a piece of wire as a thin box, its ends left out."""
    thin = 0.01
    across = (thin, -thin) if a[0] == b[0] else (-thin, thin)
    low, high = (min(a[0], b[0]), min(a[1], b[1])), (max(a[0], b[0]), max(a[1], b[1]))
    return Rect("", low[0] - across[0], low[1] - across[1], high[0] + across[0], high[1] + across[1])


def on_one_line(layout: Layout) -> list[tuple[int, int]]:
    """Return the pairs of joints whose wires lie on each other for a while."""
    found = []
    for (one, a, b), (other, c, d) in combinations(pieces(layout), 2):
        if one == other:
            continue
        for along, across in ((0, 1), (1, 0)):
            if a[across] == b[across] == c[across] == d[across]:
                first, second = sorted((a[along], b[along])), sorted((c[along], d[along]))
                if min(first[1], second[1]) - max(first[0], second[0]) > NEAR:
                    found.append((one, other))
    return found


def crossings(layout: Layout) -> int:
    """Return how often wires of two joints cross, by looking at every pair of pieces."""
    return sum(
        one != other and (_crosses(a, b, c, d) or _crosses(c, d, a, b))
        for (one, a, b), (other, c, d) in combinations(pieces(layout), 2)
    )


def _crosses(a: Spot, b: Spot, c: Spot, d: Spot) -> bool:
    """Return whether the level piece a-b and the upright piece c-d cross inside both."""
    if a[1] != b[1] or c[0] != d[0]:
        return False
    return min(a[0], b[0]) < c[0] < max(a[0], b[0]) and min(c[1], d[1]) < a[1] < max(c[1], d[1])


def faults(layout: Layout) -> list[object]:
    """Return all that is wrong with a layout."""
    outside = [
        rect.name for rect in boxes(layout) if rect.x < -NEAR or rect.y < -NEAR or rect.end > layout.width + NEAR
    ]
    found: list[object] = [*overlapping(boxes(layout)), *slanted(layout), *through_symbols(layout), *outside]
    return [*found, *on_one_line(layout)]


def drawn_joints(layout: Layout) -> list[int]:
    """Return the numbers of the joints that are drawn."""
    return [run.joint for run in layout.runs]


def joined(scheme: Scheme) -> list[int]:
    """Return the numbers of the joints that a scheme has."""
    return sorted({wire.joint for wire in scheme.wires})


def words_of(root: ElementTree.Element) -> list[Rect]:
    """Return where the words of a drawing stand, by the widths that the layout reckons with."""
    return list(_words(root, 0.0, 0.0))


def _words(element: ElementTree.Element, x: float, y: float) -> Iterator[Rect]:
    turn = element.get("transform", "")
    if turn.startswith("rotate"):
        return
    if turn.startswith("translate"):
        dx, dy = map(float, turn[10:-1].split())
        x, y = x + dx, y + dy
    if element.tag == f"{SVG}text" and element.text:
        size, at, base = (float(element.get(name, "0")) for name in ("font-size", "x", "y"))
        wide = words_mm(element.text, size, element.get("font-weight") == "bold")
        left = at - {"start": 0.0, "middle": wide / 2.0, "end": wide}[element.get("text-anchor", "start")]
        yield Rect(element.text, x + left, y + base - 0.74 * size, x + left + wide, y + base + 0.2 * size)
    for below in element:
        yield from _words(below, x, y)
