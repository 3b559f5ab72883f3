"""Poses as the checks look at them, combined ones too: each in dashes of its own, told in the key."""

import re
from itertools import pairwise

from fitcheck.build.poses import motions
from fitcheck.reports.plan.ghosts import DASHES, ghosts, undrawn
from fitcheck.reports.plan.paper import scaled
from fitcheck.reports.plan.scene import scene
from fitcheck.reports.plan.views import LOOKS
from tests.reports.plan.seen import SVG, context, demo, root_of, steps, told, view_of, words

CORNER = """\
bodies:
  hub:
    poses:
      droop: {shift: [0, 0, -70]}
      bump: {shift: [0, 0, 50]}
      lock: {turn: 90 deg, about: {point: [1000, 0, 0], axis: [0, 0, 1]}}
components:
  cal: {part: union-3-16-inverted, on: hub, at: [1000, 100, 300]}
"""
COMBINED = {f"{shift} and {turn}" for shift in ("droop", "bump") for turn in ("lock", "lock the other way")}
MANY = "bodies:\n  hub:\n    poses:\n" + "".join(
    f"      p{number}: {{shift: [0, 0, {10 * number}]}}\n" for number in range(1, 16)
)


def test_combined_poses_are_drawn_where_the_checks_have_them() -> None:
    """From the side droop with lock is 70 mm down and 100 mm to the rear: turned first, then shifted."""
    root = root_of(context(CORNER), "side")
    ways = {
        title.text: [steps(each.get("d") or "") for each in group.iter(f"{SVG}path")]
        for group in root.iter(f"{SVG}g")
        if group.get("data-kind") == "ghost" and (title := group.find(f"{SVG}title")) is not None
    }
    assert set(ways) == {f"hub in {name}" for name in ({"droop", "bump", "lock", "lock the other way"} | COMBINED)}
    assert ways["hub in droop and lock"] == [[(-1000.0, -300.0), (-900.0, -230.0)]]
    assert ways["hub in bump and lock the other way"] == [[(-1000.0, -300.0), (-1100.0, -350.0)]]


def test_every_pose_has_dashes_of_its_own_and_is_in_the_key() -> None:
    """Eight poses, eight patterns, each with its name in the key; the same on the drawing as in the key."""
    build = context(CORNER)
    root = root_of(build, "side")
    inside = {id(each) for each in view_of(root).iter()}
    drawn: dict[str, set[str]] = {}
    for group in root.iter(f"{SVG}g"):
        title = group.find(f"{SVG}title")
        if group.get("data-kind") == "ghost" and title is not None:
            dashes = {each.get("stroke-dasharray", "") for each in group.iter() if each.get("stroke-width")}
            drawn[(title.text or "").removeprefix("hub in ")] = dashes
    assert all(len(dashes) == 1 for dashes in drawn.values())
    assert len(set.union(*drawn.values())) == 8 == len(drawn)
    key = [each for each in root.iter() if id(each) not in inside]
    shown = {}
    for before, after in pairwise(key):
        if after.tag == f"{SVG}text" and (after.text or "").startswith("moved: "):
            shown[(after.text or "").removeprefix("moved: ")] = {before.get("stroke-dasharray", "")}
    assert shown == drawn


def test_poses_that_look_alike_are_drawn_once_and_told() -> None:
    """From above a drooped corner on lock is where it is on lock: one drawing, both names."""
    root = root_of(context(CORNER), "plan")
    titles = [
        (group.find(f"{SVG}title").text or "")  # type: ignore[union-attr]
        for group in root.iter(f"{SVG}g")
        if group.get("data-kind") == "ghost"
    ]
    assert "hub in lock, droop and lock, bump and lock" in titles
    assert "moved: droop and lock" not in words(root)
    assert "Not seen to move in this view: hub in droop, bump." in told(root)
    assert "droop and lock, bump and lock as lock (hub)" in told(root)


def test_all_poses_of_the_demo_are_drawn_or_told() -> None:
    """In each view each pose that a check takes of a body is drawn, alike to another, or not seen to move."""
    build = demo()
    for look in LOOKS.values():
        found = scene(build.graph)
        paper = scaled(look, [(item.at, 0.0) for item in found.items])
        shown = {(each.body, name) for each in ghosts(build.file, found, paper) for name in (each.pose, *each.alike)}
        wanted = {(body, each.pose) for body in build.file.bodies for each in motions(build.file, body) if each.pose}
        assert shown == wanted
    assert undrawn(build.file, scene(build.graph)) == {}


def test_more_poses_than_dashes_are_told() -> None:
    """Of fifteen heights twelve are drawn, and the others are named below."""
    root = root_of(context(MANY + CORNER[CORNER.index("components") :]), "side")
    assert sum(group.get("data-kind") == "ghost" for group in root.iter(f"{SVG}g")) == len(DASHES) == 12
    assert "not drawn, for want of dashes to tell them apart: hub in p13, p14, p15." in told(root)


def test_patterns_differ() -> None:
    """No two dash patterns are the same, nor the same but for a tenth of a millimetre."""
    numbers = [[float(each) for each in re.findall(r"[\d.]+", dash)] for dash in DASHES]
    for place, one in enumerate(numbers):
        for other in numbers[:place]:
            assert len(one) != len(other) or max(abs(a - b) for a, b in zip(one, other, strict=True)) > 0.1
