"""The figures that a fit carries beside its verdict: room, height, way home, strength left, lead-in, hole band."""

import pytest

from fitcheck.standards.threads import Fit, Thread, fit, known_threads, limits, parse

KNOWN = known_threads()


def meet(external: str, internal: str, engagement_mm: float = 6.0) -> Fit:
    """Return the fit of two designations."""
    return fit(parse(external), parse(internal), engagement_mm)


@pytest.mark.parametrize("thread", KNOWN, ids=str)
def test_a_thread_has_all_of_its_own_strength(thread: Thread) -> None:
    """A thread in its own internal member goes home at both extremes with its whole strip strength."""
    found = fit(thread, thread)
    taper = limits(thread).external.taper
    assert found.strip_share == (None if taper else (1.0, 1.0))
    assert found.goes_home == (True, True)
    assert found.binding_band_mm is None


def test_figures_agree_with_each_other() -> None:
    """For every pair of known threads one side's play is half the clearance, and shares lie between 0 and 1."""
    for external in KNOWN:
        for internal in KNOWN:
            found = fit(external, internal)
            assert found.radial_clearance_mm == tuple(end / 2 for end in found.clearance_mm)
            assert 0.0 <= found.starts_on_chamfer <= 2.0
            apart = found.verdict in ("will-not-start", "drops-through")
            taper = limits(external).external.taper or limits(internal).internal.taper or internal.series == "Rp"
            assert (found.strip_share is None) == bool(apart or taper)
            if found.strip_share is not None:
                least, most = found.strip_share
                assert 0.0 <= least <= most <= 1.0
            loosest, tightest = found.goes_home
            assert loosest or not tightest


def test_overlap_in_millimetres_is_the_overlap_in_percent() -> None:
    """The height in mm, on both sides, is the stated share of the basic height of the internal thread."""
    found = meet("3/8-24", "M10x1")
    for length, percent in zip(found.overlap_mm, found.overlap_percent, strict=True):
        assert 2.0 * length == pytest.approx(percent / 100.0 * 1.082532)
    # d - D1 from the printed limits: 9.315 - 9.153 and 9.497 - 8.917
    assert found.overlap_mm == pytest.approx((0.081, 0.290), abs=0.001)


@pytest.mark.parametrize(
    ("engagement", "home"),
    [(4.0, (True, True)), (4.8, (True, True)), (4.9, (True, False)), (7.2, (True, False)), (7.4, (False, False))],
)
def test_way_home_depends_on_the_engagement(engagement: float, home: tuple[bool, bool]) -> None:
    """3/8-24 in M10x1 has 4.86 to 7.30 free turns of 1 mm: it goes home over less, and not over more."""
    assert meet("3/8-24", "M10x1", engagement).goes_home == home


def test_strength_left_of_the_most_dangerous_pair() -> None:
    """A 3/8-24 nut in an M10x1 port keeps about a quarter of the strip strength; worked by hand, derived."""
    # Loosest: male 9.315 / 8.713, female 9.500 / 9.153; right male 9.794 / 9.212. Area per turn of the male, which
    # is the weaker: pi 9.153 [1.0583 / 2 + tan 30 (8.713 - 9.153)] = 7.91 against 15.36 mm2, over 2.44 of 6 turns:
    # tan 30 (0.097 + 0.150) / 0.0583 = 2.44.
    found = meet("3/8-24", "M10x1").strip_share
    assert found is not None
    assert found[0] == pytest.approx(7.91 / 15.36 * 2.44 / 6.0, abs=0.003)
    assert found[1] == pytest.approx(0.26, abs=0.005)


def test_longer_engagement_does_not_make_up_for_a_pitch_error() -> None:
    """Of unequal pitches only some turns carry: the longer the engagement, the smaller the share that is left."""
    shares = [meet("3/8-24", "M10x1", length).strip_share for length in (2.0, 4.0, 8.0, 12.0)]
    least = [share[0] for share in shares if share is not None]
    assert len(least) == 4
    assert least == sorted(least, reverse=True)
    assert least[0] > least[-1]


LEAD_IN = [
    ("M10x1", "3/8-24", 1.05),  # the trade: starts, catches one thread, destroys it
    ("M10x1", "M10x1.25", 0.97),
    ("M12x1", "M10x1", 0.0),  # the smallest end, 10.773, is larger than the mouth, 10
    ("3/4-16", "3/8-24", 0.0),
    ("M10x1", "M11x1", 0.0),  # nothing touches
    ("M10x1", "M10x1", 1.08),
    ("M10x0.75", "M10x1.5", 0.5),  # half a pitch apart after half a turn
]


@pytest.mark.parametrize(("external", "internal", "turns"), LEAD_IN)
def test_lead_in(external: str, internal: str, turns: float) -> None:
    """A wrong thread may catch on the chamfers for a turn or so, and not at all where its end is too large."""
    assert meet(external, internal).starts_on_chamfer == pytest.approx(turns, abs=0.01)


def test_part_of_the_hole_band_that_binds() -> None:
    """7/16-20 UNJF binds in UNF holes from 0.383 up to 0.3888 in, of limits that reach to 0.395 in (derived)."""
    band = meet("7/16-20 UNJF", "7/16-20 UNF").binding_band_mm
    assert band is not None
    assert [end / 25.4 for end in band] == pytest.approx([0.3830, 0.3888], abs=0.0001)
    assert meet("7/16-20 UNF", "7/16-20 UNJF").binding_band_mm is None
    # Limits that overlap at the pitch line may bind too, but not in a part of the hole.
    assert (meet("G1/8", "Rp1/8").verdict, meet("G1/8", "Rp1/8").binding_band_mm) == ("may-bind", None)


def test_a_rounded_root_that_goes_in_holds() -> None:
    """UNJ in UN goes in or binds; where it goes in, a pair of closer class is as strong as the right one."""
    found = meet("7/16-20 UNJF", "7/16-20 UNF")
    assert found.free_turns[0] == 0.0
    assert found.goes_home == (True, False)
    assert found.strip_share == (1.0, 1.0)


def test_unlike_flank_angles_take_clearance() -> None:
    """G1/8 in M10x1 binds sooner by what 27.5 against 30 degrees takes: 0.581 mm times 0.0568 over 0.0929."""
    found = meet("G1/8", "M10x1")
    without = found.clearance_mm[0] * 0.57735 / 0.0929 + 0.5  # the finer ridge is narrower: half a turn
    assert without - found.free_turns[0] == pytest.approx(0.581 * 0.05678 / 0.0929, abs=0.01)


def test_a_taper_male_in_a_parallel_hole_stops_by_its_taper() -> None:
    """R1/8 in G1/8 wedges where its diameter has grown by the clearance: 16 times 0.25 mm of it (ISO 7-1)."""
    found = meet("R1/8", "G1/8")
    for clearance, turns in zip(found.clearance_mm, found.free_turns, strict=True):
        assert turns * parse("G1/8").pitch_mm == pytest.approx(16.0 * clearance)


def test_every_figure_names_its_source() -> None:
    """Each figure of a fit has a formula and where it is from, and no source stands without a figure."""
    words = {"reason", "source", "sources", "engagement_mm"}
    found = meet("3/8-24", "M10x1")
    assert set(found.sources) == set(Fit._fields) - words
    assert all("derived" in text or "FED-STD" in text for text in found.sources.values())
