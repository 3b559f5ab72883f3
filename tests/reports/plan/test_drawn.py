"""Poses, findings, hostile words, the same bytes each time."""

import os
import re
import subprocess
import sys
from xml.etree import ElementTree

import pytest

from fitcheck.checks.run import check_context
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.level_marks import level_mark, mark_size
from fitcheck.reports.plan.views import VIEWS
from tests.reports.plan.seen import (
    BENT,
    SVG,
    checked,
    context,
    demo,
    plan_svg,
    root_of,
    steps,
    tagged,
    told,
    view_of,
    words,
)

HOSTILE = '\\"><script>alert(1)</script>&\\u202e'
MOVING = """\
bodies:
  hub:
    poses:
      droop: {shift: [0, 0, -70]}
      lock: {turn: 90 deg, about: {point: [1000, 0, 0], axis: [0, 0, 1]}}
components:
  cal: {part: union-3-16-inverted, on: hub, at: [1000, 100, 300]}
"""


def test_poses_are_tied_to_rest() -> None:
    """70 mm of droop are seen from the side, straight down from rest; a lock of 90 deg goes to (900, 0) in plan."""
    side, plan = (root_of(context(MOVING), view) for view in ("side", "plan"))
    ways = [
        [steps(each.get("d") or "") for each in group.iter(f"{SVG}path")]
        for root in (side, plan)
        for group in root.iter(f"{SVG}g")
        if group.get("data-kind") == "ghost"
    ]
    assert [[(-1000.0, -300.0), (-1000.0, -230.0)]] in ways
    assert [[(-1000.0, 100.0), (-900.0, 0.0)]] in ways
    assert [[(-1000.0, 100.0), (-1100.0, 0.0)]] in ways
    assert {"droop", "lock", "lock the other way"} <= {*words(side), *words(plan)}
    assert "Not seen to move in this view: hub in droop." in told(plan)
    assert "Poses that this view shows as another: droop and lock as lock (hub);" in told(plan)


def test_every_finding_is_marked_once_with_its_number() -> None:
    """Findings are numbered in the order of the report; each has its mark in the view and one in the list."""
    for view in VIEWS:
        root, report = checked(demo(), view)
        marks = [each.get("data-finding") for each in root.iter(f"{SVG}g") if each.get("data-finding")]
        inside = [each.get("data-finding") for each in view_of(root).iter(f"{SVG}g") if each.get("data-finding")]
        numbers = [str(number) for number in range(1, len(report.findings) + 1)]
        assert sorted(inside, key=str) == sorted(numbers)
        assert sorted(marks, key=str) == sorted(2 * numbers)
        for finding in report.findings:
            assert f"{finding.level} {finding.rule}: {finding.message}" in told(root)
        assert (
            f"Accepted: note single-circuit: {report.accepted[0].message}; because: a clutch has one circuit"
            in told(root)
        )


def test_finding_without_place_says_so() -> None:
    """A finding at something without coordinates is listed as not marked."""
    root, report = checked(context(BENT.replace("lines:\n", "  loose: {part: union-3-16-inverted}\nlines:\n")), "plan")
    number = next(index for index, each in enumerate(report.findings, 1) if each.at[0].startswith("loose"))
    assert str(number) not in {each.get("data-finding") for each in view_of(root).iter(f"{SVG}g")}
    assert "(no place known, or no room: not marked above)" in told(root)


def test_near_heat_is_marked_where_it_is_nearest() -> None:
    """A line that passes something hot is marked at the point of the line nearest to it, not at the line's middle."""
    heat = "heat:\n  pipe: {path: [[990, 150, 300], [990, 140, 300]], radius: 5 mm}\n"
    root, report = checked(context(heat + BENT), "plan")
    number = next(index for index, each in enumerate(report.findings, 1) if each.rule == "near-heat")
    mark = next(each for each in view_of(root).iter(f"{SVG}g") if each.get("data-finding") == str(number))
    text = next(mark.iter(f"{SVG}text"))
    x, y = float(text.get("x") or 0), float(text.get("y") or 0)
    scale = 1.0 / float(told(root).partition("1 : ")[2].split(",")[0])
    assert abs(x + 990.0 * scale) < 12.0
    assert abs(y - 200.0 * scale) < 12.0


