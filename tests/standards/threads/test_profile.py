"""The section of a thread: its diameters, flanks and roundings, and where two sections cut into each other."""

from itertools import pairwise
from math import atan2, degrees, sqrt

import pytest

from fitcheck.standards.threads import Thread, fit, known_threads, limits, look_alikes, parse
from fitcheck.standards.threads.every import has_member
from fitcheck.standards.threads.profile import Section, area, engaged_outlines, outline, overlaps, section

SIDES = [(internal, most) for internal in (False, True) for most in (False, True)]


def clash(external: str, internal: str, most: bool, length: float = 6.0) -> float:
    """Return the area in which both members would be [mm2]."""
    lines = [
        outline(section(parse(name), inside, most), length) for name, inside in ((external, False), (internal, True))
    ]
    return sum(map(area, overlaps(lines[0], lines[1])))


@pytest.mark.parametrize(("internal", "most"), SIDES)
@pytest.mark.parametrize("thread", known_threads(), ids=str)
def test_crest_and_pitch_line_are_at_the_limits(thread: Thread, internal: bool, most: bool) -> None:
    """The crest lies at its limit of size, and at the pitch diameter ridge and gap are half a pitch each."""
    member = limits(thread).internal if internal else limits(thread).external
    end = 0 if internal == most else 1
    shape = section(thread, internal, most)
    crest = (member.minor_mm if internal else member.major_mm)[end]
    assert crest is not None
    outer, inner = shape.crest_mm
    assert 2 * (inner if internal else outer) == pytest.approx(crest, abs=1e-3)
    assert 2 * shape.radius(thread.pitch_mm / 4) == pytest.approx(member.pitch_mm[end], abs=1e-9)


@pytest.mark.parametrize("thread", known_threads(), ids=str)
def test_flanks_have_their_angle(thread: Thread) -> None:
    """Near the pitch line both flanks are straight at half the included angle from square to the axis."""
    shape = section(thread, internal=False, most_metal=True)
    step = thread.pitch_mm / 40
    rise = shape.radius(thread.pitch_mm / 4 - step) - shape.radius(thread.pitch_mm / 4 + step)
    assert 2 * degrees(atan2(2 * step, rise)) == pytest.approx(thread.flank_deg, abs=1e-6)


def test_rounded_roots_reach_the_printed_minor_diameters() -> None:
    """M10x1 6g: 8.596 at the least metal, as printed (ISO 965-1); UNJ and MJ: both limits of d3, rounded in inches."""
    assert 2 * section(parse("M10x1"), False, False).crest_mm[1] == pytest.approx(8.596, abs=1e-3)
    for name in ("3/8-24 UNJF", "MJ8x1"):
        least, most = limits(parse(name)).external.minor_mm
        assert 2 * section(parse(name), False, True).crest_mm[1] == pytest.approx(most, abs=3e-3)
        assert 2 * section(parse(name), False, False).crest_mm[1] == pytest.approx(least, abs=3e-3)


def test_whitworth_crest_and_root_are_one_arc() -> None:
    """G1/8 at most metal: the arc of 0.137329 pitch reaches 9.728 and 8.566 without being cut (ISO 228-1)."""
    shape = section(parse("G1/8"), False, True)
    assert [2 * radius for radius in shape.crest_mm] == pytest.approx([9.728, 8.566], abs=1e-3)
    radius = shape.outer_round_mm
    fall = shape.radius(0.0) - shape.radius(radius / 2)
    assert fall == pytest.approx(radius - sqrt(radius**2 - radius**2 / 4), abs=1e-3)


@pytest.mark.parametrize("thread", known_threads(), ids=str)
def test_outline_is_the_section_itself(thread: Thread) -> None:
    """Between two points of the line the section is at most 0.003 pitch from it: every bend has a point."""
    for internal, most in SIDES:
        shape = section(thread, internal, most)
        line = outline(shape, 2.5 * thread.pitch_mm)
        assert line[0][0] == -line[-1][0]
        for (x, radius), (next_x, next_radius) in pairwise(line):
            assert x < next_x
            middle = shape.radius((x + next_x) / 2)
            assert middle == pytest.approx((radius + next_radius) / 2, abs=0.003 * thread.pitch_mm)


def test_area_and_overlap_of_plain_shapes() -> None:
    """A triangle sunk into a flat by a known depth overlaps by its area; two that only touch do not."""
    flat = ((-2.0, 1.0), (2.0, 1.0))
    peak = ((-2.0, 0.0), (0.0, 2.0), (2.0, 0.0))
    found = overlaps(peak, flat)
    assert len(found) == 1
    assert area(found[0]) == pytest.approx(1.0)
    assert min(x for x, _ in found[0]) == pytest.approx(-1.0)
    assert overlaps(((-2.0, 0.0), (0.0, 1.0), (2.0, 0.0)), flat) == ()
    assert overlaps(flat, flat) == ()


@pytest.mark.parametrize("thread", [t for t in known_threads() if not t.taper and has_member(t, False)], ids=str)
def test_a_parallel_thread_never_clashes_with_its_own_mate(thread: Thread) -> None:
    """At the tightest and the loosest, over a long engagement, no metal of a sound pair is in the way."""
    if not has_member(thread, internal=True) or not fit(thread, thread).clearance_mm[0] >= 0.0:
        pytest.skip("no internal member of its own")
    for most in (True, False):
        assert clash(thread.designation, thread.designation, most, 20.0) == 0.0


def test_a_rounded_root_clashes_in_a_small_plain_hole_only() -> None:
    """3/8-24 UNJF in UNF: at the smallest hole each crest corner digs in, at the largest none does."""
    assert clash("3/8-24 UNJF", "3/8-24", True) > 0.001
    assert clash("3/8-24 UNJF", "3/8-24", False) == 0.0
    assert clash("3/8-24", "3/8-24 UNJF", True) == 0.0


def test_flanks_clash_beyond_the_free_turns_and_not_before() -> None:
    """For every pair of parallel look-alikes of one angle the drawing agrees with the free turns of the fit."""
    seen = 0
    for external in known_threads():
        for internal in look_alikes(external):
            met = fit(external, internal)
            if external.taper or internal.taper or external.flank_deg != internal.flank_deg:
                continue
            if not has_member(external, internal=False) or not has_member(internal, internal=True):
                continue
            for most, turns in zip((True, False), met.free_turns, strict=True):
                if not 1.0 <= turns < 10.0 or met.overlap_percent[0] < 15.0:
                    continue
                seen += 1
                below = int(turns) + 0.5  # the half turn that the flanks of one ridge are apart
                assert _drawn_clash(external, internal, most, below) == 0.0
                assert (
                    _drawn_clash(external, internal, most, below + 2.0) > 0.0
                )  # over one more it may be too thin to draw
    assert seen >= 20


def _drawn_clash(external: Thread, internal: Thread, most: bool, turns: float) -> float:
    """Return the clash over so many turns, as the drawing shows it [mm2]."""
    sides = section(external, False, most), section(internal, True, most)
    return sum(map(area, overlaps(*engaged_outlines(*sides, turns * internal.pitch_mm))))


def test_a_sharp_section_is_a_triangle_wave() -> None:
    """Without cuts and roundings the line rises H = P / (2 tan 30) from groove to ridge."""
    shape = Section(1.0, 30.0, 5.0, float("inf"), float("-inf"))
    assert shape.crest_mm[0] - shape.crest_mm[1] == pytest.approx(sqrt(3) / 2)
