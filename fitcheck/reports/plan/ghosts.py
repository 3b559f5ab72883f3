"""What moves, in every pose that the checks look at: thin and grey, each pose in dashes of its own, tied to rest."""

from collections.abc import Iterator, Sequence
from math import dist, inf
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
"""What moves less on paper is not drawn again; poses that differ less are drawn as one."""
DASHES: Final = (
    "", "1.2 0.5", "0.3 0.4", "2.4 0.5", "1.2 0.4 0.3 0.4", "2.4 0.4 0.3 0.4", "1.2 0.4 0.3 0.4 0.3 0.4",
    "2.4 0.4 0.3 0.4 0.3 0.4", "0.3 0.9", "0.7 0.7", "4 0.7", "4 0.4 0.3 0.4",
)  # fmt: skip
"""Dash patterns of poses [mm on paper]; of poses with more names than these the last are not drawn."""


class Ghost(NamedTuple):
    """A body in one pose: what of it is seen elsewhere than at rest.

    `moves` are the places of its components at rest and in the pose, each with the sort of component; `moved` is
    whether anything of it is seen to move. `alike` are further poses in which the view shows the same. `combined` says
    that the file names the poses that this one is made of, not this one.
    """

    body: str
    pose: str
    motion: Motion
    moves: tuple[tuple[str, Spot, Spot], ...]
    moved: bool
    dash: str
    combined: bool
    alike: tuple[str, ...] = ()

    @property
    def farthest(self) -> Spot | None:
        """Where the component is that is seen to move most; None if none is."""
        return max(self.moves, key=lambda move: dist(move[1], move[2]))[2] if self.moves else None


def poses(file: BuildFile, scene: Scene) -> list[tuple[str, Motion]]:
    """Return every pose, rest left out, of the bodies that carry something drawn, as the checks look at them."""
    used = {item.body for item in scene.items} | {way.body for way in scene.ways} | {hot.body for hot in scene.hot}
    moving = [body for body in file.bodies if body in used - {CHASSIS}]
    return [(body, motion) for body in moving for motion in motions(file, body) if motion.pose is not None]


def _dashes(file: BuildFile, found: Sequence[tuple[str, Motion]]) -> dict[str, str]:
    """Return the dashes of each pose by its name, those that the file names in front."""
    names = dict.fromkeys(motion.pose or "" for _, motion in found)
    own = {name for body in file.bodies.values() for pose in body.poses for name in (pose, _other_way(pose))}
    ordered = [*(name for name in names if name in own), *(name for name in names if name not in own)]
    return dict(zip(ordered, DASHES, strict=False))


def _other_way(pose: str) -> str:
    return f"{pose} the other way"


def _drawn(file: BuildFile, scene: Scene) -> Iterator[tuple[str, Motion, str]]:
    """Yield each pose that is drawn, with its dashes."""
    found = poses(file, scene)
    dashes = _dashes(file, found)
    yield from ((body, motion, dashes[motion.pose or ""]) for body, motion in found if motion.pose in dashes)


def undrawn(file: BuildFile, scene: Scene) -> dict[str, tuple[str, ...]]:
    """Return the poses of each body that are looked at by the checks and not drawn, since there are too many."""
    found = poses(file, scene)
    dashes = _dashes(file, found)
    left: dict[str, dict[str, None]] = {}
    for body, motion in found:
        if motion.pose is not None and motion.pose not in dashes:
            left.setdefault(body, {})[motion.pose] = None
    return {body: tuple(names) for body, names in left.items()}


def ghosts(file: BuildFile, scene: Scene, paper: Paper) -> list[Ghost]:
    """Return every body in each of its poses as it is seen; poses that look the same are one."""
    found: list[Ghost] = []
    seen: list[list[Spot]] = []
    for body, motion, dash in _drawn(file, scene):
        rest, gone = _spots(scene, body, Motion(), paper), _spots(scene, body, motion, paper)
        pose = motion.pose or ""
        same = next(
            (at for at, each in enumerate(found) if each.body == body and _apart(seen[at], gone) <= _SEEN_MM), None
        )
        moved = _apart(rest, gone) > _SEEN_MM
        if same is not None and moved:
            found[same] = found[same]._replace(alike=tuple(dict.fromkeys((*found[same].alike, pose))))
            continue
        spots = [
            (item.sort, paper.at(item.at), paper.at(motion.of(item.at))) for item in scene.items if item.body == body
        ]
        moves = tuple(move for move in spots if dist(*move[1:]) > _SEEN_MM)
        own = {name for each in file.bodies[body].poses for name in (each, _other_way(each))}
        found.append(Ghost(body, pose, motion, moves, moved, dash, pose not in own))
        seen.append(gone)
    return found


def _spots(scene: Scene, body: str, motion: Motion, paper: Paper) -> list[Spot]:
    """Return where all that a body carries is seen in a pose."""
    points = [item.at for item in scene.items if item.body == body]
    points += [way.middle for way in scene.ways if way.body == body]
    points += [point for hot in scene.hot if hot.body == body for point in hot.path]
    return [paper.at(motion.of(point)) for point in points]


def _apart(one: Sequence[Spot], other: Sequence[Spot]) -> float:
    return max(map(dist, one, other), default=inf)


def places(file: BuildFile, scene: Scene) -> Iterator[Point]:
    """Yield where components and hot things get to in the poses that are drawn [mm]."""
    for body, motion, _ in _drawn(file, scene):
        yield from (motion.of(item.at) for item in scene.items if item.body == body)
        yield from (motion.of(point) for hot in scene.hot if hot.body == body for point in hot.path)


def dashed(dash: str) -> str:
    """Return the attribute of a dash pattern; nothing for a line drawn through."""
    return f'stroke-dasharray="{dash}"' if dash else ""


def ghost_parts(shown: Ghost, scene: Scene, paper: Paper) -> Iterator[str]:
    """Yield a body in a pose: lines and hot things that it carries, and components, tied to where they are at rest."""
    told = f"{shown.body} in {', '.join((shown.pose, *shown.alike))}"
    dash = dashed(shown.dash)
    yield f'<g data-kind="ghost"><title>{safe(told)}</title>'
    for way in scene.ways:
        if way.body == shown.body and _moves(way.middle, shown.motion, paper):
            yield ghost(shown.motion.carried(way.curve), paper, dash)
    for hot in scene.hot:
        if hot.body == shown.body and _moves(hot.path[0], shown.motion, paper):
            spots = [paper.at(shown.motion.of(point)) for point in hot.path]
            yield f'<path d="{path_data(spots)}" fill="none" class="s-soft" stroke-width="0.2"{dash and f" {dash}"}/>'
    for sort, rest, gone in shown.moves:
        yield path([rest, gone], "soft", 0.15, dash) + item_mark(sort, gone, ghostly=True, dash=dash)
    yield "</g>"


def _moves(point: Point, motion: Motion, paper: Paper) -> bool:
    return dist(paper.at(point), paper.at(motion.of(point))) > _SEEN_MM
