"""Which threads a measured fitting can be: ranking, error model, tube, how to tell two apart."""

from itertools import pairwise
from math import exp, inf, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.errors import FitcheckError
from fitcheck.standards.threads import Thread, fit, known_threads, limits, look_alikes, parse
from fitcheck.standards.threads.every import every_thread, has_member
from fitcheck.standards.threads.identify import (
    CALLIPER_MM,
    DRIFT_MM,
    SLIP_MM,
    WEAR_MM,
    _densities,
    crest_band,
    identify,
    nut_sizes,
    worn_band,
)
from fitcheck.standards.threads.reading import GAUGED_MM, Reading, ReadingError, reading
from fitcheck.standards.threads.tell_apart import confusions, tell_apart

MEMBERS = [
    pytest.param(thread, internal, id=f"{thread}-{'internal' if internal else 'external'}")
    for thread in known_threads()
    for internal in (False, True)
    if has_member(thread, internal)
]


def gauged(thread: Thread, crest: float, internal: bool) -> Reading:
    """Return a reading of a thread with the right pitch leaf and a given crest diameter."""
    return Reading(crest, thread.pitch_mm, GAUGED_MM / thread.pitch_mm, internal)


def passes_for(thread: Thread, read: Reading) -> bool:
    """Return whether calliper and gauge alone can take the reading for a worn or new part of `thread`."""
    low, high = worn_band(thread, read.internal)
    drift = abs(thread.pitch_mm - read.pitch_mm) * read.threads
    return low - CALLIPER_MM <= read.crest_mm <= high + CALLIPER_MM and drift <= DRIFT_MM


@pytest.mark.parametrize(("thread", "internal"), MEMBERS)
def test_known_thread_is_found_new_and_worn(thread: Thread, internal: bool) -> None:
    """A part anywhere in its limits or half worn is listed, and only threads that measure the same come before it."""
    (low, high), (least, most) = crest_band(thread, internal), worn_band(thread, internal)
    for crest in ((least + low) / 2, low, (low + high) / 2, high, (high + most) / 2):
        read = gauged(thread, crest, internal)
        names = [each.thread for each in identify(read).candidates]
        assert all(passes_for(other, read) for other in names[: names.index(thread)])


@pytest.mark.parametrize(("thread", "internal"), MEMBERS)
def test_known_thread_worn_as_far_as_allowed_is_still_listed(thread: Thread, internal: bool) -> None:
    """At the very end of the wear that is allowed for, a thread of the trade is still among the candidates."""
    for crest in worn_band(thread, internal):
        assert thread in [each.thread for each in identify(gauged(thread, crest, internal)).candidates]


FIRST = [
    ("9.4 mm", "24tpi", False, "3/8-24 UNF"),
    ("9.9 mm", "1 mm", False, "M10x1"),
    ("9.7 mm", "1.0mm", False, "M10x1"),  # worn
    ("9.9 mm", "10 in 12.5 mm", False, "M10x1.25"),
    ("0.374 in", "24 tpi", False, "3/8-24 UNF"),
    ("10 mm", "27tpi", False, "1/8-27 NPT"),
    ("9.65 mm", "28tpi", False, "G1/8"),
    ("11 mm", "24tpi", False, "7/16-24 UNS"),
    ("10.9 mm", "20tpi", False, "7/16-20 UNF"),
    ("9 mm", "1mm", True, "M10x1"),
    ("8.5 mm", "24tpi", True, "3/8-24 UNF"),
]


@pytest.mark.parametrize(("crest", "pitch", "internal", "expected"), FIRST)
def test_the_usual_fittings_come_first(crest: str, pitch: str, internal: bool, expected: str) -> None:
    """What a mechanic reads off the common brake fittings is named first."""
    assert identify(reading(crest, pitch, internal=internal)).candidates[0].thread.designation == expected


