"""What happens when an external thread is screwed into an internal one.

Everything follows from the limits of size of the two members at both extremes: the tight one (largest
external, smallest internal) and the loose one. Nothing is looked up by name. The model, for threads of any
pitch and angle:

- clearance at the pitch line, c = D2 - d2, at the mouth of the internal thread;
- a pitch difference dP uses up c by dP / tan(half flank angle) a turn, and a taper by 1/16 of the length:
  where c is used up the flanks bind, after c tan / (dP + tan P / 16) turns;
- overlap, d - D1, as a share of the height of the basic profile: what is left to carry load.

Source: derived; the effect of a pitch error on the pitch diameter is that of FED-STD-H28/2B (1991) para 60
and of screw gauging practice (1.732 times the error at 60 degrees). Lead-in chamfers of up to two turns are
not modelled.
"""

from functools import lru_cache
from math import inf, isinf, radians, tan
from typing import Any, NamedTuple

from fitcheck.errors import FitcheckError
from fitcheck.standards.threads.limits import limits
from fitcheck.standards.threads.member import BASIC_HEIGHT, Member
from fitcheck.standards.threads.thread import Thread

ENGAGEMENT_MM = 6.0
"""Length of engagement assumed when none is given [mm] (common practice, no source)."""

DROP_PERCENT = 10.0
"""With less overlap than this at the tight extreme the crests only skate on each other (derived)."""

STRIP_PERCENT = 50.0
"""Below this share of the basic height a thread does not hold (derived, FED-STD-H28/2B para 60)."""

_SAME_PITCH_MM = 1e-4
_SAME_BASIC_MM = 0.05
_TOUCH_MM = 1e-3
_GOES_TOGETHER_ONLY = ("runs-in-loose", "starts-then-binds")


class EngagementError(FitcheckError, ValueError):
    """A length of engagement that is not above zero. `engagement_mm` is what was given."""

    def __init__(self, engagement_mm: float) -> None:
        self.engagement_mm = engagement_mm
        super().__init__(engagement_mm)

    def __str__(self) -> str:
        return f"a length of engagement must be above 0 mm, got {self.engagement_mm:g} mm"


class Fit(NamedTuple):
    """The verdict on a pair, and the figures it rests on, each as (least, most) over both extremes.

    `verdict` is `mates`, `may-bind`, `will-not-start`, `starts-then-binds`, `runs-in-loose` or
    `drops-through`. `clearance_mm` is c at the mouth, negative where the external thread is too large.
    `overlap_percent` may exceed 100 or fall below 0. `free_turns` is infinite where nothing ever binds.
    `pitch_difference_mm` is external less internal pitch.
    """

    verdict: str
    clearance_mm: tuple[float, float]
    overlap_percent: tuple[float, float]
    free_turns: tuple[float, float]
    reason: str
    source: str
    pitch_difference_mm: float

    def to_json(self) -> dict[str, Any]:
        """Return the JSON shape of the `thread` command; endless turns are null."""
        return {
            "verdict": self.verdict,
            "clearance_mm": [round(value, 4) for value in self.clearance_mm],
            "overlap_percent": [round(value, 1) for value in self.overlap_percent],
            "free_turns": [None if isinf(value) else round(value, 2) for value in self.free_turns],
            "pitch_difference_mm": round(self.pitch_difference_mm, 4),
            "reason": self.reason,
            "source": self.source,
        }


class _Pair(NamedTuple):
    """The geometry of a pair (see the module); `home_mm` is the length at which it has gone home."""

    bolt: Member
    nut: Member
    pitch_difference: float
    clearance: tuple[float, float]
    overlap: tuple[float, float]
    turns: tuple[float, float]
    home_mm: float

    @property
    def same_pitch(self) -> bool:
        return abs(self.pitch_difference) < _SAME_PITCH_MM

    @property
    def same_flank(self) -> bool:
        return self.bolt.flank_deg == self.nut.flank_deg


