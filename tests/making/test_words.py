"""Steps and lengths in words: which way to turn, what to do where the tool cannot hold, what a tape shows."""

import pytest

from fitcheck.making.sheet import Fitting, Hole, Step
from fitcheck.measures import exact, tape
from fitcheck.reports.make_steps import step_text
from fitcheck.reports.make_words import CONCERNS, FAULTS, degrees, fitting_text
from tests.making.benches import made


def sheet_with(**changes):
    """Return a sheet of two bends, the second of them changed."""
    sheet = made("[[150, 0, 0], [150, 200, 0]]")
    first, second = sheet.bends
    return sheet._replace(bends=(first, second._replace(**changes)))


def told(act, sheet, **fields):
    """Return one step of a sheet in words, in mm."""
    return step_text(sheet, Step(act, **fields), "mm")


@pytest.mark.parametrize(
    ("rotation", "text"),
    [
        (
            72.3,
            "Turn the tube 72.5 deg anticlockwise in the tool, so that bend 2 goes 72.5 deg clockwise from bend 1.",
        ),
        (
            -30.0,
            "Turn the tube 30 deg clockwise in the tool, so that bend 2 goes 30 deg anticlockwise from bend 1.",
        ),
        (0.1, "Do not turn the tube: bend 2 goes the same way as bend 1."),
        (-179.9, "Turn the tube half a turn (180 deg) in the tool: bend 2 goes the other way from bend 1."),
        (None, "Turn the tube in the tool until bend 2 goes the way the car needs: that is not given."),
    ],
)
def test_which_way_to_turn(rotation, text):
    """The tube is turned against its rotation, as `test_tube_made_at_a_bench` shows that a fixed tool needs."""
    assert told("turn", sheet_with(rotation_deg=rotation), bend=1) == text


def test_bend_that_the_tool_cannot_hold():
    """A bend by hand says the radius of the die, where it starts, and what is short; nothing is said of the tool."""
    sheet = sheet_with(hand=True, held_mm=8.1, needed_mm=20.0, pull_deg=None, mark_mm=328.6)
    assert told("bend", sheet, bend=1) == (
        "Bend 2: 90 deg, turned by hand round a clamped die of radius 15 mm, starting at 328.5 mm: there are 8 mm of"
        " straight to hold, the tool needs 20 mm. Check the angle."
    )


def test_bend_with_something_in_the_way():
    """What hangs down and what the loose end would hit are said with the bend that they belong to."""
    sheet = sheet_with(tail_below_mm=120.2, clash=True, tool=None, marks="middle", mark_mm=340.0)
    assert told("bend", sheet, bend=1) == (
        "Bend 2: 90 deg, radius 15 mm, end A in the clamp, mark 340 mm on the tool's middle line. The bent part reaches"
        " 120 mm out of the plane of this bend, towards the bench: let it hang over the edge, or hold the tool the"
        " other way up. The loose end sweeps through what is bent already: spring it aside. Check the angle."
    )


def test_going_through_a_panel():
    """A bare end goes by the grommet in place; a finished end goes with its nut, and the grommet is pushed in after."""
    hole = Hole("wall", 12.0, 1.6, "grommet-3-16", 1, 0)
    sheet = made("[[150, 0, 0], [150, 200, 0]]")
    assert told("guard", sheet, holes=(hole,)) == "In the car, push in grommet-3-16 at wall."
    finished = told("pass", sheet, end="B", holes=(hole, hole._replace(panel="floor", hole_mm=None)))
    assert finished == "In the car, put end B (with its nut, `to`) through wall (12 mm), floor."
    bare = told("pass", sheet._replace(flare_b="in the car"), end="B", holes=(hole,))
    assert bare == "In the car, put end B (bare, `to`) through wall (12 mm)."


@pytest.mark.parametrize(
    ("item", "text"),
    [
        (Fitting("nut", "nut-3-8-24-inverted", "", "external"), "nut-3-8-24-inverted, thread towards end B"),
        (Fitting("nut", "house-7", "", "internal"), "nut house-7, open, threaded side towards end B"),
        (Fitting("nut", None, "M10x1 external nut"), "nut (M10x1 external nut), thread towards end B"),
        (Fitting("sleeve", "sleeve-an3", ""), "sleeve-an3, its flared side towards end B"),
        (Fitting("grommet", "grommet-3-16", "", None, "wall"), "grommet-3-16 of wall"),
    ],
)
def test_which_way_fittings_face(item, text):
    """Nuts and sleeves are told with the side that goes towards the end; unknown ones by what would do."""
    assert fitting_text(item, "B") == text


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (105.74, "mm", "105.5 mm"),
        (105.75, "mm", "106 mm"),
        (0.2, "mm", "0 mm"),
        (25.4 * (5 + 3 / 4 + 1 / 65), "in", "5 3/4 in"),
        (25.4 * (5 + 31 / 32 + 1 / 63), "in", "6 in"),
        (25.4 / 32, "in", "1/32 in"),
        (0.0, "in", "0 in"),
    ],
)
def test_lengths_as_a_tape_shows_them(mm, unit, text):
    """Lengths are told to the nearest half millimetre or 1/32 in, fractions in lowest terms."""
    assert tape(mm, unit) == text


def test_given_sizes_are_not_rounded_to_a_tape():
    """A radius or a hole is told as it is; an angle to the half degree of a bender's scale."""
    assert (exact(14.2875, "mm"), exact(14.2875, "in")) == ("14.29 mm", "0.5625 in")
    assert (degrees(45.2), degrees(45.25), degrees(90.0)) == ("45 deg", "45 deg", "90 deg")


def test_no_fault_is_a_concern():
    """Every remark has one sentence and one weight."""
    assert not FAULTS.keys() & CONCERNS.keys()