@given(crest=st.floats(1.5, 40.0), pitch=st.floats(0.3, 4.0), threads=st.floats(2.0, 30.0), internal=st.booleans())
def test_shares_are_a_ranking_of_what_the_errors_allow(
    crest: float, pitch: float, threads: float, internal: bool
) -> None:
    """Whatever is read, shares fall, add up to at most 100, and belong to threads within the stated errors."""
    found = identify(Reading(crest, pitch, threads, internal))
    shares = [each.share_percent for each in found.candidates]
    assert all(after <= before + 1e-6 for before, after in pairwise(shares))
    assert sum(shares) <= 100.0 + 1e-6
    assert bool(found.candidates) != bool(found.nearest)
    for each in found.candidates:
        low, high = worn_band(each.thread, internal)
        assert low - SLIP_MM <= crest <= high + SLIP_MM
        assert each.drift_mm <= 2 * DRIFT_MM


@given(thread=st.sampled_from(known_threads()), more=st.floats(1.1, 4.0))
def test_more_threads_gauged_never_favour_a_wrong_pitch(thread: Thread, more: float) -> None:
    """Counting over a longer piece of the same thread never raises the share of a thread of another pitch."""
    internal = not has_member(thread, internal=False)
    low, high = crest_band(thread, internal)
    short = Reading((low + high) / 2, thread.pitch_mm, 6.0, internal)
    once = {each.thread: each.share_percent for each in identify(short).candidates}
    again = {each.thread: each.share_percent for each in identify(short._replace(threads=6.0 * more)).candidates}
    for other, share in again.items():
        if other in once and abs(other.pitch_mm - thread.pitch_mm) > 0.01:
            assert share <= once[other] + 1e-6


@pytest.mark.parametrize("crest", [9.70, 9.76, 9.80, 9.90, 9.98, 10.02])
def test_density_is_the_sum_of_size_wear_and_error(crest: float) -> None:
    """The closed form agrees with adding up size, wear and error of reading in small steps."""
    low, high, spread, steps = 9.794, 9.974, CALLIPER_MM / 2, 400

    def normal(off: float) -> float:
        return exp(-0.5 * (off / spread) ** 2) / (spread * sqrt(2 * pi))

    sizes = [low + (high - low) * (step + 0.5) / steps for step in range(steps)]
    wears = [WEAR_MM * (step + 0.5) / 100 for step in range(100)]
    new, worn = _densities(crest, low, high, internal=False)
    assert new == pytest.approx(sum(normal(crest - size) for size in sizes) / steps, rel=1e-3, abs=1e-6)
    summed = sum(normal(crest - size + wear) for size in sizes for wear in wears) / steps / len(wears)
    assert worn == pytest.approx(summed, rel=1e-3, abs=1e-6)


def test_an_internal_crest_wears_the_other_way() -> None:
    """What an external thread does below its limits an internal one does above them."""
    assert _densities(9.70, 9.794, 9.974, internal=False) == pytest.approx(_densities(-9.70, -9.974, -9.794, True))


def test_a_taper_thread_is_measured_anywhere_along_it() -> None:
    """1/8 NPT: from the small end, 4.1 mm of taper under the gauge plane, to the end of its useful length."""
    low, high = crest_band(parse("1/8 NPT"), internal=False)
    at_gauge = limits(parse("1/8 NPT")).external.major_mm
    assert at_gauge[0] is not None
    assert at_gauge[1] is not None
    assert at_gauge[0] - low == pytest.approx(0.1615 * 25.4 / 16, abs=1e-3)
    assert high - at_gauge[1] == pytest.approx((0.2639 - 0.1615) * 25.4 / 16, abs=1e-3)


def test_the_tube_speaks_for_the_thread_its_nut_has() -> None:
    """11 mm with a 1 mm leaf is M11x1; on a 1/4 in tube, whose nut is 7/16-24, that comes first and M11x1 stays."""
    without = identify(reading("11 mm", "1 mm"))
    on_tube = identify(reading("11 mm", "1 mm", tube="1/4 in"))
    assert without.candidates[0].thread == parse("M11x1")
    assert on_tube.candidates[0].thread == parse("7/16-24")
    assert parse("M11x1") in [each.thread for each in on_tube.candidates]
    assert {each.thread.designation: each.on_nut for each in on_tube.candidates}["7/16-24 UNS"] is True
    assert all(each.on_nut is None for each in without.candidates)


def test_a_tube_without_such_a_nut_narrows_nothing_and_says_so() -> None:
    """No nut for 1/8 in tube is as large as M18: the shares stay as they are."""
    found = identify(reading("17.9 mm", "1.5 mm", tube="1/8 in"))
    assert found.tube_unknown
    plain = identify(reading("17.9 mm", "1.5 mm"))
    assert [each.share_percent for each in found.candidates] == [each.share_percent for each in plain.candidates]


