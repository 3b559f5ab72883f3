"""Marks on the tube: where each bend starts, its layout mark and its middle, and where the pencil goes for the tool.

Lengths in mm from end A, angles in degrees. Source: derived; the layout mark is that of a tube fitting installation
brochure (all marks from one end, the gain of a bend taken off only after that bend). Springback is taken to grow with
the angle, as elastic bending does (derived): the build gives it for 90 deg.
"""

from collections.abc import Sequence
from math import radians
from typing import NamedTuple

from fitcheck.build.benders import StraightsNeeded, Tool, marked_point
from fitcheck.build.routes import Bend, straights
from fitcheck.making.course import Course
from fitcheck.making.sheet import SheetBend


class Work(NamedTuple):
    """What stands at the ends of a tube while it is bent. Lengths in mm.

    Attributes:
        nut_a_mm, nut_b_mm: room that a nut behind a finished flare takes off the first and the last straight.
        spare_b_mm: tube behind the finished face of end B while that is not yet made.
        material: of the tube.
    """

    nut_a_mm: float = 0.0
    nut_b_mm: float = 0.0
    spare_b_mm: float = 0.0
    material: str | None = None


def sheet_bends(course: Course, needs: StraightsNeeded, work: Work) -> tuple[SheetBend, ...]:
    """Return the bends of a course with their marks, in the order of bending from end A.

    Raises:
        RouteError: a leg is shorter than its bends take.
    """
    if course.route is None:
        return ()
    kept = straights(course.route)
    whole = course.run_mm + work.spare_b_mm
    found = []
    start = 0.0
    for index, bend in enumerate(course.route.bends):
        start += kept[index]
        radius = course.radii[index]
        held, needed = _held(kept, index, needs, radius.tool, work)
        made = _made(bend, start, radius.tool, radius.source, work)
        hand = held < needed or not 0.0 <= made.mark_mm <= whole
        found.append((_by_hand(made, work) if hand else made)._replace(held_mm=max(held, 0.0), needed_mm=needed))
        start += made.arc_mm
    return tuple(found)


def _made(bend: Bend, start: float, tool: Tool | None, source: str, work: Work) -> SheetBend:
    marks = tool.marks if tool is not None else "start"
    offset = tool.offset_mm if tool is not None else 0.0
    if bend.is_u and marks == "corner":
        marks, offset = "start", 0.0  # no corner to mark, and the offset is that of the line for corners
    corner = None if bend.is_u else marked_point("corner", start, bend.angle_deg, bend.radius_mm)
    middle = marked_point("middle", start, bend.angle_deg, bend.radius_mm)
    at = {"start": start, "corner": corner if corner is not None else start, "middle": middle}
    extra = tool.springback_deg(work.material) if tool is not None else None
    return SheetBend(
        angle_deg=bend.angle_deg,
        radius_mm=bend.radius_mm,
        rotation_deg=bend.rotation_deg,
        arc_mm=bend.radius_mm * radians(bend.angle_deg),
        start_mm=start,
        corner_mm=corner,
        middle_mm=middle,
        mark_mm=at[marks] - offset,
        marks=marks,
        tool=tool.name if tool is not None else None,
        offset_mm=offset,
        radius_source=source,
        pull_deg=bend.angle_deg * (1.0 + extra / 90.0) if extra is not None else None,
        corner=bend.corner,
    )


def _by_hand(made: SheetBend, work: Work) -> SheetBend:
    """Return a bend as it is turned round a clamped die: marked where it starts, pulled until it stays at its angle."""
    return made._replace(hand=True, marks="start", offset_mm=0.0, mark_mm=made.start_mm, pull_deg=None)


def _held(
    kept: Sequence[float], index: int, needs: StraightsNeeded, tool: Tool | None, work: Work
) -> tuple[float, float]:
    """Return the straight that is there for the tool and the straight it needs [mm], where that is tightest.

    In front of the bend the tool clamps; behind the last bend it needs as much to pull on (common practice, no source).
    """
    clamp = tool.clamp_mm if tool is not None and tool.clamp_mm is not None else needs.clamp_mm
    between = tool.between_mm if tool is not None and tool.between_mm is not None else needs.between_mm
    front = kept[0] - work.nut_a_mm if index == 0 else kept[index]
    found = [(front, clamp if index == 0 else max(clamp, between))]
    if index == len(kept) - 2:
        found.append((kept[-1] + work.spare_b_mm - work.nut_b_mm, clamp))
    return min(found, key=lambda pair: pair[0] - pair[1])
