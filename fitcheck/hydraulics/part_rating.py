"""What one part is rated for, and how that is known.

Pressures in MPa. A rating is, in this order: the catalog's `max_pressure`; the catalog's `burst` over the design
factor; of rigid tube Barlow's formula with the least tensile strength of its material and the thinnest wall that its
standard lets pass, over the design factor; of a hose that states which limits of 49 CFR 571.106 it is made to, the
burst that this asks for, over the design factor. What has none of these has no rating, and the field that would give
one is named. Tube is taken as straight.
"""

from collections.abc import Mapping
from typing import Final, Literal, NamedTuple

from fitcheck.catalog.part import Part
from fitcheck.measures import Units, exact, pressure_text
from fitcheck.standards.hoses import burst_pressure, hose_pressures
from fitcheck.standards.materials import Strength, material
from fitcheck.standards.sizes import same_tube
from fitcheck.standards.tube_rating import barlow, bend_thinning, design_factor
from fitcheck.standards.tubes import Tube, tubes_of

How = Literal["max_pressure", "burst", "barlow", "571.106"]
_SAME_WALL_MM: Final = 0.03
"""Walls that count as the same: 0.028 in is 0.711 mm, and sold as 0.7."""


class Rating(NamedTuple):
    """The highest working pressure of a part [MPa], and how it is known.

    `fails_mpa` is the pressure from which on it is certainly too weak: the rating itself, but for figures that are
    assumed what it may burst at. `words` say where the rating comes from; `figures` are what it was computed with.
    """

    mpa: float
    fails_mpa: float
    how: How
    assumed: bool
    words: str
    source: str
    figures: Mapping[str, float | str]

    def told(self, units: Units) -> str:
        """Return `words` with their figures as the user measures."""
        over, od, wall = (self.figures.get(key) for key in ("design_factor", "outside_mm", "wall_mm"))
        words = self.words
        if isinstance(over, float):
            burst = self.mpa * over
            words = words.replace(f"{burst:.3g} MPa", pressure_text(burst, units))
        if units.length == "in" and isinstance(od, float) and isinstance(wall, float):
            words = words.replace(f"{od:.2f} x {wall:.2f} mm", f"{exact(od, 'in')} x {exact(wall, 'in')}")
        return words


def rating(part: Part) -> Rating | None:
    """Return the highest working pressure of a part; None if its catalog says too little."""
    if part.max_pressure is not None:
        words = "stated in its catalog"
        return Rating(part.max_pressure, part.max_pressure, "max_pressure", False, words, part.source or "catalog", {})
    if part.burst is not None:
        return _by_burst(part.burst, part)
    if part.kind == "tube":
        return tube_rating(part)
    if part.kind == "hose" and part.expansion_limit is not None and part.inside is not None:
        return _by_law(part.inside)
    return None


def missing(part: Part) -> str:
    """Return the field of the catalog that would give a rating to a part that has none."""
    key = "material" if part.kind == "tube" and part.material is None else "max_pressure"
    if part.kind == "hose" and part.expansion_limit is not None:
        key = "inside"
    return f"parts.{part.id}.{key}"


def _by_burst(burst_mpa: float, part: Part) -> Rating:
    over = design_factor("hose" if part.kind == "hose" else "tube")
    figures: dict[str, float | str] = {"burst_mpa": burst_mpa, "design_factor": over.factor, "factor_source": over.mark}
    safe = burst_mpa / over.factor
    words = f"a burst of {burst_mpa:.3g} MPa in its catalog, over {over.factor:g}"
    return Rating(safe, safe, "burst", False, words, part.source or "catalog", figures)


def _by_law(bore_mm: float) -> Rating:
    """Return what 49 CFR 571.106 lets expect: it names no working pressure, only tests that an assembly stands."""
    over, burst = design_factor("hose"), burst_pressure(bore_mm)
    tests = {f"{test.test}_mpa": test.low_mpa for test in hose_pressures(bore_mm)}
    figures: dict[str, float | str] = {**tests, "design_factor": over.factor, "factor_source": over.mark}
    words = f"the least burst of 49 CFR 571.106, {burst.low_mpa:.3g} MPa, over {over.factor:g}"
    return Rating(burst.low_mpa / over.factor, tests["hold_mpa"], "571.106", True, words, burst.mark, figures)


def tube_rating(part: Part) -> Rating | None:
    """Return the working pressure of straight tube by Barlow on the outside diameter; None if too little is known.

    Source: SAE J1065 for least tensile strength over 4; Barlow is the careful one of the formulas in use.
    """
    if part.material is None or part.od is None or part.wall is None:
        return None
    over, weakest, least = design_factor("tube"), _strength(part.material), thinnest(part)
    wall = part.wall if least is None else least.least_wall_mm
    burst = barlow(weakest.tensile_mpa, part.od, wall)
    figures: dict[str, float | str] = {
        "formula": "Barlow on the outside diameter, 2 S t / D",
        "strength_mpa": weakest.tensile_mpa,
        "strength_source": f"{weakest.standard}: {weakest.mark}",
        "outside_mm": part.od,
        "wall_mm": wall,
        "wall_source": "nominal" if least is None else f"thinnest of {least.standard}: {least.mark}",
        "burst_mpa": burst,
        "design_factor": over.factor,
    }
    if part.bend_radius is not None:
        figures["thinner_in_its_tightest_bend"] = bend_thinning(part.od, part.bend_radius)
    assumed = weakest.mark.startswith(("from memory", "common practice"))
    words = f"{part.material} {part.od:.2f} x {wall:.2f} mm by Barlow, burst over {over.factor:g}"
    safe = burst / over.factor
    return Rating(safe, burst if assumed else safe, "barlow", assumed, words, over.mark, figures)


def _strength(name: str) -> Strength:
    return min(material(name).strengths, key=lambda strength: strength.tensile_mpa)


def thinnest(part: Part) -> Tube | None:
    """Return the standard's tube like this one that may have the thinnest wall; None if none states a tolerance."""
    if part.material is None or part.od is None or part.wall is None:
        return None
    alike = (
        tube
        for tube in tubes_of(part.od, material(part.material).name)
        if same_tube(tube.od_mm, part.od or 0.0)
        and abs(tube.wall_mm - (part.wall or 0.0)) <= _SAME_WALL_MM
        and tube.wall_tolerance_mm is not None
    )
    return min(alike, key=lambda tube: tube.least_wall_mm, default=None)
