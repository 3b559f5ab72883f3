"""Speeds, feeds, steps and sizes of drills."""

import pytest

from fitcheck.standards.drill_sizes import clearance_drill, nearest_drill, sheet_tool, tap_drill, tap_drills
from fitcheck.standards.drilling import (
    TOOLS,
    UnknownMetalError,
    feed,
    figure,
    metal,
    metals,
    setting,
    steps,
    surface_speed,
)
from fitcheck.standards.threads import parse

M_MIN = 60 / 1000
"""Metres a minute in one millimetre a second."""


def names(*arguments, **more):
    """Return the drills of a hole, those for sheet marked."""
    return [f"{step.drill.name}{' saw' if step.sheet_tool else ''}" for step in steps(*arguments, **more)]


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("mild steel", "mild steel"),
        ("Low-Carbon Steel", "mild steel"),
        ("304", "stainless steel"),
        ("Stainless", "stainless steel"),
        ("aluminum", "aluminium"),
        ("6061", "aluminium"),
    ],
)
def test_metals_go_by_several_names(words, name):
    """What people write finds the table's metal, whatever the case and the spaces."""
    assert metal(words).name == name


def test_an_unknown_metal_is_refused():
    """A metal that the table lacks is refused with the nearest and with all it has."""
    with pytest.raises(UnknownMetalError) as caught:
        metal("alumin")
    assert str(caught.value) == (
        "'alumin' is no metal in the table of drilling speeds; nearest is 'aluminium'; known: mild steel,"
        " stainless steel, aluminium"
    )


@pytest.mark.parametrize("name", metals())
@pytest.mark.parametrize("tool", TOOLS)
def test_the_cautious_speed_lies_within_what_is_printed(name, tool):
    """For every metal and tool the speed used is one that the sources allow, and has a source."""
    speed = surface_speed(metal(name), tool)
    assert speed.low_mm_s <= speed.used_mm_s <= speed.high_mm_s
    assert speed.mark


def test_defaults_for_hss():
    """25 m/min in mild steel, 12 in 304, 60 in aluminium; carbon steel drills at half of it, cobalt as HSS."""
    assert [round(surface_speed(metal(name), "HSS").used_mm_s * M_MIN, 6) for name in metals()] == [25, 12, 60]
    assert [round(surface_speed(metal(name), "carbon steel").used_mm_s * M_MIN, 6) for name in metals()] == [
        12.5,
        6,
        30,
    ]
    assert surface_speed(metal("304"), "cobalt")[:3] == surface_speed(metal("304"), "HSS")[:3]


def test_what_is_left_out_does_not_count():
    """The one source that is far from all others widens no range, and stays in the table."""
    assert surface_speed(metal("aluminium"), "HSS").high_mm_s * M_MIN < 92
    assert [one.high_mm_s * M_MIN for one in metal("aluminium").speeds if one.left_out] == [pytest.approx(390)]


def test_a_machine_is_set_at_or_below():
    """The nearest speed at or below is set; a machine that is always faster is set to its slowest."""
    assert [setting(rpm, [500, 1000, 2000]) for rpm in (400, 500, 999, 1000.0, 5000)] == [500, 500, 500, 1000, 2000]


def test_feed_is_printed_for_one_diameter():
    """Feed is that printed for 6 mm, half of it for half the diameter, and no more for a larger drill."""
    assert [feed(mm, metal("304")).mm for mm in (3.0, 6.0, 12.0)] == pytest.approx([0.065, 0.13, 0.13])
    assert feed(3.0, metal("304")).mark.endswith("derived (the same bite for each size of drill)")


def test_steps():
    """Small holes take one drill, larger ones a pilot, large ones in sheet a step drill or hole saw."""
    assert names(4.2, 1.5) == ["4.2 mm"]
    assert names(5.0, 1.5) == ["5 mm"]
    assert names(8.4, 1.5) == ["2.5 mm", "8.4 mm"]
    assert names(10.0, 1.5) == ["2.5 mm", "10 mm"]
    assert names(10.5, 1.5) == ["4 mm", "11 mm saw"]
    assert names(12.0, 5.0) == ["2.5 mm", "12 mm"]
    assert names(14.0, 5.0) == ["4 mm", "14 mm saw"]
    assert names(12.0, None) == ["4 mm", "12 mm saw"]


