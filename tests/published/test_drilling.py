"""Drills and spindle speeds against what is printed. Each value has its source beside it."""

import pytest

from fitcheck.making.holes import hole_schedule
from fitcheck.standards.drill_sizes import clearance_drill, tap_drill, tap_drills
from fitcheck.standards.drilling import metal, rpm, spindle_rpm
from fitcheck.standards.threads import parse
from tests.making.benches import graph_of

INCH = 25.4
FT_MIN = 304.8 / 60
M_MIN = 1000 / 60

TAP_DRILLS = [
    ("M4", 3.3, "three tap and drill charts"),
    ("M5", 4.2, "three tap and drill charts"),
    ("M6", 5.0, "three tap and drill charts"),
    ("M8", 6.8, "three tap and drill charts; one has 6.7, a training handbook 6.75"),
    ("M10", 8.5, "three tap and drill charts"),
    ("M12", 10.2, "three tap and drill charts"),
    ("M8x1", 7.0, "thread-cutting handbook for trainees"),
    ("M10x1", 9.0, "thread-cutting handbook for trainees"),
    ("M12x1", 11.0, "thread-cutting handbook for trainees"),
    ("M12x1.5", 10.5, "thread-cutting handbook for trainees"),
    ("1/4-20", 0.201 * INCH, "inch tap and drill charts: #7"),
    ("1/4-28", 0.213 * INCH, "inch tap and drill charts: #3"),
    ("5/16-24", 0.272 * INCH, "inch tap and drill charts: I"),
    ("3/8-16", 0.3125 * INCH, "inch tap and drill charts: 5/16"),
    ("3/8-24", 0.332 * INCH, "inch tap and drill charts: Q, 8.43 mm"),
    ("7/16-20", 0.390625 * INCH, "inch tap and drill charts: 25/64"),
    ("1/2-20", 0.453125 * INCH, "inch tap and drill charts: 29/64"),
    ("7/16-24", 0.397 * INCH, "from memory: letter X"),
    ("1/8-27 NPT", 0.339 * INCH, "tap drill guides for NPT: R, 8.61 mm, not reamed"),
    ("1/4-18 NPT", 0.4375 * INCH, "tap drill guides for NPT: 7/16, not reamed"),
    ("3/8-18 NPT", 0.578125 * INCH, "tap drill guides for NPT: 37/64, not reamed"),
    ("1/2-14 NPT", 0.71875 * INCH, "tap drill guides for NPT: 23/32, not reamed"),
]


@pytest.mark.parametrize(("thread", "mm", "source"), TAP_DRILLS, ids=[row[0] for row in TAP_DRILLS])
def test_tap_drills(thread, mm, source):
    """Every tap drill is the one that the source beside it prints."""
    assert tap_drill(parse(thread)).drill.mm == pytest.approx(mm, abs=1e-6), source


def test_every_row_is_held_against_print():
    """No row of the table of tap drills goes without a printed value above."""
    assert {parse(row.thread).key for row in tap_drills()} == {parse(row[0]).key for row in TAP_DRILLS}


@pytest.mark.parametrize("row", [row for row in tap_drills() if row.thread.startswith("M")], ids=lambda row: row.thread)
def test_metric_rows_are_diameter_less_pitch(row):
    """D - P gives each metric row to 0.05 mm: the rule that an open encyclopedia's list of tap sizes prints."""
    thread = parse(row.thread)
    assert row.drill.mm == pytest.approx(thread.nominal_mm - thread.pitch_mm, abs=0.05 + 1e-9)


@pytest.mark.parametrize(("thread", "mm"), [("M4", 4.3), ("M5", 5.3), ("M6", 6.4), ("M8", 8.4)])
def test_close_clearance(thread, mm):
    """Close clearance holes as a tap and drill chart prints them; the fine series of ISO 273 from memory."""
    assert clearance_drill(parse(thread)).fine.mm == mm


@pytest.mark.parametrize(
    ("speed", "diameter", "printed", "within"),
    [
        (80 * FT_MIN, INCH / 2, 611, 0.5),  # trade article on speeds and feeds, 80 ft/min, 1/2 in (A16)
        (80 * FT_MIN, 3 / 8 * INCH, 813, 2.0),  # the same article; its 3.82 is rounded, exact is 814.9
        (20 * M_MIN, 6.8, 936, 0.5),  # 1000 v / (pi d), worked in the project's facts
        (10 * M_MIN, 8.5, 374, 0.6),  # the same: exact is 374.5
    ],
)
def test_turns_a_minute(speed, diameter, printed, within):
    """Turns a minute for a surface speed and a diameter come out as printed."""
    assert rpm(speed, diameter) == pytest.approx(printed, abs=within)


@pytest.mark.parametrize(
    ("name", "low", "used", "high"),
    [
        ("mild steel", 21, 25, 36),  # 80 to 100 ft/min; 30 to 36; 27 to 30; 21 m/min
        ("304", 6, 12, 17),  # 30 to 50 ft/min; 6 to 15; 15 to 17; 9 m/min
        ("6061", 46, 60, 91.44),  # 200 to 300 ft/min; 46 to 61; 91 m/min; 195 to 390 is left out
    ],
)
def test_ranges_of_speed(name, low, used, high):
    """The range for HSS is that of all sources: trade articles, a tutorial table, tables by hardness, a basic table."""
    found = spindle_rpm(10.0, metal(name), "HSS")
    assert list(found[:3]) == pytest.approx([rpm(speed * M_MIN, 10.0) for speed in (low, used, high)], rel=1e-6)


def test_an_inverted_flare_union_passes_a_14_mm_hole():
    """A 3/8-24 inverted-flare union's body passes a 14 mm hole (common practice, no source)."""
    graph = graph_of("components: {wall: {part: bulkhead-union-3-16-inverted}}\n")
    assert [(job.what, job.mm) for job in hole_schedule(graph).jobs][:1] == [("bracket", 14.0)]


def test_brackets_are_tapped_m5():
    """Brackets of brake lines are tapped M5, so drilled 4.2 mm (common practice, no source), and that is said."""
    graph = graph_of("components: {wall: {part: bulkhead-union-3-16-inverted}}\n")
    screw = next(job for job in hole_schedule(graph).jobs if job.what == "bracket screw")
    assert (screw.mm, screw.tap, screw.many) == (4.2, "M5x0.8", None)
    assert [(remark.word, remark.values["mark"]) for remark in screw.look_at] == [
        ("usual-screw", "common practice, no source")
    ]
