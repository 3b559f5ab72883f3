"""Which bender a line is bent with, and what a test bend says of it."""

from math import radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.build.benders import (
    BenderError,
    bend_radius,
    settled,
    solve_test_bend,
    straights_needed,
    tool_of,
    tools_for,
)
from fitcheck.build.tools import Bender
from tests.making.benches import SAME_EVERY_TIME, one_line

ROUTE = "[[150, 0, 0], [150, 200, 0]]"


def bender(**fields):
    """Return a bender with these fields."""
    return settled("lever", Bender.model_validate(fields))


def graph(benders, line=""):
    """Return a build with these benders (flow YAML) and one line."""
    return one_line(ROUTE, tools=f"tools: {{benders: {benders}}}", line=line)


def tube(of):
    """Return the tube of the one line."""
    return of.fitted["run"].part


@SAME_EVERY_TIME
@given(
    st.floats(5, 80),
    st.floats(60, 150),
    st.floats(3, 9),
    st.floats(20, 500),
    st.floats(20, 500),
)
def test_solving_undoes_bending(radius, angle, od, first, second):
    """A tube bent to any radius and angle, measured to the backs, gives that radius and the start of its bend."""
    half = tan(radians(angle) / 2)
    legs = tuple(straight + (radius + od / 2) * half for straight in (first, second))
    cut = first + second + radius * radians(angle)
    solved = solve_test_bend(cut, legs, od, angle)
    assert solved.radius_mm == pytest.approx(radius, abs=1e-6)
    assert solved.start_mm == pytest.approx(first, abs=1e-6)


@pytest.mark.parametrize(
    ("test", "message"),
    [
        ({"cut": "300 mm", "legs": ["140 mm", "150 mm"], "od": "4.75 mm"}, "these legs come to a radius of -34.4 mm: "
         "measure cut, legs and od again"),
        ({"cut": "300 mm", "legs": ["150 mm", "155 mm"], "od": "4.75 mm"}, "these legs come to a radius of 0.6 mm, "
         "less than half of od"),
        ({"cut": "30 mm", "legs": ["5 mm", "40 mm"], "od": "4.75 mm"}, "a leg of 5.0 mm is shorter than a bend of "
         "radius 23.9 mm"),
        ({"cut": "300 mm", "legs": ["150 mm", "160 mm"], "od": "4.75 mm", "angle": "45 deg"}, "expected a bend of 60 "
         "to 150 deg, got 45 deg"),
    ],
)  # fmt: skip
def test_test_bends_that_cannot_be(test, message):
    """A test bend that no tube could have is refused with its field, never turned into a tool."""
    with pytest.raises(BenderError) as caught:
        bender(test_bend=test)
    assert str(caught.value) == f"tools.benders.lever.test_bend: {message}"


@pytest.mark.parametrize(("marks", "offset"), [("start", 0.0), ("corner", 15.0), ("middle", 15.0 * radians(90) / 2)])
def test_offset_is_solved_from_the_mark(marks, offset):
    """The pencil mark of the test bend tells how far the tool's line lies from what is marked.

    The bend started where its mark was: no offset if starts are marked, else as much as start and marked point differ.
    """
    test = {
        "cut": f"{200 + 15 * radians(90)} mm",
        "legs": ["117.5 mm", "117.5 mm"],
        "od": "5 mm",
        "mark": "100 mm",
    }
    tool = bender(test_bend=test, marks=marks)
    assert tool.radius_mm == pytest.approx(15.0)
    assert tool.offset_mm == pytest.approx(offset, abs=1e-9)
    assert tool.offset_source == tool.radius_source == "solved from test_bend"


def test_stated_figures_count_before_solved_ones():
    """A stated radius and offset are taken as stated, test bend or not."""
    test = {"cut": "300 mm", "legs": ["150 mm", "165.6 mm"], "od": "4.75 mm", "mark": "100 mm"}
    tool = bender(radius="14 mm", offset="-3 mm", test_bend=test)
    assert (tool.radius_mm, tool.offset_mm) == (14.0, -3.0)
    assert (tool.radius_source, tool.offset_source) == ("stated in the build", "stated in the build")


def test_offset_that_nobody_said_is_told():
    """Without offset and mark the offset is 0, and the words say that it was taken so."""
    tool = bender(radius="14 mm")
    assert tool.offset_mm == 0.0
    assert tool.offset_source == "taken as 0: neither offset nor test_bend.mark is stated"


def test_springback_by_any_name_of_the_material():
    """Springback goes by material, whatever it is called; of one that is not named nothing is known."""
    tool = bender(radius="14 mm", springback={"Cu-Ni": "2 deg", "Bundy": "3 deg"})
    assert tool.springback_deg("copper-nickel") == 2.0
    assert tool.springback_deg("bundy") == 3.0
    assert tool.springback_deg("stainless steel") is None
    assert tool.springback_deg(None) is None


def test_the_only_bender_that_takes_the_tube():
    """A line without a bender gets the only one that takes its tube; of two none is guessed."""
    small, large = "{radius: 14 mm, tubes: [3/16 in]}", "{radius: 20 mm, tubes: [1/4 in]}"
    one = graph(f"{{small: {small}, large: {large}}}")
    assert tool_of(one.build, "run", tube(one)).name == "small"
    two = graph(f"{{small: {small}, other: {{radius: 18 mm}}}}")
    assert tool_of(two.build, "run", tube(two)) is None
    assert [tool.name for tool in tools_for(two.build, tube(two))] == ["small", "other"]
    named = graph(f"{{small: {small}, other: {{radius: 18 mm}}}}", ", bender: other")
    assert tool_of(named.build, "run", tube(named)).name == "other"
    assert tool_of(graph("{}").build, "run", tube(one)) is None


def test_radius_of_a_bend():
    """A bend has its own radius and the tool that makes it, else its bender's, the tube's, or three diameters."""
    tools = graph("{small: {radius: 14 mm}, large: {radius: 20 mm}}", ", bender: small")
    part = tube(tools)
    assert bend_radius(tools.build, "run", part)[:2] == (14.0, "bender small, stated in the build")
    own = bend_radius(tools.build, "run", part, 20.3)
    assert (own.mm, own.source, own.tool.name) == (20.3, "stated in the build", "large")
    assert bend_radius(tools.build, "run", part, 17.0).tool is None
    none = graph("{}")
    assert bend_radius(none.build, "run", part) == (14.2875, "three outside diameters", None)
    steel = none.build.shelf.get("tube-3-16-steel")
    assert bend_radius(none.build, "run", steel) == (20.0, "bend radius of tube-3-16-steel", None)


def test_straights_that_nobody_stated():
    """Clamp, between and grip have the usual figures, each marked as common practice."""
    none = graph("{}")
    needs = straights_needed(none.build, "run", tube(none))
    assert needs[:4] == pytest.approx((14.2875, 14.2875, 40.0, 25.0))
    assert needs.clamp_source == "three outside diameters, common practice, no source"
    assert needs.between_source == "as the clamp: three outside diameters, common practice, no source"
    assert needs.grip_source == "bar-and-yoke tool; 25 mm for a hand tool; common practice, no source"


def test_straights_as_stated():
    """What the build states is used for both flaring tools, and `between` follows the clamp where it is left out."""
    stated = one_line(ROUTE, tools="tools: {flaring: {grip: 30 mm}, benders: {lever: {radius: 15 mm, clamp: 18 mm}}}")
    needs = straights_needed(stated.build, "run", tube(stated))
    assert needs[:4] == (18.0, 18.0, 30.0, 30.0)
    assert needs[4:] == ("stated in the build", "as the clamp: stated in the build", "stated in the build")
