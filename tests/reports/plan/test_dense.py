"""Where very much is in one place: no words on others, and nothing that is named nowhere. All builds invented."""

from itertools import combinations
from xml.etree import ElementTree

import pytest

from fitcheck.checks.context import Context
from fitcheck.reports.plan.labels import Box
from fitcheck.reports.plan.views import VIEWS, View
from tests.reports.plan.seen import SVG, checked, context, demo, meet, plan_svg, root_of, told, view_of, words

_UNION = "{part: union-3-16-inverted, at: "
GRID = "components:\n" + "".join(
    f"  union_{number}: {_UNION}[{1000 + number % 10 * 6}, {200 + number // 10 * 6}, {300 + number}]}}\n"
    for number in range(80)
)
"""Eighty parts, 6 mm from each other."""
HEAP = "components:\n" + "".join(f"  thing_{number}: {_UNION}[1000, 200, 300]}}\n" for number in range(50))
"""Fifty parts in one point."""
BUNDLE = (
    "components:\n"
    + "".join(
        f"  a{number}: {_UNION}[0, {number * 4}, 0]}}\n  b{number}: {_UNION}[600, {number * 4}, 10]}}\n"
        for number in range(40)
    )
    + "lines:\n"
    + "".join(
        f"  run_of_the_bundle_{number}: {{from: a{number}.b, to: b{number}.a, tube: tube-3-16-cuni,"
        f" route: [[300, {number * 4}, 0]]}}\n"
        for number in range(40)
    )
)
"""Forty lines beside each other, each with two clips proposed."""
DENSE = {"grid": GRID, "heap": HEAP, "bundle": BUNDLE}


def label_boxes(root: ElementTree.Element) -> list[Box]:
    """Return the boxes of all words and of all marks of findings that stand in the view."""
    found = []
    for group in view_of(root).iter(f"{SVG}g"):
        if group.get("data-kind") == "label":
            rect = next(group.iter(f"{SVG}rect"))
            x, y, wide, high = (float(rect.get(key) or "nan") for key in ("x", "y", "width", "height"))
            found.append(Box(x, y, x + wide, y + high))
        elif group.get("data-finding"):
            spots = [
                float(each) for each in next(group.iter(f"{SVG}polygon")).get("points", "").replace(",", " ").split()
            ]
            found.append(Box(min(spots[::2]), min(spots[1::2]), max(spots[::2]), max(spots[1::2])))
    return found


def overlaps(boxes: list[Box]) -> list[tuple[Box, Box]]:
    """Return the pairs of boxes that meet."""
    return [(one, other) for one, other in combinations(boxes, 2) if meet(one, other)]


def named(root: ElementTree.Element) -> set[str]:
    """Return all words of a drawing by themselves, those of lists too."""
    return {word for each in words(root) for word in each.replace(",", " ").split()}


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("name", DENSE)
def test_no_words_meet_and_none_are_lost(name: str, view: View) -> None:
    """In dense builds no two labels meet, and every tag stands on a label or in the list below."""
    build = context(DENSE[name])
    root = root_of(build, view)
    boxes = label_boxes(root)
    assert boxes
    assert overlaps(boxes) == []
    assert {*build.file.components, *build.file.lines} <= named(root)


@pytest.mark.parametrize("view", VIEWS)
def test_no_words_of_the_demo_meet(view: View) -> None:
    """Nor do labels and marks of findings of the demo."""
    root, report = checked(demo(), view)
    boxes = label_boxes(root)
    assert len(boxes) > 20 + len(report.findings)
    assert overlaps(boxes) == []


def test_of_many_in_one_point_the_rest_are_listed_by_number() -> None:
    """Five names and a number stand beside the point; the list says where it is and what else is there."""
    root = root_of(context(HEAP), "plan")
    assert "and 45 more: #1" in words(root)
    assert f"#1, at x 1000, y 200 mm: {', '.join(f'thing_{number}' for number in range(5, 50))}" in told(root)


def test_places_in_the_list_are_those_of_the_view() -> None:
    """From the side the list has x and z, from ahead y and z, in the user's unit."""
    inches = "coordinates: in\n" + HEAP.replace("[1000, 200, 300]", "[10, 2, 3]")
    for view, place in (("plan", "x 10, y 2 in"), ("side", "x 10, z 3 in"), ("front", "y 2, z 3 in")):
        assert f"#1, at {place}: thing_5" in told(root_of(context(inches), view))  # type: ignore[arg-type]


def test_numbers_stand_on_the_drawing() -> None:
    """Each number of the list is on the drawing once, except for what the list says is not marked."""
    root = root_of(context(BUNDLE), "plan")
    listed = [each.partition(",")[0] for each in words(root) if each.startswith("#") and ", at " in each]
    on_it = [each.text for each in view_of(root).iter(f"{SVG}text") if (each.text or "").startswith("#")]
    assert listed
    assert sorted(listed) == sorted(on_it)


@pytest.mark.parametrize("name", DENSE)
def test_dense_drawings_are_the_same_each_time(name: str) -> None:
    """Same build, same text."""
    one, other = (plan_svg(_fresh(name), None, "plan") for _ in range(2))
    assert one == other


def _fresh(name: str) -> Context:
    return context(DENSE[name])
