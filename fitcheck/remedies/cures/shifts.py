"""A line led further away from what it is too near to: one leg or corner moved, by as little as is enough.

The tube goes on leaving its fittings in the direction it has now, and goes through panels where it does now. A bounded
search: the legs beside the nearest place, along the axes and the line's own ends, up to 150 mm.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise, product
from math import dist, hypot
from typing import Final, NamedTuple

from fitcheck.build.benders import straights_needed
from fitcheck.build.curves import Curve, Straight, along, between_segments, length_of
from fitcheck.build.model import Corner, RouteWords
from fitcheck.build.positions import corner_points
from fitcheck.build.routes import Point, Route, RouteError, developed_length, straights, through_points
from fitcheck.build.runs import Run
from fitcheck.changes import Change, Put
from fitcheck.checks.findings import Finding
from fitcheck.checks.place import near_heat
from fitcheck.measures import fine, whole
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.cures.measured import as_written
from fitcheck.remedies.remedy import Remedy

STEPS_MM: Final = (5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 80.0, 100.0, 125.0, 150.0)
"""How far a leg is moved, the least first."""
MOST_FOUND: Final = 2
"""Ways that are proposed for one line: the re-check has the last word."""
KEPT_MM: Final = 40.0
"""Straight that is left before an end that has more now: nut, flaring tool and bender need no more (practice)."""
_SQUARE: Final = 1e-6

_AXES: Final = {
    (1.0, 0.0, 0.0): "further forward",
    (-1.0, 0.0, 0.0): "further back",
    (0.0, 1.0, 0.0): "further left",
    (0.0, -1.0, 0.0): "further right",
    (0.0, 0.0, 1.0): "higher",
    (0.0, 0.0, -1.0): "lower",
}
"""Directions and what they are called: ISO 8855."""


class _Way(NamedTuple):
    """A line by all its points [mm], ends and corners that are none included, with a radius [mm] for each inner one."""

    run: Run
    points: tuple[Point, ...]
    radii: tuple[float, ...]
    bends: frozenset[int]


def moved(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Move a leg or a corner of the line, of either of two, so that it keeps away and comes near to nothing else."""
    names = finding.at[:2]
    near = finding.evidence.get("points_mm", ())
    if len(names) != 2 or len(near) != 2 or not bench.may_move():
        return
    spots = dict(zip(finding.evidence.get("lines", names), near, strict=True))
    for tag, other in (names, names[::-1]) if finding.rule != near_heat.RULE else (names,):
        way = _way(bench, tag)
        if way is not None:
            yield from _led_away(bench, way, spots[tag], finding.rule, other)


def _way(bench: Bench, tag: str) -> _Way | None:
    """Return a line by its points, None if it is not drawn so, or turns straight back."""
    run = bench.context.runs.get(tag)
    if run is None or isinstance(bench.file.lines[tag].route, RouteWords):  # one text, without entries to change
        return None
    corners = corner_points(bench.graph, tag)
    if run.route is None or run.points is None or not run.curve or corners is None:
        return None
    if any(bend.is_u for bend in run.route.bends):
        return None
    radii = {bend.corner: bend.radius_mm for bend in run.route.bends}
    points = (run.points[0], *corners, run.points[-1])
    inner = tuple(radii.get(at, 0.0) for at in range(1, len(points) - 1))
    return _Way(run, points, inner, frozenset(radii))


def _led_away(bench: Bench, way: _Way, near: Point, rule: str, other: str) -> Iterator[Remedy]:
    """Yield the least moves of the whole leg, which leave every bend as it is; single corners only if there is none."""
    tag, unit = way.run.tag, bench.graph.unit
    before = bench.room.near(tag, way.run.curve) - {(rule, other)}
    for corners in _groups(bench, way, near):
        found = []
        for mm, towards in product(STEPS_MM, _directions(way)):
            points = _shifted(way.points, corners, towards, mm)
            made = _made(bench, way, points) if _keeps_its_ends(way, corners, towards) else None
            if made is None or not bench.room.clear_of(tag, made[1], rule, other):
                continue
            if bench.room.near(tag, made[1]) <= before:
                found.append(_remedy(bench, way, points, corners, made[0], f"{fine(mm, unit)} {_words(towards)}"))
            if len(found) == MOST_FOUND:
                break
        yield from found
        if found:
            return


