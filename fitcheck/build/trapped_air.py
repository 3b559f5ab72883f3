"""Where air stays in rigid lines: humps with no bleed screw on top, and how much air each holds.

Air rises. From a point of a line it gets out if some way leads on to an opening without going down first, or once so
much air has gathered that it is pushed down to the lowest place of that way. Of all ways it takes the one whose lowest
place is highest: that height is the *lip*, and what lies above the lip stays. Openings are master cylinder outlets
(their reservoir stands above), parts with a bleed screw, calipers and cylinders, open ends. Where nobody knows how
the fluid runs (hoses, lines without a route, parts without `at`), nothing is said: those count as openings. In a
network that makes no pressure each line is looked at by itself.

Heights in mm, z up; volumes in mm3. Limits: only what stands still; a quick stroke carries air along in a narrow bore.
Source: derived (the flooding of a landscape turned upside down, by the highest way first).
"""

from collections.abc import Iterator, Mapping
from heapq import heappop, heappush
from itertools import pairwise
from math import inf, pi
from typing import NamedTuple

from fitcheck.build.circuits import Circuits, Network
from fitcheck.build.curves import Curve, Piece, chain, point_at
from fitcheck.build.graph import End, PortGraph
from fitcheck.build.humps import length_above, slopes
from fitcheck.build.positions import Position, end_position, route_points
from fitcheck.build.runs import Run
from fitcheck.catalog.part import CONSUMERS, Part

STUBS = frozenset({"pressure switch", "gauge", "plug", "cap"})
_EPSILON = 1e-6


class Trap(NamedTuple):
    """Air that stays at one hump.

    `at` is the line or component at its top, `node` where among the line's corners that is, counted from 0, None for
    a component. `mm3` is what the lines hold above the lip, None if a bore is not known; `lines` are those lines.
    """

    at: str
    node: int | None
    top: Position
    lip_mm: float
    mm3: float | None
    lines: tuple[str, ...]

    @property
    def rise_mm(self) -> float:
        """How far its top stands above the lip."""
        return self.top[2] - self.lip_mm


def line_curve(graph: PortGraph, run: Run) -> Curve | None:
    """Return a line's centre-line as far as it is known: bends where they can be made, else sharp corners."""
    if run.curve:
        return run.curve
    points = route_points(graph, run.tag)
    ends = [end_position(graph, f"{run.tag}.{name}") for name in ("from", "to")]
    return chain(points) if points is not None and None not in ends and len(points) > 1 else None


def bleeds(part: Part | None) -> bool:
    """Return whether a part has a bleed screw of its own."""
    return part is not None and part.bleeder is not None and part.bleeder.strip().lower() != "none"


def traps(graph: PortGraph, circuits: Circuits, runs: Mapping[str, Run]) -> tuple[Trap, ...]:
    """Return every hump that holds air, in the order of the lines. Time is n log n in the corners of the lines."""
    curves = {tag: line_curve(graph, run) for tag, run in runs.items()}
    drawn = {tag for tag, curve in curves.items() if curve is not None}
    found = [
        trap
        for network in circuits.networks
        if any(graph.ends[ref].tag in drawn for ref in network.ends)  # else no line of it has a height
        for trap in _Waters(graph, network, curves).traps()
    ]
    order = {tag: index for index, tag in enumerate(runs)}
    return tuple(sorted(found, key=lambda trap: min(order[tag] for tag in trap.lines)))


_Node = tuple[str, int]
"""An end and 0, or a line and where along its slopes."""


