"""How much a thread carries before it strips: shear areas, length of engagement.

Formulas of FED-STD-H28/2B (1991) table II.B.1, whose numbers stand in each docstring; the shear strength of a
metal is taken as half its tensile strength, as there. They are written for threads of 60 degrees and are used for
55 with the tangent of that half angle (derived). Limits: static load, full threads over the whole length, a wall
round the internal thread thick enough not to dilate (ISO/TR 16224 reduces it below 1.8 diameters across flats).
Taper threads hold by wedging and are outside the formulas.
"""

from math import pi

from fitcheck.standards.threads.geometry import Pair, Span, half_angle_tan, known
from fitcheck.standards.threads.member import Member

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
