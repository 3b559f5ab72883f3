"""What calipers, wheel cylinders and slave cylinders take before and while they press."""

from typing import NamedTuple

from fitcheck.build.model import BuildFile
from fitcheck.catalog.part import Part
from fitcheck.hydraulics.outlets import area_mm2
from fitcheck.hydraulics.record import Figure
from fitcheck.hydraulics.spread import WHOLE, Amount, assumed, known

_GIVES = {"caliper": "caliper_give", "wheel cylinder": "wheel_cylinder_give", "slave cylinder": "slave_cylinder_give"}


def gap_mm3(pistons_mm2: float, gap_mm: float, moves: float = 1.0) -> float:
    """Return the fluid that pistons of so much area together take to cross a clearance [mm3].

    `moves` is how many clearances each piston crosses: 1 with pistons on both sides of the disc and in a drum, 2 where
    the caliper floats. Source: geometry.

    >>> gap_mm3(2000.0, 0.1), gap_mm3(1000.0, 0.1, 2.0)
    (200.0, 200.0)
    """
    return pistons_mm2 * gap_mm * moves


class Pistons(NamedTuple):
    """The area of all pistons together [mm2], and how many clearances each crosses; or the field that is missing.

    `number` is how many there are, where that is assumed.
    """

    mm2: float
    moves: Figure
    missing: str = ""
    number: Figure | None = None

    @property
    def scale(self) -> Amount:
        """What the area is to be multiplied by: 1, and less where there may be fewer of them."""
        if self.number is None:
            return WHOLE
        return Amount(1.0, self.number.low / self.number.value, self.number.high / self.number.value)


def pistons(part: Part) -> Pistons:
    """Return the pistons of a caliper, wheel cylinder or slave cylinder.

    A slave cylinder has one, of its `bore`; a wheel cylinder that does not say has two of it, and may have one. A
    caliper of one piston floats; one of more that does not say is taken as fixed, and may cross twice as much.
    """
    if part.kind == "wheel cylinder" and not part.pistons and part.bore is not None:
        words = "pistons of its bore: one for each shoe, or one alone; common practice, no source"
        number = Figure(f"parts.{part.id}.pistons", 2.0, "pistons", "assumed", words, 1.0, 2.0)
        return Pistons(number.value * area_mm2(part.bore), _moves(part), number=number)
    found = part.pistons
    if not found and part.kind == "slave cylinder" and part.bore is not None:
        found = (part.bore,)
    if not found:
        key = "bore" if part.kind == "slave cylinder" else "pistons"
        return Pistons(0.0, _moves(part), f"parts.{part.id}.{key}")
    return Pistons(sum(map(area_mm2, found)), _moves(part))


def _moves(part: Part) -> Figure:
    key, unit = f"parts.{part.id}.style", "gaps"
    if part.kind != "caliper":
        return known(key, 1.0, unit, "standard", f"geometry of a {part.kind}")
    if part.style is not None:
        moves = 1.0 if part.style == "fixed" else 2.0
        return known(key, moves, unit, "catalog", f"clearances that each piston crosses: {part.style} caliper")
    if len(part.pistons) == 1:
        return known(key, 2.0, unit, "standard", "geometry: a caliper of one piston floats")
    return Figure(key, 1.0, unit, "assumed", "taken as fixed; a floating one crosses both clearances", 1.0, 2.0)


def gap_figure(file: BuildFile, tag: str, part: Part) -> Figure:
    """Return the clearance of a brake's pistons [mm], stated or assumed."""
    key, brake = f"brakes.{tag}.gap", file.brakes.get(tag)
    if brake is not None and brake.gap is not None:
        return known(key, float(brake.gap), "mm", "stated", "stated in the build")
    return assumed(key, "disc_gap" if part.kind == "caliper" else "shoe_gap")


def knock_back_figure(file: BuildFile, tag: str) -> Figure:
    """Return how far a brake's pistons have been pushed back beyond that [mm]: nothing unless stated."""
    key, brake = f"brakes.{tag}.knock_back", file.brakes.get(tag)
    if brake is not None and brake.knock_back is not None:
        return known(key, float(brake.knock_back), "mm", "stated", "stated in the build")
    return assumed(key, "knock_back")


def give_figure(part: Part) -> Figure | None:
    """Return how much more fluid a part takes as pressure bends it [mm3/MPa]; None for what is not known to bend."""
    key = f"parts.{part.id}.give"
    if part.give is not None:
        return known(key, part.give, "mm3/MPa", "catalog", part.source or "catalog")
    name = _GIVES.get(part.kind, "master_cylinder_give" if part.kind == "master cylinder" else None)
    return assumed(key, name) if name is not None else None


def filling_figure(part: Part) -> Figure | None:
    """Return the fluid that a cylinder holds [mm3]; without its `volume`, its pistons' area times a usual depth."""
    key = f"parts.{part.id}.volume"
    if part.volume is not None:
        return known(key, part.volume, "mm3", "catalog", part.source or "catalog")
    found = pistons(part)
    area = found.mm2
    if not area:
        return None
    depth = assumed(key, "piston_depth")
    words = f"{depth.value:g} mm ({depth.low:g} to {depth.high:g}) behind {area:.0f} mm2 of pistons; {depth.source}"
    low, high = depth.low * area * found.scale.low, depth.high * area * found.scale.high
    return Figure(key, depth.value * area, "mm3", "assumed", words, low, high)


def share_figure(tag: str, part: Part, share: float) -> Figure:
    """Return what part of a caliper one of several circuits moves: as many pistons as each other one."""
    least = 1.0 / len(part.pistons) if len(part.pistons) > 1 else 0.0
    low, high = min(share, least), max(share, 1.0 - least)
    words = "that each of its circuits moves, pressures meaned likewise; common practice, no source"
    return Figure(f"part of the pistons of {tag}", share, "", "assumed", words, low, high)
