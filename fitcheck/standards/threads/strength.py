"""How much a thread carries before it strips: shear areas, tensile stress area, length of engagement.

Formulas of FED-STD-H28/2B (1991) table II.B.1, whose numbers stand in each docstring; the shear strength of a
metal is taken as half its tensile strength, as there. They are written for threads of 60 degrees and are used for
55 with the tangent of that half angle (derived). Limits: static load, full threads over the whole length, a wall
round the internal thread thick enough not to dilate (ISO/TR 16224 reduces it below 1.8 diameters across flats).
Taper threads hold by wedging and are outside the formulas.
"""

from math import pi, sqrt

from fitcheck.standards.threads.geometry import Pair, Span, half_angle_tan, known
from fitcheck.standards.threads.member import Limits, Member
from fitcheck.standards.threads.thread import Thread

SHEAR_OF_TENSILE = 0.5
"""Shear strength over tensile strength (FED-STD-H28/2B (1991) table II.B.1; tests of 1929 found 1 in 1.7 to 2.0)."""


def internal_strip_area(
    length_mm: float, pitch_mm: float, major_mm: float, pitch_diameter_mm: float, flank_deg: float = 60.0
) -> float:
    """Return the area [mm2] that shears when the internal thread strips, at the external thread's crests.

    Formula (2a): ASn = pi (LE / P) d [P / 2 + tan a (d - D2)], with d `major_mm` of the external thread at its
    least, D2 `pitch_diameter_mm` of the internal one at its greatest, LE `length_mm`.

    M10x1.5, 6g in 6H, over one diameter: 214.8 mm2, printed 214.77 in a handbook on bolted joints (4th edition,
    table of metric thread stress and shear areas).

    >>> round(internal_strip_area(10, 1.5, 9.732, 9.206), 1)
    214.8
    """
    width = pitch_mm / 2.0 + half_angle_tan(flank_deg) * (major_mm - pitch_diameter_mm)
    return pi * length_mm / pitch_mm * major_mm * max(width, 0.0)


def external_strip_area(
    length_mm: float, pitch_mm: float, minor_mm: float, pitch_diameter_mm: float, flank_deg: float = 60.0
) -> float:
    """Return the area [mm2] that shears when the external thread strips, at the internal thread's crests.

    Formula (4a): ASs = pi (LE / P) D1 [P / 2 + tan a (d2 - D1)], with D1 `minor_mm` of the internal thread at its
    greatest, d2 `pitch_diameter_mm` of the external one at its least, LE `length_mm`.

    M10x1.5, 6g in 6H, over one diameter: 155.8 mm2, printed 155.80 in the same handbook.

    >>> round(external_strip_area(10, 1.5, 8.676, 8.862), 1)
    155.8
    """
    width = pitch_mm / 2.0 + half_angle_tan(flank_deg) * (pitch_diameter_mm - minor_mm)
    return pi * length_mm / pitch_mm * minor_mm * max(width, 0.0)


def tensile_stress_area(nominal_mm: float, pitch_mm: float) -> float:
    """Return the tensile stress area [mm2] of a 60 degree external thread.

    Formula (1b): As = pi / 4 (d - 9 sqrt(3) / 16 P)^2. 3/8-24 UNF: 56.66 mm2, printed 0.0878 sq in (ASME B1.1).

    >>> round(tensile_stress_area(9.525, 25.4 / 24) / 25.4**2, 4)
    0.0878
    """
    return pi / 4.0 * (nominal_mm - 9.0 * sqrt(3.0) / 16.0 * pitch_mm) ** 2


def strip_areas(external: Member, internal: Member, length_mm: float) -> tuple[float, float]:
    """Return the areas [mm2] that shear when the external or the internal thread strips, at minimum material.

    The threads must be of one pitch, and parallel. Source: as `internal_strip_area` and `external_strip_area`.
    """
    external_area = external_strip_area(
        length_mm, external.thread_pitch_mm, known(internal.minor_mm[1]), external.pitch_mm[0], external.flank_deg
    )
    internal_area = internal_strip_area(
        length_mm, internal.thread_pitch_mm, known(external.major_mm[0]), internal.pitch_mm[1], internal.flank_deg
    )
    return external_area, internal_area


