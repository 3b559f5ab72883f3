"""Room for a spanner: nuts that stand so near to another nut, or to a tube, that not even a ring head gets on.

Two bulkhead parts side by side, two tube nuts side by side, and a tube beside a tube nut. Only what stands on one body
is looked at, and of tube nuts only those whose face is known. What a sheet or a body leaves of room is not known.
"""

from collections.abc import Iterable, Iterator, Sequence
from functools import partial
from itertools import product
from math import dist, floor, sqrt
from typing import Any, Final

from fitcheck.build.bodies import Bodies
from fitcheck.build.clearances import Gap, Solid, gaps_between
from fitcheck.build.curves import Straight
from fitcheck.build.panel_holes import sits_in_panels
from fitcheck.build.poses import REST
from fitcheck.build.positions import Position
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Looked, Said, Unchecked
from fitcheck.checks.hexagons import Hexagon, bulkhead_nuts, tube_nuts
from fitcheck.measures import exact, fine, told_apart
from fitcheck.naming import in_order
from fitcheck.standards.spanners import CORNERS, ring_head, room_beside

CELL_MM: Final = 60.0
"""Further apart than this no two nuts of brake plumbing are in each other's way (derived: two of 36 mm are not)."""
UNKNOWN_MM: Final = 35.0
"""So near two nuts of unknown size may be in each other's way: two of 24 mm are (derived)."""
MOST_BESIDE: Final = 40
"""So many nuts of one place are looked at: more cannot stand there."""
NUT_MM: Final = 15.0
"""How far from its face a tube nut's hexagon reaches. Common practice, no source."""
_PARALLEL: Final = 0.94
_ONE_AXIS_MM: Final = 1.0
_PRACTICE: Final = "heads of flare-nut spanners are as wide as rings: common practice, no source"


def crowded(context: Context, rule: str) -> Iterator[Said]:
    """Yield, for a rule, every nut that no spanner gets on; and what would have to be known of near ones."""
    if not _placed(context):
        return
    bodies = context.bodies
    through = list(bulkhead_nuts(context, bodies))
    near = list(tube_nuts(context, bodies))
    screwed = [nut for nut in near if nut.missing is None]
    yield Looked(len(through) + len(screwed))
    told: set[frozenset[str]] = set()
    for nuts in (through, screwed):
        for one, other, apart in _side_by_side(nuts):
            if frozenset((one.tag, other.tag)) not in told:
                said = list(_of_pair(context, rule, one, other, apart))
                told |= {frozenset((one.tag, other.tag))} if said else set()
                yield from said
    yield from _beside_tubes(context, rule, screwed, told)
    yield from dict.fromkeys(_unknown(rule, through, near, bodies))


def _placed(context: Context) -> bool:
    """Return whether the build says where any nut is."""
    items = (item for item in context.graph.fitted.values() if item.section == "components")
    bulkheads = (item.tag for item in items if sits_in_panels(item))
    return any(run.curve for run in context.runs.values()) or any(
        context.file.components[tag].at is not None for tag in bulkheads
    )


def _side_by_side(nuts: Sequence[Hexagon]) -> Iterator[tuple[Hexagon, Hexagon, float]]:
    """Yield each two nuts of different parts on one body that stand beside each other, and how far apart [mm]."""
    cells: dict[tuple[int, ...], list[int]] = {}
    for index, nut in enumerate(nuts):
        cells.setdefault(_cell(nut.at), []).append(index)
    for index, nut in enumerate(nuts):
        for step in product((-1, 0, 1), repeat=3):
            place = tuple(a + b for a, b in zip(_cell(nut.at), step, strict=True))
            for other in cells.get(place, ())[:MOST_BESIDE]:
                apart = _apart(nut, nuts[other]) if other > index else None
                if apart is not None and nuts[other].tag != nut.tag and nuts[other].body == nut.body:
                    yield nut, nuts[other], apart


def _cell(at: Position) -> tuple[int, ...]:
    return tuple(floor(value / CELL_MM) for value in at)


def _apart(one: Hexagon, other: Hexagon) -> float | None:
    """Return how far apart two nuts are across their axes [mm]; None if they are not beside each other."""
    if one.along is None or other.along is None or one.missing is not None or other.missing is not None:
        return dist(one.at, other.at)
    if abs(_dot(one.along, other.along)) < _PARALLEL:
        return None
    way = (other.at[0] - one.at[0], other.at[1] - one.at[1], other.at[2] - one.at[2])
    ahead = _dot(way, one.along)
    across = sqrt(max(0.0, _dot(way, way) - ahead * ahead))
    return across if abs(ahead) < NUT_MM and across > _ONE_AXIS_MM else None


