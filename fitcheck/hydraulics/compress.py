"""How far the fluid itself is squeezed."""

from fitcheck.hydraulics.record import Figure
from fitcheck.standards.fluids import Modulus, modulus


def squeeze_mm3(volume_mm3: float, pressure_mpa: float, modulus_mpa: float) -> float:
    """Return by how much a volume of fluid shrinks under pressure [mm3]: V p / K.

    Limits: the modulus is taken as one figure over the whole rise of pressure. Source: definition of the bulk modulus.

    >>> round(squeeze_mm3(10_000.0, 10.0, 1800.0), 2)
    55.56
    """
    return volume_mm3 * pressure_mpa / modulus_mpa


def modulus_figure(family: str, key: str) -> Figure:
    """Return the bulk modulus of a fluid family as a figure that an answer rests on, under the field that names it.

    Raises:
        UnknownFamilyError: it is no fluid family.
    """
    found: Modulus = modulus(family)
    source = f"bulk modulus of {family} fluid, 100 to 20 degC; {found.mark}"
    return Figure(key, found.mpa, "MPa", "assumed", source, found.low_mpa, found.high_mpa)
