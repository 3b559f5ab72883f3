"""The section of a thread as a line of points, for drawing, and where two such lines cut into each other.

Diameters and flanks are those of the limits of size at one extreme. What the limits leave open is drawn as the
standards draw it: the root of a 60 degree external thread rounded, by H/6 at the greatest metal and by 0.125
pitch at the least (ISO 68-1, ISO 965-1); by 0.18042 and 0.15011 pitch for UNJ and MJ (ASME B1.15-1995); the root
of an internal one flat at its least diameter, or rounded by H/12 (ISO 68-1); Whitworth forms rounded at crest and
root by 0.137329 pitch (ISO 228-1, ISO 7-1); NPT flat at crest and root (ASME B1.20.1).

A taper thread is drawn at its gauge plane, as if it were parallel there. Radii are millimetres from the axis, x
runs along the axis with x = 0 in the middle, where the helices lie one in the other: a difference of pitch spreads to
both ends, which is the longest that two threads can go together.
"""

from itertools import pairwise
from math import ceil, cos, floor, inf, radians, sin, sqrt, tan
from typing import NamedTuple

from fitcheck.standards.threads.every import has_rounded_root
from fitcheck.standards.threads.limits import limits
from fitcheck.standards.threads.thread import Thread

Point = tuple[float, float]
"""A place in the section: along the axis, and from the axis [mm]."""

WHITWORTH_RADIUS = 0.137329
"""Radius of crest and root of the 55 degree form, in pitches (ISO 228-1:1994; ISO 7-1:1994)."""

_ARC_STEPS = 6
_ROOT_RADIUS = {True: 0.144338, False: 0.125}  # by whether the metal is at its greatest; in pitches
_CONTROLLED_RADIUS = {True: 0.18042, False: 0.15011}
_INTERNAL_ROOT_RADIUS = 0.072169  # H/12, in pitches
_TOUCH_MM = 1e-3  # lines closer than this touch: the standards round to whole micrometres
_SLIVER_MM2 = 1e-6


class Section(NamedTuple):
    """One member at one extreme of its limits, as drawn: radii [mm] are halves of the limits of size.

    `outer_mm` and `inner_mm` cut the sharp profile off, infinite where rounding alone ends it; `outer_round_mm` and
    `inner_round_mm` are the radii of rounding there, 0 for a flat.
    """

    pitch_mm: float
    half_angle_deg: float
    pitch_radius_mm: float
    outer_mm: float
    inner_mm: float
    outer_round_mm: float = 0.0
    inner_round_mm: float = 0.0

    @property
    def crest_mm(self) -> tuple[float, float]:
        """Return the greatest and least radius that the line reaches [mm]."""
        radii = [self.radius(0.0), self.radius(self.pitch_mm / 2.0)]
        return max(radii), min(radii)

    def radius(self, x: float) -> float:
        """Return the radius of the line at `x` [mm]; a ridge of an external thread has its middle at 0."""
        u = abs((x + self.pitch_mm / 2.0) % self.pitch_mm - self.pitch_mm / 2.0)
        slope = tan(radians(self.half_angle_deg))
        sharp = self.pitch_mm / 4.0 / slope
        y = (self.pitch_mm / 4.0 - u) / slope
        y = min(y, _arc(u, sharp, self.outer_round_mm, self.half_angle_deg))
        y = max(y, -_arc(self.pitch_mm / 2.0 - u, sharp, self.inner_round_mm, self.half_angle_deg))
        return max(min(self.pitch_radius_mm + y, self.outer_mm), self.inner_mm)

    def half_pitch(self) -> list[float]:
        """Return where, from the middle of a ridge to that of a groove, the line bends [mm]."""
        half = self.pitch_mm / 2.0
        slope = tan(radians(self.half_angle_deg))
        places = {0.0, half}
        for radius, mirrored in ((self.outer_round_mm, False), (self.inner_round_mm, True)):
            reach = radius * cos(radians(self.half_angle_deg))
            steps = [reach * step / _ARC_STEPS for step in range(1, _ARC_STEPS + 1)] if reach else []
            places.update(half - step if mirrored else step for step in steps)
        for cut, sign in ((self.outer_mm, 1.0), (self.inner_mm, -1.0)):
            if abs(cut) == inf:
                continue
            y = cut - self.pitch_radius_mm
            places.add(self.pitch_mm / 4.0 - y * slope)
            places.add(self._on_arc(y * sign, sign))
        return sorted(place for place in places if 0.0 <= place <= half)

    def _on_arc(self, y: float, sign: float) -> float:
        """Return where the rounding of the outer (sign 1) or inner end is `y` high from the pitch line [mm]."""
        radius = self.outer_round_mm if sign > 0 else self.inner_round_mm
        sharp = self.pitch_mm / 4.0 / tan(radians(self.half_angle_deg))
        centre = sharp - radius / sin(radians(self.half_angle_deg))
        inside = radius**2 - (y - centre) ** 2
        u = sqrt(inside) if inside > 0.0 and y >= centre else 0.0
        return u if sign > 0 else self.pitch_mm / 2.0 - u


def _arc(u: float, sharp: float, radius: float, half_angle_deg: float) -> float:
    """Return the height over the pitch line of a rounding tangent to both flanks, infinite beside it [mm]."""
    angle = radians(half_angle_deg)
    if u >= radius * cos(angle):
        return inf
    return sharp - radius / sin(angle) + sqrt(radius**2 - u**2)


