"""Where moving bodies can be: their named poses, and how these combine. Lengths in mm, angles in degrees.

A body's poses combine so:

- shifts (droop, bump) are one motion: the body takes one of them, or none;
- turns about one axis (lock) are one motion too. Where the file turns the body one way only, it is taken to turn as
  far the other way: steering has a lock on both sides. A turn stated for each way is taken as stated;
- motions of different kind, or about different axes, are independent and combine: each of {rest, droop, bump} with
  each of {rest, lock, lock the other way}. The turn's axis moves with the shift, as a kingpin does. Turns about
  several axes are taken in every order, since the file does not say which carries which;
- a pose that states both a shift and a turn (turned first, then shifted) stands alone and combines with nothing.

Limit: what lies between two poses on the way is not looked at: state one more pose where that counts.
"""

from collections.abc import Iterator, Sequence
from itertools import permutations, product
from math import hypot, inf, prod
from typing import Final, NamedTuple

from fitcheck.build.curves import Arc, Curve, Piece, Straight
from fitcheck.build.load import CHASSIS, MM
from fitcheck.build.model import About, BuildFile, Pose
from fitcheck.build.rotations import NO_TURN, Quaternion, Vector, after, rotation, turned
from fitcheck.naming import in_order

MOST: Final = 100
"""Positions of one body up to which all are looked at; of more, the first poses are, each by itself."""
_MOST_AXES: Final = 4


class Motion(NamedTuple):
    """A rigid motion from rest: a turn and then a shift [mm]. `pose` is the pose it leads to, None for rest.

    Poses that are combined are named together: `droop and lock`.
    """

    pose: str | None = None
    turn: Quaternion = NO_TURN
    shift: Vector = (0.0, 0.0, 0.0)

    def of(self, point: Vector) -> Vector:
        """Return where a point goes."""
        x, y, z = turned(self.turn, point)
        return x + self.shift[0], y + self.shift[1], z + self.shift[2]

    def carried(self, curve: Curve) -> Curve:
        """Return where a curve goes."""
        return curve if self.pose is None else tuple(map(self._piece, curve))

    def then(self, other: "Motion") -> "Motion":
        """Return the motion that is this one and then `other`."""
        pose = " and ".join(name for name in (self.pose, other.pose) if name is not None) or None
        return Motion(pose, after(other.turn, self.turn), other.of(self.shift))

    def _piece(self, piece: Piece) -> Piece:
        if isinstance(piece, Straight):
            return Straight(self.of(piece.start), self.of(piece.end))
        out, along = turned(self.turn, piece.out), turned(self.turn, piece.along)
        return Arc(self.of(piece.centre), out, along, piece.radius_mm, piece.angle_rad)


REST: Final = Motion()


def motion_about(point: Vector, axis: Vector, angle_deg: float, pose: str | None = None) -> Motion:
    """Return the turn about an axis through a point [mm], right-handed seen along the axis.

    Limits: the axis has a length. Source: derived.

    >>> [round(value, 9) for value in motion_about((1.0, 0.0, 0.0), (0.0, 0.0, 2.0), 90.0).of((2.0, 0.0, 5.0))]
    [1.0, 1.0, 5.0]
    """
    turn = rotation(axis, angle_deg)
    gone = turned(turn, point)
    return Motion(pose, turn, (point[0] - gone[0], point[1] - gone[1], point[2] - gone[2]))


def motions(file: BuildFile, body: str) -> tuple[Motion, ...]:
    """Return the motion to every position that a body takes, rest first; rest alone if the file gives no poses.

    Poses whose axis has no direction are left out. Of a body with more than `MOST` positions the first poses are
    taken, and not combined. What of that is so `unclear_poses` tells.
    """
    shifts, turns, alone = _by_kind(file, body)
    if _count(shifts, turns) + len(alone) > MOST:
        return (REST, *shifts, *(turn for group in turns for turn in group), *alone)[:MOST]
    return (*_combined(shifts, turns), *alone)