def test_nut_sizes_are_those_of_the_table() -> None:
    """A 3/16 in tube has 3/8-24 and M10x1 nuts, never a 5/8-18 one."""
    sizes = nut_sizes(4.75)
    assert (9.525, round(25.4 / 24, 4)) in sizes
    assert (10.0, 1.0) in sizes
    assert not any(diameter > 15.0 for diameter, _ in sizes)


def test_a_reading_of_no_thread_names_the_nearest() -> None:
    """25 mm with 0.5 mm pitch is no thread; the three nearest in crest and pitch are told, none as a candidate."""
    found = identify(reading("25 mm", "0.5 mm"))
    assert found.candidates == ()
    assert [each.thread.designation for each in found.nearest] == ["1-32 UN", "15/16-32 UN", "1-28 UN"]
    assert confusions(found) == ()


def test_every_thread_of_the_tables_is_there_once() -> None:
    """The trade's list comes first; each canonical designation stands once and reads back as itself."""
    threads = every_thread()
    assert threads[: len(known_threads())] == known_threads()
    names = [thread.designation for thread in threads]
    assert len(set(names)) == len(names)
    assert all(parse(name) == thread for name, thread in zip(names, threads, strict=True))


WRONG = [
    ("9.4", "24tpi", None, "crest diameter '9.4': a bare number where a length is needed: write '25 mm' or '1 in'"),
    ("0.2mm", "24tpi", None, "crest diameter '0.2mm': expected 1 to 45 mm"),
    (
        "9.4mm",
        "24",
        None,
        "pitch '24': expected '24tpi', '1mm' or turns over a length such as '10 in 10.6mm'",
    ),
    (
        "9.4mm",
        "0tpi",
        None,
        "pitch '0tpi': expected 0.2 to 4.5 mm (5.6 to 127 threads per inch), as '24tpi', '1mm' or turns over a length"
        " such as '10 in 10.6mm'",
    ),
    (
        "9.4mm",
        "10 in",
        None,
        "pitch '10 in': expected 0.2 to 4.5 mm (5.6 to 127 threads per inch), as '24tpi', '1mm' or turns over a length"
        " such as '10 in 10.6mm'",
    ),
    ("9.4mm", "1 in 1mm", None, "pitch '1 in 1mm': expected 2 to 100 turns over a length, got 1"),
    (
        "9.4mm",
        "10 in ten mm",
        None,
        "pitch '10 in ten mm': expected '24tpi', '1mm' or turns over a length such as '10 in 10.6mm'",
    ),
    ("3mm", "4mm", None, "pitch '4mm': no thread of 3.00 mm has so coarse a pitch; expected at most 1.50 mm"),
    ("9.4mm", "24tpi", "50mm", "tube size '50mm': expected 1 to 30 mm"),
    (
        "9.4mm",
        "9" * 200,
        None,
        f"pitch '{'9' * 57}...': expected '24tpi', '1mm' or turns over a length such as '10 in 10.6mm'",
    ),
]


@pytest.mark.parametrize(("crest", "pitch", "tube", "expected"), WRONG)
def test_nonsense_is_refused_with_what_was_expected(crest: str, pitch: str, tube: str | None, expected: str) -> None:
    """What no thread can measure is refused, naming the measurement, the text and what was expected."""
    with pytest.raises(ReadingError) as caught:
        reading(crest, pitch, tube=tube)
    assert str(caught.value) == expected
    assert isinstance(caught.value, FitcheckError)


@given(st.text(max_size=80))
def test_any_text_is_a_reading_or_an_error(text: str) -> None:
    """Whatever stands for a pitch is read or refused, never a crash."""
    try:
        read = reading("9.4 mm", text)
    except ReadingError:
        return
    assert 0.2 <= read.pitch_mm <= 4.5


