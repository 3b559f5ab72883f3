"""Bends that follow each other at once are one sweep of the bender: two corners of 90 deg, two radii apart, are a U.

Lengths in mm, angles in degrees. Bends are one sweep if they have one radius, lie in one plane, go the same way, have
no straight tube between them, and turn by 180 deg at most together, which is as far as a hand bender goes. Source:
derived.
"""

from collections.abc import Sequence
from typing import Final, NamedTuple

from fitcheck.build.routes import Bend, Point, Route, leg_ends, straights, turns_back

MOST_DEG: Final = 180.0
"""As far as a hand bender turns in one sweep (its scale ends there: common practice, no source)."""
_NEARLY_U_DEG: Final = 179.9
"""A sweep of more that is no U has its corner over a thousand radii away: its bends are left as they are."""
_ROUNDING_DEG: Final = 1e-6
_ROUNDING_MM: Final = 1e-9


class Swept(NamedTuple):
    """A route in sweeps; `firsts` has the index of the first bend in each, of those given.

    `points` are its corners with both ends [mm], a U's two among them; None if none were given.
    """

    route: Route
    firsts: tuple[int, ...]
    points: tuple[Point, ...] | None


def swept(route: Route, points: Sequence[Point] | None = None) -> Swept:
    """Return a route with bends that are one sweep made one; its centre-line stays the same.

    Raises RouteError if a leg is shorter than its bends take.

    >>> u = Route((100.0, 30.0, 100.0), (Bend(90.0, 15.0), Bend(90.0, 15.0, 0.0, 1)))
    >>> swept(u).route
    Route(legs_mm=(100.0, 100.0), bends=(Bend(angle_deg=180.0, radius_mm=15.0, rotation_deg=None, corner=0),))
    """
    kept = straights(route)
    groups = _groups(route, kept)
    bends = tuple(_one(route.bends[group.start : group.stop]) for group in groups)
    legs = [0, *(group.stop for group in groups)]
    taken = [bend.taken_mm for bend in bends]
    lengths = tuple(
        kept[leg] + before + after for leg, before, after in zip(legs, [0.0, *taken], [*taken, 0.0], strict=True)
    )
    if len(bends) == len(route.bends):
        lengths = route.legs_mm
    corners = _corners(route, groups, bends, points) if points is not None else None
    return Swept(Route(lengths, bends), tuple(group.start for group in groups), corners)


def _groups(route: Route, kept: Sequence[float]) -> list[range]:
    groups: list[range] = []
    for index, bend in enumerate(route.bends):
        if groups and _follows(route.bends[groups[-1].start : index], bend, kept[index]):
            groups[-1] = range(groups[-1].start, index + 1)
        else:
            groups.append(range(index, index + 1))
    return groups


def _follows(before: Sequence[Bend], bend: Bend, straight: float) -> bool:
    """Return whether a bend goes on with the sweep of those before it."""
    total = sum(each.angle_deg for each in before) + bend.angle_deg
    return (
        straight == 0.0
        and bend.rotation_deg is not None
        and abs(bend.rotation_deg) <= _ROUNDING_DEG
        and abs(bend.radius_mm - before[-1].radius_mm) <= _ROUNDING_MM
        and (total <= _NEARLY_U_DEG or turns_back(total))
    )


def _one(bends: Sequence[Bend]) -> Bend:
    angle = min(sum(bend.angle_deg for bend in bends), MOST_DEG)
    return bends[0] if len(bends) == 1 else bends[0]._replace(angle_deg=angle)


def _corners(
    route: Route, groups: Sequence[range], bends: Sequence[Bend], points: Sequence[Point]
) -> tuple[Point, ...]:
    """Return the corners with both ends: those given, and where legs that now reach further end."""
    legs = leg_ends(points, route.bends)
    found = [points[0]]
    for group, bend in zip(groups, bends, strict=True):
        first, last = group.start, group.stop - 1
        if first == last:
            found += [legs[first][1], legs[last + 1][0]] if bend.is_u else [legs[first][1]]
            continue
        found.append(_further(legs[first], bend.taken_mm - route.bends[first].taken_mm))
        if bend.is_u:
            start, end = legs[last + 1]
            found.append(_further((end, start), bend.taken_mm - route.bends[last].taken_mm))
    return (*found, points[-1])


def _further(leg: tuple[Point, Point], more: float) -> Point:
    """Return the end of a leg that reaches `more` mm further."""
    (ax, ay, az), (bx, by, bz) = leg
    length = ((bx - ax) ** 2 + (by - ay) ** 2 + (bz - az) ** 2) ** 0.5
    share = more / length
    return bx + share * (bx - ax), by + share * (by - ay), bz + share * (bz - az)