class _Waters:
    """One network as slopes between nodes of known height."""

    def __init__(self, graph: PortGraph, network: Network, curves: Mapping[str, Curve | None]) -> None:
        self.graph = graph
        self.network = network
        self.curves = curves
        self.points: dict[_Node, Position] = {}
        self.next: dict[_Node, list[tuple[_Node, str, Piece | None]]] = {}
        self.open: list[_Node] = []
        for ref in network.ends:
            self._end(graph.ends[ref])
        for tag in dict.fromkeys(graph.ends[ref].tag for ref in network.ends if graph.ends[ref].tube_end):
            self._line(tag)
        self._edges()

    def _end(self, end: End) -> None:
        if end.fitted.part is not None and end.fitted.part.kind in STUBS:
            return
        components = self.graph.build.file.components
        nowhere = end.fitted.section == "components" and components[end.tag].at is None
        place = end_position(self.graph, end.ref) if not nowhere else None
        node = (end.ref, 0)
        self.points[node] = place if place is not None else (0.0, 0.0, inf)
        if place is None or self._opens(end):
            self.open.append(node)

    def _opens(self, end: End) -> bool:
        part = end.fitted.part
        if end.tube_end:
            unknown = self.curves.get(end.tag) is None or not self.graph.joined(end.ref)
            return unknown or not self.network.outlets or self._bleeding_bolt(end.ref)
        if part is None or end.fitted.section == "hoses" or not self.graph.joined(end.ref):
            return True
        return part.kind in CONSUMERS or bleeds(part) or end.ref in self.network.outlets

    def _bleeding_bolt(self, ref: str) -> bool:
        joints = self.graph.joints_at.get(ref, ())
        return any(joint.bolt and bleeds(self.graph.build.shelf.get(joint.bolt)) for joint in joints)

    def _line(self, tag: str) -> None:
        curve = self.curves.get(tag)
        if curve is None:
            return
        pieces = list(slopes(curve))
        nodes = [(f"{tag}.from", 0), *((tag, index) for index in range(1, len(pieces))), (f"{tag}.to", 0)]
        for (near, far), piece in zip(pairwise(nodes), pieces, strict=True):
            self.points[near], self.points[far] = point_at(piece, 0.0), point_at(piece, 1.0)
            self._join(near, far, tag, piece)

    def _edges(self) -> None:
        known = {ref: (ref, 0) for ref in self.network.ends if (ref, 0) in self.points}
        for ref, near in known.items():
            for other in self.graph.graph[ref]:
                same = self.graph.ends[ref].tag == self.graph.ends[other].tag
                if (
                    ref < other
                    and other in known
                    and not (same and self.graph.ends[ref].fitted.section != "components")
                ):
                    self._join(near, known[other], "", None)

    def _join(self, near: _Node, far: _Node, tag: str, piece: Piece | None) -> None:
        self.next.setdefault(near, []).append((far, tag, piece))
        self.next.setdefault(far, []).append((near, tag, piece))

    def _lips(self) -> dict[_Node, float]:
        """Return for each node the height down to which air there is pushed before it gets out."""
        lips: dict[_Node, float] = {}
        queue = [(-self.points[node][2], node) for node in self.open]
        queue.sort()
        while queue:
            level, node = heappop(queue)
            if node in lips:
                continue
            lips[node] = -level
            for other, _, _ in self.next.get(node, ()):
                if other not in lips:
                    heappush(queue, (max(level, -self.points[other][2]), other))
        return lips

    def traps(self) -> Iterator[Trap]:
        """Yield each hump of this network."""
        lips = self._lips()
        held = {node for node, lip in lips.items() if self.points[node][2] > lip + _EPSILON}
        while held:
            hump, queue = set[_Node](), [min(held)]
            while queue:
                node = queue.pop()
                if node in held:
                    held.discard(node)
                    hump.add(node)
                    queue += [other for other, _, _ in self.next[node]]
            if (trap := self._trap(hump, lips[min(hump)])) is not None:
                yield trap

    def _trap(self, hump: set[_Node], lip: float) -> Trap | None:
        lengths: dict[str, float] = {}
        seen = set[tuple[_Node, _Node]]()
        for node in sorted(hump):
            for other, tag, piece in self.next[node]:
                edge = (min(node, other), max(node, other))
                if piece is not None and edge not in seen:
                    seen.add(edge)
                    lengths[tag] = lengths.get(tag, 0.0) + length_above(piece, lip)
        if not lengths:
            return None
        top = max(sorted(hump), key=lambda node: self.points[node][2])
        areas = {tag: self._area(tag) for tag in lengths}
        known = [area * lengths[tag] for tag, area in areas.items() if area is not None]
        at, corner = self._named(top)
        mm3 = sum(known) if len(known) == len(lengths) else None
        return Trap(at, corner, self.points[top], lip, mm3, tuple(sorted(lengths, key=list(self.curves).index)))

    def _named(self, top: _Node) -> tuple[str, int | None]:
        """Return what stands at the top: a line and its corner there, or a component."""
        end = self.graph.ends.get(top[0])
        if end is None:
            return top[0], self._corner(top)
        if not end.tube_end:
            return end.tag, None
        others = [other for joint in self.graph.joints_at.get(end.ref, ()) for other in joint.ends]
        fitted = [other.tag for other in others if other.fitted.section == "components"]
        return (min(fitted), None) if fitted else (end.tag, 0)

    def _corner(self, top: _Node) -> int | None:
        """Return which corner of the file's route is nearest to a point of a line."""
        points = route_points(self.graph, top[0]) or []
        x, y, z = self.points[top]
        away = [(x - a) ** 2 + (y - b) ** 2 + (z - c) ** 2 for a, b, c in points[1:-1]]
        return away.index(min(away)) if away else 0

    def _area(self, tag: str) -> float | None:
        tube = self.graph.fitted[tag].part
        if tube is None or tube.od is None or tube.wall is None:
            return None
        return pi / 4.0 * (tube.od - 2.0 * tube.wall) ** 2