def test_the_largest_drill_there_is():
    """What the largest drill does not make is made with a step drill or hole saw, in plate too."""
    assert names(8.0, 6.0, "mm", 6.5) == ["4 mm", "8 mm saw"]
    assert names(16.0, 6.0, "mm", 20.0) == ["2.5 mm", "16 mm"]


def test_a_part_has_to_go_in():
    """Where a hole may be no smaller, the next larger size is taken; otherwise the nearest."""
    assert names(14.6, 1.5, at_least=True)[-1] == "15 mm saw"
    assert names(9.84, 1.5)[-1] == "9.8 mm"
    assert names(9.84, 1.5, at_least=True)[-1] == "9.9 mm"


def test_inch_drills():
    """Those who measure in inches get sixty-fourths, and thirty-seconds for step drills."""
    assert names(8.4, 1.5, "in") == ["7/64 in", "21/64 in"]
    assert names(14.0, 1.5, "in", at_least=True) == ["5/32 in", "9/16 in saw"]
    assert nearest_drill(38.1, "in").name == "1 1/2 in"
    assert nearest_drill(0.01, "in").name == "1/64 in"
    assert (sheet_tool(12.4).mm, sheet_tool(12.4, at_least=True).mm) == (12.0, 13.0)


def test_a_pilot_is_wider_than_the_web():
    """The pilot hole of every twist drill up to 40 mm is at least the web of that drill, and much smaller than it."""
    for tenths in range(51, 401):
        pilot, last = steps(tenths / 10, 20.0, "mm", 50.0)
        assert figure("web").value * last.drill.mm <= pilot.drill.mm <= 0.5 * last.drill.mm


def test_conflicts_are_kept():
    """Where sources differ on a tap drill, one is used and the others stand beside it with their marks."""
    eight = tap_drill(parse("M8"))
    assert (eight.drill.name, eight.mark) == ("6.8 mm", "tap and drill charts (three that agree)")
    assert [(other.drill.name, other.mark) for other in eight.others] == [
        ("6.7 mm", "one tap and drill chart"),
        ("6.75 mm", "thread-cutting handbook for trainees"),
    ]
    taper = tap_drill(parse("1/8 NPT"))
    assert (taper.drill.name, taper.reamed.name) == ("letter R (0.339 in)", "21/64 in")
    assert [other.drill.name for other in taper.others] == ["letter Q (0.332 in)"]
    assert sum(bool(row.others) for row in tap_drills()) == 3


def test_a_thread_that_no_table_has():
    """A straight thread without a row gets diameter less pitch to the nearest drill, as derived; a pipe thread none."""
    made = tap_drill(parse("M14x1.5"))
    assert (made.drill.name, made.mark) == (
        "12.5 mm",
        "derived (D - P); list of drill and tap sizes in an open encyclopedia",
    )
    assert tap_drill(parse("5/16-18"), "in").drill.name == "1/4 in"
    assert tap_drill(parse("1-11.5 NPT")) is None
    assert tap_drill(parse("G1/8")) is None


def test_a_rounded_root_has_the_drill_of_its_plain_twin():
    """3/8-24 UNJF is drilled as 3/8-24 UNF, under its own name."""
    made = tap_drill(parse("3/8-24 UNJF"))
    assert (made.thread, made.drill.name) == ("3/8-24 UNJF", "letter Q (0.332 in)")


def test_a_screw_without_a_row_has_no_clearance_hole():
    """No clearance hole is made up for a thread that the table lacks; a fine thread has that of its diameter."""
    assert clearance_drill(parse("M20")) is None
    assert clearance_drill(parse("M8x1")).fine.name == "8.4 mm"
