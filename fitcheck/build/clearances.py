"""How near curves come to each other when some of them move: lines to what is hot, lines to lines.

Each curve is on a body and is looked at where it is drawn and in every pose of that body. Two on one body do not move
against each other and are looked at as drawn only. A tree of boxes leaves out what is nowhere near. Lengths in mm.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from fitcheck.build.boxes import Boxed, Tree, boxed
from fitcheck.build.curves import Curve, Near, nearest_of
from fitcheck.build.poses import Motion

TOLERANCE_MM = 0.01
"""Distances are told to a tenth of a millimetre."""


class Solid(NamedTuple):
    """A tube or a hot thing: its curve, how thick it is from there, what body it is on and where that can be.

    `name` is unique among those looked at together.
    """

    name: str
    curve: Curve
    radius_mm: float
    body: str
    motions: tuple[Motion, ...]


class Gap(NamedTuple):
    """How near two solids come, surface to surface [mm]; negative if they are in one place.

    `poses` are the poses of their bodies in which they are nearest, None for as drawn; `near` has the two points.
    """

    first: str
    second: str
    mm: float
    poses: tuple[str | None, str | None]
    near: Near


class _Placed(NamedTuple):
    solid: Solid
    motion: Motion
    curve: Curve


def gaps_between(firsts: Sequence[Solid], seconds: Sequence[Solid], wanted_mm: Sequence[float]) -> list[Gap]:
    """Return where one of `firsts` comes nearer to one of `seconds` than is wanted of that one [mm].

    One gap for each such pair, the nearest over all poses, in the order of `firsts`.
    """
    placed = list(_placed(firsts))
    others = list(_placed(seconds))
    wanted = {solid.name: gap for solid, gap in zip(seconds, wanted_mm, strict=True)}
    tree = Tree([box for at, one in enumerate(others) for box in _boxes(one, at, wanted[one.solid.name])])
    found: dict[tuple[str, str], Gap] = {}
    for one in placed:
        for at, pieces in _meetings(tree, one).items():
            other = others[at]
            if _moves(one, other):
                _keep(found, one, other, pieces, wanted[other.solid.name])
    return list(found.values())


def gaps_among(solids: Sequence[Solid], wanted_mm: float) -> list[Gap]:
    """Return each pair of `solids` that come nearer to each other than is wanted [mm], nearest over all poses."""
    placed = list(_placed(solids))
    first = {solid.name: at for at, solid in enumerate(solids)}
    tree = Tree([box for at, one in enumerate(placed) for box in _boxes(one, at, wanted_mm)])
    found: dict[tuple[str, str], Gap] = {}
    for one in placed:
        for at, pieces in _meetings(tree, one).items():
            other = placed[at]
            if first[one.solid.name] < first[other.solid.name] and _moves(one, other):
                _keep(found, one, other, pieces, wanted_mm)
    return list(found.values())


def _placed(solids: Iterable[Solid]) -> Iterator[_Placed]:
    for solid in solids:
        for motion in solid.motions:
            yield _Placed(solid, motion, motion.carried(solid.curve))


def _boxes(placed: _Placed, at: int, more_mm: float) -> Iterator[Boxed]:
    return boxed(placed.curve, at, placed.solid.radius_mm + more_mm)


def _moves(one: _Placed, other: _Placed) -> bool:
    """Return whether two placed solids are to be looked at: those of one body only as drawn."""
    return one.solid.body != other.solid.body or (one.motion.pose is None and other.motion.pose is None)


def _meetings(tree: Tree, placed: _Placed) -> dict[int, set[tuple[int, int]]]:
    """Return the curves of a tree that may come near, each with the pairs of pieces that may."""
    found: dict[int, set[tuple[int, int]]] = {}
    for own in _boxes(placed, 0, 0.0):
        for other in tree.near(own.box):
            found.setdefault(other.curve, set()).add((own.piece, other.piece))
    return found


def _keep(
    found: dict[tuple[str, str], Gap], one: _Placed, other: _Placed, pieces: set[tuple[int, int]], wanted: float
) -> None:
    """Keep the gap between two placed solids, if it is less than is wanted and than what was found so far."""
    key = one.solid.name, other.solid.name
    thick = one.solid.radius_mm + other.solid.radius_mm
    # A later pose has to be nearer by more than the tolerance: what is told does not hang on rounding.
    below = (found[key].mm - TOLERANCE_MM if key in found else wanted) + thick
    near = nearest_of(one.curve, other.curve, sorted(pieces), below, TOLERANCE_MM)
    if near is not None:
        found[key] = Gap(*key, near.mm - thick, (one.motion.pose, other.motion.pose), near)
