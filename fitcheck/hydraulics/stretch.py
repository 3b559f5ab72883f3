"""How far a tube stretches under pressure inside: thick wall by the elastic solution of a ring.

Lengths in mm, pressures and moduli in MPa, strains and ratios plain. Closed ends: the tube carries its own end load, as
a line between two fittings does that are not held. Nothing presses from outside.
Source: Lame's solution of the thick ring, as in textbooks of strength of materials.
"""

from math import pi
from typing import NamedTuple


class Stress(NamedTuple):
    """Stresses [MPa], tension positive."""

    radial: float
    hoop: float
    axial: float


class Strain(NamedTuple):
    """Strains at the bore. The share by which the volume inside grows is twice the hoop strain and the axial one."""

    hoop: float
    axial: float

    @property
    def volume(self) -> float:
        """Share by which the volume inside grows."""
        return 2.0 * self.hoop + self.axial


def thick_stress(
    pressure_mpa: float, bore_mm: float, outside_mm: float, at_mm: float, *, closed: bool = True
) -> Stress:
    """Return the stresses in a thick wall at a diameter between bore and outside.

    >>> round(thick_stress(80.0, 400.0, 600.0, 400.0).hoop, 6), round(thick_stress(80.0, 400.0, 600.0, 600.0).hoop, 6)
    (208.0, 128.0)
    """
    even = pressure_mpa * bore_mm**2 / (outside_mm**2 - bore_mm**2)
    ring = even * outside_mm**2 / at_mm**2
    return Stress(even - ring, even + ring, even if closed else 0.0 * even)


def thick_strain(
    pressure_mpa: float, bore_mm: float, outside_mm: float, elastic_mpa: float, poisson: float, *, closed: bool = True
) -> Strain:
    """Return the strains at the bore of a thick wall; the hoop strain is the share by which the bore grows.

    >>> round(thick_strain(70.0, 300.0, 400.0, 200_000.0, 0.3, closed=False).hoop * 200_000.0 * 150.0, 1)
    40650.0
    """
    stress = thick_stress(pressure_mpa, bore_mm, outside_mm, bore_mm, closed=closed)
    hoop = (stress.hoop - poisson * (stress.axial + stress.radial)) / elastic_mpa
    return Strain(hoop, (stress.axial - poisson * (stress.hoop + stress.radial)) / elastic_mpa)


def stretch_mm3(
    pressure_mpa: float, bore_mm: float, wall_mm: float, length_mm: float, elastic_mpa: float, poisson: float
) -> float:
    """Return by how much the volume inside a line grows [mm3], thick wall, closed ends.

    Limits: straight and round tube; bends are a little softer.

    >>> round(stretch_mm3(10.0, 3.34, 0.71, 1000.0, 205_000.0, 0.29), 1)
    2.7
    """
    volume = pi / 4.0 * bore_mm**2 * length_mm
    return volume * thick_strain(pressure_mpa, bore_mm, bore_mm + 2.0 * wall_mm, elastic_mpa, poisson).volume