def test_levels_have_shapes_of_their_own() -> None:
    """An error has eight corners, a warning three, a note none; a long number has a wider mark."""
    shapes = [ElementTree.fromstring(level_mark(0.0, 0.0, 7, level)) for level in ("error", "warning", "note")]
    corners = [len((each[0].get("points") or "").split()) for each in shapes]
    assert corners == [8, 3, 0]
    assert [each.get("data-level") for each in shapes] == ["error", "warning", "note"]
    assert mark_size(1234)[0] > mark_size(12)[0] == mark_size(1)[0]


def test_hostile_words_are_words() -> None:
    """Whatever stands in names, notes and poses of a build is text in the drawing and makes no element."""
    accept = f'accept:\n  - {{rule: "{HOSTILE}", at: "{HOSTILE}", why: "{HOSTILE}"}}\n'
    text = f'name: "{HOSTILE}"\n' + accept + MOVING.replace("droop:", f'"{HOSTILE}":')
    build = context(text)
    for view in VIEWS:
        root = root_of(build, view, check_context(build))
        assert not [each.tag for each in root.iter() if "script" in each.tag]
        assert {each.tag.removeprefix(SVG) for each in root.iter()} <= {
            "svg", "title", "desc", "style", "g", "rect", "circle", "ellipse", "polygon", "path", "text",
        }  # fmt: skip
        assert "<script>alert(1)</script>&\\u202e" in told(root)


def test_drawing_is_told_to_those_who_hear_it() -> None:
    """Title and description say what is seen, how much, at what scale, and what is found."""
    root, report = checked(demo(), "side")
    assert root.get("role") == "img"
    assert root[0].text == "Dunlin: side view"
    desc = root[1].text or ""
    assert desc.startswith(
        "Side view, seen from the car's left, front of the car to the left, 1 : 10: 19 components, 9 lines, 5 hoses,"
    )
    assert "Not drawn or not as it is: rear_run." in desc
    assert f"1 error {report.findings[0].rule} at " in desc
    assert CAUTION in told(root)


@pytest.mark.parametrize("theme", ["auto", "light", "dark"])
def test_same_bytes_each_time(theme: str) -> None:
    """Two interpreters with different hashing write the same bytes."""
    code = (
        "import sys; from tests.reports.plan.seen import demo, plan_svg;"
        "from fitcheck.checks.run import check_context; b = demo(); r = check_context(b);"
        f"[sys.stdout.write(plan_svg(b, r, v, {theme!r})) for v in ('plan', 'side', 'front')]"
    )
    runs = [
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, check=True, env={**os.environ, "PYTHONHASHSEED": seed}
        ).stdout
        for seed in ("1", "2")
    ]
    assert runs[0] == runs[1]
    assert len(runs[0]) > 100_000


def test_circuits_differ_without_colour() -> None:
    """The three circuits of the demo have three dash patterns in the drawing, and each is named in the key."""
    root = root_of(demo(), "plan")
    dashes = {
        tag: next(group.iter(f"{SVG}path")).get("stroke-dasharray") for tag, group in tagged(root, "line").items()
    }
    assert dashes["front_run"] is None
    assert len({dashes["front_run"], dashes["axle_left"], dashes["clutch_run"]}) == 3
    assert {"circuit front", "circuit rear", "circuit clutch"} <= set(words(root))


def test_crowded_drawing_says_what_it_leaves_out() -> None:
    """Of four hundred parts in one corner of a long car few can be named: the rest are listed by number or place."""
    parts = "".join(
        f"  c{i}: {{part: union-3-16-inverted, at: [{i % 20 * 9}, {i // 20 * 9}, 0]}}\n" for i in range(400)
    )
    root = ElementTree.fromstring(
        plan_svg(context(f"components:\n  z: {{part: union-3-16-inverted, at: [5000, 0, 0]}}\n{parts}"), None, "plan")
    )
    assert len(tagged(root, "component")) == 401
    assert "Named by number, for want of room" in words(root)
    named = {name for each in words(root) for name in re.findall(r"\bc\d+\b", each)}
    assert named == {f"c{number}" for number in range(400)}
