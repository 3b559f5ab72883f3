"""What happens when an external thread is screwed into an internal one.

Everything follows from the limits of size of the two members at both extremes: the tight one (largest external,
smallest internal) and the loose one. Nothing is looked up by name. The figures are those of `geometry`, the
strength that of `strength`, and `verdict` judges them; this module is the record.
"""

from collections.abc import Mapping
from functools import lru_cache
from math import isinf
from typing import Any, NamedTuple

from fitcheck.errors import FitcheckError
from fitcheck.standards.threads.figure_sources import FIGURE_SOURCES
from fitcheck.standards.threads.geometry import Pair, lead_in_turns, measure
from fitcheck.standards.threads.limits import limits
from fitcheck.standards.threads.member import Limits
from fitcheck.standards.threads.strength import share_left
from fitcheck.standards.threads.thread import Thread
from fitcheck.standards.threads.verdict import binding_band, judge

ENGAGEMENT_MM = 6.0
"""Length of engagement assumed when none is given [mm] (common practice, no source)."""

_GOES_TOGETHER_ONLY = ("runs-in-loose", "starts-then-binds")
_APART = ("will-not-start", "drops-through")


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
    `drops-through`. `clearance_mm` is c at the mouth, negative where the external thread is too large;
    `radial_clearance_mm` is half of it, the play of one side. `overlap_percent` may exceed 100 or fall below 0;
    `overlap_mm` is the same height, on one side. `free_turns` is infinite where nothing ever binds.
    `pitch_difference_mm` is external less internal pitch.

    `goes_home` says for the loosest and for the tightest pair whether it screws in over all of `engagement_mm` (a
    taper thread: to its gauge plane). `strip_share` is the share of the right thread's strip strength that is left,
    None if the pair does not go together or is taper. `starts_on_chamfer` is for how many turns it may catch on the
    lead-in, 0 if not even there. `binding_band_mm` is the part of the hole's limits in which a rounded root binds,
    None for other pairs. `sources` says for each figure where its formula is from.
    """

    verdict: str
    clearance_mm: tuple[float, float]
    overlap_percent: tuple[float, float]
    free_turns: tuple[float, float]
    reason: str
    source: str
    pitch_difference_mm: float
    radial_clearance_mm: tuple[float, float]
    overlap_mm: tuple[float, float]
    goes_home: tuple[bool, bool]
    strip_share: tuple[float, float] | None
    starts_on_chamfer: float
    binding_band_mm: tuple[float, float] | None
    engagement_mm: float
    sources: Mapping[str, str] = FIGURE_SOURCES

    def to_json(self) -> dict[str, Any]:
        """Return the JSON shape of the `thread` command; endless turns are null."""
        share, band = self.strip_share, self.binding_band_mm
        return {
            "verdict": self.verdict,
            "clearance_mm": [round(value, 4) for value in self.clearance_mm],
            "radial_clearance_mm": [round(value, 4) for value in self.radial_clearance_mm],
            "overlap_mm": [round(value, 4) for value in self.overlap_mm],
            "overlap_percent": [round(value, 1) for value in self.overlap_percent],
            "free_turns": [None if isinf(value) else round(value, 2) for value in self.free_turns],
            "starts_on_chamfer_turns": round(self.starts_on_chamfer, 1),
            "engagement_mm": self.engagement_mm,
            "goes_home": {"loosest": self.goes_home[0], "tightest": self.goes_home[1]},
            "strip_share": None if share is None else [round(value, 3) for value in share],
            "binding_band_mm": None if band is None else [round(value, 3) for value in band],
            "pitch_difference_mm": round(self.pitch_difference_mm, 4),
            "reason": self.reason,
            "source": self.source,
        }


@lru_cache(maxsize=8192)
def fit(external: Thread, internal: Thread, engagement_mm: float = ENGAGEMENT_MM) -> Fit:
    """Return what happens when `external` is screwed into `internal` over a length of engagement [mm].

    3/8-24 UNF into M10x1 has 0.54 to 0.79 mm of clearance, 15 to 54 % overlap and 5.4 to 7.8 free turns: it
    runs in loose, and 21 to 26 % of the strip strength is left. Source: derived from both threads' limits of size;
    the answer's `source` names their standards, `sources` the formula of each figure.

    Raises EngagementError if the engagement is not above zero, ThreadLimitsError if a thread has no limits.
    """
    if not engagement_mm > 0.0:
        raise EngagementError(engagement_mm)
    return meet(limits(external), limits(internal), engagement_mm)


def meet(external: Limits, internal: Limits, engagement_mm: float) -> Fit:
    """Do what `fit` does with limits at hand: plain arithmetic, nothing read and nothing cached."""
    pair = measure(external.external, internal.internal, engagement_mm)
    verdict, reason = judge(pair)
    share = None if verdict in _APART else share_left(pair, internal.external, engagement_mm)
    lead_in = 0.0 if verdict == "drops-through" else lead_in_turns(pair)
    clearance = pair.clearance
    return Fit(
        verdict=verdict,
        clearance_mm=clearance,
        overlap_percent=pair.overlap_percent,
        free_turns=pair.turns,
        reason=reason + _more(verdict, pair, internal.thread, share, lead_in),
        source=_source(external, internal),
        pitch_difference_mm=pair.pitch_difference,
        radial_clearance_mm=(clearance[0] / 2.0, clearance[1] / 2.0),
        overlap_mm=pair.overlap,
        goes_home=_goes_home(verdict, pair),
        strip_share=share,
        starts_on_chamfer=lead_in,
        binding_band_mm=binding_band(pair) if verdict == "may-bind" else None,
        engagement_mm=engagement_mm,
    )


def mates(external: Thread, internal: Thread) -> bool:
    """Return whether the two threads make a sound joint: the verdict of `fit` is `mates`."""
    return fit(external, internal).verdict == "mates"


def dangerous(result: Fit) -> bool:
    """Return whether the pair goes together by hand but does not hold: it can be fitted by mistake."""
    return result.verdict in _GOES_TOGETHER_ONLY


def _source(external: Limits, internal: Limits) -> str:
    source = f"derived from the limits of size of {external.thread.designation}: {external.source}"
    if internal.source != external.source:
        source += f"; and of {internal.thread.designation}: {internal.source}"
    return source


def _more(verdict: str, pair: Pair, internal: Thread, share: tuple[float, float] | None, lead_in: float) -> str:
    """Return what the reason adds: the lead-in of a pair that will not start, the strength left of a loose one."""
    if verdict == "will-not-start":
        return f"; may catch for up to {_turns(lead_in)} on the lead-in" if lead_in else "; not even on the lead-in"
    if verdict == "runs-in-loose" and share is not None:
        return f"; {_percent(share)} % of the right thread's strip strength is left"
    if verdict == "mates" and pair.bolt.taper and internal.series == "G":
        return "; a parallel pipe port does not seal on the thread"
    return ""


def _turns(count: float) -> str:
    shown = f"{count:.1f}"
    return f"{shown} turn" if float(shown) <= 1.0 else f"{shown} turns"


def _percent(share: tuple[float, float]) -> str:
    least, most = (f"{100.0 * end:.0f}" for end in share)
    return least if least == most else f"{least} to {most}"


def _goes_home(verdict: str, pair: Pair) -> tuple[bool, bool]:
    """Return whether the loosest and the tightest pair go in all the way."""
    if verdict in ("mates", "drops-through"):
        return True, True
    if verdict == "may-bind":
        return True, False
    tight, loose = (turns * pair.nut.thread_pitch_mm >= pair.home for turns in pair.turns)
    return loose, tight