@pytest.mark.parametrize(
    ("text", "pitch", "threads"),
    [
        ("24tpi", 25.4 / 24, 6 * 24 / 25.4),
        ("24 TPI", 25.4 / 24, 6 * 24 / 25.4),
        ("1mm", 1.0, 6.0),
        ("1.0 mm", 1.0, 6.0),
        ("10 in 10.6mm", 1.06, 10.0),
        ("12 turns in 1/2 in", 12.7 / 12, 12.0),
        ("10 over 10mm", 1.0, 10.0),
    ],
)
def test_a_pitch_in_every_spelling(text: str, pitch: float, threads: float) -> None:
    """Leaves by the inch and the millimetre count as 6 mm of thread, counted turns as what was counted."""
    read = reading("9.4 mm", text)
    assert read.pitch_mm == pytest.approx(pitch)
    assert read.threads == pytest.approx(threads)


def test_telling_unf_from_metric() -> None:
    """3/8-24 from M10x1: five pitches to see the leaf drift, the calliper tells, one of two hand tests proves."""
    apart = tell_apart(parse("3/8-24"), parse("M10x1"))
    assert apart.threads == 5
    assert apart.by_calliper
    assert apart.gap_mm == pytest.approx(9.794 - 0.1 - 9.49706, abs=1e-3)
    own_nut, other_nut = apart.hand
    assert (own_nut.piece, own_nut.wrong.verdict, own_nut.proves) == ("3/8-24 UNF", "will-not-start", True)
    assert (other_nut.piece, other_nut.wrong.verdict, other_nut.proves) == ("M10x1", "runs-in-loose", False)
    assert other_nut.stops_after == inf


def test_a_pitch_gauge_drifts_as_told() -> None:
    """Over the number of pitches told the drift is at least 0.25 mm, over one fewer it is less."""
    for thread in known_threads():
        for other in look_alikes(thread):
            difference = abs(thread.pitch_mm - other.pitch_mm)
            threads = tell_apart(thread, other).threads
            if threads is None:
                assert difference < 1e-3
            else:
                assert threads * difference >= DRIFT_MM - 1e-9
                assert (threads - 1) * difference < DRIFT_MM


@pytest.mark.parametrize("internal", [False, True])
def test_hand_tests_rest_on_the_fit(internal: bool) -> None:
    """A hand test is proof only where the wrong pair does not go home, whichever member was measured."""
    for thread in known_threads():
        for other in look_alikes(thread):
            for test, (own, wrong) in zip(
                tell_apart(thread, other, internal).hand, ((thread, other), (other, thread)), strict=True
            ):
                met = fit(own, wrong) if internal else fit(wrong, own)
                assert test.wrong == met
                assert not (test.proves and met.verdict in ("mates", "may-bind", "runs-in-loose"))


def test_a_taper_thread_that_stops_on_its_own_mate_proves_nothing() -> None:
    """1/8 NPT stops by hand on its own mate after about 4 turns, as it may on a wrong one: no proof."""
    own_nut = tell_apart(parse("1/8 NPT"), parse("3/8-24")).hand[0]
    assert own_nut.wrong.verdict == "starts-then-binds"
    assert not own_nut.proves


def test_the_other_half_of_a_pipe_joint_has_its_own_name() -> None:
    """The internal piece for R is Rc, the external one for Rp and Rc is R."""
    assert tell_apart(parse("R1/8"), parse("M10x1")).hand[0].piece == "Rc1/8"
    assert tell_apart(parse("Rp1/8"), parse("M10x1"), internal=True).hand[0].piece == "R1/8"


def test_what_else_differs_is_named() -> None:
    """Flank angle, taper and root are named where they differ, and only there."""
    assert tell_apart(parse("G1/8"), parse("1/8 NPT")).forms == ("flank angle", "taper")
    assert tell_apart(parse("3/8-24"), parse("3/8-24 UNJF")).forms == ("root",)
    assert tell_apart(parse("M10x1"), parse("M10x1.25")).forms == ()


def test_confusions_put_what_goes_home_before_what_only_starts() -> None:
    """After the other candidates come look-alikes that go home in each other, then the rest; none twice."""
    found = identify(reading("9.4 mm", "24tpi"))
    apart = confusions(found)
    others = [each.other.designation for each in apart]
    assert len(set(others)) == len(others)
    assert others[0] == "3/8-24 UNJF"
    home = [any(test.wrong.verdict == "runs-in-loose" for test in each.hand) for each in apart[1:]]
    assert home == sorted(home, reverse=True)
    assert "M10x1" in others
