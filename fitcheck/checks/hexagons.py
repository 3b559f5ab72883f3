"""The nuts of a build that a spanner has to get at, as far as it is known where they are. Lengths in mm."""

from collections.abc import Iterator
from math import hypot
from typing import NamedTuple

from fitcheck.build.bodies import Bodies
from fitcheck.build.fixings import tube_od
from fitcheck.build.graph import End
from fitcheck.build.load import MM
from fitcheck.build.panel_holes import sits_in_panels
from fitcheck.build.positions import Position
from fitcheck.build.refs import port_of as ref_port
from fitcheck.build.runs import Run
from fitcheck.catalog.part import Part
from fitcheck.checks.context import Context
from fitcheck.standards.nuts import nuts_for
from fitcheck.standards.spanners import CORNERS


class Hexagon(NamedTuple):
    """A nut that is turned where it stands.

    Attributes:
        ref: the line's end whose nut it is, or the bulkhead part.
        tag: the component that it is screwed into, or is part of.
        body: what that is on.
        part_id: the catalog entry of the nut, or of the bulkhead part.
        at: where it is [mm].
        along: which way the tube leaves it; None for a bulkhead part.
        flats_mm: the least it can be across flats; None if nothing tells.
        stated: whether its own entry says how large it is.
        source: where the size comes from.
        missing: the field without which only its part's place is known, and `at` is that; None if its face is.
    """

    ref: str
    tag: str
    body: str
    part_id: str
    at: Position
    along: Position | None
    flats_mm: float | None
    stated: bool
    source: str
    missing: str | None = None


def bulkhead_nuts(context: Context, bodies: Bodies) -> Iterator[Hexagon]:
    """Yield the nut of each bulkhead part whose place is known.

    Where its entry has no `outside` it is at least as large across flats as the hole that it lies over (derived).
    """
    unit = MM[context.file.coordinates]
    for item in context.graph.fitted.values():
        at = context.file.components[item.tag].at if item.section == "components" else None
        if item.part is None or at is None or not sits_in_panels(item) or item.part.kind == "grommet":
            continue
        place = (at[0] * unit, at[1] * unit, at[2] * unit)
        flats, source = _bulkhead_flats(item.part)
        stated = item.part.outside is not None
        yield Hexagon(item.tag, item.tag, bodies.of(item.tag), item.part_id, place, None, flats, stated, source)


def _bulkhead_flats(part: Part) -> tuple[float | None, str]:
    if part.outside is not None:
        return part.outside / CORNERS, f"parts.{part.id}.outside"
    hole = part.panel[0] if part.panel is not None else None
    return hole, f"derived: no smaller than its hole, parts.{part.id}.panel.hole"


def tube_nuts(context: Context, bodies: Bodies) -> Iterator[Hexagon]:
    """Yield the nut at each end of a line whose place and first leg are known."""
    for run in context.runs.values():
        if run.points is None or not run.curve:
            continue
        for name, here, there in (("from", run.points[0], run.points[1]), ("to", run.points[-1], run.points[-2])):
            found = _tube_nut(context, bodies, run, f"{run.tag}.{name}", here, there)
            if found is not None:
                yield found


def _tube_nut(context: Context, bodies: Bodies, run: Run, ref: str, here: Position, there: Position) -> Hexagon | None:
    for joint in context.graph.joints_at.get(ref, ()):
        own, other = joint.ends[-1], joint.ends[0]
        fixing = context.fixings(joint).one("nut")
        if joint.kind != "tube" or fixing is None or fixing.part is None or other.fitted.section != "components":
            continue
        flats, source = _nut_flats(fixing.part, own)
        stated = fixing.part.outside is not None
        body = bodies.of(other.tag)
        return Hexagon(
            ref, other.tag, body, fixing.part.id, here, _unit(here, there), flats, stated, source, _faceless(own, other)
        )
    return None


def _faceless(own: End, other: End) -> str | None:
    """Return the field that would say where the face of a joint is, None if that is known."""
    if (own.stated is not None and own.stated.at is not None) or (
        other.port is not None and other.port.offset is not None
    ):
        return None
    return f"parts.{other.fitted.part_id}.ports.{ref_port(other.ref)}.offset"


def _nut_flats(part: Part, own: End) -> tuple[float | None, str]:
    """Return the size across flats of a tube nut: its own, else the smallest that is usual."""
    if part.outside is not None:
        return part.outside / CORNERS, f"parts.{part.id}.outside"
    od = tube_od(own)
    port = next(iter(part.ports.values()), None)
    if od is None or port is None or port.seat is None or port.thread is None:
        return None, ""
    rows = [row for row in nuts_for(port.seat, od) if row.thread == port.thread.designation and row.hexes_mm]
    return (min(rows[0].hexes_mm), f"the smallest usual: {rows[0].mark}") if rows else (None, "")


def _unit(a: Position, b: Position) -> Position:
    apart = hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]) or 1.0
    return (b[0] - a[0]) / apart, (b[1] - a[1]) / apart, (b[2] - a[2]) / apart
