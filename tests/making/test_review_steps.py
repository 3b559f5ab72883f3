"""Sheets that a builder follows to the letter: what goes through which panel when, and marks that lie on the tube."""

import pytest

from fitcheck.build.benders import Radius, too_tight
from fitcheck.making.sheet import Sheet
from fitcheck.reports.make_clips import clips_text
from fitcheck.reports.make_steps import step_text
from fitcheck.reports.make_words import concern_text, fault_text
from tests.making.benches import LEVER, graph_of, made, one_line

TWO = "[{at: [60, 0, 0], through: one}, [150, 0, 0], [150, 200, 0], {at: [150, 200, 100], through: two}]"
WALLS = "panels: {one: {hole: 9 mm, grommet: grommet-3-16}, two: {hole: 20 mm, grommet: grommet-3-16}}"
ACROSS = ", ends: {from: {across: 13 mm}, to: {across: 13 mm}}"


def told(one: Sheet, *acts: str) -> list[str]:
    """Return the steps of some kinds in words."""
    return [step_text(one, step, "mm") for step in one.steps if step.act in acts]


def test_a_finished_end_goes_through_before_its_grommet_does() -> None:
    """The nut of end A does not pass a grommet: that one rides on the tube, and is pushed in behind the nut."""
    one = made(TWO, end="[150, 200, 200]", more=WALLS, line=ACROSS)
    assert (one.flare_b, [end.name for end in one.ends or ()]) == ("in the car", ["to", "from"])
    assert told(one, "guard", "pass") == [
        "In the car, put end A (with its nut, `to`) through two (20 mm).",
        "In the car, push in grommet-3-16 at two.",
        "In the car, push in grommet-3-16 at one.",
        "In the car, put end B (bare, `from`) through one (9 mm).",
    ]
    places = [(step.act, step.end) for step in one.steps]
    riding = next(step for step in one.steps if step.act == "slide" and step.end == "B")
    assert [(item.word, item.panel) for item in riding.items] == [("grommet", "two")]
    assert not riding.in_car
    assert places.index(("slide", "B")) < places.index(("pass", "A"))


def test_holes_are_passed_in_the_order_in_which_an_end_meets_them() -> None:
    """End A, led through two panels, comes to the one that is farther from it on the finished line first."""
    walls = "panels: {one: {hole: 20 mm, grommet: grommet-3-16}, two: {hole: 20 mm, grommet: grommet-3-16}}\n"
    route = "[{at: [60, 0, 0], through: one}, {at: [160, 0, 0], through: two}, [300, 0, 0]]"
    one = made(route, more=walls, line=ACROSS)
    assert one.lead == "A"
    assert [end.name for end in one.ends or ()] == ["from", "to"]
    assert told(one, "pass") == ["In the car, put end A (with its nut, `from`) through two (20 mm), one (20 mm)."]


@pytest.mark.parametrize("offset", ["-500 mm", "400 mm"])
def test_a_mark_off_the_tube_is_no_mark(offset: str) -> None:
    """With an offset that puts the pencil behind either end the bend is turned by hand, and the sheet says why."""
    tools = (
        f"tools: {{flaring: {{grip: 25 mm}}, benders: {{lever: {{radius: 15 mm, clamp: 20 mm, offset: {offset}}}}}}}"
    )
    one = made("[[300, 0, 0]]", tools=tools)
    (bend,) = one.bends
    assert bend.hand
    assert 0.0 <= bend.mark_mm <= (one.run_mm or 0.0)
    (words,) = told(one, "bend")
    assert words.endswith(": the mark for the tool would not lie on the tube. Check the angle.")


def test_a_radius_that_no_tube_stands_is_refused() -> None:
    """Under one and a half diameters without a bender, under half a diameter with one: no sheet, as the rule has it."""
    bare = made("[{at: [300, 0, 0], bend: 3 mm}]", tools="")
    assert [fault_text(fault, "mm") for fault in bare.faults] == [
        "a bend has a radius of 3 mm, under 7.14 mm, one and a half outside diameters: the tube does not stand it"
    ]
    thin = made("[[300, 0, 0]]", tools=LEVER.replace("radius: 15 mm", "radius: 2 mm"))
    assert [fault_text(fault, "mm") for fault in thin.faults] == [
        "a bend has a radius of 2 mm, under 2.38 mm, half its outside diameter: the tube does not stand it"
    ]


def test_a_small_radius_is_to_be_looked_at() -> None:
    """Between one and a half and three diameters the sheet is made, and says what to see to."""
    one = made("[{at: [300, 0, 0], bend: 12 mm}]", tools="")
    assert not one.faults
    assert "A radius of 12 mm is under 14.29 mm, three outside diameters: see that the tube does not flatten." in [
        concern_text(concern, "mm") for concern in one.concerns
    ]


def test_limits_of_a_radius_hold_for_the_rule_and_the_sheet() -> None:
    """The limit of a radius is one figure; a default radius is under none."""
    tube = one_line("[[300, 0, 0]]").fitted["run"].part
    assert tube is not None
    assert too_tight(Radius(14.2875, "three outside diameters", None), tube) is None
    limit = too_tight(Radius(7.0, "stated", None), tube)
    assert limit is not None
    assert (round(limit.mm, 3), limit.refused) == (7.144, True)


def test_radii_are_told_in_the_user_s_unit() -> None:
    """A build in inches reads of no millimetres in what to look at."""
    one = made("[[12, 0, 0]]", end="[12, 8, 0]", tools="", more="coordinates: in")
    assert concern_text(one.concerns[0], "in") == (
        "No bender is known for this tube: marks are where each bend starts, radius 0.5625 in, three outside diameters."
        " List yours under `tools.benders`."
    )
    assert clips_text(one.clips, "in") == (
        "Clips: 2, at 4 15/16 in and 14 13/16 in from end A (one for each 11 13/16 in: common practice, no source)."
    )


@pytest.mark.parametrize("angle", ["-30 deg", "45 deg", "120 deg"])
def test_springback_has_bounds(angle: str) -> None:
    """A springback that no tube has is refused where it stands in the file."""
    with pytest.raises(Exception, match=f"expected from 0 to less than 45 deg, got '{angle}'"):
        graph_of(f"tools: {{benders: {{lever: {{radius: 15 mm, springback: {{copper: {angle}}}}}}}}}\n")