def section(thread: Thread, internal: bool, most_metal: bool) -> Section:
    """Return one member of a thread at the extreme of most or of least metal.

    Most metal is the largest external and the smallest internal thread. Source: the limits of size, and for what
    they leave open see the module. Raises ThreadLimitsError if the thread has no limits.
    """
    member = limits(thread).internal if internal else limits(thread).external
    end = 0 if internal == most_metal else 1
    pitch = thread.pitch_mm
    major, minor = member.major_mm[end], member.minor_mm[end]
    shape = (pitch, member.flank_deg / 2.0, member.pitch_mm[end] / 2.0)
    crest = minor if internal else major
    assert crest is not None  # every standard sets both limits of a crest
    if member.flank_deg == 55.0:
        rounding = WHITWORTH_RADIUS * pitch
        cuts = (inf, crest / 2.0) if internal else (crest / 2.0, -inf)
        return Section(*shape, *cuts, rounding, rounding)
    root = major if internal else minor
    flat_root = thread.family == "NPT" or (internal and root is not None)
    if flat_root:
        cut = root / 2.0 if root is not None else _npt_root(shape, internal)
        return Section(*shape, *((cut, crest / 2.0) if internal else (crest / 2.0, cut)))
    if internal:
        return Section(*shape, inf, crest / 2.0, _INTERNAL_ROOT_RADIUS * pitch)
    table = _CONTROLLED_RADIUS if has_rounded_root(thread) else _ROOT_RADIUS
    return Section(*shape, crest / 2.0, -inf, 0.0, table[most_metal] * pitch)


def _npt_root(shape: tuple[float, float, float], internal: bool) -> float:
    """Return the radius of the least truncated root of NPT: 0.033 pitch short of sharp (ASME B1.20.1)."""
    pitch, half_angle, middle = shape
    height = pitch / 4.0 / tan(radians(half_angle)) - 0.033 * pitch
    return middle + height if internal else middle - height


def engaged_outlines(
    external: Section, internal: Section, engagement_mm: float
) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """Return the lines of both members over the whole turns in a length of engagement [mm].

    From the first flank to the last there are whole turns and a half, as many as go into the length, counted in
    pitches of the internal thread as `fit` does. A section cuts the helix at whatever angle: at the one chosen
    whole external ridges lie at both ends, as many turns apart as the external thread has been turned in; so where
    the flanks bind within the turns drawn, it shows.
    """
    turns = whole_turns(engagement_mm, internal.pitch_mm)
    drawn = (turns + 1) * min(external.pitch_mm, internal.pitch_mm)
    phase = 0.5 * (turns % 2)
    return outline(external, drawn, phase), outline(internal, drawn, phase)


def whole_turns(length_mm: float, pitch_mm: float) -> int:
    """Return how many whole turns go into a length beside the half turn that the flanks of one ridge are apart."""
    return max(0, floor(length_mm / pitch_mm - 0.5 + 1e-9))


def outline(shape: Section, length_mm: float, phase: float = 0.0) -> tuple[Point, ...]:
    """Return the line of a section over a length [mm], from -length/2 to length/2; exact on flats and flanks.

    A ridge has its middle `phase` turns from x = 0. Two threads of one phase lie ridge in groove at x = 0.
    """
    end = length_mm / 2.0
    shift = phase * shape.pitch_mm
    half = shape.half_pitch()
    period = sorted({*half, *(-place for place in half)})
    turns = ceil(end / shape.pitch_mm) + 1
    places = {shift + turn * shape.pitch_mm + place for turn in range(-turns, turns + 1) for place in period}
    inside = sorted({round(place, 9) for place in places if -end < place < end} | {-end, end})
    return tuple((x, shape.radius(x - shift)) for x in inside)


def overlaps(external: tuple[Point, ...], internal: tuple[Point, ...]) -> tuple[tuple[Point, ...], ...]:
    """Return the closed shapes in which the external thread's metal lies where the internal one's is.

    Both lines run over the same length; external metal lies below its line, internal metal above. Within 0.001 mm
    they touch and no more.
    """
    shapes: list[tuple[Point, ...]] = []
    upper: list[Point] = []
    lower: list[Point] = []
    for x, over, under in _both(external, internal):
        if over - under > _TOUCH_MM:
            upper.append((x, over))
            lower.append((x, under))
            continue
        if upper:
            shapes.append((*upper, (x, over), *reversed(lower)))
            upper, lower = [], []
        upper, lower = [(x, over)], []
    if len(upper) > 1:
        shapes.append((*upper, *reversed(lower)))
    return tuple(shape for shape in shapes if area(shape) > _SLIVER_MM2)


def area(shape: tuple[Point, ...]) -> float:
    """Return the area of a closed shape [mm2]."""
    pairs = zip(shape, (*shape[1:], shape[0]), strict=True)
    return abs(sum(x * next_r - next_x * r for (x, r), (next_x, next_r) in pairs)) / 2.0


def _both(external: tuple[Point, ...], internal: tuple[Point, ...]) -> list[tuple[float, float, float]]:
    """Return x and both radii at every bend of either line and at every crossing; equal radii at a crossing."""
    places = sorted({x for x, _ in external} | {x for x, _ in internal})
    rows = list(zip(places, _heights(external, places), _heights(internal, places), strict=True))
    found = rows[:1]
    for (x, over, under), (next_x, next_over, next_under) in pairwise(rows):
        before, after = over - under, next_over - next_under
        if before * after < 0.0:
            share = before / (before - after)
            height = over + share * (next_over - over)
            found.append((x + share * (next_x - x), height, height))
        found.append((next_x, next_over, next_under))
    return found


def _heights(line: tuple[Point, ...], places: list[float]) -> list[float]:
    """Return the radius of a line at each of sorted places."""
    found = []
    index = 0
    for place in places:
        while index < len(line) - 2 and line[index + 1][0] < place:
            index += 1
        (x, r), (next_x, next_r) = line[index], line[index + 1]
        found.append(r + (next_r - r) * (place - x) / (next_x - x))
    return found
