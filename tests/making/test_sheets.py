"""Whole sheets: order of work, what goes on before which flare, panels, what cannot be made, what is not known."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.making.make import sheet, sheets
from fitcheck.reports.make_words import concern_text, fault_text
from fitcheck.sources import InputError
from tests.making.benches import NUT_MM, SAME_EVERY_TIME, graph_of, made, one_line

Z = "[[150, 0, 0], [150, 200, 0]]"
WALL = "[[150, 0, 0], {at: [200, 0, 0], through: wall}, [250, 0, 0], [250, 200, 0]]"


def acts(sheet):
    """Return the steps as short words: what is done, at which end or which bend."""
    return [
        " ".join(filter(None, [step.act, step.end, str(step.bend + 1) if step.bend is not None else None]))
        for step in sheet.steps
    ]


def faults(sheet):
    """Return the words of a sheet's faults in full."""
    assert sheet.steps == ()
    return [fault_text(fault, "mm") for fault in sheet.faults]


def test_nut_on_before_its_flare():
    """The common order: end A with its nut, the marks, the bends, then end B cut to length, its nut and its flare."""
    sheet = made(Z)
    assert acts(sheet) == [
        "cut", "square A", "slide A", "flare A", "mark A", "bend 1", "turn 2", "bend 2",
        "trim B 2", "slide B", "flare B", "check",
    ]  # fmt: skip
    assert [item.part for step in sheet.steps for item in step.items] == ["nut-3-8-24-inverted"] * 2


def test_lengths_of_a_sheet():
    """Cut is run, both flares' allowance and twice the trim; end B keeps its straight and its allowance."""
    sheet = made(Z, tools="tools: {trim: 4 mm, flaring: {grip: 25 mm}, benders: {lever: {radius: 15 mm}}}")
    assert sheet.cut_mm == pytest.approx(sheet.run_mm + 3.0 + 3.0 + 8.0)
    assert sheet.run_mm == pytest.approx(sum(sheet.straights_mm) + sum(bend.arc_mm for bend in sheet.bends))
    steps = {step.act: step.mm for step in sheet.steps}
    assert steps["square"] == 4.0
    assert steps["trim"] == pytest.approx(sheet.straights_mm[-1] + 3.0)
    assert steps["check"] == sheet.end_to_end_mm == pytest.approx((300**2 + 200**2) ** 0.5)


def test_short_last_straight_is_flared_last_by_turning_the_tube_round():
    """A straight too short for the flaring tool is put where it is flared first, on the straight tube."""
    sheet = made("[[150, 0, 0], [150, 200, 0]]", end="[190, 200, 0]")
    assert [end.name for end in sheet.ends] == ["to", "from"]
    assert sheet.flare_b == "after bends"
    assert sheet.straights_mm == pytest.approx((25.0, 170.0, 135.0))
    assert [bend.hand for bend in sheet.bends] == [True, False]
    assert (sheet.bends[0].held_mm, sheet.bends[0].needed_mm) == (pytest.approx(25.0 - NUT_MM), 20.0)


def test_both_last_straights_short():
    """If neither end can be flared after bending, both are flared first; nothing goes on after the second flare."""
    sheet = made("[[40, 0, 0], [40, 200, 0]]", end="[80, 200, 0]")
    assert sheet.flare_b == "before bends"
    assert acts(sheet)[:7] == ["cut", "square A", "slide A", "flare A", "trim B", "slide B", "flare B"]
    assert [step.mm for step in sheet.steps if step.act == "trim"] == [pytest.approx(sheet.run_mm + 3.0)]
    assert [bend.hand for bend in sheet.bends] == [True, True]


def test_bends_closer_than_the_tool_can_hold():
    """A straight between two bends that is shorter than the tool's clamp is pulled round a clamped die."""
    sheet = made("[[150, 0, 0], [150, 45, 0]]", end="[300, 45, 0]")
    assert [bend.hand for bend in sheet.bends] == [False, True]
    assert (sheet.bends[1].held_mm, sheet.bends[1].needed_mm) == (pytest.approx(15.0), 20.0)


