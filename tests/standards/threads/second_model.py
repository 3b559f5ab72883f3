"""A second model of two threads that meet, for tests only: both helices as points, one turned into the other.

It takes numbers from the limits of size and nothing else from the code it judges. Each thread is a section of
points (radius, half-width of the ridge or of the gap); the ridge of the external thread follows its own pitch, the
gap of the internal one its own, and the diameters of a taper thread change with the distance from its gauge plane.
The external thread is turned in along the internal one's lead, a bit at a time. At each depth the axial phase is
moved to where the metal overlaps least, with the axes in line and out of line, and the least overlap is looked at.
"""

from math import cos, inf, pi, sqrt, tan
from typing import NamedTuple

from fitcheck.standards.threads import Limits, Member

PER_TURN = 8
"""Places round the helix at which the sections are compared."""

RADII = 5
"""Radii at which flanks are compared at each place, both ends of the overlap among them."""

STEP_TURNS = 1.0 / 32.0
"""How finely the depth at which the pair binds is found."""

SLIP_MM = 1e-4
"""Overlap of metal that counts as none."""

Point = tuple[float, float]


class Section(NamedTuple):
    """Half a ridge (external) or half a gap (internal): half-widths [mm] at growing radii [mm] at the gauge plane.

    `crest` is the radius of the thread's own crest. Below (external) or above (internal) `root` it is all metal.
    """

    points: tuple[Point, ...]
    crest: float
    root: float
    pitch: float
    taper: float
    gauge: float

    def half_width(self, radius: float) -> float:
        """Return the half-width at a radius, straight between the points and beyond them."""
        before, after = self.points[0], self.points[1]
        for point in self.points[1:]:
            before, after = after if point is not self.points[1] else before, point
            if radius <= point[0]:
                break
        share = (radius - before[0]) / (after[0] - before[0])
        return before[1] + share * (after[1] - before[1])


def external_section(member: Member, tight: bool, roots: bool = True) -> Section:
    """Return the ridge of an external thread at its largest (`tight`) or smallest.

    Without `roots` what lies below the flanks is not looked at: a thread is cut to clear the roots of its own pitch
    and angle, and NPT lets crests and roots touch. A controlled root radius is always there.
    """
    pitch = member.thread_pitch_mm
    middle, slope = member.pitch_mm[tight] / 2.0, tan(member.flank_deg / 2.0 * pi / 180.0)
    crest = (member.major_mm[tight] or 0.0) / 2.0

    def ridge(radius: float) -> Point:
        return radius, pitch / 4.0 - (radius - middle) * slope

    points = [ridge(middle - 0.5 * pitch), ridge(middle + 0.5 * pitch)]
    root = (member.minor_mm[1] or 0.0) / 2.0 if tight and roots else 0.0
    if member.fillet_mm is not None:
        points = [*_fillet(pitch, middle), ridge(middle + 0.5 * pitch)]
        root = 0.0
    return Section(tuple(points), crest, root, pitch, member.taper, member.gauge_mm)


def _fillet(pitch: float, middle: float) -> list[Point]:
    """Return the points of a root of the largest controlled radius, 0.18042 pitches, from its bottom to the flank."""
    radius = 0.18042 * pitch
    width = radius * sqrt(3.0) / 2.0  # half-width of the gap where arc and flank meet, at 30 degrees
    meets = middle - (pitch / 4.0 - width) * sqrt(3.0)
    centre = meets + radius / 2.0
    turns = [pi / 3.0 * part / 12.0 for part in range(13)]  # from the bottom of the root round to the flank
    return [(centre - radius * cos(turn), pitch / 2.0 - radius * sqrt(1.0 - cos(turn) ** 2)) for turn in turns]


def internal_section(member: Member, tight: bool, roots: bool = True) -> Section:
    """Return the gap of an internal thread at its smallest (`tight`) or largest; `roots` as `external_section`."""
    pitch = member.thread_pitch_mm
    middle, slope = member.pitch_mm[not tight] / 2.0, tan(member.flank_deg / 2.0 * pi / 180.0)
    crest = (member.minor_mm[not tight] or 0.0) / 2.0
    points = [(radius, pitch / 4.0 - (radius - middle) * slope) for radius in (middle - pitch, middle + pitch)]
    root = (member.major_mm[0] or inf) / 2.0 if tight and roots else inf
    return Section(tuple(points), crest, root, pitch, member.taper, 0.0)


class Meeting(NamedTuple):
    """What the second model finds at one extreme: turns until the metal overlaps, and the height left to carry."""

    turns: float
    overlap_mm: float


