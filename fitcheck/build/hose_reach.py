"""How far each hose has to reach, in every position of the bodies at its two ends, and how long it must be.

Lengths in mm, angles in degrees. Two ends on one body do not move against each other. What is not known is named by
the field that would say it; what can be told without it (the ends at rest) is told all the same.
"""

from collections.abc import Iterator
from math import ceil, dist
from typing import Final, NamedTuple

from fitcheck.build.bodies import Bodies
from fitcheck.build.graph import End, Fitted, PortGraph
from fitcheck.build.hose_curve import free_curve, length_to_bend, length_to_reach
from fitcheck.build.load import CHASSIS
from fitcheck.build.poses import REST, Motion, motions, unclear_poses
from fitcheck.build.positions import Position, end_position
from fitcheck.build.rotations import twist_deg
from fitcheck.catalog.part import Part
from fitcheck.standards.figures import INCH_MM

SHRINKS: Final = 0.04
"""How much of its length a hose loses under pressure, at most: AC 43.13-1B, p 9-23 (+2 to -4 %)."""
SLACK: Final = 0.05
"""Least slack as a share of the hose's length: 5 to 8 %, a naval training course on fluid lines."""
STEP_MM: Final = 10.0
STEP_INCH: Final = 0.25
"""Lengths to order are rounded up to this (common practice, no source)."""
MOST_PAIRS: Final = 1000
"""Positions of two bodies together up to which all are looked at; of more, one body at a time moves."""
_ALIKE_MM: Final = 6


class Span(NamedTuple):
    """A hose's ends in one position of their bodies.

    `chord_mm` is how far apart they are, `twist_deg` how far the hose is twisted from rest, right-handed seen from
    its `from` end. `where` says the position: `at rest`, `with axle in droop`.
    """

    chord_mm: float
    twist_deg: float
    where: str


class Reach(NamedTuple):
    """What is known of how a hose hangs.

    `length_mm` is its free length. `far` and `near` are the positions in which its ends are farthest apart and
    nearest, `twisted` that in which it is twisted most; None if it is not known where both ends are. `missing` are
    the fields without which this is not, or not wholly, known.
    """

    tag: str
    part: Part
    length_mm: float | None
    far: Span | None
    near: Span | None
    twisted: Span | None
    missing: tuple[str, ...]

    @property
    def shrinks(self) -> float:
        """The share of its length that it loses under pressure; a feed hose is under none."""
        return SHRINKS if self.part.kind == "hose" else 0.0


class HoseNeed(NamedTuple):
    """The free length of hose to order, and what governs it.

    `length_mm` leaves the least slack where the ends are farthest apart and keeps to the bend radius where they are
    nearest, rounded up; None if the ends are not known. `governs` is `reach` or `bend`, `where` the position. It is
    a lower bound as long as there are `missing` fields.
    """

    tag: str
    length_mm: float | None
    governs: str
    where: str
    missing: tuple[str, ...]