def test_smallest_straight_between_bends_of_the_tool():
    """`between` of the bender counts where it is more than its clamp."""
    tools = "tools: {flaring: {grip: 25 mm}, benders: {lever: {radius: 15 mm, clamp: 10 mm, between: 30 mm}}}"
    sheet = made("[[150, 0, 0], [150, 55, 0]]", end="[300, 55, 0]", tools=tools)
    assert [(bend.hand, bend.needed_mm) for bend in sheet.bends] == [(False, 10.0), (True, 30.0)]


@pytest.mark.parametrize(("marks", "ahead"), [("start", 0.0), ("corner", 15.0), ("middle", 11.78097)])
def test_pencil_marks_of_the_tool(marks, ahead):
    """What the tool marks, less its offset towards end A, is where the pencil goes."""
    tools = f"tools: {{benders: {{lever: {{radius: 15 mm, marks: {marks}, offset: 2 mm}}}}}}"
    sheet = made(Z, tools=tools)
    assert [bend.start_mm for bend in sheet.bends] == pytest.approx([135.0, 328.5619], abs=1e-4)
    assert [bend.mark_mm - bend.start_mm for bend in sheet.bends] == pytest.approx([ahead - 2.0] * 2, abs=1e-4)


def test_springback_grows_with_the_angle():
    """A bender's springback for 90 deg is shared out by angle; of another material nothing is known."""
    tools = "tools: {{benders: {{lever: {{radius: 15 mm, offset: 0 mm, springback: {{{}: 3 deg}}}}}}}}"
    route = "[[100, 0, 0], [200, 100, 0]]"
    sheet = made(route, end="[200, 300, 0]", tools=tools.format("copper-nickel"))
    assert [(bend.angle_deg, bend.pull_deg) for bend in sheet.bends] == [pytest.approx((45.0, 46.5))] * 2
    assert sheet.concerns == ()
    other = made(route, end="[200, 300, 0]", tools=tools.format("steel"))
    assert [bend.pull_deg for bend in other.bends] == [None, None]
    assert [concern_text(concern, "mm") for concern in other.concerns] == [
        "The springback of copper-nickel in the bender lever is not stated: pull until the bend stays at its angle,"
        " usually 1 to 3 deg further (common practice, no source)."
    ]


def test_nut_too_large_for_the_hole():
    """If no nut passes the hole, end B goes through bare, by the grommet in place, and is flared in the car."""
    sheet = made(WALL, end="[320, 200, 0]", more="panels: {wall: {hole: 10 mm, grommet: grommet-3-16}}")
    assert sheet.flare_b == "in the car"
    assert acts(sheet)[-6:] == ["trim B 2", "check", "guard", "pass B", "slide B", "flare B"]
    assert [step.in_car for step in sheet.steps[-4:]] == [True] * 4
    assert sheet.ends[0].name == "to"


def test_nut_that_passes_the_hole():
    """If a nut passes, both ends are flared on the bench, and the grommet is on the tube before the last flare."""
    sheet = made(WALL, more="panels: {wall: {hole: 14 mm, grommet: grommet-3-16}}")
    assert sheet.flare_b == "after bends"
    slides = [[item.word for item in step.items] for step in sheet.steps if step.act == "slide"]
    assert slides == [["nut"], ["grommet", "nut"]]
    assert acts(sheet)[-3:] == ["check", "pass B", "guard"]


def test_hole_of_unknown_size():
    """A hole of unknown size, or without a guard, is asked for, never passed over; the end that leads comes last."""
    sheet = made(WALL, more="panels: {wall: {}}")
    assert sheet.ends[1].name == "from"
    assert [
        concern_text(concern, "mm") for concern in sheet.concerns if "wall" in str(concern) or "run" in str(concern)
    ] == [
        "panels.wall.hole is not given: whether a nut passes was not looked at.",
        "panels.wall.grommet is not given: guard the edge of the hole.",
        "Offer nut and formed end to the hole before flaring run.from: the build does not say whether they pass.",
    ]


