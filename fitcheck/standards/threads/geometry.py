"""What two threads are to each other in figures, at both extremes of both tolerances; no verdict yet.

The tight extreme is the largest external in the smallest internal thread, the loose one the reverse. Both axes
coincide: any other place takes clearance away on one side. The model, for threads of any pitch, angle and taper:

- clearance at the pitch line, c = D2 - d2, at the mouth of the internal thread when the external one is just in;
- flanks of unlike angle touch at the outer end of the overlap if the external thread is the sharper, at the inner
  end if it is the blunter; up to there the sharper flank leans away, which takes
  height (tan blunt - tan sharp) / tan blunt off the clearance;
- at the pitch line a ridge of the external thread is half its own pitch wide and the gap half the other's, which
  leaves c tan + (P_int - P_ext) / 2 of play along the axis: an external thread of the coarser pitch has less;
- a pitch difference dP uses up that play by dP a turn; a taper takes P / 16 tan off it each turn that has entered,
  over the whole thread if both are taper, at one end only if one is. So a pair binds after
  play / (dP + tan P / 16) turns, and after play / (dP + tan P / 32), at most play / (tan P / 16), if one is taper;
- overlap, d - D1, is what is left to carry load.

Limits of the model: the rounded root of a controlled radius is looked at in its own pitch only, and may bind up to half
a turn sooner in a coarser one. Waviness, dirt and plating are not seen.

Source: derived; the effect of a pitch error on the pitch diameter is that of FED-STD-H28/2B (1991) para 60 and of
screw gauging practice (1.732 times the error at 60 degrees).
"""

from math import inf, radians, tan
from typing import NamedTuple

from fitcheck.standards.threads.member import BASIC_HEIGHT, Member

LEAD_IN_TURNS = 2.0
"""Longest lead-in thread, in turns (FED-STD-H28/2B (1991) para 5.7.2.1)."""

SAME_PITCH_MM = 1e-4
TOUCH_MM = 1e-3
_TAN = {55.0: tan(radians(27.5)), 60.0: tan(radians(30.0))}

Span = tuple[float, float]


class Pair(NamedTuple):
    """The figures of a pair. Lengths in mm; `clearance` and `turns` are (tight, loose), the rest (least, most).

    `flank_clearance` is the clearance less what unlike flank angles take of it. `home` is the length at which
    the external thread has gone home: its gauge plane if it is taper, else the engagement. `entered` is how far
    it goes in, at most home (its useful length if taper). `taper` says that either thread is taper.
    """

    bolt: Member
    nut: Member
    pitch_difference: float
    clearance: Span
    flank_clearance: Span
    overlap: Span
    overlap_percent: Span
    turns: Span
    entered: Span
    home: float
    same_pitch: bool
    same_flank: bool
    taper: bool


def measure(bolt: Member, nut: Member, engagement_mm: float) -> Pair:
    """Return the figures of external `bolt` in internal `nut` over a length of engagement [mm]. Source: derived."""
    start = bolt.taper * bolt.gauge_mm  # from the gauge plane down to the small end, on diameter
    clearance = (nut.pitch_mm[0] - bolt.pitch_mm[1] + start, nut.pitch_mm[1] - bolt.pitch_mm[0] + start)
    pitch = nut.thread_pitch_mm
    difference = bolt.thread_pitch_mm - pitch
    same_pitch, same_flank = abs(difference) < SAME_PITCH_MM, bolt.flank_deg == nut.flank_deg
    flank = clearance if same_flank else _less_for_angle(bolt, nut, clearance)
    deepest = bolt.useful_mm if bolt.taper else engagement_mm
    taper = bolt.taper or nut.taper
    reach = taper * deepest
    tight = known(bolt.major_mm[1]) - start - known(nut.minor_mm[0])
    loose = known(bolt.major_mm[0]) - start - known(nut.minor_mm[1])
    # Where the crests miss each other all the way, no flank is there to bind.
    first = last = inf
    if tight + reach > 0.0:
        first = min(_free_turns(bolt, nut, flank[0]), _turns_to_root(bolt, nut, same_pitch and same_flank))
    if loose + reach > 0.0:
        last = _free_turns(bolt, nut, flank[1])
    entered = (min(first * pitch, deepest), min(last * pitch, deepest))
    # Taper threads can enter deeper at the loose extreme, which may turn the two round.
    loose, tight = loose + taper * entered[1], tight + taper * entered[0]
    if loose > tight:
        loose, tight = tight, loose
    height = _height(bolt, nut)
    return Pair(
        bolt,
        nut,
        difference,
        clearance,
        flank_clearance=flank,
        overlap=(loose / 2.0, tight / 2.0),
        overlap_percent=(100.0 * loose / height, 100.0 * tight / height),
        turns=(first, last),
        entered=entered,
        home=bolt.gauge_mm if bolt.taper else engagement_mm,
        same_pitch=same_pitch,
        same_flank=same_flank,
        taper=taper > 0.0,
    )


def known(limit: float | None) -> float:
    """Return a limit that every standard sets: both of a crest, of a root the one that guards it."""
    assert limit is not None
    return limit


