"""Speeds and drills of any hole: the speed at the edge comes back, sizes are near, steps grow."""

from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.standards.drill_sizes import nearest_drill, sheet_tool
from fitcheck.standards.drilling import TOOLS, metals, rpm, setting, spindle_rpm, steps, surface_speed

SAME = settings(derandomize=True, deadline=None, database=None, max_examples=200)
DIAMETERS = st.floats(0.5, 60.0)
UNITS = st.sampled_from(["mm", "in"])
STEP = {"mm": 0.1, "in": 25.4 / 64}


@SAME
@given(DIAMETERS, st.floats(1.0, 5000.0))
def test_turns_times_circumference_is_the_speed(diameter, speed):
    """Turns a minute times pi times the diameter is the surface speed again."""
    assert rpm(speed, diameter) * pi * diameter / 60.0 == pytest.approx(speed, rel=1e-12)


@SAME
@given(DIAMETERS, st.sampled_from(list(metals().values())), st.sampled_from(TOOLS))
def test_a_schedule_keeps_to_what_is_printed(diameter, metal, tool):
    """The edge of the drill goes at the cautious speed at every diameter, and low, used and high stay in order."""
    speed, surface = spindle_rpm(diameter, metal, tool), surface_speed(metal, tool)
    assert speed.used_rpm * pi * diameter / 60.0 == pytest.approx(surface.used_mm_s, rel=1e-12)
    assert speed.low_rpm <= speed.used_rpm <= speed.high_rpm


@SAME
@given(st.lists(st.floats(10.0, 5000.0), min_size=1, max_size=12), st.floats(1.0, 6000.0))
def test_a_setting_is_the_best_there_is(speeds, wanted):
    """A setting is one of the machine's, not above what is wanted if any is not, and none is nearer below."""
    found = setting(wanted, speeds)
    assert found in speeds
    below = [speed for speed in speeds if speed <= wanted]
    assert found <= min(speeds) if not below else found >= max(below)


@SAME
@given(DIAMETERS, UNITS)
def test_sizes_are_near(mm, unit):
    """The nearest drill is within half a step, the next larger one within a whole one and not smaller."""
    step = STEP[unit]
    assert abs(nearest_drill(mm, unit).mm - mm) <= step / 2 + 1e-6
    assert -1e-5 <= nearest_drill(mm, unit, at_least=True).mm - mm <= step + 1e-6
    assert -1e-5 <= sheet_tool(mm, unit, at_least=True).mm - mm <= 10 * step + 1e-6


@SAME
@given(st.floats(1.0, 40.0), st.none() | st.floats(0.5, 20.0), UNITS, st.none() | st.floats(5.0, 20.0), st.booleans())
def test_steps_grow_to_the_hole(mm, thickness, unit, largest, at_least):
    """Drills of a hole grow; the last is as large as the hole, and no twist drill is larger than the largest."""
    made = steps(mm, thickness, unit, largest, at_least=at_least)
    sizes = [step.drill.mm for step in made]
    assert sizes == sorted(set(sizes))
    room = 10 * STEP[unit] if made[-1].sheet_tool else STEP[unit]
    assert (-1e-5 if at_least else -room / 2 - 1e-6) <= sizes[-1] - mm <= room + 1e-6
    assert all(step.sheet_tool or step.drill.mm <= (largest or 13.0) + 1e-9 for step in made)
