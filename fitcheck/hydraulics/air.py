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