class Reaches:
    """How the hoses of one build hang; what their bodies do is worked out once."""

    def __init__(self, graph: PortGraph, bodies: Bodies | None = None) -> None:
        self.graph = graph
        self.bodies = bodies or Bodies(graph)
        self._motions: dict[str, tuple[Motion, ...]] = {}
        self._fields: dict[str, list[str]] = {}

    def all(self) -> Iterator[Reach]:
        """Yield each hose whose part is known, in the order of the file."""
        for tag in self.graph.build.file.hoses:
            found = self.of(tag)
            if found is not None:
                yield found

    def of(self, tag: str) -> Reach | None:
        """Return how a hose hangs, None if no catalog has its part."""
        item = self.graph.fitted.get(tag)
        if item is None or item.part is None or item.section != "hoses":
            return None
        refs = (f"{tag}.from", f"{tag}.to")
        places = [end_position(self.graph, ref) for ref in refs]
        missing = [self._place_field(ref) for ref, place in zip(refs, places, strict=True) if place is None]
        length, no_length = self._length(item, item.part)
        if places[0] is None or places[1] is None:
            return Reach(tag, item.part, length, None, None, None, (*missing, *no_length))
        spans, unclear = self._spans(refs, (places[0], places[1]))
        return Reach(tag, item.part, length, spans.far(), spans.near(), spans.twisted(), (*unclear, *no_length))

    def spans(self, tag: str) -> tuple[Span, ...]:
        """Return the ends of a hose in every position of their bodies, rest first; none if its ends are not known."""
        refs = (f"{tag}.from", f"{tag}.to")
        first, last = (end_position(self.graph, ref) for ref in refs)
        if first is None or last is None:
            return ()
        return self._spans(refs, (first, last))[0].all()

    def _spans(self, refs: tuple[str, str], places: tuple[Position, Position]) -> tuple["_Spans", list[str]]:
        """Return the ends of a hose in every position of their bodies, and what is missing of these."""
        one, other = (self.body(ref) for ref in refs)
        if one == other:
            return _Spans(places, ((REST,), (REST,)), (one, other)), []
        missing = [field for body in (one, other) for field in self._unclear(body)]
        ways = self._moves(one), self._moves(other)
        if len(ways[0]) * len(ways[1]) > MOST_PAIRS:
            missing.append(f"bodies.{one}.poses and bodies.{other}.poses: fewer of them, to be combined")
        return _Spans(places, ways, (one, other)), missing

    def _moves(self, body: str) -> tuple[Motion, ...]:
        if body not in self._motions:
            self._motions[body] = motions(self.graph.build.file, body)
        return self._motions[body]

    def _unclear(self, body: str) -> list[str]:
        file = self.graph.build.file
        if body != CHASSIS and not file.bodies[body].poses:
            return [f"bodies.{body}.poses"]
        if body not in self._fields:
            self._fields[body] = unclear_poses(file, body)
        return self._fields[body]

    def body(self, ref: str) -> str:
        """Return the body that a hose's end is on: that of the component, or of the line, that it is joined to."""
        others = self._partners(ref)
        for end in others:
            if end.fitted.section == "components":
                return self.bodies.of(end.tag)
        for end in others:
            moving = {body for _, body in self.bodies.of_line(end.tag)} - {CHASSIS}
            if end.fitted.section == "lines" and moving:
                return min(moving)
        return CHASSIS

    def _partners(self, ref: str) -> list[End]:
        return [end for joint in self.graph.joints_at.get(ref, ()) for end in joint.ends if end.ref != ref]

    def _place_field(self, ref: str) -> str:
        """Return the field of the build file that would say where a hose's end is."""
        for end in self._partners(ref):
            if end.fitted.section == "components":
                return f"components.{end.tag}.at"
            if end.tube_end:
                tag, _, name = end.ref.partition(".")
                return f"lines.{tag}.ends.{name}.at"
        tag, _, name = ref.partition(".")
        return f"hoses.{tag}.{name}"

    def _length(self, item: Fitted, part: Part) -> tuple[float | None, list[str]]:
        """Return a hose's free length, or the field that would say it: its part's own, else what it is cut to."""
        if part.length is not None:
            return part.length, []
        stated = self.graph.build.file.hoses[item.tag].length
        if stated is not None:
            return float(stated), []
        return None, [f"hoses.{item.tag}.length" if part.kind == "feed hose" else f"parts.{part.id}.length"]


def need_of(found: Reach, unit: str) -> HoseNeed:
    """Return the free length of hose to order for a hose that hangs so: `rounded_up` where lengths are in `unit`."""
    missing = found.missing
    if found.part.bend_radius is None:
        missing = (*missing, f"parts.{found.part.id}.bend_radius")
    if found.far is None or found.near is None:
        return HoseNeed(found.tag, None, "", "", missing)
    # Rounded first: a little more length can bend a hose tighter.
    reach = rounded_up(length_to_reach(found.far.chord_mm, SLACK), unit)
    bend = length_to_bend(found.near.chord_mm, found.part.bend_radius or 0.0, reach)
    if bend > reach:
        return HoseNeed(found.tag, rounded_up(bend, unit), "bend", found.near.where, missing)
    return HoseNeed(found.tag, reach, "reach", found.far.where, missing)