def test_no_room_to_flare_in_the_car():
    """A line that no tool can flare after it went through its panel cannot be made, and says what is short."""
    route = "[[40, 0, 0], {at: [40, 100, 0], through: wall}, [40, 200, 0]]"
    sheet = made(route, end="[80, 200, 0]", more="panels: {wall: {hole: 8 mm, grommet: grommet-3-16}}")
    assert faults(sheet) == [
        "run.from has to be flared after it went through the panel: behind the nut there are 6 mm of straight tube, a"
        " hand-held flaring tool needs 25 mm"
    ]


@pytest.mark.parametrize(
    ("route", "more", "message"),
    [
        (
            "[[20, 0, 0], [20, 200, 0]]",
            {},
            "the straight at run.from is 5 mm, its nut is at least 9.5 mm long: the bend would be inside the nut",
        ),
        (
            "[[150, 0, 0], {at: [150, 200, 0], bend: 22 mm}]",
            {},
            "the bend at corner 2 has a radius of 22 mm; no listed bender makes it (lever)",
        ),
        (
            WALL,
            {"more": "panels: {wall: {hole: 4 mm}}"},
            "the hole wall is 4 mm, the tube is 4.76 mm thick",
        ),
        (
            "[[150, 0, 0], [150, 20, 0]]",
            {},
            "lines.run.route: leg 2 is 20.0 mm long, its bends take 20.4 mm",
        ),
        (
            Z,
            {"line": ", bender: big", "tools": "tools: {benders: {big: {radius: 15 mm, tubes: [6 mm]}}}"},
            "the bender big does not take tube of 4.76 mm",
        ),
    ],
)
def test_lines_that_cannot_be_made(route, more, message):
    """What no way of working can put right is a fault in one sentence, and there are no steps."""
    assert message in faults(made(route, **more))


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("tube: tube-3-16-cuni", "lines.run.route or lines.run.length is not given"),
        ("tube: tube-3-16-cuni, route: [[9, 9, 9]]", "components.a.at is not given"),
        ("tube: tube-3-16-cuni, route: [{leg: 90 mm}, {leg: 90 mm}]", "lines.run.route.0.angle is not given"),
        (
            "tube: tube-3-16-cuni, route: [{leg: 90 mm, angle: 90 deg}]",
            "lines.run.route.1 is not given",
        ),
        ("tube: nothing-like-it, length: 300 mm", "no catalog has the tube nothing-like-it"),
    ],
)
def test_lines_that_lack_data(line, message):
    """A line whose data is not enough names the field, and gets no sheet."""
    graph = graph_of(
        "components: {a: {part: union-3-16-inverted}, b: {part: union-3-16-inverted}}\n"
        f"lines:\n  run: {{from: a.b, to: b.a, {line}}}\n"
    )
    (sheet,) = sheets(graph).sheets
    assert faults(sheet) == [message]


def test_legs_measured_on_the_car():
    """Legs and angles make a sheet; a rotation that was not measured is asked for and nothing is made of it."""
    legs = "[{leg: 100 mm, angle: 90 deg}, {leg: 90 mm, angle: 45 deg%s}, {leg: 120 mm}]"
    sheet = made(legs % ", rotation: -270 deg")
    assert (sheet.given, [bend.rotation_deg for bend in sheet.bends]) == ("legs", [None, 90.0])
    assert sheet.end_to_end_mm is not None
    unknown = made(legs % "")
    assert [bend.rotation_deg for bend in unknown.bends] == [None, None]
    assert (unknown.end_to_end_mm, unknown.points) == (None, None)
    assert [concern_text(concern, "mm") for concern in unknown.concerns][-1] == (
        "How far to turn the tube before bend 2 is not given (lines.run.route): take it from the car."
    )


