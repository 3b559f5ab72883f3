"""Fluid on its way through a line: what pressure that costs, how long it lags, how fast a blow travels.

Lengths in mm, flow in mm3/s, speeds in mm/s, pressure in MPa, kinematic viscosity in mm2/s, density in kg/m3.
Limits: a straight round tube, steady flow, viscosity as at rest; fittings and bends are left out.
"""

from math import pi, sqrt
from typing import Final, NamedTuple

LAMINAR: Final = 2000.0
"""Reynolds number up to which flow in a tube is laminar. Source: textbooks of fluid mechanics."""
_PASCAL_SECONDS: Final = 1e-12
"""Density [kg/m3] times kinematic viscosity [mm2/s] in MPa s."""


class Loss(NamedTuple):
    """Pressure lost along a line [MPa], and the Reynolds number; where that is not `laminar` more is lost."""

    mpa: float
    reynolds: float

    @property
    def laminar(self) -> bool:
        """Whether the law holds."""
        return self.reynolds <= LAMINAR


def mean_speed_mm_s(flow_mm3_s: float, bore_mm: float) -> float:
    """Return the mean speed of a flow through a bore [mm/s].

    >>> round(mean_speed_mm_s(10_000.0, 3.34), 1)
    1141.3
    """
    return flow_mm3_s / (pi / 4.0 * bore_mm**2)


def resistance(length_mm: float, bore_mm: float, viscosity_mm2_s: float, density_kg_m3: float) -> float:
    """Return the pressure that each unit of laminar flow costs [MPa s/mm3]: 128 mu L / (pi D4).

    Source: the law of Hagen and Poiseuille.
    """
    return 128.0 * viscosity_mm2_s * density_kg_m3 * _PASCAL_SECONDS * length_mm / (pi * bore_mm**4)


def laminar_loss(
    flow_mm3_s: float, length_mm: float, bore_mm: float, viscosity_mm2_s: float, density_kg_m3: float
) -> Loss:
    """Return what a laminar flow through a line costs, and whether it is laminar.

    >>> found = laminar_loss(10_000.0, 3000.0, 3.34, 15.0, 1060.0)
    >>> round(found.mpa, 2), found.laminar
    (0.16, True)
    """
    mpa = flow_mm3_s * resistance(length_mm, bore_mm, viscosity_mm2_s, density_kg_m3)
    return Loss(mpa, mean_speed_mm_s(flow_mm3_s, bore_mm) * bore_mm / viscosity_mm2_s)


def lag_s(length_mm: float, bore_mm: float, viscosity_mm2_s: float, density_kg_m3: float, give_mm3_mpa: float) -> float:
    """Return the time constant [s] with which what lies behind a line, and gives, follows the pressure before it.

    >>> round(lag_s(3000.0, 3.34, 1800.0, 1060.0, 200.0), 3)
    0.375
    """
    return resistance(length_mm, bore_mm, viscosity_mm2_s, density_kg_m3) * give_mm3_mpa


def wave_speed_mm_s(modulus_mpa: float, density_kg_m3: float) -> float:
    """Return how fast a change of pressure travels [mm/s]: sqrt(K / rho).

    `modulus_mpa` is that of the fluid, or of fluid and wall together: see `series_modulus_mpa`.

    >>> round(wave_speed_mm_s(1800.0, 1060.0) / 1e6, 2)
    1.3
    """
    return 1e6 * sqrt(modulus_mpa / density_kg_m3)


def surge_mpa(density_kg_m3: float, wave_mm_s: float, speed_mm_s: float) -> float:
    """Return the pressure that a flow makes when it is stopped at once [MPa]: rho c v. Source: Joukowsky's formula.

    >>> round(surge_mpa(1060.0, 1.3e6, 1000.0), 3)
    1.378
    """
    return density_kg_m3 * wave_mm_s * speed_mm_s * _PASCAL_SECONDS
