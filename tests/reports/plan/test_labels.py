"""Room for words: no two over each other, none over a mark, near what they name, in bounded work."""

from math import dist

from hypothesis import given
from hypothesis import strategies as st

from fitcheck.reports.plan.labels import Box, Label, Room
from tests.making.benches import SAME_EVERY_TIME
from tests.reports.plan.seen import SVG, demo, meet, root_of

Spot = tuple[float, float]
SPOT = st.tuples(st.floats(-60, 60), st.floats(-40, 40))
SIZE = st.tuples(st.floats(1.0, 30.0), st.floats(1.0, 8.0))


@SAME_EVERY_TIME
@given(marks=st.lists(SPOT, max_size=12), wanted=st.lists(st.tuples(SPOT, SIZE), min_size=1, max_size=25))
def test_words_cover_neither_marks_nor_words(marks: list[Spot], wanted: list[tuple[Spot, Spot]]) -> None:
    """However things lie, boxes of words meet neither each other nor marks, and have the size asked for."""
    room, taken = Room(-60.0), [Box(x - 1.0, y - 1.0, x + 1.0, y + 1.0) for x, y in marks]
    for box in taken:
        room.mark(box)
    for at, (wide, high) in wanted:
        label = room.place([at], wide, high)
        assert label is not None
        assert not any(meet(label.box, other) for other in taken)
        assert abs(label.box.right - label.box.left - wide) < 1e-9
        assert abs(label.box.bottom - label.box.top - high) < 1e-9
        taken.append(label.box)


@SAME_EVERY_TIME
@given(wanted=st.lists(st.tuples(SPOT, SIZE), min_size=2, max_size=25))
def test_leaders_begin_at_what_is_named_and_run_under_no_later_words(wanted: list[tuple[Spot, Spot]]) -> None:
    """A leader goes from its point to the edge of its own words, and words placed later leave it free."""
    room, found = Room(-60.0), list[tuple[Spot, Label]]()
    for at, (wide, high) in wanted:
        label = room.place([at], wide, high)
        assert label is not None
        found.append((at, label))
    for index, (at, label) in enumerate(found):
        if label.leader is None:
            continue
        (x, y), (to_x, to_y) = label.leader
        assert (x, y) == at
        assert (
            min(
                abs(to_x - label.box.left),
                abs(to_x - label.box.right),
                abs(to_y - label.box.top),
                abs(to_y - label.box.bottom),
            )
            < 1e-9
        )
        middle = Box(*(2 * ((x + to_x) / 2.0, (y + to_y) / 2.0)))
        if dist((x, y), (to_x, to_y)) > 6.0:
            assert not any(meet(label.box, middle) or _inside(other.box, middle) for _, other in found[index + 1 :])


def _inside(box: Box, spot: Box) -> bool:
    return box.left < spot.left < box.right and box.top < spot.top < box.bottom


def test_first_words_stand_to_the_right_without_leader() -> None:
    """On empty paper words stand at once beside their point."""
    label = Room(0.0).place([(10.0, 10.0)], 8.0, 3.0)
    assert label == Label(Box(10.9, 8.5, 18.9, 11.5), None)


def test_words_keep_off_lines_where_there_is_room() -> None:
    """A line to the right of a point sends its words to the left."""
    room = Room(0.0)
    room.line((10.0 + step / 2.0, 10.0) for step in range(60))
    label = room.place([(10.0, 10.0)], 8.0, 3.0)
    assert label is not None
    assert label.box.right < 10.0


def test_a_crowd_ends_in_bounded_work() -> None:
    """Four hundred words for one point: those that find room do not meet, the rest are given up."""
    room = Room(0.0)
    labels = [room.place([(0.0, 0.0)], 20.0, 3.5) for _ in range(400)]
    boxes = [label.box for label in labels if label is not None]
    assert 20 < len(boxes) < 400
    assert not any(meet(one, other) for index, one in enumerate(boxes) for other in boxes[:index])


def test_words_of_the_demo_are_apart() -> None:
    """In all three views of the demo no words meet others."""
    for view in ("plan", "side", "front"):
        boxes = []
        for group in root_of(demo(), view).iter(f"{SVG}g"):
            if group.get("data-kind") == "label":
                rect = next(group.iter(f"{SVG}rect"))
                x, y, wide, high = (float(rect.get(key) or "nan") for key in ("x", "y", "width", "height"))
                boxes.append(Box(x, y, x + wide, y + high))
        assert len(boxes) > 20
        assert not any(meet(one, other) for index, one in enumerate(boxes) for other in boxes[:index])