def test_a_leg_that_goes_straight_on():
    """A leg that ends without a bend is continued by the next one, and its rotation is nobody's."""
    sheet = made("[{leg: 60 mm, angle: 0 deg}, {leg: 40 mm, angle: 90 deg, rotation: 30 deg}, {leg: 100 mm}]")
    assert sheet.straights_mm == pytest.approx((85.0, 85.0))
    assert [bend.rotation_deg for bend in sheet.bends] == [None]


def test_length_alone():
    """A length alone is cut and flared; it is bent on the car before its second end is flared."""
    graph = graph_of(
        "components: {a: {part: union-3-16-inverted}, b: {part: union-3-16-inverted}}\n"
        "lines:\n  run: {from: a.b, to: b.a, tube: tube-3-16-cuni, length: 300 mm}\n"
    )
    (sheet,) = sheets(graph).sheets
    assert (sheet.given, sheet.cut_mm, sheet.bends) == ("length", 306.0, ())
    assert acts(sheet) == ["cut", "square A", "slide A", "flare A", "fit", "trim B", "slide B", "flare B", "check"]
    assert [concern_text(concern, "mm") for concern in sheet.concerns] == [
        "Only a length can be gone by: bend this tube to fit on the car, or give lines.run.route."
    ]


def test_length_and_route_that_differ():
    """Where a line states a length beside its route, the route is used and the difference is told."""
    sheet = made(Z, line=", length: 480 mm")
    assert [concern_text(concern, "mm") for concern in sheet.concerns][-1] == (
        "The build states 480 mm from seat to seat, the route comes to 487 mm: the route is used."
    )


def test_no_bender_and_several():
    """Without a bender, or with several and none named, marks are bend starts and the assumed radius is told."""
    none = made(Z, tools="")
    assert concern_text(none.concerns[0], "mm") == (
        "No bender is known for this tube: marks are where each bend starts, radius 14.29 mm, three outside diameters."
        " List yours under `tools.benders`."
    )
    several = made(Z, tools="tools: {benders: {one: {radius: 15 mm}, two: {radius: 20 mm}}}")
    assert concern_text(several.concerns[0], "mm") == (
        "No single bender is known for this tube: marks are where each bend starts, radius 14.29 mm, three outside"
        " diameters. Name one in lines.run.bender."
    )


def test_usual_figures_that_decided_something():
    """Where a usual figure of tool or nut decides how a line is made, it is told with its mark, and only there."""
    short = made("[[40, 0, 0], [40, 200, 0]]", end="[80, 200, 0]", tools="")
    assert [concern_text(concern, "mm") for concern in short.concerns][1:] == [
        "A bender is taken to need 14.5 mm of straight (three outside diameters, common practice, no source): state its"
        " `clamp`.",
        "The flaring tool is taken to need 40 mm of straight (bar-and-yoke tool; 25 mm for a hand tool; common"
        " practice, no source): state `tools.flaring.grip`.",
        "Nuts are taken to be 19 mm long (four outside diameters, common practice, no source): measure yours.",
    ]
    assert [concern.word for concern in made(Z, tools="").concerns] == ["no-bender"]


def test_bender_that_cannot_be_stops_the_sheets():
    """Figures of a bender that cannot be are an error of the build, at their place, not of a line."""
    tools = "tools: {benders: {lever: {test_bend: {cut: 300 mm, legs: [140 mm, 150 mm], od: 4.75 mm}}}}"
    with pytest.raises(InputError, match=r"these legs come to a radius of -34\.4 mm: measure cut, legs and od again$"):
        one_line(Z, tools=tools)


def test_a_length_serves_where_the_route_lacks_a_place():
    """A line whose ends are nowhere is made by its length, and told which place would give its bends."""
    text = "components: {a: {part: union-3-16-inverted}, b: {part: union-3-16-inverted, at: [300, 200, 0]}}\n"
    line = "run: {from: a.b, to: b.a, tube: tube-3-16-cuni, route: [[300, 0, 0]], length: 420 mm}"
    sheet_of = sheet(graph_of(f"{text}lines:\n  {line}\n"), "run")
    assert (sheet_of.given, sheet_of.run_mm, sheet_of.faults) == ("length", 420.0, ())
    (said,) = [concern for concern in sheet_of.concerns if concern.word == "length-only"]
    assert said.values["field"] == "components.a.at"


