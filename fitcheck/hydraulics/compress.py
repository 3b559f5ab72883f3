"""How far the fluid itself is squeezed, and how stiff it is together with the tube around it."""

from fitcheck.hydraulics.record import Figure
from fitcheck.standards.fluids import Modulus, modulus


def squeeze_mm3(volume_mm3: float, pressure_mpa: float, modulus_mpa: float) -> float:
    """Return by how much a volume of fluid shrinks under pressure [mm3]: V p / K.

    Limits: the modulus is taken as one figure over the whole rise of pressure. Source: definition of the bulk modulus.

    >>> round(squeeze_mm3(10_000.0, 10.0, 1800.0), 2)
    55.56
    """
    return volume_mm3 * pressure_mpa / modulus_mpa


def series_modulus_mpa(
    modulus_mpa: float, bore_mm: float, wall_mm: float, elastic_mpa: float, ends: float = 1.0
) -> float:
    """Return the modulus [MPa] of fluid in a tube that stretches: 1 / (1/K + d ends / (t E)).

    `ends` is 1 for a tube that may grow longer freely, 5/4 - nu for closed ends. Limits: thin wall. Source: textbooks
    on water hammer.

    >>> round(series_modulus_mpa(2000.0, 900.0, 12.5, 100_000.0), 1)
    819.7
    """
    return 1.0 / (1.0 / modulus_mpa + bore_mm * ends / (wall_mm * elastic_mpa))


def modulus_figure(family: str, key: str) -> Figure:
    """Return the bulk modulus of a fluid family as a figure that an answer rests on, under the field that names it.

    Raises:
        UnknownFamilyError: it is no fluid family.
    """
    found: Modulus = modulus(family)
    source = f"bulk modulus of {family} fluid, 100 to 20 degC; {found.mark}"
    return Figure(key, found.mpa, "MPa", "assumed", source, found.low_mpa, found.high_mpa)
