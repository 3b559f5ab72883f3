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
    turn = _ring(major_mm, pitch_mm, half_angle_tan(flank_deg) * (major_mm - pitch_diameter_mm))
    return length_mm / pitch_mm * turn


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
    turn = _ring(minor_mm, pitch_mm, half_angle_tan(flank_deg) * (pitch_diameter_mm - minor_mm))
    return length_mm / pitch_mm * turn


def _ring(diameter: float, pitch: float, wider: float) -> float:
    """Return the area that one turn of a ridge shears at a diameter, where it is `wider` than at the pitch line."""
    width = pitch / 2.0 + wider
    return pi * diameter * width if width > 0.0 else 0.0


def tensile_stress_area(nominal_mm: float, pitch_mm: float, metric: bool = False) -> float:
    """Return the tensile stress area [mm2] of a 60 degree external thread.

    Formula (1b): As = pi / 4 (d - 9 sqrt(3) / 16 P)^2; for metric threads pi / 4 (d - 0.938194 P)^2 (ISO 898-1:
    midway between pitch diameter and rounded root). 3/8-24 UNF: 0.0878 sq in, as ASME B1.1 prints; M10x1.5:
    57.99 mm2, printed 57.990 in the handbook above.

    >>> round(tensile_stress_area(9.525, 25.4 / 24) / 25.4**2, 4), round(tensile_stress_area(10, 1.5, metric=True), 2)
    (0.0878, 57.99)
    """
    below = 0.938194 if metric else 9.0 * sqrt(3.0) / 16.0
    return pi / 4.0 * (nominal_mm - below * pitch_mm) ** 2


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

    1/2-20 UNF, equal metals: 0.436 in, as the independent package screw-thread-lib has it.

    >>> from fitcheck.standards.threads import limits, parse
    >>> round(full_strength_engagement(limits(parse("1/2-20 UNF"))) / 25.4, 3)
    0.436
    """
    stress_area = tensile_stress_area(of.thread.nominal_mm, of.thread.pitch_mm, of.thread.family in ("M", "MJ"))
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
    touching = engagement_mm if pair.same_pitch else _touching_turns(pair) * pair.nut.thread_pitch_mm
    # Of one pitch and angle a thread goes in all the way or not at all: the strength is that of the one that does.
    entered = (engagement_mm, engagement_mm) if pair.same_pitch and pair.same_flank else pair.entered
    shares = [0.0, 0.0]
    for extreme in (0, 1):
        left = min(engagement_mm, touching, entered[extreme]) * _weaker_ring(pair.bolt, pair.nut, extreme)
        shares[extreme] = min(1.0, left / (engagement_mm * _weaker_ring(right, pair.nut, extreme)))
    return (shares[0], shares[1]) if shares[0] <= shares[1] else (shares[1], shares[0])


def _touching_turns(pair: Pair) -> float:
    bolt, nut = pair.bolt, pair.nut
    tolerances = bolt.pitch_mm[1] - bolt.pitch_mm[0] + nut.pitch_mm[1] - nut.pitch_mm[0]
    return tolerances * half_angle_tan(max(bolt.flank_deg, nut.flank_deg)) / abs(pair.pitch_difference)


def _weaker_ring(bolt: Member, nut: Member, extreme: int) -> float:
    """Return the smaller of the two areas [mm2] that one turn shears, at the tight (0) or the loose (1) extreme."""
    crest, hole = known(bolt.major_mm[1 - extreme]), known(nut.minor_mm[extreme])
    if crest <= hole:
        return 0.0
    on_bolt, on_nut = half_angle_tan(bolt.flank_deg), half_angle_tan(nut.flank_deg)
    return min(
        _ring(hole, bolt.thread_pitch_mm, on_bolt * (bolt.pitch_mm[1 - extreme] - hole)),
        _ring(crest, nut.thread_pitch_mm, on_nut * (crest - nut.pitch_mm[extreme])),
    )
