"""Which threads a measured fitting can be, ranked by likelihood.

The error model, all of it common practice, no source, but for the limits of size:

- a part is made anywhere within the limits of size of its crest, each place as likely; as likely as not it has
  worn, by anything up to 0.1 mm below the least external or above the greatest internal crest;
- a taper thread is measured anywhere along its length, which widens its limits by the taper;
- the calliper is right to 0.05 mm either way in 95 of 100 readings; one in 20 is a slip of up to 0.25 mm;
- against a pitch gauge, or counting turns over a length, a drift of 0.25 mm over all the threads gauged is
  missed in 5 of 100 readings: the more threads, the surer the pitch;
- a thread of the trade's list is five times as likely to be met as any other thread of the tables; one with a
  rounded root, which is aerospace's, counts as any other;
- where the tube is known, a thread that a nut for that tube has is 20 times as likely as one that none has.

Shares are the products of these, made to add up to 100 over every thread of the tables (derived).
"""

from functools import lru_cache
from math import erf, exp, pi, sqrt
from typing import Any, NamedTuple

from fitcheck.standards.threads.every import every_thread, has_member, has_rounded_root
from fitcheck.standards.threads.known import known_uses
from fitcheck.standards.threads.limits import limits
from fitcheck.standards.threads.reading import Reading
from fitcheck.standards.threads.thread import Thread

CALLIPER_MM = 0.05
"""Error of a calliper reading, either way, in 95 of 100 [mm] (common practice, no source)."""

WEAR_MM = 0.1
"""Most that a crest is taken to have worn beyond its limits of size [mm] (common practice, no source)."""

DRIFT_MM = 0.25
"""Drift over the threads gauged that is seen in 95 of 100 readings [mm] (common practice, no source)."""

TRADE_ODDS = 5.0
"""How much likelier a thread of the trade's list is than another (common practice, no source)."""

TUBE_ODDS = 20.0
"""How much likelier a thread is that a nut for the stated tube has (common practice, no source)."""

SLIP_MM = 0.25
"""How far a calliper reading that was a slip lies off [mm], one in 20 (common practice, no source)."""

LEAST_PERCENT = 0.5
"""Candidates with a smaller share are not listed."""

_FAR = 2.0  # a pitch that drifts by more than this many times what is seen is another pitch
_SLIPS = 0.05
_NEAREST = 3
SOURCE = (
    "derived from the limits of size of every thread of the tables; errors of measuring and wear: common practice,"
    " no source"
)


class Candidate(NamedTuple):
    """One thread that a reading can be of.

    `share_percent` of all candidates. `crest_mm` is where a part within limits can be measured (taper included),
    `crest_off_mm` how far the reading lies below (negative) or above it, `drift_mm` how far the pitch drifts from
    the reading over the threads gauged. `use` is what the trade uses it for, or empty. `on_nut` says that a nut for
    the stated tube has it, None if no tube was stated.
    """

    thread: Thread
    share_percent: float
    crest_mm: tuple[float, float]
    crest_off_mm: float
    drift_mm: float
    use: str
    on_nut: bool | None = None

    def to_json(self) -> dict[str, Any]:
        """Return plain values, lengths in mm."""
        return {
            "designation": self.thread.designation,
            "share_percent": round(self.share_percent, 1),
            "crest_mm": list(self.crest_mm),
            "crest_off_mm": self.crest_off_mm,
            "drift_mm": self.drift_mm,
            "use": self.use or None,
            "on_nut_for_tube": self.on_nut,
        }


class Identified(NamedTuple):
    """The answer to a reading: candidates, likeliest first.

    `tube_unknown` says that no candidate is on a nut for the stated tube, so that the tube narrowed nothing.
    `nearest` are the threads nearest to a reading that fits none, empty otherwise.
    """

    reading: Reading
    candidates: tuple[Candidate, ...]
    tube_unknown: bool = False
    nearest: tuple[Candidate, ...] = ()
    source: str = SOURCE


def identify(reading: Reading) -> Identified:
    """Return which threads a reading can be of, likeliest first.

    9.4 mm over the crests with 24 threads per inch is 3/8-24. Source: see the module.
    """
    of_tube = frozenset() if reading.tube_mm is None else nut_sizes(reading.tube_mm)
    possible = [thread for thread in every_thread() if _possible(thread, reading)]
    if not possible:
        return Identified(reading, (), nearest=_nearest(reading))
    candidates = _ranked([(thread, _weight(thread, reading, of_tube)) for thread in possible], reading, of_tube)
    unknown = reading.tube_mm is not None and not any(each.on_nut for each in candidates)
    return Identified(reading, candidates, unknown)


@lru_cache(maxsize=1024)
def crest_band(thread: Thread, internal: bool) -> tuple[float, float]:
    """Return between which diameters a calliper finds the crests of a part within limits [mm].

    For an external thread the limits of the major diameter, for an internal one of the minor. A taper thread can
    be measured anywhere from its small end to the end of its useful length, which widens them. Source: derived.
    """
    both = limits(thread)
    member = both.internal if internal else both.external
    low, high = member.minor_mm if internal else member.major_mm
    assert low is not None  # every standard sets both limits of a crest
    assert high is not None
    useful = both.external.useful_mm
    if internal:
        return round(low - member.taper * useful, 4), high
    past_gauge = useful - member.gauge_mm
    return round(low - member.taper * member.gauge_mm, 4), round(high + member.taper * past_gauge, 4)


