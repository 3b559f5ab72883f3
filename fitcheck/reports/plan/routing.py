"""Lines and hoses in space: centre-lines as bent, hoses as they hang at rest, and where clips hold them."""

from collections.abc import Iterator
from math import hypot
from typing import Final, NamedTuple

from fitcheck.build.bodies import Bodies
from fitcheck.build.clip_places import clip_plan
from fitcheck.build.curves import Curve, chain, length_of, part_of, point_at
from fitcheck.build.graph import PortGraph
from fitcheck.build.hose_curve import free_curve, outline
from fitcheck.build.hose_reach import Reach, Reaches
from fitcheck.build.load import CHASSIS
from fitcheck.build.positions import end_position, route_points
from fitcheck.build.routes import Point
from fitcheck.build.runs import Run, missing_places, runs
from fitcheck.making.shape import dot, plus
from fitcheck.naming import in_order

_UPRIGHT: Final = 1e-6
"""Of a direction, across the vertical: less, and there is no way down beside it."""
_HOSE_PIECES: Final = 48


class Missing(NamedTuple):
    """Something that is not drawn, or only roughly, and the fields that would say how it is; else why not."""

    tag: str
    fields: tuple[str, ...]
    why: str = ""


class Way(NamedTuple):
    """A line or a hose in space.

    `sort` is `line` or `hose`; `refs` are its ends; `body` carries the whole of it. `rough` says why it is drawn as
    straights: a line that cannot be bent so, a hose whose curve is not known; empty if it is as it lies.
    """

    tag: str
    part_id: str
    sort: str
    curve: Curve
    refs: tuple[str, str]
    body: str
    rough: str = ""

    @property
    def middle(self) -> Point:
        """The point halfway along it."""
        return along(self.curve, sum(map(length_of, self.curve)) / 2.0)


class ClipMark(NamedTuple):
    """A clip on a line: its point, which way the line goes there, and its tag, None if it is only proposed."""

    line: str
    tag: str | None
    at: Point
    way: Point


def line_ways(graph: PortGraph, bodies: Bodies) -> tuple[list[Way], list[Missing]]:
    """Return the lines whose run is known, and of all others the fields that would tell it."""
    found: list[Way] = []
    missing: list[Missing] = []
    for tag, run in sorted(runs(graph).items(), key=lambda pair: in_order(pair[0])):
        curve, rough = (run.curve, "") if run.curve else _corners(graph, run)
        if not curve:
            missing.append(_unknown(graph, run))
            continue
        if rough:
            missing.append(Missing(tag, (), rough))
        ends = {body for _, body in bodies.of_line(tag)}
        body = ends.pop() if len(ends) == 1 else CHASSIS
        part_id = graph.fitted[tag].part_id
        found.append(Way(tag, part_id, "line", curve, (f"{tag}.from", f"{tag}.to"), body, rough))
    return found, missing


def _unknown(graph: PortGraph, run: Run) -> Missing:
    """Return what would say where a line runs."""
    if run.missing:
        return Missing(run.tag, run.missing)
    places = missing_places(graph, run.tag)
    return Missing(run.tag, places or (f"lines.{run.tag}.route",), "its route says no place" if not places else "")


def _corners(graph: PortGraph, run: Run) -> tuple[Curve, str]:
    """Return the corners of a line that no tube can follow, and why not; nothing of one that is not known."""
    if run.fault is None or missing_places(graph, run.tag):
        return (), ""
    points = run.points or route_points(graph, run.tag)
    return (chain(points), f"drawn by its corners: {run.fault}") if points else ((), "")


def hose_ways(graph: PortGraph, bodies: Bodies) -> tuple[list[Way], list[Missing]]:
    """Return the hoses whose ends are known, as they hang at rest, and what is not known of them and of all others."""
    reaches = Reaches(graph)
    found: list[Way] = []
    missing: list[Missing] = []
    for tag in sorted(graph.build.file.hoses, key=in_order):
        reach, part_id = reaches.of(tag), graph.fitted[tag].part_id
        refs = (f"{tag}.from", f"{tag}.to")
        first, last = (end_position(graph, ref) for ref in refs)
        if first is None or last is None:
            fields = reach.missing if reach is not None else (f"hoses.{tag}.part",)
            missing.append(Missing(tag, fields or (f"hoses.{tag}",)))
            continue
        curve, rough = _hanging(reach, first, last)
        if rough:
            missing.append(Missing(tag, reach.missing if reach is not None else (f"hoses.{tag}.part",), rough))
        one, other = (reaches.body(ref) for ref in refs)
        found.append(Way(tag, part_id, "hose", curve, refs, one if one == other else CHASSIS, rough))
    return found, missing


def _hanging(reach: Reach | None, first: Point, last: Point) -> tuple[Curve, str]:
    """Return how a hose hangs at rest, down from the straight between its ends; else that, and why."""
    straight = chain([first, last])
    if reach is None or reach.length_mm is None:
        return straight, "drawn straight: its length is not known"
    across = plus(last, first, -1.0)
    chord = hypot(*across)
    hangs = free_curve(reach.length_mm, chord)
    if hangs is None:
        return straight, "drawn straight: it does not reach"
    if chord <= 0.0:
        along_it, down = (-1.0, 0.0, 0.0), (0.0, 0.0, -1.0)
    else:
        along_it = plus((0.0, 0.0, 0.0), across, 1.0 / chord)
        down = _down(along_it)
    spots = outline(hangs, _HOSE_PIECES)
    return chain([plus(plus(first, along_it, x), down, y) for x, y in spots]), ""


def _down(way: Point) -> Point:
    """Return the direction square to a way that points down most; rearward beside one that is upright."""
    for wanted in ((0.0, 0.0, -1.0), (-1.0, 0.0, 0.0)):
        off = plus(wanted, way, -dot(wanted, way))
        length = hypot(*off)
        if length > _UPRIGHT:
            break
    return plus((0.0, 0.0, 0.0), off, 1.0 / length)


def along(curve: Curve, mm: float) -> Point:
    """Return the point so far along a curve [mm]; its end if that is further."""
    kept = part_of(curve, 0.0, mm)
    return point_at(kept[-1], 1.0) if kept else point_at(curve[0], 0.0)


def clip_marks(graph: PortGraph) -> Iterator[ClipMark]:
    """Yield the clips of the lines whose centre-line is known: those that the build places, and those proposed."""
    for tag, run in sorted(runs(graph).items(), key=lambda pair: in_order(pair[0])):
        plan = clip_plan(graph, run) if run.curve else None
        if plan is None:
            continue
        marks = [*((clip.mm, clip.tag) for clip in plan.placed), *((place.mm, None) for place in plan.proposed)]
        for mm, name in sorted(marks, key=lambda mark: mark[0]):
            here, ahead = along(run.curve, max(mm - 0.5, 0.0)), along(run.curve, mm + 0.5)
            length = hypot(*plus(ahead, here, -1.0)) or 1.0
            yield ClipMark(
                tag, name, along(run.curve, mm), plus((0.0, 0.0, 0.0), plus(ahead, here, -1.0), 1.0 / length)
            )
