"""`air-trap`, and where things are."""

from pathlib import Path

import pytest

from fitcheck.build.positions import corner_points, end_position, place_field, route_points
from tests.checks.circuit.cars import context_of, findings, looked, spoilt, told, unchecked

_HUMP = """\
build: 1
components:
  low: {part: union-m10x1-bubble, at: [0, 0, 300]}
  high: {part: union-m10x1-bubble, at: [0, 900, 320]}
lines:
  over: {from: low.b, to: high.a, tube: tube-3-16-cuni, route: [[0, 200, 300], [0, 450, %s], [0, 700, 320]]}
"""
_STUB = """\
build: 1
components:
  mc: {part: mc-m10x1-bubble, at: [0, 0, 400]}
  tank: {part: reservoir-1-outlet}
  joiner: {part: tee-m10x1-bubble-1-8-npt, at: [0, 200, 380]}
  switch: {part: pressure-switch-1-8-npt, at: [0, 200, %s]}
  slave: {part: slave-m10x1-bubble}
joints:
  - [switch.port, joiner.top]
lines:
  run_1: {from: mc.outlet, to: joiner.left, tube: tube-3-16-cuni, length: 250 mm}
  run_2: {from: joiner.right, to: slave.inlet, tube: tube-3-16-cuni, length: 900 mm}
hoses:
  feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}
"""


_346 = "over rises 25.9 mm above every way out for air; 3.47 cm3 of it stay"


@pytest.mark.parametrize(("top", "message"), [("345", None), ("346", _346)])
def test_hump_above_both_ends(top: str, message: str | None) -> None:
    """The centre-line may rise 25 mm above its higher end, and no more; its corner stands a little higher."""
    found = told(context_of(_HUMP % top), "air-trap")
    assert found == ([] if message is None else [("air-trap", "warning", message)])


def test_hump_carries_its_heights() -> None:
    """The witness has the heights of both ends, the top corner and where the limit comes from, and its place."""
    text = _HUMP % "400"
    (found,) = findings(context_of(text), "air-trap")
    assert found.at == ("over",)
    assert found.evidence == {
        "top_mm": (0.0, pytest.approx(450.0, abs=1.0), pytest.approx(399.1, abs=0.1)),
        "way_out_mm": 320.0,
        "air_mm3": pytest.approx(4203.0, abs=0.1),
        "lines": ("over",),
        "allowed_mm": 25.0,
        "source": "common practice, no source",
    }
    line = text.splitlines()[found.place.line - 1]
    assert line[found.place.column - 1 :].startswith("[0, 450, 400]")


def test_climbing_line_is_no_trap() -> None:
    """A line that only climbs holds no air."""
    context = context_of((_HUMP % "310").replace("at: [0, 900, 320]", "at: [0, 900, 900]"))
    assert told(context, "air-trap") == []
    assert looked(context, "air-trap") == 1


def test_other_units_are_read_as_such() -> None:
    """Points in inches are compared in mm, and told in inches."""
    text = (_HUMP % "322").replace("build: 1\n", "build: 1\ncoordinates: in\n")
    (found,) = findings(context_of(text), "air-trap")
    assert found.message == "over rises 2 in above every way out for air; 60.72 cm3 of it stay"


def test_missing_route_and_places_are_unchecked() -> None:
    """A line without corner points, or an end without a place, is listed with the field that would help."""
    no_route = (_HUMP % "400").replace(", route: [[0, 200, 300], [0, 450, 400], [0, 700, 320]]", "")
    assert unchecked(context_of(no_route), "air-trap") == [("air-trap", ("over",), "lines.over.route")]
    legs = (_HUMP % "400").replace("[[0, 200, 300], [0, 450, 400], [0, 700, 320]]", "[{leg: 300 mm}]")
    assert unchecked(context_of(legs), "air-trap") == [("air-trap", ("over",), "lines.over.route")]
    no_place = (_HUMP % "400").replace(", at: [0, 900, 320]", "")
    assert unchecked(context_of(no_place), "air-trap") == [("air-trap", ("over", "over.to"), "components.high.at")]


@pytest.mark.parametrize(("z", "message"), [("400", None), ("430", "switch stands 30 mm above mc.outlet")])
def test_stub_above_the_outlet(z: str, message: str | None) -> None:
    """A switch higher than the outlet that feeds it holds air; one at its height does not."""
    found = told(context_of(_STUB % z), "air-trap")
    assert found == ([] if message is None else [("air-trap", "warning", message)])


def test_switch_without_a_place_is_where_its_tee_is() -> None:
    """A switch that does not say where it is counts as being at the port it is screwed into."""
    text = (_STUB % "0").replace(", at: [0, 200, 0]", "").replace("[0, 200, 380]", "[0, 200, 410]")
    assert told(context_of(text), "air-trap") == [("air-trap", "warning", "switch stands 10 mm above mc.outlet")]


def test_outlet_without_a_place_leaves_its_stubs_unchecked() -> None:
    """Without the outlet's height a stub cannot be judged."""
    context = context_of((_STUB % "430").replace(", at: [0, 0, 400]", ""))
    assert ("air-trap", ("switch",), "components.mc.at") in unchecked(context)
    nowhere = (_STUB % "0").replace(", at: [0, 200, 0]", "").replace(", at: [0, 200, 380]", "")
    assert ("air-trap", ("switch",), "components.switch.at") in unchecked(context_of(nowhere))


