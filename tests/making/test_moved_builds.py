"""Whole sheets of builds that are moved, mirrored, measured in inches, or written from the other end: the same tube."""

from itertools import pairwise
from math import dist

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from fitcheck.build.routes import RouteError, straights, through_points
from fitcheck.making.shape import rebuilt
from tests.making.benches import SAME_EVERY_TIME, made
from tests.making.test_shapes import ANGLE, moved, placed

CORNERS = st.lists(
    st.tuples(st.tuples(*[st.integers(-9, 9)] * 3), st.sampled_from([9.0, 14.3, 15.0, 22.5])),
    min_size=3,
    max_size=7,
    unique_by=lambda drawn: drawn[0],
)
TOOLS = "tools: {flaring: {grip: 20 mm}}"


def drawn(corners):
    """Return points [mm] and a radius for each inner one, or pass over what no tube follows or is ambiguous.

    Bends have radii of their own; corners of under a degree are left to other tests.
    """
    points = [tuple(60.0 * value for value in place) for place, _ in corners]
    radii = [radius for _, radius in corners[1:-1]]
    try:
        route = through_points(points, radii)
        straights(route)
    except RouteError:
        assume(False)
    assume(len(route.bends) == len(radii))
    return points, radii


def sheet_of(points, radii, scale=1.0, unit="mm"):
    """Return the sheet of a line through points, every bend with its own radius, from text."""
    start, *shown, end = [f"[{', '.join(f'{value * scale:.9f}' for value in point)}]" for point in points]
    corners = ", ".join(f"{{at: {at}, bend: {radius * scale} {unit}}}" for at, radius in zip(shown, radii, strict=True))
    return made(f"[{corners}]", tools=TOOLS, start=start, end=end, more=f"coordinates: {unit}")


def figures(sheet, backwards=False):
    """Return straights, angles, radii and rotations of a sheet, from the line's end `from`, or from `to`."""
    turned = (sheet.ends[0].name == "to") is not backwards
    order = slice(None, None, -1) if turned else slice(None)
    rotations = [bend.rotation_deg for bend in sheet.bends[1:]][order]
    return (
        sheet.straights_mm[order],
        [bend.angle_deg for bend in sheet.bends][order],
        [bend.radius_mm for bend in sheet.bends][order],
        rotations,
    )


def same_turns(one, other, sign=1.0):
    """Return whether rotations agree, half a turn either way being the same."""
    pairs = zip(one, other, strict=True)
    return all(abs((a - sign * b + 180.0) % 360.0 - 180.0) < 1e-4 for a, b in pairs)


def agree(one, other, sign=1.0):
    """Prove that two sheets' figures are those of one tube, rotations times `sign`."""
    for mine, theirs in zip(one[:3], other[:3], strict=True):
        assert list(mine) == pytest.approx(list(theirs), abs=1e-6)
    assert same_turns(one[3], other[3], sign)


@SAME_EVERY_TIME
@given(CORNERS)
def test_text_to_sheet_and_back_to_points(corners):
    """What a sheet says, of a line written as text, rebuilt to corner points, lands on the route to 1e-6 mm."""
    points, radii = drawn(corners)
    sheet = sheet_of(points, radii)
    assume(not sheet.faults)
    data = [(bend.angle_deg, bend.rotation_deg, bend.radius_mm) for bend in sheet.bends]
    shape = rebuilt(sheet.straights_mm, *zip(*data, strict=True))
    meant = points if sheet.ends[0].name == "from" else points[::-1]
    for corner, place in zip(placed(shape, meant), meant, strict=True):
        assert dist(corner, place) < 1e-6
    length = sum(dist(a, b) for a, b in pairwise(points))
    assert sheet.run_mm < length
    assert sheet.run_mm == pytest.approx(sum(sheet.straights_mm) + sum(bend.arc_mm for bend in sheet.bends))


@SAME_EVERY_TIME
@given(CORNERS, st.tuples(ANGLE, ANGLE, ANGLE), st.tuples(*[st.floats(-500, 500)] * 3))
def test_a_car_that_is_moved(corners, angles, shift):
    """Turned and shifted as a whole a build has the same sheet, step by step."""
    points, radii = drawn(corners)
    here, there = sheet_of(points, radii), sheet_of(moved(points, angles, shift), radii)
    assume(not here.faults)
    agree(figures(here), figures(there))
    assert here.cut_mm == pytest.approx(there.cut_mm, abs=1e-6)
    assert sorted(step.act for step in here.steps) == sorted(step.act for step in there.steps)


@SAME_EVERY_TIME
@given(CORNERS)
def test_the_other_side_of_the_car(corners):
    """The mirrored build's tube has the same lengths and angles, and every rotation the other way."""
    points, radii = drawn(corners)
    left, right = sheet_of(points, radii), sheet_of([(x, -y, z) for x, y, z in points], radii)
    assume(not left.faults)
    agree(figures(left), figures(right), sign=-1.0)
    assert left.cut_mm == pytest.approx(right.cut_mm, abs=1e-6)


@SAME_EVERY_TIME
@given(CORNERS)
def test_a_line_written_from_its_other_end(corners):
    """A line given from `to` to `from` is the same tube: lists turned round, rotations with their signs."""
    points, radii = drawn(corners)
    one, other = sheet_of(points, radii), sheet_of(points[::-1], radii[::-1])
    assume(not one.faults)
    agree(figures(one), figures(other, backwards=True))
    assert one.cut_mm == pytest.approx(other.cut_mm, abs=1e-6)


@SAME_EVERY_TIME
@given(CORNERS)
def test_a_build_in_inches(corners):
    """The same build with every measure in inches has the same sheet."""
    points, radii = drawn(corners)
    metric, inches = sheet_of(points, radii), sheet_of(points, radii, 1 / 25.4, "in")
    assume(not metric.faults)
    agree(figures(metric), figures(inches))
    assert metric.cut_mm == pytest.approx(inches.cut_mm, abs=1e-6)
