"""Fluid on its way through a line: what pressure that costs, and how long it lags.

Lengths in mm, flow in mm3/s, pressure in MPa, kinematic viscosity in mm2/s, density in kg/m3.
Limits: a straight round tube, steady flow, viscosity as at rest; fittings and bends are left out.
"""

from math import pi
from typing import Final

_PASCAL_SECONDS: Final = 1e-12
"""Density [kg/m3] times kinematic viscosity [mm2/s] in MPa s."""


def resistance(length_mm: float, bore_mm: float, viscosity_mm2_s: float, density_kg_m3: float) -> float:
    """Return the pressure that each unit of laminar flow costs [MPa s/mm3]: 128 mu L / (pi D4).

    Source: the law of Hagen and Poiseuille.
    """
    return 128.0 * viscosity_mm2_s * density_kg_m3 * _PASCAL_SECONDS * length_mm / (pi * bore_mm**4)


def lag_s(length_mm: float, bore_mm: float, viscosity_mm2_s: float, density_kg_m3: float, give_mm3_mpa: float) -> float:
    """Return the time constant [s] with which what lies behind a line, and gives, follows the pressure before it.

    >>> round(lag_s(3000.0, 3.34, 1800.0, 1060.0, 200.0), 3)
    0.375
    """
    return resistance(length_mm, bore_mm, viscosity_mm2_s, density_kg_m3) * give_mm3_mpa
