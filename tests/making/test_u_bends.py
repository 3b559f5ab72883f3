"""Sheets of lines with a U, and of lines told in words: marks, order, drawings, templates, centre-lines."""

import io
import json
import re
from math import dist, pi

import pytest

from fitcheck.build.curves import Arc, point_at
from fitcheck.build.runs import run_of
from fitcheck.making.bench import rooms
from fitcheck.making.course import course_of
from fitcheck.making.shape import corners_of
from fitcheck.reports.make_csv import make_csv
from fitcheck.reports.make_curve import curve_of
from fitcheck.reports.make_dxf import make_dxf
from fitcheck.reports.make_flat import edge, flat_runs
from fitcheck.reports.make_json import make_json
from fitcheck.reports.make_page import make_html
from fitcheck.reports.make_text import make_text
from tests.making.benches import made, one_line
from tests.reports.drawn import sheets

U_POINTS = "[[150, 0, 0], [150, 30, 0]]"
U_LEGS = "[{leg: 150 mm, angle: 180 deg}, {leg: 120 mm}]"
U_WORDS = '"run forward 150 mm, left 180, run 120 mm"'
END = "[30, 30, 0]"


def lever(marks: str) -> str:
    """Return a bender that marks so."""
    return f"tools: {{benders: {{lever: {{radius: 15 mm, clamp: 20 mm, offset: 2 mm, marks: {marks}}}}}}}"


@pytest.mark.parametrize("route", [U_POINTS, U_LEGS, U_WORDS])
def test_one_u_three_ways(route: str) -> None:
    """As points, legs and words a U is one bend of 180 deg with the same straights, length and mark."""
    u = made(route, end=END)
    assert [(bend.angle_deg, bend.corner_mm) for bend in u.bends] == [(180.0, None)]
    assert sorted(u.straights_mm) == pytest.approx([105.0, 135.0])
    assert u.run_mm == pytest.approx(240.0 + 15.0 * pi)
    assert u.end_to_end_mm == pytest.approx((30.0**2 + 30.0**2) ** 0.5)
    assert u.faults == ()


def test_given_in_words() -> None:
    """Words with a heading, from a place that is known, are points of the car; without either they are legs."""
    assert made(U_WORDS, end=END).given == "points"
    assert made(U_WORDS, start="null", end=END).given == "points"
    assert made(U_WORDS, start="null", end="null").given == "legs"
    flat = made('"run 150 mm, left 180, run 120 mm"', end=END)
    assert (flat.given, flat.run_mm) == ("legs", pytest.approx(240.0 + 15.0 * pi))


@pytest.mark.parametrize(
    ("marks", "at", "said"),
    [("start", -2.0, "start"), ("middle", 7.5 * pi - 2.0, "middle"), ("corner", 0.0, "start")],
)
def test_mark_of_a_u(marks: str, at: float, said: str) -> None:
    """Start and middle are marked as ever; a bender for corner marks gets the start, without its offset."""
    u = made(U_POINTS, end=END, tools=lever(marks))
    (bend,) = u.bends
    assert bend.mark_mm - bend.start_mm == pytest.approx(at)
    assert bend.marks == said
    assert bend.middle_mm == pytest.approx(bend.start_mm + bend.arc_mm / 2.0)
    line = {"start": "line for the start", "middle": "middle line"}[said]
    text = " ".join(make_text(sheets(u)).split())
    mark = f"{round(bend.mark_mm * 2.0) / 2.0:g} mm"
    assert f"Bend 1: a U of 180 deg in lever, end A in the clamp, mark {mark} on the tool's {line}" in text
    assert "Bend 1 is a U, 180 deg in one sweep, and has no corner: with a bender for corner marks its start" in text


def test_cells_of_a_u() -> None:
    """JSON has no corner mark and both square corners; CSV leaves the cell empty."""
    u = made(U_POINTS, end=END)
    (line,) = json.loads(make_json(sheets(u)))["lines"]
    assert line["bends"][0]["corner_mm"] is None
    assert sorted(line["points_mm"]) == [[0.0, 0.0, 0.0], [30.0, 30.0, 0.0], [150.0, 0.0, 0.0], [150.0, 30.0, 0.0]]
    header, row = make_csv(sheets(u)).splitlines()
    cells = dict(zip(header.split(","), row.split(","), strict=True))
    assert (cells["angle_deg"], cells["corner_mm"]) == ("180", "")


