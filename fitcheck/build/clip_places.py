"""Where clips hold each line: those that the build places, and the places proposed for the rest.

Lengths in mm, places along the finished tube from the end `from`. A line without clips gets as many as are bought for
it (`fitcheck.build.clips`), each in the middle of its stretch. Each place is then moved, as far as no two come further
apart than 7/6 of the spacing (350 mm of 300), to where a clip can sit: on a straight, clear of the way that the nut is
pushed back and of the panels passed, and beside a bend if there is one in reach. Where clips are placed already, a
place is proposed only for what hangs free between them.

Source: 350 mm, the room beside a bend and a panel and two nut lengths behind a face: common practice, no source. Close
to bends, before and after them: a magazine article on clamping hydraulic tube.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from math import ceil, inf, radians
from typing import Final, NamedTuple

from fitcheck.build.clips import SPACING_MM, clips_along, clips_fitted
from fitcheck.build.curves import Straight, length_of, nearest, station_of
from fitcheck.build.graph import PortGraph
from fitcheck.build.load import MM
from fitcheck.build.model import Corner
from fitcheck.build.positions import corner_points
from fitcheck.build.routes import Point, developed_length, straights
from fitcheck.build.runs import Run
from fitcheck.build.tube_ends import tube_end

MOST_MM: Final = 350.0
"""As far apart as clips may come with the usual spacing: common practice, no source."""
ON_LINE_MM: Final = 25.0
"""A clip so near to a line's surface holds it."""
BESIDE_BEND_MM: Final = 10.0
"""From where a bend ends to the middle of a clip: common practice, no source."""
NUT_WAYS: Final = 2.0
"""Lengths of nut behind a face that stay clear, so that the nut can be pushed back: common practice, no source."""
BESIDE_PANEL_MM: Final = 20.0
"""From a panel's side to the middle of a clip, for its grommet and half a clip: common practice, no source."""
MOST_CLIPS: Final = 1000
"""More on one line are not placed one by one: no car has so long a line, and every place is an answer of its own."""
_DUST: Final = 1e-9
_MOST_SHIFT: Final = 0.45


class ClipPlace(NamedTuple):
    """A place for a clip [mm]. `straight` is False if no straight in reach takes one, or the shape is not known."""

    mm: float
    straight: bool


class PlacedClip(NamedTuple):
    """A clip that is a component of the build and holds a line: its tag, and where along the line [mm]."""

    tag: str
    mm: float


class ClipPlan(NamedTuple):
    """The clips of one line.

    `spacing_mm` is what they are spaced by, `stated` whether the build says that. `free_mm` are the stretches between
    `placed` clips that hang too long without one; `proposed` are the places for more.
    """

    spacing_mm: float
    stated: bool
    placed: tuple[PlacedClip, ...]
    free_mm: tuple[tuple[float, float], ...]
    proposed: tuple[ClipPlace, ...]


class _Room(NamedTuple):
    """Part of a straight where a clip may sit [mm]; `bends` are those of its ends that are beside a bend."""

    low: float
    high: float
    bends: tuple[float, ...]


def run_length(graph: PortGraph, run: Run) -> float | None:
    """Return how long a line is from seat to seat [mm]: along its route, else as it states; None if not known."""
    if run.curve:
        return sum(map(length_of, run.curve))
    if run.route is not None and run.fault is None:
        return developed_length(run.route)
    stated = graph.build.file.lines[run.tag].length
    return None if stated is None else float(stated)


@lru_cache(maxsize=1)  # asked for each line; a graph does not change
def clips_at(graph: PortGraph) -> Mapping[str, Point | None]:
    """Return the clips for tube that the build has as components, by tag, each with its place [mm] if that is given."""
    unit = MM[graph.build.file.coordinates]
    found: dict[str, Point | None] = {}
    for tag in clips_fitted(graph):
        at = graph.build.file.components[tag].at
        found[tag] = None if at is None else (at[0] * unit, at[1] * unit, at[2] * unit)
    return found


def clip_plan(graph: PortGraph, run: Run, spacing_mm: float | None = None) -> ClipPlan | None:
    """Return the clips of a line, spaced as given, else as the build states; None if its length is not known.

    Places count from the end `from`. None as well of a line with room for more than a thousand.
    """
    length = run_length(graph, run)
    if length is None:
        return None
    wanted = graph.build.file.consumables.clips if graph.build.file.consumables is not None else None
    stated = float(wanted.spacing) if wanted is not None and wanted.spacing is not None else None
    spacing = spacing_mm or stated or SPACING_MM
    most = spacing * MOST_MM / SPACING_MM
    if length > MOST_CLIPS * spacing:
        return None
    rooms = _rooms(graph, run)
    placed = tuple(_placed(run, clips_at(graph)))
    if not placed:
        return ClipPlan(spacing, stated is not None, (), (), tuple(_whole(length, spacing, most, rooms)))
    stops = sorted([0.0, *(clip.mm for clip in placed), length])
    free = tuple((a, b) for a, b in pairwise(stops) if b - a > most)
    proposed = tuple(place for a, b in free for place in _between(a, b, spacing, most, rooms))
    return ClipPlan(spacing, stated is not None, placed, free, proposed)