def half_angle_tan(flank_deg: float) -> float:
    """Return the tangent of half an included flank angle [deg]."""
    found = _TAN.get(flank_deg)
    return tan(radians(flank_deg / 2.0)) if found is None else found


def _less_for_angle(bolt: Member, nut: Member, clearance: Span) -> Span:
    """Return the clearances less what unlike flank angles take (see the module). G1/8 in M10x1 loses 0.057 mm."""
    of_bolt, of_nut = half_angle_tan(bolt.flank_deg), half_angle_tan(nut.flank_deg)
    if of_bolt < of_nut:
        share = 1.0 - of_bolt / of_nut
        tight, loose = known(bolt.major_mm[1]) - bolt.pitch_mm[1], known(bolt.major_mm[0]) - bolt.pitch_mm[0]
    else:
        share = 1.0 - of_nut / of_bolt
        tight, loose = nut.pitch_mm[0] - known(nut.minor_mm[0]), nut.pitch_mm[1] - known(nut.minor_mm[1])
    return clearance[0] - share * max(tight, 0.0), clearance[1] - share * max(loose, 0.0)


def _free_turns(bolt: Member, nut: Member, clearance: float) -> float:
    """Return the turns until the flanks bind at one extreme, counted in pitches of the internal thread."""
    pitch = nut.thread_pitch_mm
    slope = half_angle_tan(max(bolt.flank_deg, nut.flank_deg))
    difference = bolt.thread_pitch_mm - pitch
    if abs(difference) < SAME_PITCH_MM:
        difference = 0.0
    play = clearance * slope - difference / 2.0
    if play < -1e-6:
        return 0.0
    room, per_turn = max(play, 0.0), abs(difference)
    narrows = slope * max(bolt.taper, nut.taper) * pitch
    if bolt.taper and nut.taper:
        return room / (per_turn + narrows)
    if narrows:
        return min(room / (per_turn + narrows / 2.0), room / narrows)
    return room / per_turn if per_turn else inf


def _turns_to_root(bolt: Member, nut: Member, alike: bool) -> float:
    """Return the turns until a crest meets the other member's root at the tight extreme; infinite if none does.

    Two threads of one pitch and angle are cut to clear each other's roots, unless the external root is a fillet. A
    taper brings crest and root together on the way in.
    """
    if alike:
        return 0.0 if _fillet_touches(bolt, nut) else inf
    start, taper = bolt.taper * bolt.gauge_mm, max(bolt.taper, nut.taper)
    over_root = known(bolt.major_mm[1]) - start - known(nut.major_mm[0])
    under_root = known(bolt.minor_mm[1]) - start - known(nut.minor_mm[0])
    touch = max(over_root, under_root)
    if touch > TOUCH_MM:
        return 0.0
    return max(-touch, 0.0) / (taper * nut.thread_pitch_mm) if taper else inf


def _fillet_touches(bolt: Member, nut: Member) -> bool:
    return bolt.fillet_mm is not None and known(nut.minor_mm[0]) < bolt.fillet_mm - TOUCH_MM


def _height(bolt: Member, nut: Member) -> float:
    """Return the basic height that overlap is a share of: the internal thread's if the forms agree."""
    same_form = abs(bolt.height_mm / bolt.thread_pitch_mm - nut.height_mm / nut.thread_pitch_mm) < 1e-3
    return nut.height_mm if same_form else BASIC_HEIGHT["60"] * nut.thread_pitch_mm


def lead_in_turns(pair: Pair) -> float:
    """Return for how many turns the external thread can catch on the lead-in, whatever its flanks do further in.

    Its end is chamfered 45 degrees down to its root, the hole countersunk 45 degrees out to its root; over the
    length of both, (d - d1) / 2 + (D - D1) / 2, the ridges have not their height yet and bite by hand. At most two
    turns, and at most until the pitches are half a pitch apart. Nothing where the ridges miss each other, or where
    even the smallest end is larger than the mouth. M10x1 in 3/8-24: 1.05 turns; the trade says that it catches one
    thread.

    Source: derived from the chamfers of FED-STD-H28/2B (1991) paras 5.5.2, 5.6 and 5.7.2.1.
    """
    bolt, nut = pair.bolt, pair.nut
    start = bolt.taper * bolt.gauge_mm
    smallest_end = known(bolt.minor_mm[1]) - (bolt.pitch_mm[1] - bolt.pitch_mm[0]) - start
    if pair.overlap[1] <= 0.0 or smallest_end >= known(nut.major_mm[0]):
        return 0.0
    chamfer = (known(bolt.major_mm[1]) - known(bolt.minor_mm[1])) / 2.0
    countersink = (known(nut.major_mm[0]) - known(nut.minor_mm[0])) / 2.0
    turns = min(LEAD_IN_TURNS, (chamfer + countersink) / nut.thread_pitch_mm)
    if pair.same_pitch:
        return turns
    apart = min(bolt.thread_pitch_mm, nut.thread_pitch_mm) / 2.0
    return min(turns, apart / abs(pair.pitch_difference))