@lru_cache(maxsize=8192)
def fit(external: Thread, internal: Thread, engagement_mm: float = ENGAGEMENT_MM) -> Fit:
    """Return what happens when `external` is screwed into `internal` over a length of engagement [mm].

    3/8-24 UNF into M10x1 has 0.54 to 0.79 mm of clearance, 15 to 54 % overlap and 5.4 to 7.8 free turns: it
    runs in loose. Source: derived from both threads' limits of size; the answer's `source` names their
    standards.

    Raises EngagementError if the engagement is not above zero, ThreadLimitsError if a thread has no limits.
    """
    if not engagement_mm > 0.0:
        raise EngagementError(engagement_mm)
    of_external, of_internal = limits(external), limits(internal)
    pair = _measure(of_external.external, of_internal.internal, engagement_mm)
    verdict, reason = _judge(pair)
    if verdict == "mates" and of_external.external.taper and internal.series == "G":
        reason += "; a parallel pipe port does not seal on the thread"
    source = f"derived from the limits of size of {external}: {of_external.source}"
    if of_internal.source != of_external.source:
        source += f"; and of {internal}: {of_internal.source}"
    return Fit(verdict, pair.clearance, pair.overlap, pair.turns, reason, source, pair.pitch_difference)


def mates(external: Thread, internal: Thread) -> bool:
    """Return whether the two threads make a sound joint: the verdict of `fit` is `mates`."""
    return fit(external, internal).verdict == "mates"


def dangerous(result: Fit) -> bool:
    """Return whether the pair goes together by hand but does not hold: it can be fitted by mistake."""
    return result.verdict in _GOES_TOGETHER_ONLY


def _measure(bolt: Member, nut: Member, engagement_mm: float) -> _Pair:
    start = bolt.taper * bolt.gauge_mm  # from the gauge plane down to the small end, on diameter
    clearance = (nut.pitch_mm[0] - bolt.pitch_mm[1] + start, nut.pitch_mm[1] - bolt.pitch_mm[0] + start)
    difference = bolt.thread_pitch_mm - nut.thread_pitch_mm
    taper = max(bolt.taper, nut.taper)
    turns = (_free_turns(bolt, nut, clearance[0], taper), _free_turns(bolt, nut, clearance[1], taper))
    alike = abs(difference) < _SAME_PITCH_MM and bolt.flank_deg == nut.flank_deg
    if not alike and _root_touches(bolt, nut, start):
        turns = (0.0, turns[1])
    deepest = bolt.useful_mm if bolt.taper else engagement_mm
    entered = [min(count * nut.thread_pitch_mm, deepest) for count in turns]
    crests = (
        _known(bolt.major_mm[0]) - start - _known(nut.minor_mm[1]) + taper * entered[1],
        _known(bolt.major_mm[1]) - start - _known(nut.minor_mm[0]) + taper * entered[0],
    )
    height = _height(bolt, nut)
    # Taper threads can enter deeper at the loose extreme, which may turn the two round.
    overlap = (100.0 * min(crests) / height, 100.0 * max(crests) / height)
    home = bolt.gauge_mm if bolt.taper else engagement_mm
    return _Pair(bolt, nut, difference, clearance, overlap, turns, home)


def _known(limit: float | None) -> float:
    """Return a limit that every standard sets: both of a crest, of a root the one that guards it."""
    assert limit is not None
    return limit


def _free_turns(bolt: Member, nut: Member, clearance: float, taper: float) -> float:
    """Return the turns until the flanks bind at one extreme, counted in pitches of the internal thread."""
    if clearance < -1e-6:
        return 0.0
    # Unlike angles bind where the blunter one does: 30 degrees, as for a 60 degree pair.
    slope = tan(radians(27.5 if bolt.flank_deg == nut.flank_deg == 55.0 else 30.0))
    difference = abs(bolt.thread_pitch_mm - nut.thread_pitch_mm)
    lost_a_turn = (difference if difference >= _SAME_PITCH_MM else 0.0) + slope * taper * nut.thread_pitch_mm
    return max(clearance, 0.0) * slope / lost_a_turn if lost_a_turn else inf


def _root_touches(bolt: Member, nut: Member, start: float) -> bool:
    """Return whether a crest can meet the other member's root at the tight extreme, before the flanks do."""
    over_root = _known(bolt.major_mm[1]) - start - _known(nut.major_mm[0])
    under_root = _known(bolt.minor_mm[1]) - start - _known(nut.minor_mm[0])
    return max(over_root, under_root) > _TOUCH_MM