@pytest.mark.parametrize(
    ("part", "joined", "reason"),
    [
        ("no-such-part", "a.b", "no catalog has what a is: no-such-part"),
        ("tee-3-16-inverted", "a.lefft", "what it is joined to had to be guessed"),
        ("caliper-m10x1-washer", "a.inlet", "the washer-face port a.inlet takes no flared tube"),
    ],
)
@pytest.mark.parametrize("stated", ["", ", ends: {from: {flare: double-45}}"])
def test_ends_of_which_nothing_is_known(part, joined, reason, stated):
    """An end whose nut nobody knows gets no sheet, flare stated or not: it would come out without its nut."""
    (sheet,) = sheets(
        graph_of(
            f"components: {{a: {{part: {part}}}, b: {{part: union-3-16-inverted}}}}\n"
            f"lines:\n  run: {{from: {joined}, to: b.a, tube: tube-3-16-cuni, length: 300 mm{stated}}}\n"
        )
    ).sheets
    assert faults(sheet) == [f"flare and nut at run.from are not known: {reason}"]


def test_stated_flare_and_nut_of_an_unknown_port():
    """Where the port is not known, the file's own flare and nut are enough."""
    (sheet,) = sheets(
        graph_of(
            "components: {a: {part: no-such-part}, b: {part: union-3-16-inverted}}\n"
            "lines:\n  run: {from: a.b, to: b.a, tube: tube-3-16-cuni, length: 300 mm,"
            " ends: {from: {flare: double-45, nut: nut-3-8-24-inverted}}}\n"
        )
    ).sheets
    assert sheet.faults == ()
    assert [item.part for step in sheet.steps for item in step.items] == ["nut-3-8-24-inverted"] * 2


POINT = st.tuples(*[st.sampled_from([0, 20, 45, 60, 120, 300, -200])] * 3)
CORNER = POINT.map(lambda at: str(list(at))) | st.tuples(POINT, st.sampled_from(["narrow", "wide", "unknown"])).map(
    lambda drawn: f"{{at: {list(drawn[0])}, through: {drawn[1]}}}"
)
PANELS = "panels: {narrow: {hole: 9 mm, grommet: grommet-3-16}, wide: {hole: 15 mm}, unknown: {}}"


@SAME_EVERY_TIME
@given(st.lists(CORNER, max_size=5), POINT, st.sampled_from(["union-3-16-inverted", "union-an3"]))
def test_nothing_is_left_off(corners, end, part):
    """Whatever the route and its panels: each end is flared once, all that belongs on it is on before, none after.

    A line has steps or faults, never both; what passes a hole too small for it is bare at that time.
    """
    sheet = made(f"[{', '.join(corners)}]", end=str(list(end)), part=part, more=PANELS)
    assert bool(sheet.steps) != bool(sheet.faults)
    on: dict[str, list[str]] = {"A": [], "B": []}
    flared: list[str] = []
    for step in sheet.steps:
        if step.act == "slide":
            assert len(flared) < 2
            on[step.end] += [item.word for item in step.items]
        if step.act == "flare":
            flared.append(step.end)
            wanted = ["nut", "sleeve"] if part == "union-an3" else ["nut"]
            assert on[step.end][-len(wanted) :] == wanted
        if step.act == "pass" and step.end in flared:
            assert not any(hole.panel == "narrow" for hole in step.holes)
    assert sorted(flared) == (["A", "B"] if sheet.steps else [])
    if any(hole.grommet for hole in sheet.holes) and sheet.steps and sheet.flare_b != "in the car":
        assert "grommet" in on["B"]