def full_strength_engagement(of: Limits, strength_ratio: float = 1.0) -> float:
    """Return the length of engagement [mm] at which the external thread breaks before either thread strips.

    The greatest of formulas (13), (14) and (16): 4 As / (pi d2), 2 As / ASs and 2 As / ASn over `strength_ratio`,
    the internal metal's tensile strength over the external one's; areas per length, at minimum material.

    1/2-20 UNF, equal metals: 0.443 in, as the independent package screw-thread-lib has it.

    >>> from fitcheck.standards.threads import limits, parse
    >>> round(full_strength_engagement(limits(parse("1/2-20 UNF"))) / 25.4, 3)
    0.443
    """
    stress_area = tensile_stress_area(of.thread.nominal_mm, of.thread.pitch_mm)
    external_area, internal_area = strip_areas(of.external, of.internal, 1.0)
    return max(
        4.0 * stress_area / (pi * of.external.basic_pitch_mm),
        2.0 * stress_area / external_area,
        2.0 * stress_area / internal_area / strength_ratio,
    )


def engagement_for_load(
    external: Member, internal: Member, load_n: float, external_tensile_mpa: float, internal_tensile_mpa: float
) -> float:
    """Return the length of engagement [mm] at which neither thread strips under `load_n` [N].

    The load over the weaker of the two strip strengths of one millimetre: area times half the tensile strength
    [MPa]. Source: as `strip_areas`.
    """
    external_area, internal_area = strip_areas(external, internal, 1.0)
    weaker = SHEAR_OF_TENSILE * min(external_area * external_tensile_mpa, internal_area * internal_tensile_mpa)
    return load_n / weaker


def strip_share(external: Thread, internal: Thread, engagement_mm: float) -> tuple[float, float] | None:
    """Return the share of the right thread's strip strength that a wrong external thread leaves: (least, most).

    The right thread is the internal one's own. Both are taken at the same extreme, both members of one metal; the
    weaker member counts. Geometry: the shear areas above with the foreign diameters. Of unequal pitches only those
    turns are counted that touch (see `share_left`). None for a pair that does not go together, and for taper
    threads. Lengths in mm.

    >>> from fitcheck.standards.threads import parse
    >>> [round(end, 2) for end in strip_share(parse("3/8-24"), parse("M10x1"), 6.0)]
    [0.21, 0.26]

    Source: FED-STD-H28/2B (1991) table II.B.1 for the areas; the foreign geometry and the turns: derived.

    Raises EngagementError if the engagement is not above zero, ThreadLimitsError if a thread has no limits.
    """
    from fitcheck.standards.threads.fit import fit  # fit needs this module for the same figure

    return fit(external, internal, engagement_mm).strip_share


def share_left(pair: Pair, right: Member, engagement_mm: float) -> Span | None:
    """Return the share of strip strength left when `pair` has gone together, `right` being the proper external.

    Turns that touch: what each member's pitch diameter tolerance lets pass as a pitch error, tan a (Td2 + TD2),
    would count as a sound thread; so the turns over which the pitch difference stays within it are taken to carry,
    and no others (derived). Nothing is left where the crests do not overlap. Never more than 1.
    """
    if pair.taper or right.taper:
        return None
    shares = [_share_at(pair, right, engagement_mm, tight) for tight in (False, True)]
    return min(shares), max(shares)


def _share_at(pair: Pair, right: Member, engagement_mm: float, tight: bool) -> float:
    carried = min(engagement_mm, pair.entered[0 if tight else 1])
    if not pair.same_pitch:
        carried = min(carried, _touching_turns(pair) * pair.nut.thread_pitch_mm)
    left = _weaker_area(pair.bolt, pair.nut, carried / pair.nut.thread_pitch_mm, tight)
    whole = _weaker_area(right, pair.nut, engagement_mm / pair.nut.thread_pitch_mm, tight)
    return min(1.0, left / whole)


def _touching_turns(pair: Pair) -> float:
    tolerances = sum(high - low for low, high in (pair.bolt.pitch_mm, pair.nut.pitch_mm))
    slope = half_angle_tan(max(pair.bolt.flank_deg, pair.nut.flank_deg))
    return tolerances * slope / abs(pair.pitch_difference)


def _weaker_area(bolt: Member, nut: Member, turns: float, tight: bool) -> float:
    """Return the smaller of the two strip areas [mm2] over a number of turns, at one extreme of both."""
    outer, inner = (1, 0) if tight else (0, 1)
    crest, hole = known(bolt.major_mm[outer]), known(nut.minor_mm[inner])
    if crest <= hole:
        return 0.0
    external_area = external_strip_area(
        turns * bolt.thread_pitch_mm, bolt.thread_pitch_mm, hole, bolt.pitch_mm[outer], bolt.flank_deg
    )
    internal_area = internal_strip_area(
        turns * nut.thread_pitch_mm, nut.thread_pitch_mm, crest, nut.pitch_mm[inner], nut.flank_deg
    )
    return min(external_area, internal_area)
