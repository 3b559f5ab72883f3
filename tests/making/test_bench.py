"""Room at the bench, and which end is worked from because of it."""

import pytest

from fitcheck.making.bench import rooms
from tests.making.benches import by_points, made

SPIRAL = [(0, 0, 0), (300, 0, 0), (300, 150, 0), (150, 150, 0), (150, 75, 0), (-300, 75, 0)]
CORNERS = "[[300, 0, 0], [300, 150, 0], [150, 150, 0], [150, 75, 0]]"


def rooms_of(points, radius=15.0):
    """Return the room of each bend of a route."""
    course = by_points(points, radius)
    return rooms(course.points, course.route, 4.7625)


def test_loose_end_meets_what_is_bent():
    """A tube that runs back into its own bight cannot be swept there from its outer end, but can from its inner end."""
    assert [room.clash for room in rooms_of(SPIRAL)] == [False, False, True, True]
    assert not any(room.clash for room in rooms_of(SPIRAL[::-1]))


def test_the_end_without_a_clash_is_taken():
    """The sheet starts from the end from which nothing is in the way."""
    sheet = made(CORNERS, end="[-300, 75, 0]")
    assert [end.name for end in sheet.ends] == ["to", "from"]
    assert not any(bend.clash for bend in sheet.bends)


def test_a_short_loose_end_sweeps_past():
    """The same bight is no clash if the rest of the tube is too short to reach the first leg."""
    points = [(0, 0, 0), (300, 0, 0), (300, 150, 0), (150, 150, 0), (150, 75, 0)]
    assert not any(room.clash for room in rooms_of(points))


def test_tail_out_of_the_plane_is_no_clash():
    """A first leg that stands up from the plane is not in the way of a sweep within it."""
    points = [(300, 0, 300), (300, 0, 0), (300, 150, 0), (150, 150, 0), (150, 75, 0), (-300, 75, 0)]
    assert not any(room.clash for room in rooms_of(points))


@pytest.mark.parametrize(("height", "below"), [(200, 0.0), (-200, 200.0)])
def test_tail_below_the_plane(height, below):
    """A first leg that hangs down on the bench's side of the plane is measured; one that stands up is not."""
    points = [(0, 0, height), (0, 0, 0), (200, 0, 0), (200, 200, 0)]
    found = rooms_of(points)
    assert [room.below_mm for room in found] == pytest.approx([0.0, below])