def worn_band(thread: Thread, internal: bool) -> tuple[float, float]:
    """Return `crest_band` with the wear that is allowed for: less for an external, more for an internal crest."""
    low, high = crest_band(thread, internal)
    return (low, high + WEAR_MM) if internal else (low - WEAR_MM, high)


def nut_sizes(tube_mm: float) -> frozenset[tuple[float, float]]:
    """Return diameter and pitch [mm] of every thread that a nut for a tube of this outside diameter has.

    The measured part may be the nut or the port that it goes into. Source: the table of nuts.
    """
    from fitcheck.standards.nuts import nuts  # its tables are read only when a tube is given
    from fitcheck.standards.sizes import same_tube
    from fitcheck.standards.threads.designation import parse

    return frozenset(_size(parse(nut.thread)) for nut in nuts() if same_tube(nut.od_mm, tube_mm))


def _size(thread: Thread) -> tuple[float, float]:
    return round(thread.nominal_mm, 4), round(thread.pitch_mm, 4)


def _possible(thread: Thread, reading: Reading) -> bool:
    """Return whether a reading lies within the stated errors of a thread, slips included."""
    if not has_member(thread, reading.internal) or _drift(thread, reading) > _FAR * DRIFT_MM:
        return False
    low, high = worn_band(thread, reading.internal)
    return low - SLIP_MM <= reading.crest_mm <= high + SLIP_MM


def _drift(thread: Thread, reading: Reading) -> float:
    return abs(thread.pitch_mm - reading.pitch_mm) * reading.threads


def _weight(thread: Thread, reading: Reading, of_tube: frozenset[tuple[float, float]]) -> float:
    """Return the likelihood of a reading if the part is this thread, times how likely one is to meet it."""
    low, high = crest_band(thread, reading.internal)
    new, worn = _densities(reading.crest_mm, low, high, reading.internal)
    spread = DRIFT_MM / 2.0
    pitch = exp(-0.5 * (_drift(thread, reading) / spread) ** 2)
    slip = 1.0 / (high - low + WEAR_MM + 2.0 * SLIP_MM)
    crest = (1.0 - _SLIPS) * (0.5 * new + 0.5 * worn) + _SLIPS * slip
    common = thread.designation in known_uses() and not has_rounded_root(thread)
    return pitch * crest * (TRADE_ODDS if common else 1.0) * (TUBE_ODDS if _size(thread) in of_tube else 1.0)


def _densities(crest: float, low: float, high: float, internal: bool) -> tuple[float, float]:
    """Return the density of a crest reading for a new part, and for one worn by up to `WEAR_MM` [1/mm].

    Exact: the sum of a uniform size, uniform wear and a normal error of reading.
    """
    if internal:  # an internal crest wears upwards: the mirror image
        crest, low, high = -crest, -high, -low
    new = (_normal(crest - low) - _normal(crest - high)) / (high - low)
    corners = _ramp(crest - low + WEAR_MM) - _ramp(crest - low) - _ramp(crest - high + WEAR_MM) + _ramp(crest - high)
    return max(new, 0.0), max(corners / (WEAR_MM * (high - low)), 0.0)


def _normal(off_mm: float) -> float:
    """Return the share of calliper readings that are less than `off_mm` too large."""
    return 0.5 + 0.5 * erf(off_mm / (CALLIPER_MM / 2.0 * sqrt(2.0)))


def _ramp(off_mm: float) -> float:
    """Return the integral of `_normal` up to `off_mm` [mm]."""
    spread = CALLIPER_MM / 2.0
    return off_mm * _normal(off_mm) + spread * exp(-0.5 * (off_mm / spread) ** 2) / sqrt(2.0 * pi)


def _ranked(
    weighed: list[tuple[Thread, float]], reading: Reading, of_tube: frozenset[tuple[float, float]]
) -> tuple[Candidate, ...]:
    total = sum(weight for _, weight in weighed)
    found = [_candidate(thread, 100.0 * weight / total, reading, of_tube) for thread, weight in weighed]
    found.sort(key=lambda each: (-round(each.share_percent, 6), each.thread.designation))
    return tuple(each for each in found if each.share_percent >= LEAST_PERCENT)


def _candidate(
    thread: Thread, share: float, reading: Reading, of_tube: frozenset[tuple[float, float]] = frozenset()
) -> Candidate:
    low, high = crest_band(thread, reading.internal)
    off = min(reading.crest_mm - low, 0.0) or max(reading.crest_mm - high, 0.0)
    use = known_uses().get(thread.designation, "")
    on_nut = None if reading.tube_mm is None else _size(thread) in of_tube
    return Candidate(thread, share, (low, high), off, _drift(thread, reading), use, on_nut)


def _nearest(reading: Reading) -> tuple[Candidate, ...]:
    """Return the threads whose crest and pitch are nearest to a reading that fits none, both in stated errors."""
    found = [_candidate(thread, 0.0, reading) for thread in every_thread() if has_member(thread, reading.internal)]

    def distance(each: Candidate) -> tuple[float, str]:
        errors = (each.crest_off_mm / (CALLIPER_MM + WEAR_MM)) ** 2 + (each.drift_mm / DRIFT_MM) ** 2
        return round(errors, 6), each.thread.designation

    return tuple(sorted(found, key=distance)[:_NEAREST])
