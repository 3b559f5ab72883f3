"""The shape of a hose that hangs between two points: how tight it bends, and how long it must be not to.

Plain values only: lengths in mm, angles in degrees. A hose is taken as an elastic rod that keeps its length, has no
weight, and whose ends are free to point where they like, since a port has no direction in the catalog. Such a rod
lies in a plane along the curve of least bending, the elastica with hinged ends. With the modulus k and the complete
elliptic integrals K and E: chord / length = 2 E / K - 1, greatest curvature = 4 k K / length, in the middle.

Limits: a fitting that points elsewhere bends the hose more, near that end; its own length and a hose's stiff ends
are taken as hose; nothing is said of weight, of pressure, or of what is in the way.

Source: derived; the elastica in closed form is classical (Euler 1744; from memory). That no curve of the same length
and chord bends less than the arc of a circle everywhere is Schur's comparison theorem (from memory).
"""

from collections.abc import Callable
from math import cos, inf, pi, sin, sqrt
from typing import Final, NamedTuple

FOLDED: Final = 0.9089085575485414
"""The modulus k at which both ends meet in one point: 2 E = K."""
_HALVINGS: Final = 200
_MEANS: Final = 8
"""Steps of the arithmetic-geometric mean: each doubles the digits, and k stays away from 1."""
_SERIES: Final = 0.1
"""Below this half angle [rad] x - sin x loses digits, its series does not."""


class Curve(NamedTuple):
    """The curve of least bending: its length and chord [mm], and the modulus k of its elliptic integrals.

    k is 0 for a hose pulled straight.
    """

    length_mm: float
    chord_mm: float
    modulus: float

    @property
    def radius_mm(self) -> float:
        """The smallest bend radius, in the middle of the hose; infinite if it is straight."""
        if self.modulus <= 0.0:
            return inf
        return self.length_mm / (4.0 * self.modulus * complete(self.modulus)[0])

    @property
    def sag_mm(self) -> float:
        """How far its middle lies off the straight line between its ends."""
        return self.modulus * self.length_mm / complete(self.modulus)[0]


def complete(modulus: float) -> tuple[float, float, float]:
    """Return the complete elliptic integrals K and E of a modulus k, and (K - E) / K without loss of digits.

    By the arithmetic-geometric mean (Gauss; from memory). Limits: 0 <= k < 1.

    >>> [round(value, 6) for value in complete(0.5)]
    [1.68575, 1.467462, 0.12949]
    """
    mean, other, off = 1.0, sqrt((1.0 - modulus) * (1.0 + modulus)), modulus
    total, weight = 0.5 * modulus**2, 1.0
    for _ in range(_MEANS):
        mean, other, off = (mean + other) / 2.0, sqrt(mean * other), (mean - other) / 2.0
        total += weight * off**2
        weight *= 2.0
    whole = pi / (2.0 * mean)
    return whole, whole * (1.0 - total), total


def free_curve(length_mm: float, chord_mm: float) -> Curve | None:
    """Return the curve of least bending of a hose between two points, None if it does not reach.

    For one length the smallest radius grows with the chord: it is least where both ends meet.

    >>> curve = free_curve(100.0, 50.0)
    >>> round(curve.radius_mm, 3), round(curve.sag_mm, 3)
    (20.113, 37.331)
    """
    if not 0.0 <= chord_mm <= length_mm < inf or length_mm == 0.0:
        return None
    slack = (length_mm - chord_mm) / length_mm
    modulus = _root(lambda k: 2.0 * complete(k)[2] - slack, 0.0, FOLDED)
    return Curve(length_mm, chord_mm, modulus if slack > 0.0 else 0.0)


