"""The closed form against a numeric second model: helices as points, one turned into the other."""

from collections.abc import Iterable
from typing import NamedTuple

import pytest

from fitcheck.standards.threads import Fit, Thread, fit, known_threads, limits, parse
from tests.standards.threads.second_model import (
    STEP_TURNS,
    Verdict,
    external_section,
    internal_section,
    meet,
    second_verdict,
)
from tests.standards.threads.test_fit import TABLE

ENGAGEMENT_MM = 6.0

READING = 2 * STEP_TURNS  # how finely the second model finds a depth, at both ends
ROUNDED_ROOT = 0.5  # the closed form looks at a controlled root in its own pitch only
OUT_OF_LINE = 0.25  # a taper thread whose axis may move aside wedges up to a quarter turn later

OUTCOMES = {
    "mates": "goes home",
    "may-bind": "goes home",
    "runs-in-loose": "goes home",
    "starts-then-binds": "binds",
    "will-not-start": "stays out",
    "drops-through": "falls",
}


class Both(NamedTuple):
    """One pair as both models have it; `most` is how many turns it can go in at all."""

    name: str
    closed: Fit
    second: Verdict
    most: float

    def closed_turns(self, extreme: int) -> float:
        """Return the closed form's free turns, no more than can be screwed in."""
        return min(self.closed.free_turns[extreme], self.most)


def both(external: Thread, internal: Thread) -> Both:
    """Return a pair as both models have it."""
    bolt, nut = limits(external), limits(internal)
    most = (bolt.external.useful_mm or ENGAGEMENT_MM) / internal.pitch_mm
    closed = fit(external, internal, ENGAGEMENT_MM)
    second = second_verdict(bolt, nut, ENGAGEMENT_MM)
    return Both(f"{external} in {internal}", closed, second, most)


def tapers(external: Thread, internal: Thread) -> bool:
    """Return whether a member is taper; the external member of Rp is R."""
    return bool(limits(external).external.taper or limits(internal).internal.taper)


def barely_touching_taper(pair: Both, external: Thread, internal: Thread) -> bool:
    """Return whether a taper pair is outside the closed form: at its loosest hardly any crest reaches the other.

    A taper makes such a pair touch over a part of its length only, and only that part can bind.
    """
    least, most = pair.closed.overlap_percent
    return tapers(external, internal) and least < 10.0 and most > -10.0


def disagreements(pairs: Iterable[tuple[Thread, Thread]]) -> tuple[int, list[str]]:
    """Return how many pairs were compared, and those on which the models differ by more than can be read off them."""
    count, wrong = 0, []
    for external, internal in pairs:
        pair = both(external, internal)
        if barely_touching_taper(pair, external, internal):
            continue
        count += 1
        tolerance = READING + (OUT_OF_LINE if tapers(external, internal) else 0.0)
        tolerance += ROUNDED_ROOT if external.family == "UNJ" and external.pitch_mm < internal.pitch_mm else 0.0
        if OUTCOMES[pair.closed.verdict] not in pair.second.outcomes_within(tolerance):
            wrong.append(f"{pair.name}: {pair.closed.verdict} against {pair.second.outcome}")
        if pair.closed.verdict != "drops-through":
            apart = max(abs(pair.closed_turns(extreme) - pair.second.turns[extreme]) for extreme in (0, 1))
            if apart > tolerance:
                wrong.append(f"{pair.name}: {apart:.2f} turns apart")
    return count, wrong


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row[0]} in {row[1]}")
def test_table_by_the_second_model(row: tuple[str, ...]) -> None:
    """On every pair of the derived table both models agree: outcome, turns to a sixteenth, height to 1 um."""
    external, internal = parse(row[0]), parse(row[1])
    assert disagreements([(external, internal)]) == (1, [])
    pair = both(external, internal)
    assert sorted(pair.second.overlap_mm) == pytest.approx(pair.closed.overlap_mm, abs=0.001)


def test_outcomes_of_the_table_are_the_same() -> None:
    """The two models give one and the same outcome on every pair of the table."""
    for row in TABLE:
        pair = both(parse(row[0]), parse(row[1]))
        assert OUTCOMES[pair.closed.verdict] == pair.second.outcome, pair.name


def test_a_sample_of_all_known_pairs() -> None:
    """On every eleventh pair of the trade's list both models agree to a sixteenth of a turn, tapers to a third."""
    known = known_threads()
    pairs = [(external, internal) for external in known for internal in known][::11]
    count, wrong = disagreements(pairs)
    assert wrong == []
    assert count > 200


@pytest.mark.slow
def test_all_known_pairs() -> None:
    """On every pair of the trade's list both models agree to a sixteenth of a turn, tapers to a third."""
    known = known_threads()
    count, wrong = disagreements((external, internal) for external in known for internal in known)
    assert wrong == []
    assert count > 2_500


@pytest.mark.parametrize("size", ["3/8-24", "7/16-20", "9/16-18"])
def test_hole_at_which_a_rounded_root_binds(size: str) -> None:
    """Turned into ever larger holes, a rounded root stops binding at the end of the band that the fit gives."""
    bolt = external_section(limits(parse(f"{size} UNJF")).external, tight=True)
    plain = limits(parse(f"{size} UNF")).internal
    band = fit(parse(f"{size} UNJF"), parse(f"{size} UNF")).binding_band_mm
    assert band is not None
    for hole, free in ((band[1] - 0.04, False), (band[1] + 0.04, True)):
        nut = internal_section(plain._replace(minor_mm=(hole, hole)), tight=True)
        assert (meet(bolt, nut, 3.0).turns == 3.0) is free


def test_unlike_flanks_touch_at_the_crest() -> None:
    """55 degrees in 60 loses the clearance that the closed form says, found by widening the hole until it enters."""
    bolt, nut = limits(parse("G1/2")).external, limits(parse("1/2-14 NPT")).internal._replace(taper=0.0)
    section = external_section(bolt, tight=True, roots=False)
    low, high = -0.2, 0.4  # clearance at the pitch line
    while high - low > 1e-4:
        clearance = (low + high) / 2.0
        wide = nut._replace(pitch_mm=(bolt.pitch_mm[1] + clearance, bolt.pitch_mm[1] + clearance))
        enters = meet(section, internal_section(wide, tight=True, roots=False), 3.0).turns == 3.0
        low, high = (low, clearance) if enters else (clearance, high)
    # (d - d2) (tan 30 - tan 27.5) / tan 30, with d - d2 = 1.162 mm (ISO 228-1)
    assert high == pytest.approx(1.162 * 0.09835, abs=0.005)