def _height(bolt: Member, nut: Member) -> float:
    """Return the basic height that overlap is a share of: the internal thread's if the forms agree."""
    same_form = abs(bolt.height_mm / bolt.thread_pitch_mm - nut.height_mm / nut.thread_pitch_mm) < 1e-3
    return nut.height_mm if same_form else BASIC_HEIGHT["60"] * nut.thread_pitch_mm


def _judge(pair: _Pair) -> tuple[str, str]:
    if pair.overlap[1] < DROP_PERCENT:
        most = max(0.0, pair.overlap[1])
        return "drops-through", f"slides in: at most {most:.0f} % of the thread height touches"
    if pair.clearance[1] < 0.0:
        least, most = -pair.clearance[1], -pair.clearance[0]
        reason = f"the external thread is {least:.2f} to {most:.2f} mm too large at the pitch line"
        return "will-not-start", reason
    if pair.same_pitch and pair.same_flank:
        sound = _judge_parallel(pair) if not _tapers(pair) else _judge_taper(pair)
        if sound:
            return sound
    if pair.turns[1] < 1.0:
        return "will-not-start", f"{_unlike(pair)}: binds within {pair.turns[1]:.1f} turn"
    if pair.turns[1] * pair.nut.thread_pitch_mm >= pair.home_mm:
        return "runs-in-loose", _loose_reason(pair)
    return "starts-then-binds", f"{_unlike(pair)}: binds after {_span(pair.turns)} turns"


def _tapers(pair: _Pair) -> bool:
    return bool(pair.bolt.taper or pair.nut.taper)


def _judge_parallel(pair: _Pair) -> tuple[str, str] | None:
    """Judge two parallel threads of one pitch and angle; None if they are not of one basic size."""
    if abs(pair.bolt.basic_pitch_mm - pair.nut.basic_pitch_mm) > _SAME_BASIC_MM:
        return None
    fillet, hole = pair.bolt.fillet_mm, _known(pair.nut.minor_mm[0])
    if fillet is not None and hole < fillet - _TOUCH_MM:
        reason = f"the rounded root of the external thread can touch a hole under {fillet:.3f} mm; this one may be"
        return "may-bind", f"{reason} {hole:.3f} mm"
    if pair.clearance[0] < -_TOUCH_MM:
        return (
            "may-bind",
            f"the limits of size overlap by up to {-pair.clearance[0]:.3f} mm at the pitch line",
        )
    least, most = max(0.0, pair.clearance[0]), pair.clearance[1]
    return "mates", f"one basic size, with {least:.3f} to {most:.3f} mm of clearance at the pitch line"


def _judge_taper(pair: _Pair) -> tuple[str, str] | None:
    """Judge a taper external thread in its own pitch and angle; None if it wedges in the wrong place."""
    bolt, nut = pair.bolt, pair.nut
    if not bolt.taper:
        return None
    wedge = (nut.basic_pitch_mm - bolt.basic_pitch_mm) / bolt.taper + bolt.gauge_mm
    if not 0.5 * bolt.gauge_mm <= wedge <= bolt.useful_mm:
        return None
    return "mates", f"one pitch and flank angle, hand tight after {_span(pair.turns)} turns"


def _unlike(pair: _Pair) -> str:
    """Say what makes the flanks bind."""
    facts = []
    if not pair.same_pitch:
        facts.append(f"the pitches differ by {abs(pair.pitch_difference):.3f} mm")
    if not pair.same_flank:
        facts.append(f"the flank angles are {pair.bolt.flank_deg:.0f} and {pair.nut.flank_deg:.0f} degrees")
    if bool(pair.bolt.taper) != bool(pair.nut.taper):
        facts.append("one thread is taper")
    return ", ".join(facts) or "the diameters differ"


def _loose_reason(pair: _Pair) -> str:
    least, most = pair.overlap
    if least < STRIP_PERCENT:
        span = f"{least:.0f} to {most:.0f}" if least > 0.0 else f"at most {most:.0f}"
        return f"goes home with {span} % of the thread height and strips when tightened"
    return f"goes home although {_unlike(pair)}: few flanks carry or seal"


def _span(turns: tuple[float, float]) -> str:
    """Return `1.1 to 1.9`, or `at most 1.6` when the flanks may bind at once."""
    if turns[0] < 0.05:
        return f"at most {turns[1]:.1f}"
    return f"{turns[0]:.1f} to {turns[1]:.1f}"
