"""Air in the fluid: bubbles are squeezed to nothing before there is pressure, dissolved air takes no stroke."""

from typing import Final

from fitcheck.hydraulics.record import Figure
from fitcheck.standards.fluids import dissolved_air

ATMOSPHERE_MPA: Final = 0.101325
"""Standard atmosphere, exact by definition."""


def lost_mm3(
    air_mm3: float, pressure_mpa: float, exponent: float = 1.0, atmosphere_mpa: float = ATMOSPHERE_MPA
) -> float:
    """Return how much of a volume of free air at atmospheric pressure is gone at a gauge pressure [mm3].

    `exponent` is 1 for slow work (isothermal), 1.4 for a blow (adiabatic). Source: gas law; derived.

    >>> round(lost_mm3(1000.0, 10.0), 1)
    990.0
    """
    left: float = (atmosphere_mpa / (atmosphere_mpa + pressure_mpa)) ** (1.0 / exponent)
    return air_mm3 * (1.0 - left)


def aerated_modulus_mpa(
    modulus_mpa: float,
    air_share: float,
    pressure_mpa: float,
    exponent: float = 1.0,
    atmosphere_mpa: float = ATMOSPHERE_MPA,
) -> float:
    """Return the modulus [MPa] of fluid with bubbles in it at a gauge pressure, for a further small rise.

    `air_share` is the volume of air at atmospheric pressure over that of the fluid. Source: derived from the gas law.

    >>> round(aerated_modulus_mpa(1800.0, 0.0, 5.0), 1), round(aerated_modulus_mpa(1800.0, 0.02, 5.0), 1)
    (1800.0, 1579.3)
    """
    absolute = atmosphere_mpa + pressure_mpa
    gas: float = air_share * (atmosphere_mpa / absolute) ** (1.0 / exponent)
    return modulus_mpa * (1.0 + gas) / (1.0 + gas * modulus_mpa / (exponent * absolute))


def dissolved_figure(family: str, key: str) -> Figure | None:
    """Return the share of air that a fluid family holds in solution when full of it; None where nobody knows.

    It stands beside the answer and is in no sum: it takes no stroke until heat or suction brings it out.

    Raises:
        UnknownFamilyError: it is no fluid family.
    """
    found = dissolved_air(family)
    if found is None:
        return None
    words = f"air dissolved in {family} fluid when full of it, takes no stroke until it comes out; {found.mark}"
    low, high = found.share - found.plus_minus, found.share + found.plus_minus
    return Figure(key, found.share, "", "standard", words, low, high)
