"""Figures as the user of a build is told them, in the units that they measure in.

A length is told by what is done with it: read off a tape, cut or written down (`tape`, `cut_length`, `long_text`,
`whole`: 1/32 in on an inch rule), compared or computed (`fine`, `tenths`: 0.001 in), a size that is given (`exact`,
`given`), one that may only be larger (`at_least`, `no_shorter`) or smaller (`no_longer`), or a rule of thumb
(`spacing_text`). They take mm and the unit to tell it in. Those that share a row here differ in what they tell in mm
only.
"""

from collections.abc import Callable
from functools import partial
from math import ceil, floor, gcd
from typing import Final, Literal, NamedTuple

from fitcheck.quantities import render
from fitcheck.units import UNITS

LengthUnit = Literal["mm", "in"]
INCH_MM: Final = 25.4
LBF_N: Final = 4.4482216152605
PSI_MPA: Final = LBF_N / INCH_MM**2
LBF_FT_NMM: Final = LBF_N * 12.0 * INCH_MM
"""Pound-force, pound-force per square inch, pound-force foot: exact by definition (NIST SP 811, 2008)."""
HALF_MM: Final = 0.5
_FINEST_DECIMALS: Final = 9
FINEST_INCH: Final = 32
"""Parts of an inch that a workshop rule shows."""


class Units(NamedTuple):
    """What the user measures in: lengths in `length`, forces and pressures like these quantities."""

    length: LengthUnit = "mm"
    force: str = "1 N"
    pressure: str = "1 MPa"

    @property
    def pounds(self) -> bool:
        """True if forces are told in pounds, pressures in psi, torques in pound feet."""
        return "psi" in self.pressure

    @property
    def torque(self) -> str:
        """A torque like which torques are told."""
        return "1 lbf.ft" if self.pounds else "1 N m"


METRIC: Final = Units()
"""Millimetres, newtons, megapascals: what a build is told in whose author writes no other."""


def number(value: float, places: int = 2) -> str:
    """Return a number with at most `places` decimals and no idle zeros: `4.76`, `8`, `0`."""
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def half_mm(mm: float) -> float:
    """Return a length to the nearest half millimetre; what lies in the middle goes up.

    >>> half_mm(105.7), half_mm(105.75)
    (105.5, 106.0)
    """
    return floor(mm / HALF_MM + 0.5) * HALF_MM


def thirty_seconds(mm: float) -> int:
    """Return how many 1/32 in a length [mm] is, to the nearest; what lies in the middle goes up.

    >>> thirty_seconds(13.5033 * 25.4)
    432
    """
    return floor(mm / INCH_MM * FINEST_INCH + 0.5)


def rounded_mm(mm: float, unit: str) -> float:
    """Return a length [mm] as it is read off a tape in `unit`, `mm` or `in`."""
    return thirty_seconds(mm) / FINEST_INCH * INCH_MM if unit == "in" else half_mm(mm)


def tape(mm: float, unit: str) -> str:
    """Return a length as it is read off a tape: to the half millimetre, or to 1/32 in.

    >>> tape(105.7, "mm"), tape(13.5033 * 25.4, "in"), tape(6.0, "in")
    ('105.5 mm', '13 1/2 in', '1/4 in')
    """
    return _ruled(mm, unit, number(half_mm(mm), 1))


def cut_length(mm: float, unit: str) -> str:
    """Return a length to cut or buy: to a tenth of a mm, or to 1/32 in.

    >>> cut_length(105.66, "mm"), cut_length(7620.0, "in"), cut_length(-6.35, "in")
    ('105.7 mm', '300 in', '-1/4 in')
    """
    return _ruled(mm, unit, number(mm, 1))


def bare_length(mm: float, unit: str) -> str:
    """Return a length as `cut_length` does, without its unit, for a row of lengths.

    >>> bare_length(105.66, "mm"), bare_length(7620.0, "in")
    ('105.7', '300')
    """
    return cut_length(mm, unit).rpartition(" ")[0]


def long_text(mm: float, unit: str) -> str:
    """Return a length to cut as `cut_length` does, its tenth of a mm always shown.

    >>> long_text(40.0, "mm"), long_text(40.0, "in")
    ('40.0 mm', '1 9/16 in')
    """
    return _ruled(mm, unit, f"{mm:.1f}")