def _placed(run: Run, clips: Mapping[str, Point | None]) -> list[PlacedClip]:
    """Return the clips that are near enough to a line to hold it, in order along it."""
    reach = ON_LINE_MM + (run.od_mm or 0.0) / 2.0
    found = []
    for tag, at in clips.items():
        near = nearest((Straight(at, at),), run.curve, reach) if at is not None and run.curve else None
        if near is not None:
            found.append(PlacedClip(tag, station_of(run.curve, near.second)))
    return sorted(found, key=lambda clip: clip.mm)


def _whole(length: float, spacing: float, most: float, rooms: Sequence[_Room]) -> Iterator[ClipPlace]:
    """Yield the places on a line without clips: one in the middle of each of its equal stretches."""
    count = clips_along(length, spacing)
    for number in range(count):
        yield _moved((number + 0.5) * length / count, length / count, most, rooms)


def _between(start: float, end: float, spacing: float, most: float, rooms: Sequence[_Room]) -> Iterator[ClipPlace]:
    """Yield the places between two that hold the line: evenly, no further apart than the spacing."""
    parts = ceil((end - start) / spacing - _DUST)
    for number in range(1, parts):
        yield _moved(start + (end - start) * number / parts, (end - start) / parts, most, rooms)


def _moved(wanted: float, apart: float, most: float, rooms: Sequence[_Room]) -> ClipPlace:
    """Return the best place about the one wanted: each may move by half of what two may come further apart."""
    play = min((most - apart) / 2.0, _MOST_SHIFT * apart)
    low, high = wanted - play, wanted + play
    inside = [room for room in rooms if room.low <= high and room.high >= low]
    beside = [spot for room in inside for spot in room.bends if low <= spot <= high]
    spots = beside or [min(max(wanted, room.low), room.high) for room in inside]
    if not spots:
        return ClipPlace(wanted, False)
    return ClipPlace(min(spots, key=lambda spot: (round(abs(spot - wanted), 6), spot)), True)


def _rooms(graph: PortGraph, run: Run) -> list[_Room]:
    """Return where along a line clips may sit; nowhere if its shape is not known."""
    if run.route is None or run.fault is not None:
        return []
    kept = straights(run.route)
    first, last = (_nut_way(graph, f"{run.tag}.{name}", run.od_mm or 0.0) for name in ("from", "to"))
    found, here = [], 0.0
    for index, straight in enumerate(kept):
        inner = index < len(kept) - 1
        low = here + (BESIDE_BEND_MM if index else first)
        high = here + straight - (BESIDE_BEND_MM if inner else last)
        if low <= high:
            found.append(_Room(low, high, (*([low] if index else []), *([high] if inner else []))))
        here += straight
        if inner:
            bend = run.route.bends[index]
            here += radians(bend.angle_deg) * bend.radius_mm
    for low, high in _in_panels(graph, run):
        found = [part for room in found for part in _without(room, low, high)]
    return found


def _in_panels(graph: PortGraph, run: Run) -> Iterator[tuple[float, float]]:
    """Yield the stretches of a line where the panels that it passes leave no room for a clip [mm]."""
    file = graph.build.file
    entries, points = file.lines[run.tag].route or (), corner_points(graph, run.tag)
    if points is None or not run.curve or run.in_words:
        return
    for entry, point in zip(entries, points, strict=True):
        if not isinstance(entry, Corner) or entry.through is None:
            continue
        near = nearest((Straight(point, point),), run.curve, inf)
        if near is not None:
            thick = file.panels[entry.through].thickness
            half = (float(thick) if thick is not None else 0.0) / 2.0 + BESIDE_PANEL_MM
            at = station_of(run.curve, near.second)
            yield at - half, at + half


def _without(room: _Room, low: float, high: float) -> Iterator[_Room]:
    """Yield what is left of a room without a stretch of the line."""
    for start, end in ((room.low, min(room.high, low)), (max(room.low, high), room.high)):
        if start <= end:
            yield _Room(start, end, tuple(spot for spot in room.bends if start <= spot <= end))


def _nut_way(graph: PortGraph, ref: str, od_mm: float) -> float:
    """Return how far behind a face no clip may sit [mm]: the nut's way back, and half a clip."""
    return NUT_WAYS * tube_end(graph, ref, od_mm).size.mm + BESIDE_BEND_MM
