"""How to tell two threads apart with what a workshop has: calliper, pitch gauge, a nut or bolt of each, a print."""

from math import ceil, inf, isinf
from typing import Any, NamedTuple

from fitcheck.standards.threads.every import has_member, has_rounded_root
from fitcheck.standards.threads.fit import Fit, fit
from fitcheck.standards.threads.identify import CALLIPER_MM, DRIFT_MM, Identified, worn_band
from fitcheck.standards.threads.look_alikes import look_alikes
from fitcheck.standards.threads.thread import Thread

_GOES_ON = ("mates", "may-bind", "runs-in-loose")
_SAME_MM = 1e-4


class HandTest(NamedTuple):
    """What a new part does by hand on the other of two threads: `piece` has the one, `wrong` is how it meets the other.

    `proves` says that this differs enough from what it does on its own thread: on the wrong one it stops after
    `stops_after` turns at the latest, lead-in included, or slides without gripping. `stops_after` is infinite
    where it never stops.
    """

    piece: str
    wrong: Fit
    stops_after: float
    proves: bool

    def to_json(self) -> dict[str, Any]:
        """Return plain values."""
        stops = None if isinf(self.stops_after) else self.stops_after
        return {
            "piece": self.piece,
            "on_the_other": self.wrong.verdict,
            "stops_after_turns": stops,
            "proves": self.proves,
        }


class Apart(NamedTuple):
    """How to tell `one` from `other`, both external or both internal.

    `threads` is over how many threads a pitch gauge of one shows a drift of 0.25 mm on the other, None for equal
    pitches. `crests_mm` are the bands in which each can be measured, worn parts included, `gap_mm` the space
    between them, negative if they overlap. `forms` says what else differs: `flank angle`, `taper`, `root`.
    """

    one: Thread
    other: Thread
    threads: int | None
    crests_mm: tuple[tuple[float, float], tuple[float, float]]
    gap_mm: float
    hand: tuple[HandTest, HandTest]
    forms: tuple[str, ...]

    @property
    def by_calliper(self) -> bool:
        """Return whether a calliper alone tells: the bands lie further apart than its error on both."""
        return self.gap_mm > 2.0 * CALLIPER_MM

    def to_json(self) -> dict[str, Any]:
        """Return plain values, lengths in mm."""
        return {
            "one": self.one.designation,
            "other": self.other.designation,
            "pitch_gauge_threads": self.threads,
            "crest_mm": [list(band) for band in self.crests_mm],
            "crest_gap_mm": self.gap_mm,
            "calliper_tells": self.by_calliper,
            "by_hand": [test.to_json() for test in self.hand],
            "forms": list(self.forms),
        }


def confusions(found: Identified) -> tuple[Apart, ...]:
    """Return how to tell the likeliest candidate from every other, then from its look-alikes among the trade's.

    Of the look-alikes those come first that it goes home in, or that go home in it, and that do not hold.
    Empty if the reading fits no thread.
    """
    if not found.candidates:
        return ()
    internal = found.reading.internal
    best = found.candidates[0].thread
    rivals = [each.thread for each in found.candidates[1:]]
    alike = [each for each in look_alikes(best) if has_member(each, internal) and each not in rivals]
    others = [tell_apart(best, other, internal) for other in alike]
    others.sort(key=lambda each: not any(test.wrong.verdict == "runs-in-loose" for test in each.hand))
    return (*(tell_apart(best, other, internal) for other in rivals), *others)


def tell_apart(one: Thread, other: Thread, internal: bool = False) -> Apart:
    """Return how to tell two external (or internal) threads apart.

    3/8-24 from M10x1: a pitch gauge needs 5 threads, a 3/8-24 nut does not start on M10x1, an M10x1 nut goes on
    both. Source: derived from the limits of size of both; what is seen and what wears, see `identify`.
    """
    difference = abs(one.pitch_mm - other.pitch_mm)
    bands = (worn_band(one, internal), worn_band(other, internal))
    gap = max(bands[0][0], bands[1][0]) - min(bands[0][1], bands[1][1])
    hand = (_hand_test(one, other, internal), _hand_test(other, one, internal))
    threads = ceil(DRIFT_MM / difference - 1e-9) if difference > _SAME_MM else None
    return Apart(one, other, threads, bands, gap, hand, _forms(one, other))


def _hand_test(tool: Thread, wrong: Thread, internal: bool) -> HandTest:
    """Return what a new part of `tool` does on a part that is `wrong`; the measured part is internal or not."""
    met = fit(tool, wrong) if internal else fit(wrong, tool)
    piece = _piece(tool, not internal)
    if met.verdict in _GOES_ON:
        return HandTest(piece, met, inf, False)
    if met.verdict == "drops-through":
        return HandTest(piece, met, inf, True)
    stops = ceil(met.free_turns[1] + met.starts_on_chamfer)
    # A taper thread stops on its own mate too, after a few turns: that proves only what stops well before.
    return HandTest(piece, met, stops, stops < fit(tool, tool).free_turns[0])


def _piece(thread: Thread, internal: bool) -> str:
    """Return what the internal (or external) part of a thread is called: that of R is Rc, that of Rp and Rc is R."""
    if has_member(thread, internal):
        return thread.designation
    return ("Rc" if internal else "R") + thread.designation.removeprefix(thread.series)


def _forms(one: Thread, other: Thread) -> tuple[str, ...]:
    found = []
    if one.flank_deg != other.flank_deg:
        found.append("flank angle")
    if one.taper != other.taper:
        found.append("taper")
    if has_rounded_root(one) != has_rounded_root(other):
        found.append("root")
    return tuple(found)