def test_positions_of_ends_and_corners() -> None:
    """A line's end is where the file says its face is, else where the port it is joined to is."""
    text = spoilt(("route:", "ends: {from: {at: [1, 2, 3]}}, route:"), text=_HUMP % "400")
    graph = context_of(text.replace("build: 1\n", "build: 1\ncoordinates: cm\n")).graph
    assert end_position(graph, "over.from") == (10.0, 20.0, 30.0)
    assert end_position(graph, "over.to") == (0.0, 9000.0, 3200.0)
    assert end_position(graph, "low.b") == (0.0, 0.0, 3000.0)
    assert end_position(graph, "nobody.here") is None
    corners = [(0.0, 2000.0, 3000.0), (0.0, 4500.0, 4000.0), (0.0, 7000.0, 3200.0)]
    assert corner_points(graph, "over") == corners
    assert route_points(graph, "over") == [(10.0, 20.0, 30.0), *corners, (0.0, 9000.0, 3200.0)]
    assert route_points(graph, "nobody") is None


def test_field_that_would_say_where_an_end_is() -> None:
    """The field to fill in is the component's, for a port and for the line's end at that port."""
    graph = context_of(_HUMP % "400").graph
    assert place_field(graph, "over.to") == "components.high.at"
    assert place_field(graph, "high.b") == "components.high.at"


def test_offset_of_a_port_counts(tmp_path_factory: pytest.TempPathFactory) -> None:
    """A port stands off its component's place by the offset that the catalog states."""
    house = """\
catalog: 1
parts:
  tall:
    kind: union
    ports:
      a: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm, offset: [0 mm, 0 mm, 40 mm]}
      b: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
"""
    text = (_HUMP % "370").replace("high: {part: union-m10x1-bubble", "high: {part: tall")
    context = context_of(text, house, tmp_path_factory.mktemp("house"))
    assert end_position(context.graph, "over.to") == (0.0, 900.0, 360.0)
    dip = "over rises 49.3 mm above every way out for air; 3.85 cm3 of it stay"
    assert told(context, "air-trap") == [("air-trap", "warning", dip)]


def test_a_dip_behind_a_hump_is_no_way_out_by_itself() -> None:
    """A line that falls and climbs again holds air in its hump, however high it goes afterwards."""
    climbing = (_HUMP % "370").replace("at: [0, 900, 320]", "at: [0, 900, 900]")
    (found,) = findings(context_of(climbing), "air-trap")
    assert found.message == "over rises 47.4 mm above every way out for air; 3.70 cm3 of it stay"


_RIDGE = """\
build: 1
components:
  tank: {part: reservoir-1-outlet}
  mc: {part: mc-m10x1-bubble, at: [0, 0, 400]}
  joiner: {part: %s, at: [500, 0, %s]}
  slave: {part: slave-m10x1-bubble, at: [1000, 0, 300]}
lines:
  up: {from: mc.outlet, to: joiner.%s, tube: tube-3-16-cuni, route: [[250, 100, 200]]}
  down: {from: joiner.%s, to: slave.inlet, tube: tube-3-16-cuni, route: [[750, 100, 320]]}
hoses:
  feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}
"""
_UNION = ("union-m10x1-bubble", "a", "b")


def test_a_hump_over_two_lines_and_a_union_is_one_finding() -> None:
    """Lines that climb to a union and fall behind it hold air, though neither rises above both its ends."""
    kind, near, far = _UNION
    (found,) = findings(context_of(_RIDGE % (kind, "500", near, far)), "air-trap")
    assert (found.at, found.evidence["lines"]) == (("joiner",), ("up", "down"))
    assert found.message == "joiner stands 200 mm above every way out for air; 7.55 cm3 of it stay"
    assert found.place.line == 5


def test_a_bleed_screw_on_top_lets_the_air_out(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Where a part with a bleed screw stands on top, nothing is trapped; without one it is."""
    house = """\
catalog: 1
parts:
  post:
    kind: tee
    ports:
      a: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      b: {same as: a}
    bleeder: %s
"""
    text = _RIDGE % ("post", "500", "a", "b")
    assert told(context_of(text, house % "M8x1.25", tmp_path_factory.mktemp("with")), "air-trap") == []
    plain = told(context_of(text, house % "none", tmp_path_factory.mktemp("without")), "air-trap")
    assert [message for _, _, message in plain] == [
        "joiner stands 200 mm above every way out for air; 7.55 cm3 of it stay"
    ]


def test_below_the_master_cylinder_air_rises_back_to_it() -> None:
    """A line that falls all the way from the master cylinder holds nothing, whatever stands beside it."""
    falling = (_RIDGE % (_UNION[0], "350", "a", "b")).replace("[250, 100, 200]", "[250, 100, 380]")
    assert told(context_of(falling), "air-trap") == []


_HOSE = """\
build: 1
coordinates: mm
catalogs: [house.yaml]
components:
  a: {part: union-m10x1-bubble, at: [0, 0, 300]}
  b: {part: union-m10x1-bubble, at: [%s, 0, 300]}
hoses:
  flex: {part: flex, from: a.b, to: b.a}
"""
_FLEX = """\
catalog: 1
parts:
  flex:
    kind: hose
    ports:
      from: {thread: M10x1, gender: external, seat: bubble, tube: 4.75 mm}
      to: {same as: from}
    length: 300 mm
"""


@pytest.mark.parametrize(("apart", "open_"), [(297, False), (290, True)])
def test_a_hose_with_slack_for_a_hump_is_not_checked(apart: int, open_: bool, tmp_path: Path) -> None:
    """300 mm of hose over 297 mm can rise 21 mm at most; over 290 mm it may be 38 mm, and nobody says how it hangs."""
    (tmp_path / "house.yaml").write_text(_FLEX, encoding="utf-8")
    context = context_of(_HOSE % apart, "", tmp_path)
    expected = [("air-trap", ("flex",), "how flex hangs between its ends")] if open_ else []
    assert unchecked(context, "air-trap") == expected
    assert looked(context, "air-trap") == (0 if open_ else 1)