def test_rotation_behind_a_u() -> None:
    """A bend behind a U is turned against the plane of the U, seen along the tube; both ways of working agree."""
    graph = one_line('"run forward 150 mm, left 180, run 120 mm, up 90, run 80 mm"', end="[30, 30, 80]")
    tube = graph.fitted["run"].part
    assert tube is not None
    course = course_of(graph, "run", tube)
    assert course.route is not None
    assert course.points is not None
    assert [bend.rotation_deg for bend in course.route.bends] == [None, pytest.approx(90.0)]
    shape = corners_of(course.route)
    assert shape is not None
    for first, second in zip(shape, course.points, strict=True):
        assert dist(first, second) < 1e-9
    back = course.backwards()
    other = corners_of(back.route)
    assert other is not None
    for index in range(len(other)):
        assert dist(other[0], other[index]) == pytest.approx(dist(back.points[0], back.points[index]))


def test_tail_of_a_u_at_the_bench() -> None:
    """A U leaves its tail beside the loose end: the next bend towards it sweeps through it, away from it does not."""
    clash = []
    for way in ("right", "left"):
        graph = one_line(f'"run forward 300 mm, left 180, run 100 mm, {way} 90, run 200 mm"', end="[0, 0, 0]")
        course = course_of(graph, "run", graph.fitted["run"].part)
        clash.append([room.clash for room in rooms(course.points, course.route, 4.76)])
    assert clash == [[False, True], [False, False]]


def test_centre_line_and_template_of_a_u() -> None:
    """The centre-line holds half a circle; the template draws it in two halves that meet at its top."""
    u = made(U_POINTS, end=END)
    arcs = [piece for piece in curve_of(u) or () if isinstance(piece, Arc)]
    assert [arc.angle_rad for arc in arcs] == pytest.approx([pi])
    assert dist(point_at(arcs[0], 0.5), (150.0, 15.0, 0.0)) < 1e-9
    (flat,) = flat_runs(u)
    left, low, right, high = flat.extent()
    assert (high - low, right - left) == pytest.approx((30.0 + 4.7625, 75.0 + 4.7625))
    told = re.findall(r"A(\S+) \S+ 0 0 [01] (\S+) (\S+)", edge(flat, 0.0))
    assert [float(radius) for radius, _, _ in told] == [15.0, 15.0]
    top = max(point_at(piece, 0.5)[0] for piece in flat.curve)
    assert float(told[0][1]) == pytest.approx(top, abs=1e-3)
    assert make_html(sheets(u), "a4").count('class="across"') == 2


def test_dxf_of_a_u() -> None:
    """The drawing has one arc of half a turn that passes the outermost point of the U."""
    library = pytest.importorskip("ezdxf", reason="ezdxf is not installed: drawings of centre-lines were not made")
    drawing = library.read(io.StringIO(make_dxf(sheets(made(U_POINTS, end=END)))))
    (arc,) = drawing.modelspace().query("ARC")
    swept = (arc.dxf.end_angle - arc.dxf.start_angle) % 360.0
    (middle,) = arc.vertices([arc.dxf.start_angle + swept / 2.0])
    assert swept == pytest.approx(180.0)
    assert dist(tuple(middle), (150.0, 15.0, 0.0)) < 1e-6


def test_u_that_has_no_room() -> None:
    """A leg shorter than a U takes is refused with its figures."""
    short = made('"run forward 150 mm, left 180 radius 40 mm, run 30 mm"', end=END)
    (fault, *_) = [fault for fault in short.faults if fault.word == "route-impossible"]
    assert fault.values["reason"] == "leg 2 is 30.0 mm long, its bends take 40.0 mm"


def test_words_with_bends_of_their_own_radius() -> None:
    """`radius` states the radius of one bend; the others keep the bender's."""
    run = run_of(one_line('"run forward 150 mm, left 90 radius 40 mm, run 120 mm, up 90, run 90 mm"'), "run")
    assert [(radius.mm, radius.source) for radius in run.radii] == [
        (40.0, "stated in the build"),
        (15.0, "bender lever, stated in the build"),
    ]