def _dot(a: Position, b: Position) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _of_pair(context: Context, rule: str, one: Hexagon, other: Hexagon, apart: float) -> Iterator[Said]:
    """Yield the finding of two nuts that stand too close for a ring on the one that wants more room."""
    first, second = sorted((one, other), key=lambda nut: in_order(nut.ref))
    ways = [(nut, beside, _room(nut, beside)) for nut, beside in ((first, second), (second, first))]
    known = [(room, nut, beside) for nut, beside, room in ways if room is not None]
    room, nut, beside = max(known, default=(0.0, first, second), key=lambda way: way[0])
    if apart < room - 1e-6:
        usual = "" if nut.stated and beside.stated else ", by the least they can be"
        unit = context.unit
        away, needs = told_apart(apart, room, partial(fine, unit=unit))
        where = f"{beside.ref} is {away} away, it needs {needs}{usual}"
        figures = {"apart_mm": apart, "beside_mm": (beside.flats_mm or 0.0) * CORNERS, "room_mm": room}
        yield _finding(
            context, rule, nut, beside.ref, f"no room for a spanner on the nut of {nut.ref}: {where}", figures
        )


def _unknown(rule: str, through: Sequence[Hexagon], screwed: Sequence[Hexagon], bodies: Bodies) -> Iterator[Unchecked]:
    """Yield what would have to be known of nuts so near to each other that it matters: their sizes, their faces."""
    joined = {frozenset(end.tag for end in joint.ends) for joint in bodies.rigid}
    for nuts in (through, screwed):
        for one, other, apart in _side_by_side(nuts):
            if apart < UNKNOWN_MM and frozenset((one.tag, other.tag)) not in joined:
                yield from (Unchecked(rule, (nut.ref,), field) for nut in (one, other) for field in _fields(nut))


def _fields(nut: Hexagon) -> Iterator[str]:
    if nut.missing is not None:
        yield nut.missing
    elif nut.flats_mm is None or (nut.along is None and not nut.stated):
        yield f"parts.{nut.part_id}.outside"


def _room(nut: Hexagon, beside: Hexagon) -> float | None:
    if nut.flats_mm is None or beside.flats_mm is None:
        return None
    return room_beside(nut.flats_mm, beside.flats_mm * CORNERS)


def _beside_tubes(context: Context, rule: str, nuts: Iterable[Hexagon], told: set[frozenset[str]]) -> Iterator[Finding]:
    """Yield the tube nuts that a tube of another part passes too near to."""
    from fitcheck.checks.line_solids import line_solids

    sized = {nut.ref: nut for nut in nuts if nut.flats_mm is not None}
    if not sized:
        return
    lines = line_solids(context, [(run, run.curve) for run in context.runs.values() if run.curve])
    by_name = {solid.name: solid for solid in lines}
    still = [solid._replace(motions=(REST,)) for solid in lines]
    for gap in gaps_between([_swept(nut) for nut in sized.values()], still, [0.0] * len(still)):
        nut, line = sized[gap.first], by_name[gap.second]
        if line.body == nut.body and not _of_one_part(context, nut, line.name, told):
            yield _tube_finding(context, rule, nut, line, gap)


def _swept(nut: Hexagon) -> Solid:
    """Return what the ring on a tube nut takes up: a rod about its axis, as thick as the head."""
    x, y, z = nut.along or (0.0, 0.0, 0.0)
    end = (nut.at[0] + NUT_MM * x, nut.at[1] + NUT_MM * y, nut.at[2] + NUT_MM * z)
    head = ring_head(nut.flats_mm or 0.0).head_mm
    return Solid(nut.ref, (Straight(nut.at, end),), head / 2.0, nut.body, (REST,))


def _of_one_part(context: Context, nut: Hexagon, line: str, told: set[frozenset[str]]) -> bool:
    """Return whether a line ends in the very part that a nut is screwed into, or in one that is told beside it."""
    ends = [
        end
        for name in ("from", "to")
        for joint in context.graph.joints_at.get(f"{line}.{name}", ())
        for end in joint.ends
    ]
    return any(end.tag == nut.tag or frozenset((end.tag, nut.tag)) in told for end in ends)


def _tube_finding(context: Context, rule: str, nut: Hexagon, line: Solid, gap: Gap) -> Finding:
    od = 2.0 * line.radius_mm
    room = room_beside(nut.flats_mm or 0.0, od)
    usual = "" if nut.stated else ", by the least it can be"
    apart = gap.near.mm
    unit = context.unit
    away, needs = told_apart(apart, room, partial(fine, unit=unit))
    where = f"{line.name}, {exact(od, unit)} thick, is {away} from its axis, it needs {needs}{usual}"
    message = f"no room for a spanner on the nut of {nut.ref}: {where}"
    return _finding(context, rule, nut, line.name, message, {"apart_mm": apart, "beside_mm": od, "room_mm": room})


def _finding(context: Context, rule: str, nut: Hexagon, beside: str, message: str, evidence: dict[str, Any]) -> Finding:
    head = ring_head(nut.flats_mm or 0.0)
    figures = {"flats_mm": nut.flats_mm, "head_mm": head.head_mm, **evidence}
    source = f"{nut.source}; head: {head.mark}; {_PRACTICE}"
    path = ("components", nut.tag) if nut.along is None else ("lines", *nut.ref.split(".")[:1])
    return context.finding(rule, "warning", message, (nut.ref, beside), path, {**figures, "source": source})
