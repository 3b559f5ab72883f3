"""What moves, in its other poses: thin and grey, tied to where it is at rest."""

from collections.abc import Iterator
from math import dist
from typing import Final, NamedTuple

from fitcheck.build.load import CHASSIS
from fitcheck.build.model import BuildFile
from fitcheck.build.poses import Motion, motions
from fitcheck.build.routes import Point
from fitcheck.reports.drawing import Spot, path, safe
from fitcheck.reports.plan.paper import Paper
from fitcheck.reports.plan.scene import Scene
from fitcheck.reports.plan.shapes import ghost, item_mark
from fitcheck.reports.svg_parts import path_data

_SEEN_MM: Final = 0.4
"""What moves less on paper is not drawn again."""


class Ghost(NamedTuple):
    """A body in one pose: what of it is seen elsewhere than at rest.

    `moves` are the places of its components at rest and in the pose, each with the sort of component.
    """

    body: str
    pose: str
    motion: Motion
    moves: tuple[tuple[str, Spot, Spot], ...]

    @property
    def farthest(self) -> Spot | None:
        """Where the component is that is seen to move most; None if none is."""
        return max(self.moves, key=lambda move: dist(move[1], move[2]))[2] if self.moves else None


def poses(file: BuildFile, scene: Scene) -> list[tuple[str, Motion]]:
    """Return the poses of bodies that carry something drawn, without rest and without those that are combined."""
    used = {item.body for item in scene.items} | {way.body for way in scene.ways} | {hot.body for hot in scene.hot}
    found = []
    for body in file.bodies:
        names = {name for pose in file.bodies[body].poses for name in (pose, f"{pose} the other way")}
        found += [(body, motion) for motion in motions(file, body) if body in used - {CHASSIS} and motion.pose in names]
    return found


def ghosts(file: BuildFile, scene: Scene, paper: Paper) -> list[Ghost]:
    """Return every body in each of its poses as it is seen."""
    found = []
    for body, motion in poses(file, scene):
        moves = []
        for item in scene.items:
            spots = paper.at(item.at), paper.at(motion.of(item.at))
            if item.body == body and dist(*spots) > _SEEN_MM:
                moves.append((item.sort, *spots))
        found.append(Ghost(body, motion.pose or "", motion, tuple(moves)))
    return found


def places(file: BuildFile, scene: Scene) -> Iterator[Point]:
    """Yield where components and hot things get to in other poses [mm]."""
    for body, motion in poses(file, scene):
        yield from (motion.of(item.at) for item in scene.items if item.body == body)
        yield from (motion.of(point) for hot in scene.hot if hot.body == body for point in hot.path)


def ghost_parts(shown: Ghost, scene: Scene, paper: Paper) -> Iterator[str]:
    """Yield a body in a pose: lines and hot things that it carries, and components, tied to where they are at rest."""
    told = f"{shown.body} in {shown.pose}"
    yield f'<g data-kind="ghost"><title>{safe(told)}</title>'
    for way in scene.ways:
        if way.body == shown.body and _moves(way.middle, shown.motion, paper):
            yield ghost(shown.motion.carried(way.curve), paper)
    for hot in scene.hot:
        if hot.body == shown.body and _moves(hot.path[0], shown.motion, paper):
            spots = [paper.at(shown.motion.of(point)) for point in hot.path]
            yield f'<path d="{path_data(spots)}" fill="none" class="s-soft" stroke-width="0.2"/>'
    for sort, rest, gone in shown.moves:
        yield path([rest, gone], "soft", 0.15, 'stroke-dasharray="0.6 0.6"') + item_mark(sort, gone, ghostly=True)
    yield "</g>"


def _moves(point: Point, motion: Motion, paper: Paper) -> bool:
    return dist(paper.at(point), paper.at(motion.of(point))) > _SEEN_MM