def unclear_poses(file: BuildFile, body: str) -> list[str]:
    """Return the fields of a body that would have to say otherwise for all of its positions to be looked at."""
    poses = file.bodies[body].poses if body in file.bodies else {}
    found = [f"bodies.{body}.poses.{name}.about.axis" for name, pose in poses.items() if not _clear(pose)]
    shifts, turns, alone = _by_kind(file, body)
    if _count(shifts, turns) + len(alone) > MOST:
        found.append(f"bodies.{body}.poses: fewer of them, which make {MOST} positions at most")
    return found


def _by_kind(file: BuildFile, body: str) -> tuple[list[Motion], list[list[Motion]], list[Motion]]:
    """Return a body's shifts, its turns by axis, and its poses that stand alone."""
    if body == CHASSIS or body not in file.bodies:
        return [], [], []
    unit = MM[file.coordinates]
    poses = {name: pose for name, pose in file.bodies[body].poses.items() if _clear(pose)}
    shifts = [_shift(name, pose, unit) for name, pose in poses.items() if pose.turn is None]
    both = [(name, pose) for name, pose in poses.items() if pose.turn is not None and pose.shift is not None]
    alone = [_turn(None, pose, unit, 1.0).then(_shift(name, pose, unit)) for name, pose in both]
    return shifts, list(_turns(poses, unit)), alone


def _count(shifts: Sequence[Motion], turns: Sequence[Sequence[Motion]]) -> float:
    """Return how many positions are looked at, at most."""
    if len(turns) > _MOST_AXES:
        return inf
    return (len(shifts) + 1) * prod(len(group) + 1 for group in turns) * prod(range(1, len(turns) + 1))


def _combined(shifts: Sequence[Motion], turns: Sequence[Sequence[Motion]]) -> Iterator[Motion]:
    """Yield rest, and one of each motion with one of each other, or none."""
    for shift in (REST, *shifts):
        for chosen in product(*([REST, *group] for group in turns)):
            taken = [motion for motion in chosen if motion.pose is not None]
            names = [name for name in (shift.pose, *(motion.pose for motion in taken)) if name is not None]
            for order in permutations(taken):
                whole = REST
                for motion in order:
                    whole = whole.then(motion)
                yield whole.then(shift)._replace(pose=" and ".join(names) or None)


def _turns(poses: dict[str, Pose], unit: float) -> Iterator[list[Motion]]:
    """Yield the turns about each axis; both ways where the file states one way only."""
    groups: dict[tuple[float, ...], list[tuple[str, Pose, float]]] = {}
    for name in sorted(poses, key=in_order):
        pose = poses[name]
        if pose.turn is not None and pose.about is not None and pose.shift is None:
            line, sign = _line(pose.about)
            groups.setdefault(line, []).append((name, pose, sign * float(pose.turn)))
    for line in sorted(groups):
        group = groups[line]
        found = [_turn(name, pose, unit, 1.0) for name, pose, _ in group]
        if all(angle >= 0.0 for *_, angle in group) or all(angle <= 0.0 for *_, angle in group):
            found += [_turn(f"{name} the other way", pose, unit, -1.0) for name, pose, _ in group]
        yield found


def _line(about: About) -> tuple[tuple[float, ...], float]:
    """Return what tells one axis from another, and 1 or -1: the way in which it points along its line."""
    length = hypot(*about.axis)
    unit = [part / length for part in about.axis]
    sign = 1.0 if next(part for part in unit if abs(part) > 1e-9) > 0.0 else -1.0
    along = sum(a * b for a, b in zip(unit, about.point, strict=True))
    foot = [point - along * part for point, part in zip(about.point, unit, strict=True)]
    return tuple(round(value, 6) + 0.0 for value in (*(sign * part for part in unit), *foot)), sign


def _clear(pose: Pose) -> bool:
    return pose.about is None or 0.0 < hypot(*pose.about.axis) < inf


def _shift(name: str, pose: Pose, unit: float) -> Motion:
    x, y, z = pose.shift or (0.0, 0.0, 0.0)
    return Motion(name, shift=(x * unit, y * unit, z * unit))


def _turn(name: str | None, pose: Pose, unit: float, sign: float) -> Motion:
    if pose.turn is None or pose.about is None:
        return Motion(name)
    x, y, z = pose.about.point
    return motion_about((x * unit, y * unit, z * unit), pose.about.axis, sign * float(pose.turn), name)