def meet(external: Section, internal: Section, most_turns: float) -> Meeting:
    """Turn the external thread in until it binds, at most `most_turns` turns of the internal thread."""
    low, high = 0.0, most_turns
    if _overlap(external, internal, most_turns) <= SLIP_MM:
        low = most_turns
    elif _overlap(external, internal, STEP_TURNS) <= SLIP_MM:
        while high - low > STEP_TURNS:
            middle = (low + high) / 2.0
            low, high = (middle, high) if _overlap(external, internal, middle) <= SLIP_MM else (low, middle)
    return Meeting(low, _height_that_carries(external, internal, low))


def _height_that_carries(external: Section, internal: Section, turns: float) -> float:
    """Return by how much the crests overlap where they overlap most [mm], below zero where they miss."""
    places = [turns * place / 8.0 for place in range(9)]
    return max(_crest_over_hole(external, internal, along, turns) for along in places)


def _crest_over_hole(external: Section, internal: Section, along: float, turns: float) -> float:
    out, into = _growths(external, internal, along, turns)
    return external.crest + out - internal.crest - into


def _growths(external: Section, internal: Section, along: float, turns: float) -> tuple[float, float]:
    """Return how much larger than at their gauge planes the threads are, `along` turns from the nose."""
    out = (along * external.pitch - external.gauge) * external.taper / 2.0
    return out, -(turns - along) * internal.pitch * internal.taper / 2.0


def _overlap(external: Section, internal: Section, turns: float) -> float:
    """Return the least overlap of metal [mm], over all axial phases and over axes in and out of line."""
    shifts = (0.0, 0.02, 0.1)
    return min(_worst(external, internal, turns, shift) for shift in shifts)


def _worst(external: Section, internal: Section, turns: float, shift: float) -> float:
    """Return the overlap at the best axial phase, with the axes `shift` mm out of line."""
    ahead = behind = -inf
    places = max(2, round(turns * PER_TURN) + 1)
    for place in range(places):
        along = turns * place / (places - 1)  # turns from the nose
        aside = shift * cos(2.0 * pi * along)
        lag = along * (internal.pitch - external.pitch)
        for too_wide in _clashes(external, internal, along, turns, aside):
            ahead, behind = max(ahead, too_wide + lag), max(behind, too_wide - lag)
    # The phase moves one side out as far as the other in: the best one shares what is too wide between both.
    return (ahead + behind) / 2.0 if ahead > -inf else -inf


def _clashes(external: Section, internal: Section, along: float, turns: float, aside: float) -> list[float]:
    """Return how much wider the ridge is than the gap, each side, at radii across the overlap at one place."""
    out, into = _growths(external, internal, along, turns)
    out += aside
    high, low = external.crest + out, internal.crest + into
    if high <= low:
        return []
    if high > internal.root + into + SLIP_MM or low < external.root + out - SLIP_MM:
        return [external.pitch]
    radii = [low + (high - low) * part / (RADII - 1) for part in range(RADII)]
    return [external.half_width(radius - out) - internal.half_width(radius - into) for radius in radii]


class Verdict(NamedTuple):
    """What the second model says of a pair: an outcome; turns and overlap on one side, each (tight, loose)."""

    outcome: str
    turns: tuple[float, float]
    overlap_mm: tuple[float, float]
    height_mm: float
    pitch_mm: float
    home_mm: float

    def outcomes_within(self, turns: float) -> set[str]:
        """Return every outcome that the pair could have if it bound this many turns sooner or later."""
        most = 100.0 * max(self.overlap_mm) / self.height_mm
        ends = (self.turns[1] - turns, self.turns[1], self.turns[1] + turns)
        return {_outcome(end, most, self.pitch_mm, self.home_mm) for end in ends}


def second_verdict(external: Limits, internal: Limits, engagement_mm: float) -> Verdict:
    """Return what happens to a pair by turning it in at both extremes: `falls`, `stays out`, `binds`, `goes home`."""
    bolt, nut = external.external, internal.internal
    home = bolt.gauge_mm if bolt.taper else engagement_mm
    most = (bolt.useful_mm if bolt.taper else engagement_mm) / nut.thread_pitch_mm
    roots = abs(bolt.thread_pitch_mm - nut.thread_pitch_mm) > 1e-4 or bolt.flank_deg != nut.flank_deg
    met = [
        meet(external_section(bolt, tight, roots), internal_section(nut, tight, roots), most) for tight in (True, False)
    ]
    turns = (met[0].turns, met[1].turns)
    overlap, height, pitch = (met[0].overlap_mm, met[1].overlap_mm), nut.height_mm / 2.0, nut.thread_pitch_mm
    outcome = _outcome(turns[1], 100.0 * max(overlap) / height, pitch, home)
    return Verdict(outcome, turns, overlap, height, pitch, home)


def _outcome(turns: float, most_percent: float, pitch: float, home: float) -> str:
    if most_percent < 10.0:
        return "falls"
    if turns < 1.0 - STEP_TURNS:
        return "stays out"
    return "binds" if turns * pitch < home - STEP_TURNS else "goes home"
