"""Limits of size: invariants over every known thread, classes, JSON, and what the tables do not hold."""

import pytest

from fitcheck.errors import FitcheckError
from fitcheck.standards.threads import Member, Thread, ThreadLimitsError, known_threads, limits, parse
from tests.standards.threads.test_designation import every_standard_thread

STANDARD = every_standard_thread()


def ordered(member: Member) -> bool:
    """Return whether each pair of limits is the right way round and the three diameters do not cross."""
    pairs = [member.major_mm, member.pitch_mm, member.minor_mm]
    in_order = all(low <= high for low, high in pairs if low is not None and high is not None)
    tops = [pair[1] if pair[1] is not None else pair[0] for pair in pairs]
    return in_order and tops == sorted(tops, key=lambda top: -(top or 0.0))


@pytest.mark.parametrize("thread", STANDARD, ids=str)
def test_limits_are_in_order(thread: Thread) -> None:
    """Smallest limits do not exceed largest ones, and major, pitch and minor diameters come in that order."""
    found = limits(thread)
    assert ordered(found.external)
    assert ordered(found.internal)


@pytest.mark.parametrize("thread", [t for t in STANDARD if not t.taper and t.series != "Rp"], ids=str)
def test_parallel_external_enters_its_internal(thread: Thread) -> None:
    """The largest external thread never exceeds the smallest internal one, at flank, crest or root."""
    found = limits(thread)
    assert found.external.pitch_mm[1] <= found.internal.pitch_mm[0] + 1e-9
    for outer, inner in [
        (found.external.major_mm[1], found.internal.major_mm[0]),
        (found.external.minor_mm[1], found.internal.minor_mm[0]),
    ]:
        assert outer is not None
        assert inner is not None
        # The hole of 2B is rounded to three decimals of an inch, half a thousandth either way.
        assert outer <= inner + (0.0005 * 25.4 if thread.family == "UN" else 1e-9)


def test_closer_classes_lie_within_wider_ones() -> None:
    """A finer unified class has a smaller pitch diameter band than a coarser one, inside and out."""
    bands = {}
    for name in ("1A", "2A", "3A", "1B", "2B", "3B"):
        found = limits(parse(f"3/8-24 UNF-{name}"))
        low, high = (found.external if name.endswith("A") else found.internal).pitch_mm
        bands[name] = high - low
    assert bands["3A"] < bands["2A"] < bands["1A"] < bands["1B"]
    assert bands["3B"] < bands["2B"] < bands["1B"]


def test_metric_positions_shift_by_the_fundamental_deviation() -> None:
    """Position h touches nominal; e, f, g lie 60, 40, 26 micrometres below at 1 mm pitch; G lies above."""
    tops = {name: limits(parse(f"M10x1-6{name}")).external.major_mm[1] for name in "efgh"}
    assert tops == {"e": 9.94, "f": 9.96, "g": 9.974, "h": 10.0}
    assert limits(parse("M10x1-6G")).internal.pitch_mm[0] == 9.376


def test_mixed_metric_class_takes_each_grade_from_its_place() -> None:
    """In 5g6g the first grade rules the pitch diameter and the second the crest; likewise 4H5H."""
    mixed, plain = limits(parse("M10x1-5g6g")).external, limits(parse("M10x1")).external
    assert mixed.major_mm == plain.major_mm
    assert mixed.pitch_mm == (9.234, 9.324)
    inner = limits(parse("M10x1-4H5H")).internal
    assert (inner.pitch_mm, inner.minor_mm) == ((9.35, 9.445), (8.917, 9.107))


def test_outside_the_tables_is_an_error() -> None:
    """A grade that ISO 965-1 does not hold is refused with what it does hold, never guessed."""
    with pytest.raises(ThreadLimitsError) as caught:
        limits(parse("M10x1-3H"))
    assert str(caught.value) == (
        "no limits of size for M10x1-3H: ISO 965-1 has no internal minor grade 3 at pitch 1 mm; it has 4, 5, 6, 7, 8"
    )
    assert isinstance(caught.value, FitcheckError)
    with pytest.raises(ThreadLimitsError) as caught:
        limits(parse("M12x1-6g/8H"))
    assert caught.value.reason == "ISO 965-1 has no internal pitch grade 8 at pitch 1 mm; it has 4, 5, 6, 7"
    with pytest.raises(ThreadLimitsError) as caught:
        limits(parse("M2-6e"))
    assert caught.value.reason == "ISO 965-1 has no position e at pitch 0.4 mm; it has f, g"


def test_json_has_the_documented_shape() -> None:
    """The JSON of a thread has designation, both members with open root limits as null, and its source."""
    assert limits(parse("M10x1")).to_json() == {
        "designation": "M10x1",
        "external": {"major_mm": [9.794, 9.974], "pitch_mm": [9.212, 9.324], "minor_mm": [None, 8.891]},
        "internal": {"major_mm": [10.0, None], "pitch_mm": [9.35, 9.5], "minor_mm": [8.917, 9.153]},
        "source": "ISO 965-1:1998 tables 1 and 3 to 6, class 6g external, 6H internal",
    }


def test_every_known_thread_names_its_source() -> None:
    """No limits come without the standard they are from, and a special series says how far it may be off."""
    standards = ("ASME B1.1-2003", "ISO 965-1:1998", "ASME B1.20.1", "ISO 228-1:1994", "ISO 7-1:1994")
    for thread in known_threads():
        assert limits(thread).source.startswith(standards)
    assert limits(parse("7/16-24")).source == (
        "ASME B1.1-2003 paras 5.1 and 5.8 (special combination: printed tables may differ by 0.0002 in),"
        " class 2A external, 2B internal; rounded term by term as FED-STD-H28/2B (1991) para 5.4"
    )


def test_iso_7_pairs_name_each_other() -> None:
    """R carries the internal member of Rc, and Rc and Rp the external member of R, at one gauge plane."""
    assert limits(parse("R1/8")).internal == limits(parse("Rc1/8")).internal
    assert limits(parse("R1/8")).external == limits(parse("Rp1/8")).external
    assert limits(parse("Rp1/8")).internal.taper == 0.0
    assert limits(parse("Rc1/8")).internal.taper == 1 / 16
    assert "4.0 mm from the small end" in limits(parse("R1/8")).source


def test_wider_parallel_pipe_class_doubles_the_band() -> None:
    """Class B of G threads has twice the pitch diameter tolerance of class A (ISO 228-1)."""
    assert limits(parse("G1/8 B")).external.pitch_mm == (8.933, 9.147)


def test_rounded_root_profile_raises_both_minor_diameters() -> None:
    """UNJ and MJ have larger holes and larger roots than UN and M; that is what a plain hole binds on."""
    for rounded, plain in [("3/8-24 UNJF", "3/8-24 UNF-3A/3B"), ("MJ10x1", "M10x1-4H5H/4h6h")]:
        of_rounded, of_plain = limits(parse(rounded)), limits(parse(plain))
        assert of_rounded.external.pitch_mm == of_plain.external.pitch_mm
        hole, plain_hole = of_rounded.internal.minor_mm[0], of_plain.internal.minor_mm[0]
        assert hole is not None
        assert plain_hole is not None
        assert hole > plain_hole
        assert of_rounded.external.fillet_mm is not None
        assert of_plain.external.fillet_mm is None