def outline(curve: Curve, pieces: int = 64) -> list[tuple[float, float]]:
    """Return points along a hose from end to end [mm]: x along the straight between its ends, y off it, as it sags.

    Followed from the middle, where the angle is 0, by the rod's own equation, angle'' = -(2 K / length)^2 sin(angle),
    in small steps (Runge and Kutta). Limits: `pieces` is even. With 32 or more the error is below 1e-7 of the length.

    >>> points = outline(Curve(100.0, 100.0, 0.0), 2)
    >>> [(round(x, 6), round(y, 6)) for x, y in points]
    [(0.0, 0.0), (50.0, 0.0), (100.0, 0.0)]
    """
    stiff = (2.0 * complete(curve.modulus)[0] / curve.length_mm) ** 2
    step = curve.length_mm / (pieces * _FINE)
    state = (0.0, 0.0, 0.0, 0.0 if curve.modulus <= 0.0 else 1.0 / curve.radius_mm)
    half = [state]
    for index in range(pieces // 2 * _FINE):
        state = _followed(state, step, stiff)
        if (index + 1) % _FINE == 0:
            half.append(state)
    middle, sag = curve.chord_mm / 2.0, half[-1][1]
    right = [(middle + x, sag - y) for x, y, _, _ in half]
    return [(2.0 * middle - x, y) for x, y in right[:0:-1]] + right


_FINE: Final = 4
"""Steps from one point of an outline to the next."""
_State = tuple[float, float, float, float]


def _followed(state: _State, step: float, stiff: float) -> _State:
    """Return place, angle and curvature one step further along a hose."""

    def slope(at: _State) -> _State:
        return cos(at[2]), sin(at[2]), at[3], -stiff * sin(at[2])

    first = slope(state)
    second = slope(_ahead(state, first, step / 2.0))
    third = slope(_ahead(state, second, step / 2.0))
    fourth = slope(_ahead(state, third, step))
    mean = [(a + 2.0 * b + 2.0 * c + d) / 6.0 for a, b, c, d in zip(first, second, third, fourth, strict=True)]
    return _ahead(state, (mean[0], mean[1], mean[2], mean[3]), step)


def _ahead(state: _State, by: _State, step: float) -> _State:
    return state[0] + step * by[0], state[1] + step * by[1], state[2] + step * by[2], state[3] + step * by[3]


def widest_radius_mm(length_mm: float, chord_mm: float) -> float:
    """Return the radius of the arc of a circle between two points: however a hose is led, it bends as tight somewhere.

    Limits: 0 <= chord <= length, length above 0.

    >>> round(widest_radius_mm(50.0 * pi, 100.0), 9)
    50.0
    """
    slack = (length_mm - chord_mm) / length_mm
    half = _root(lambda angle: _arc_slack(angle) - slack, 0.0, pi)
    return length_mm / (2.0 * half) if slack > 0.0 and half > 0.0 else inf


def length_to_reach(chord_mm: float, slack: float) -> float:
    """Return the length [mm] that leaves this share of it as slack over a chord.

    >>> length_to_reach(190.0, 0.05)
    200.0
    """
    return chord_mm / (1.0 - slack)


def length_to_bend(chord_mm: float, radius_mm: float, least_mm: float) -> float:
    """Return the shortest length [mm], of at least `least_mm`, whose free curve over a chord keeps to a bend radius.

    Over one chord the radius falls as the hose gets longer, to 0.384 of the chord at 1.59 times its length, and grows
    again from there on: what is too tight at `least_mm` is put right by enough length.

    Limits: `least_mm` is no shorter than the chord.
    """
    if _radius(least_mm, chord_mm) >= radius_mm:
        return least_mm
    enough = 4.0 * FOLDED * complete(FOLDED)[0] * radius_mm  # what would do if both ends met in one point
    low, high = max(least_mm, _TIGHTEST * chord_mm), max(least_mm, _TIGHTEST * chord_mm, enough)
    if _radius(low, chord_mm) >= radius_mm:
        return low
    return _root(lambda length: _radius(length, chord_mm) - radius_mm, low, high)


_TIGHTEST: Final = 1.5907917775
"""Length over chord at which the free curve over a given chord bends tightest: where k (2 E - K) is greatest."""


def _radius(length_mm: float, chord_mm: float) -> float:
    curve = free_curve(length_mm, chord_mm)
    return curve.radius_mm if curve is not None else 0.0


def _arc_slack(half: float) -> float:
    """Return 1 - sin x / x: the slack of an arc with the half angle x [rad]."""
    if half > _SERIES:
        return 1.0 - sin(half) / half
    square = half**2
    return square / 6.0 * (1.0 - square / 20.0 * (1.0 - square / 42.0 * (1.0 - square / 72.0)))


def _root(rising: Callable[[float], float], low: float, high: float) -> float:
    """Return where a function that rises crosses zero, by halving; an end where it does not cross."""
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if middle in (low, high):
            break
        if rising(middle) < 0.0:
            low = middle
        else:
            high = middle
    return high
