"""Turns in space as unit quaternions (w, x, y, z): degrees, right-handed. Source: derived (Euler-Rodrigues)."""

from math import atan2, cos, degrees, hypot, radians, sin
from typing import Final

Vector = tuple[float, float, float]
Quaternion = tuple[float, float, float, float]
NO_TURN: Final[Quaternion] = (1.0, 0.0, 0.0, 0.0)


def rotation(axis: Vector, angle_deg: float) -> Quaternion:
    """Return the turn about an axis, right-handed seen along it. Limits: the axis has a length."""
    length = hypot(*axis)
    half = radians(angle_deg) / 2.0
    x, y, z = (sin(half) * part / length for part in axis)
    return cos(half), x, y, z


def turned(turn: Quaternion, vector: Vector) -> Vector:
    """Return a vector turned.

    >>> [round(value, 9) for value in turned(rotation((0.0, 0.0, 1.0), 90.0), (1.0, 0.0, 2.0))]
    [0.0, 1.0, 2.0]
    """
    w, x, y, z = turn
    a, b, c = vector
    # twice the cross product of the quaternion's vector part with the vector
    p, q, r = 2.0 * (y * c - z * b), 2.0 * (z * a - x * c), 2.0 * (x * b - y * a)
    return a + w * p + y * r - z * q, b + w * q + z * p - x * r, c + w * r + x * q - y * p


def after(second: Quaternion, first: Quaternion) -> Quaternion:
    """Return the turn that is `first` and then `second`."""
    a, b = second, first
    return (
        a[0] * b[0] - a[1] * b[1] - a[2] * b[2] - a[3] * b[3],
        a[0] * b[1] + a[1] * b[0] + a[2] * b[3] - a[3] * b[2],
        a[0] * b[2] - a[1] * b[3] + a[2] * b[0] + a[3] * b[1],
        a[0] * b[3] + a[1] * b[2] - a[2] * b[1] + a[3] * b[0],
    )


def back(turn: Quaternion) -> Quaternion:
    """Return the turn the other way."""
    w, x, y, z = turn
    return w, -x, -y, -z


def twist_deg(one: Quaternion, other: Quaternion, along: Vector) -> float:
    """Return how far `other` turns against `one` about a direction, above -180 to 180 degrees.

    `along` is the direction as it stands after both turns. Turns across it bend and do not count. 0 where the
    direction has no length.

    >>> round(twist_deg(NO_TURN, rotation((0.0, 0.0, 1.0), 30.0), (0.0, 0.0, 5.0)), 9)
    30.0
    """
    w, *vector = after(back(one), other)
    axis = turned(back(one), along)
    length = hypot(*axis)
    if length == 0.0:
        return 0.0
    part = sum(a * b for a, b in zip(vector, axis, strict=True)) / length
    twist = degrees(2.0 * atan2(part, w))
    return twist - 360.0 if twist > 180.0 else twist + 360.0 if twist <= -180.0 else twist
