"""How much of a tube's centre-line lies above a height: where air stays, and how much of it.

Plain values only: lengths and heights in mm, volumes in mm3. Source: derived, from straights and circles.
"""

from collections.abc import Iterator
from math import acos, atan2, hypot, pi

from fitcheck.build.curves import Arc, Curve, Piece, Straight, length_of, part_of, point_at

_TINY = 1e-9


def slopes(curve: Curve) -> Iterator[Piece]:
    """Yield a curve's pieces, arcs cut at their highest and lowest points, so that each only climbs or only falls.

    >>> [type(piece).__name__ for piece in slopes((Arc((0, 0, 0), (1, 0, 0), (0, 0, 1), 10.0, pi),))]
    ['Arc', 'Arc']
    """
    for piece in curve:
        if isinstance(piece, Straight):
            yield piece
            continue
        cuts = sorted(turn * piece.radius_mm for turn in _level_at(piece))
        for start, end in zip([0.0, *cuts], [*cuts, length_of(piece)], strict=True):
            yield from part_of((piece,), start, end)


def length_above(piece: Piece, level_mm: float) -> float:
    """Return how much of a piece that only climbs or only falls lies above a height [mm].

    >>> length_above(Straight((0, 0, 0), (30, 0, 40)), 20.0)
    25.0
    """
    start, end = point_at(piece, 0.0)[2], point_at(piece, 1.0)[2]
    low, high = min(start, end), max(start, end)
    if level_mm >= high:
        return 0.0
    if level_mm <= low:
        return length_of(piece)
    share = (level_mm - start) / (end - start) if isinstance(piece, Straight) else _share_at(piece, level_mm)
    return length_of(piece) * (share if start > end else 1.0 - share)


def _level_at(arc: Arc) -> Iterator[float]:
    """Yield the turns [rad] inside an arc at which it runs level: its highest and its lowest point."""
    if hypot(arc.out[2], arc.along[2]) < _TINY:
        return
    turn = atan2(arc.along[2], arc.out[2]) % pi
    while turn < arc.angle_rad - _TINY:
        if turn > _TINY:
            yield turn
        turn += pi


def _share_at(arc: Arc, level_mm: float) -> float:
    """Return at which share of an arc that only climbs or only falls it passes a height: z = c + R k cos(t - phase)."""
    steep = hypot(arc.out[2], arc.along[2]) * arc.radius_mm
    phase = atan2(arc.along[2], arc.out[2])
    turn = acos(max(-1.0, min(1.0, (level_mm - arc.centre[2]) / steep)))
    tried = ((phase + sign * turn) % (2.0 * pi) for sign in (1.0, -1.0))
    inside = [min(found, arc.angle_rad) for found in tried if found <= arc.angle_rad + _TINY]
    return inside[0] / arc.angle_rad if inside else 0.0