def fine(mm: float, unit: str) -> str:
    """Return a length that is compared with another: to a tenth of a mm, or to a thousandth of an inch.

    >>> fine(12.8, "mm"), fine(12.8, "in")
    ('12.8 mm', '0.504 in')
    """
    return _decimal(mm, unit, 3, number(mm, 1))


def tenths(mm: float, unit: str) -> str:
    """Return a computed length, to a tenth of a mm that is always shown, or to a thousandth of an inch.

    >>> tenths(40.0, "mm"), tenths(40.0, "in")
    ('40.0 mm', '1.575 in')
    """
    return f"{mm / INCH_MM:.3f} in" if unit == "in" else f"{mm:.1f} mm"


def exact(mm: float, unit: str) -> str:
    """Return a given size with its unit, not rounded to what a tape shows: a radius, a hole, a tube.

    >>> exact(14.2875, "mm"), exact(14.2875, "in")
    ('14.29 mm', '0.5625 in')
    """
    return _decimal(mm, unit, 4, number(mm))


def given(mm: float, unit: str) -> str:
    """Return a size that a build, a catalog or a standard states, to six figures, or in inches as `exact` has it.

    >>> given(14.3, "mm"), given(14.3, "in")
    ('14.3 mm', '0.563 in')
    """
    return _decimal(mm, unit, 4, f"{mm:g}")


def whole(mm: float, unit: str) -> str:
    """Return a length as a person writes it down after measuring: in whole mm, or to 1/32 in.

    >>> whole(1103.3, "mm"), whole(1103.3, "in")
    ('1103 mm', '43 7/16 in')
    """
    return _ruled(mm, unit, f"{mm:.0f}")


def at_least(mm: float, unit: str) -> str:
    """Return a size that may be larger but not smaller: in inches the fourth decimal is rounded up.

    >>> at_least(12.0, "mm"), at_least(12.0, "in")
    ('12 mm', '0.4725 in')
    """
    return f"{number(ceil(mm / INCH_MM * 1e4 - 1e-6) / 1e4, 4)} in" if unit == "in" else f"{mm:g} mm"


def no_shorter(mm: float, unit: str) -> str:
    """Return a length that may be longer but not shorter: as `exact` has it, in inches up to the next 1/32 in.

    >>> no_shorter(290.0, "mm"), no_shorter(290.0, "in"), no_shorter(304.8, "in")
    ('290 mm', '11 7/16 in', '12 in')
    """
    return exact(mm, unit) if unit != "in" else _fraction(ceil(mm / INCH_MM * FINEST_INCH - 1e-6))


def no_longer(mm: float, unit: str) -> str:
    """Return a length that may be shorter but not longer: as `cut_length` has it where that is not more, else down.

    >>> no_longer(902.97, "mm"), no_longer(902.97, "in"), no_longer(304.8, "in"), no_longer(5000.0, "in")
    ('902.9 mm', '35.55 in', '12 in', '196.8503 in')
    """
    if unit != "in":
        return f"{number(floor(mm * 10 + 1e-6) / 10, 1)} mm"
    if abs(mm - rounded_mm(mm, unit)) < 1e-6:
        return cut_length(mm, unit)
    return f"{number(floor(mm / INCH_MM * 1e4 + 1e-6) / 1e4, 4)} in"


def spacing_text(mm: float, unit: str, told: Callable[[float, str], str] = exact) -> str:
    """Return a distance that is a rule of thumb: `told` in mm, to a hundredth of an inch.

    >>> spacing_text(350.0, "mm"), spacing_text(350.0, "in")
    ('350 mm', '13.78 in')
    """
    return f"{number(mm / INCH_MM, 2)} in" if unit == "in" else told(mm, unit)


def length_text(mm: float, units: Units) -> str:
    """Return a stroke or way [mm] to a tenth of a mm, or to a hundredth of an inch."""
    return f"{mm:.1f} mm" if units.length == "mm" else f"{mm / INCH_MM:.2f} in"


def force_text(newton: float, units: Units) -> str:
    """Return a force [N], whole in newtons, as finely as usual in other units."""
    return render(round(newton) if units.force.endswith(" N") else round(newton, 2), "force", units.force)


def pressure_text(mpa: float, units: Units) -> str:
    """Return a pressure [MPa] to three figures, or in whole psi."""
    return render(mpa, "pressure", "1 psi") if units.pounds else f"{mpa:.3g} MPa"