def hangs(found: Reach, part: Part) -> bool:
    """Return whether a made-up hose, in the place of this one, would have its slack everywhere and bend as it may.

    False where its length or its bend radius is not known, or where it is not known where the ends are.
    """
    if found.far is None or found.near is None or part.length is None or part.bend_radius is None:
        return False
    if length_to_reach(found.far.chord_mm, SLACK) > part.length * (1.0 + 1e-9):
        return False
    curve = free_curve(part.length, found.near.chord_mm)
    return curve is not None and curve.radius_mm >= part.bend_radius - 1e-6


def rounded_up(length_mm: float, unit: str = "mm") -> float:
    """Return a length [mm] to order: up to the next 10 mm, or up to the next 1/4 in.

    >>> rounded_up(200.0000000001), rounded_up(201.0), rounded_up(201.0, "in") / 25.4
    (200.0, 210.0, 8.0)
    """
    step = STEP_MM if unit == "mm" else STEP_INCH * INCH_MM
    return ceil(length_mm / step - 1e-9) * step


class _Spans:
    """Two points, each carried by every motion of its body: how far apart they come, and how a hose is twisted.

    Where several positions are equal, the one in the fewest and first words counts, so that the order of poses in
    the file does not matter.
    """

    def __init__(
        self,
        places: tuple[Position, Position],
        ways: tuple[tuple[Motion, ...], tuple[Motion, ...]],
        bodies: tuple[str, str],
    ) -> None:
        self.bodies = bodies
        near, far = ([(motion, motion.of(place)) for motion in way] for way, place in zip(ways, places, strict=True))
        if len(near) * len(far) > MOST_PAIRS:
            pairs = [*((one, far[0]) for one in near), *((near[0], other) for other in far)]
        else:
            pairs = [(one, other) for one in near for other in far]
        self.pairs = [(one[0], other[0], one[1], other[1]) for one, other in pairs]
        self.chords = [round(dist(one, other), _ALIKE_MM) for _, _, one, other in self.pairs]

    def all(self) -> tuple[Span, ...]:
        """Return every position."""
        return tuple(map(self._span, range(len(self.pairs))))

    def far(self) -> Span:
        """Return the position in which the ends are farthest apart."""
        return self._plainest(self.chords, max(self.chords))

    def near(self) -> Span:
        """Return the position in which the ends are nearest."""
        return self._plainest(self.chords, min(self.chords))

    def twisted(self) -> Span:
        """Return the position in which the hose is twisted most."""
        twists = [round(abs(self._twist(index)), _ALIKE_MM) for index in range(len(self.pairs))]
        return self._plainest(twists, max(twists))

    def _plainest(self, figures: list[float], wanted: float) -> Span:
        spans = (self._span(index) for index, figure in enumerate(figures) if figure == wanted)
        return min(spans, key=lambda span: (span.where != "at rest", len(span.where), span.where))

    def _span(self, index: int) -> Span:
        first, second, one, other = self.pairs[index]
        moved = zip(self.bodies, (first.pose, second.pose), strict=True)
        words = ", ".join(f"{body} in {pose}" for body, pose in sorted(moved, key=str) if pose is not None)
        return Span(dist(one, other), self._twist(index), f"with {words}" if words else "at rest")

    def _twist(self, index: int) -> float:
        first, second, one, other = self.pairs[index]
        if first.turn == second.turn:
            return 0.0
        return twist_deg(first.turn, second.turn, (other[0] - one[0], other[1] - one[1], other[2] - one[2]))