def _groups(bench: Bench, way: _Way, near: Point) -> list[tuple[int, ...]]:
    """Return which points may move together: the leg nearest to a place with its corners, then each of these alone."""

    def apart(leg: tuple[int, int]) -> float:
        return between_segments(way.points[leg[0]], way.points[leg[1]], near, near)[2]

    route = bench.file.lines[way.run.tag].route or ()
    first, last = min(pairwise([0, *sorted(way.bends), len(way.points) - 1]), key=apart)
    inside = tuple(range(first + 1, last))
    if any(_in_a_panel(route[at - 1]) for at in inside):
        return []
    free = [at for at in (first, last) if at in way.bends and not _in_a_panel(route[at - 1])]
    return [(first, *inside, last), (first,), (last,)] if len(free) == 2 else [(at,) for at in free]


def _in_a_panel(entry: object) -> bool:
    return isinstance(entry, Corner) and entry.through is not None


def _directions(way: _Way) -> list[Point]:
    ends = [_unit(way.points[0], way.points[1]), _unit(way.points[-1], way.points[-2])]
    both = [turned for unit in ends for turned in (unit, (-unit[0], -unit[1], -unit[2]))]
    return [*_AXES, *(unit for unit in both if not any(dist(unit, axis) < _SQUARE for axis in _AXES))]


def _keeps_its_ends(way: _Way, corners: Sequence[int], towards: Point) -> bool:
    """Return whether a line still leaves both its fittings in the same direction when these corners have moved."""
    nodes = sorted(way.bends)
    ends = ((nodes[0], way.points[0]), (nodes[-1], way.points[-1]))
    return all(node not in corners or _parallel(_unit(end, way.points[node]), towards) for node, end in ends)


def _parallel(unit: Point, towards: Point) -> bool:
    return abs(abs(sum(a * b for a, b in zip(unit, towards, strict=True))) - 1.0) < _SQUARE


def _shifted(points: Sequence[Point], corners: Sequence[int], towards: Point, mm: float) -> tuple[Point, ...]:
    shift = (towards[0] * mm, towards[1] * mm, towards[2] * mm)
    return tuple(
        (x + shift[0], y + shift[1], z + shift[2]) if at in corners else (x, y, z)
        for at, (x, y, z) in enumerate(points)
    )


def _made(bench: Bench, way: _Way, points: Sequence[Point]) -> tuple[Route, Curve] | None:
    """Return the route and the centre-line through other points, None if no tube or no bender can follow it."""
    run = way.run
    try:
        route = through_points(points, way.radii)
        left = straights(route)
    except RouteError:
        return None
    if {bend.corner for bend in route.bends} != way.bends:
        return None
    between = straights_needed(bench.build, run.tag, run.tube).between_mm
    least = [KEPT_MM, *[between] * (len(left) - 2), KEPT_MM]
    if any(now < before and now < need for now, before, need in zip(left, run.straights_mm, least, strict=True)):
        return None
    curve = along(points, route)
    return (route, curve) if isinstance(curve[0], Straight) and length_of(curve[0]) > 0.0 else None


def _remedy(
    bench: Bench, way: _Way, points: Sequence[Point], corners: Sequence[int], route: Route, words: str
) -> Remedy:
    tag = way.run.tag
    entries = bench.file.lines[tag].route or ()
    changes: list[Change] = []
    for at in corners:
        path = ("lines", tag, "route", at - 1)
        place = as_written(bench, points[at])
        changes.append(Put((*path, "at") if isinstance(entries[at - 1], Corner) else path, place))
    if bench.file.lines[tag].length is not None:
        changes.append(Put(("lines", tag, "length"), whole(developed_length(route), bench.graph.unit)))
    notes = (f"whether the car has room for {tag} {words}",)
    return Remedy("corner", tuple(changes), tags=(tag,), notes=notes)


def _words(towards: Point) -> str:
    return _AXES.get(towards, "along the line's end")


def _unit(a: Point, b: Point) -> Point:
    apart = hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]) or 1.0
    return (b[0] - a[0]) / apart, (b[1] - a[1]) / apart, (b[2] - a[2]) / apart