def rating_text(mpa: float, units: Units) -> str:
    """Return a stated pressure rating to six figures in MPa, or in whole psi."""
    return render(mpa, "pressure", "1 psi") if units.pounds else f"{mpa:g} MPa"


def torque_text(low_nmm: float, high_nmm: float, units: Units) -> str:
    """Return a range of torques in N m, or in pound feet to a tenth where forces are in pounds.

    >>> torque_text(13e3, 16e3, Units()), torque_text(8e3, 8e3, Units("in", "1 lbf", "1 psi"))
    ('13 to 16 N m', '5.9 lbf.ft')
    """
    places, per, name = (1, LBF_FT_NMM, "lbf.ft") if units.pounds else (2, 1000.0, "N m")
    low, high = (number(nmm / per, places) for nmm in (low_nmm, high_nmm))
    return f"{low} to {high} {name}" if high_nmm > low_nmm and low != high else f"{low} {name}"


def told_apart(value: float, limit: float, told: Callable[[float], str]) -> tuple[str, str]:
    """Return a figure and its limit as `told`, with as many more decimals as it takes for them to read differently.

    >>> told_apart(7.0003, 7.0, lambda mpa: rating_text(mpa, Units("in", "1 lbf", "1 psi")))
    ('1015.31 psi', '1015.26 psi')
    """
    first, second = told(value), told(limit)
    name = first.rpartition(" ")[2]
    per = float(UNITS[name].numerator) / float(UNITS[name].denominator)
    for places in range(1, _FINEST_DECIMALS + 1):
        if first != second or value == limit:
            break
        first, second = (f"{number(each / per, places)} {name}" for each in (value, limit))
    return first, second


def told_short(mm: float, least_mm: float, unit: str, told: Callable[[float, str], str] = fine) -> tuple[str, str]:
    """Return a length as `told`, and the least that it falls short of as `exact` has it, so that it reads as shorter.

    >>> told_short(14.28, 14.2875, "mm"), told_short(10.0, 14.2875, "mm")
    (('14.28 mm', '14.29 mm'), ('10 mm', '14.29 mm'))
    """
    has, needs = told(mm, unit), exact(least_mm, unit)
    if float(has.split()[0]) < float(needs.split()[0]):
        return has, needs
    return told_apart(mm, least_mm, partial(exact, unit=unit))


def both_told(mm: float, least_mm: float, unit: str, told: Callable[[float, str], str]) -> tuple[str, str]:
    """Return a length and the greater one that it falls short of, both as `told` unless they would read the same.

    >>> both_told(288.0, 294.0, "mm", tenths), both_told(199.99, 200.01, "mm", tenths)
    (('288.0 mm', '294.0 mm'), ('200 mm', '200.01 mm'))
    """
    first, second = told(mm, unit), told(least_mm, unit)
    return (first, second) if first != second else told_short(mm, least_mm, unit)


def percent_short(share: float, least: float) -> str:
    """Return a share below the least that is wanted in per cent, with as many decimals as it takes to read as less.

    >>> percent_short(0.0461, 0.05), percent_short(0.04999, 0.05)
    ('4.6', '4.999')
    """
    told = (f"{100.0 * share:.{places}f}" for places in range(1, _FINEST_DECIMALS))
    return next((each for each in told if float(each) < 100.0 * least), f"{100.0 * share:.{_FINEST_DECIMALS}f}")


def _ruled(mm: float, unit: str, in_mm: str) -> str:
    """Return a length to 1/32 in, or as `in_mm` has it."""
    return _fraction(thirty_seconds(mm)) if unit == "in" else f"{in_mm} mm"


def _decimal(mm: float, unit: str, places: int, in_mm: str) -> str:
    """Return a length in inches with at most `places` decimals, or as `in_mm` has it."""
    return f"{number(mm / INCH_MM, places)} in" if unit == "in" else f"{in_mm} mm"


def _fraction(parts: int) -> str:
    sign, parts = "-" if parts < 0 else "", abs(parts)
    whole, rest = divmod(parts, FINEST_INCH)
    if not rest:
        return f"{sign}{whole} in"
    most = gcd(rest, FINEST_INCH)
    return f"{sign}{f'{whole} ' if whole else ''}{rest // most}/{FINEST_INCH // most} in"
