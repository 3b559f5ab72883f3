"""What the author of a build measures in, which is what every answer about it is told in. Decided here only.

Lengths: by `coordinates` if the file states it or places any component (inches if it is `in`, else mm). Else by the
lengths and legs of lines, the lengths of hoses, the holes and the ways of pedals: inches if more of them are written in
inches or feet than not. Forces: as the push on the pedal is written, else that on the clutch; pounds if neither is and
lengths are told in inches, newtons otherwise. Pressures: psi with pounds, MPa or bar otherwise.
"""

from collections.abc import Iterator
from typing import Final

from fitcheck.build.model import BuildFile, Leg
from fitcheck.measures import LengthUnit, Units
from fitcheck.quantities import Quantity, render

_INCHES: Final = ("in", "inch", "inches", '"', "″", "”", "ft", "foot", "feet", "'", "\u2032", "\u2019")


def units_of(file: BuildFile, foot: float | None = None) -> Units:
    """Return what the user of a build measures in.

    `foot` is the push that is asked about, as written; that of the build's pedal or clutch if left out.
    """
    length = length_unit(file)
    for pedal in (file.pedal, file.clutch):
        if foot is None and pedal is not None:
            foot = pedal.force
    like = getattr(foot, "text", None) or ("1 lbf" if length == "in" and foot is None else "1 N")
    pounds = render(1.0, "force", like).endswith("lbf")
    return Units(length, like, "1 psi" if pounds else "1 MPa")


def length_unit(file: BuildFile) -> LengthUnit:
    """Return what lengths are told in: `mm` or `in`."""
    if "coordinates" in file.model_fields_set or any(item.at is not None for item in file.components.values()):
        return "in" if file.coordinates == "in" else "mm"
    inches = [in_inches(size.text) for size in _sizes(file) if isinstance(size, Quantity)]
    return "in" if 2 * sum(inches) > len(inches) else "mm"


def in_inches(text: str) -> bool:
    """Return whether a length is written in inches or feet.

    >>> in_inches("3/8 in"), in_inches("0.374 inch "), in_inches("9.5 mm")
    (True, True, False)
    """
    return text.rstrip().endswith(_INCHES)


def _sizes(file: BuildFile) -> Iterator[float | None]:
    for line in file.lines.values():
        yield line.length
        yield from (leg.leg for leg in line.route or () if isinstance(leg, Leg))
    yield from (item.length for item in file.hoses.values())
    yield from (panel.hole for panel in file.panels.values())
    yield from (pedal.travel for pedal in (file.pedal, file.clutch) if pedal is not None)
