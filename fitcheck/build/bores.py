"""What slides past a bend: a nut along a bent tube, or a bent tube through the hole of a panel. Lengths in mm."""

from math import cos, inf, radians, sin, sqrt, tan
from typing import Final

_BACK_DEG: Final = 180.0


def bore_needed(od_mm: float, radius_mm: float, angle_deg: float, length_mm: float) -> float:
    """Return the least straight bore [mm] of a length [mm] that slides past one bend of a tube.

    With the radius of the inner side, Ri = R - d / 2, and half the length, h = L / 2:

    - b = d + Ri - sqrt(Ri^2 - h^2) where the bore ends on the bend, h <= Ri sin(A / 2);
    - b = d + Ri - Ri cos(A / 2) + (h - Ri sin(A / 2)) tan(A / 2) where it reaches over both its legs.

    The first is the sagitta of the inner side over the bore's length. Half way the bore lies across the middle of the
    bend, and no other place there needs less. A panel's hole is such a bore: its length is the panel's thickness.
    Limits: one bend by itself, tube as round in the bend as before. Source: derived.

    >>> round(bore_needed(4.76, 14.3, 90.0, 9.5), 3)
    5.747
    >>> bore_needed(4.76, 14.3, 180.0, 30.0)
    inf
    """
    inner = max(radius_mm - od_mm / 2.0, 0.0)
    half = length_mm / 2.0
    turn = radians(angle_deg) / 2.0
    reach = inner * sin(turn) if angle_deg < _BACK_DEG else inner
    if half <= reach:
        return od_mm + inner - sqrt(inner * inner - half * half)
    if angle_deg >= _BACK_DEG:
        return inf
    return od_mm + inner * (1.0 - cos(turn)) + (half - reach) * tan(turn)
