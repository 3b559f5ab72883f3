"""Bench sheets as drawings: marks to scale, views in true proportion, dials that point the way the tube goes."""

import re
from math import atan2, cos, degrees, dist, radians, sin
from xml.etree import ElementTree

import pytest

from fitcheck.build.curves import Arc, point_at
from fitcheck.making.shape import cross, dot, plus, rebuilt, unit
from fitcheck.making.sheet import Sheet
from fitcheck.measures import tape
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.make_curve import FRONT, ISOMETRIC, PLAN, SIDE, controls, curve_of, parts
from fitcheck.reports.make_strip import strip
from fitcheck.reports.make_svg import make_svg
from fitcheck.reports.make_turns import turn_words, turns
from fitcheck.reports.make_views import views
from fitcheck.reports.svg_parts import page
from tests.making.benches import made
from tests.reports.drawn import SVG, bars, groups, sheets, single, snake, spots, words

HOSTILE = '"><script>alert(1)</script>&\x1b[2J'


def drawing(*lines: Sheet, **more: str) -> ElementTree.Element:
    """Return the parsed drawing of lines."""
    return ElementTree.fromstring(make_svg(sheets(*lines, **more)))  # type: ignore[arg-type]


def alone(parts: tuple[list[str], float]) -> ElementTree.Element:
    """Return one block of a drawing, parsed."""
    return ElementTree.fromstring(page(parts[1], "", [], parts[0]))


def mark_xs(root: ElementTree.Element) -> list[float]:
    """Return where the pencil marks lie on paper."""
    return [spots(next(group.iter(f"{SVG}path")).get("d", ""))[0][0] for group in groups(root, "mark")]


def test_drawing_prints_in_its_true_size() -> None:
    """One unit is a millimetre on paper, and the line to measure is 100 mm long."""
    root = drawing(snake())
    assert root.get("width") == "190mm"
    assert root.get("viewBox") == f"0 0 190 {(root.get('height') or '').removesuffix('mm')}"
    assert bars(root) == [pytest.approx(100.0, abs=1e-9)]
    assert "Measure this: 100 mm. If it is not, print again at 100 %." in words(root)


def test_marks_lie_on_the_ruler_to_scale() -> None:
    """At 1 : 5 a row spans 850 mm and each mark lies a fifth of its length from end A, with its figure beside it."""
    sheet = snake()
    root = drawing(sheet)
    assert any("1 : 5:" in line for line in words(root))
    wanted = [9.0 + bend.mark_mm % 850.0 / 5.0 for bend in sheet.bends]
    assert mark_xs(root) == pytest.approx(wanted, abs=1e-3)
    assert {f"{index}: {tape(bend.mark_mm, 'mm')}" for index, bend in enumerate(sheet.bends, 1)} <= set(words(root))


def test_a_short_tube_is_drawn_at_full_size() -> None:
    """What fits into two rows of 170 mm is at 1 : 1, and goes on in the second row where the first ends."""
    sheet = single(end="[150, 100, 0]", tools="tools: {benders: {lever: {radius: 15 mm, offset: 0 mm}}}")
    root = drawing(sheet)
    assert any("1 : 1:" in line for line in words(root))
    assert mark_xs(root) == pytest.approx([9.0 + 135.0])
    assert len(groups(root, "strip-row")) == 2


def test_an_inch_ruler_has_rows_of_six_inches_on_paper() -> None:
    """In inches a row is 6 in of paper, at 1 : 5 30 in of tube, and marks are read to 1/32 in."""
    sheet = snake()
    root = drawing(sheet, unit="in")
    row = 30 * 25.4
    assert mark_xs(root) == pytest.approx([9.0 + bend.mark_mm % row / 5.0 for bend in sheet.bends], abs=1e-3)
    assert "1: 5 5/16 in" in words(root)


def test_ruler_figures_stand_at_their_ticks() -> None:
    """The figure of every labelled tick stands under it at its true place."""
    root = alone(strip(single(end="[150, 100, 0]"), "mm", 0.0))
    figures = [each for each in root.iter(f"{SVG}text") if re.fullmatch(r"\d+", each.text or "")]
    assert [each.text for each in figures[:4]] == ["0", "10", "20", "30"]
    rows = {0.0: [each for each in figures if float(each.text or 0) < 170.0]}
    for each in rows[0.0]:
        assert float(each.get("x", "")) == pytest.approx(9.0 + float(each.text or 0))


def test_words_of_close_marks_do_not_cover_each_other() -> None:
    """Marks that are close stand at different heights: no two texts of a row overlap."""
    route = "[[60, 0, 0], [60, 40, 0], [100, 40, 0], [100, 80, 0], [140, 80, 0], [140, 120, 0]]"
    root = alone(strip(made(route, end="[900, 120, 0]"), "mm", 0.0))
    texts = [each for each in root.iter(f"{SVG}text") if re.fullmatch(r"\d: .* mm", each.text or "")]
    assert len(texts) == 6
    boxes = [(float(e.get("x", "")), float(e.get("y", "")), len(e.text or "") * 3.6 * 0.6) for e in texts]
    for index, (x, y, wide) in enumerate(boxes):
        for other_x, other_y, other_wide in boxes[index + 1 :]:
            assert abs(y - other_y) >= 3.6 or x + wide <= other_x or other_x + other_wide <= x


def test_views_are_in_true_proportion() -> None:
    """Plan, side and front show both ends as far apart as they are, at the one scale that is printed."""
    sheet = snake()
    root = drawing(sheet)
    (told,) = (line for line in words(root) if line.startswith("Plan, side and front"))
    scale = 1.0 / float(told.split("1 : ")[1].split(",")[0])
    curve = curve_of(sheet)
    assert curve is not None
    for index, view in enumerate((PLAN, SIDE, FRONT)):
        (group,) = groups(root, f"view-{index}")
        drawn = [spot for path in groups(group, "tube") for spot in spots(path.get("d", ""))]
        true = [view.at(point_at(piece, share)) for piece in curve for share in (0.0, 1.0)]
        corner = min(x for x, _ in drawn), min(y for _, y in drawn)
        left, high = min(x for x, _ in true), max(y for _, y in true)
        for x, y in true:
            wanted = corner[0] + (x - left) * scale, corner[1] + (high - y) * scale
            assert min(dist(wanted, spot) for spot in drawn) < 0.11  # parts are drawn 0.05 mm into each other


def test_views_are_those_that_their_names_say() -> None:
    """Forward is right in plan and side, the car's left in the front; the eye is above, on the right, ahead."""
    forward, left, up = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
    assert (PLAN.at(forward), PLAN.at(left), PLAN.depth(up)) == ((1.0, 0.0), (0.0, 1.0), 1.0)
    assert (SIDE.at(forward), SIDE.at(up), SIDE.depth(left)) == ((1.0, 0.0), (0.0, 1.0), -1.0)
    assert (FRONT.at(left), FRONT.at(up), FRONT.depth(forward)) == ((1.0, 0.0), (0.0, 1.0), 1.0)


def test_tube_is_drawn_as_thick_as_it_is() -> None:
    """At 1 : 2 a tube of 4.7625 mm is 2.38125 mm wide with an outline of 0.25 mm on each side."""
    root = drawing(single(route="[[60, 0, 0]]", end="[60, 60, 0]"))
    assert any("1 : 2," in line for line in words(root))
    (group,) = groups(root, "view-0")
    widths = {path.get("class"): float(path.get("stroke-width", "")) for path in list(group.iter(f"{SVG}path"))[:2]}
    assert widths == {None: pytest.approx(2.38125, abs=1e-4), "tube": pytest.approx(1.88125, abs=1e-4)}


def test_a_thin_tube_is_said_to_be_drawn_thicker() -> None:
    """Where the tube would be a hair, the drawing says that it is not."""
    assert any("The tube is drawn thicker than that." in line for line in words(drawing(snake())))


def test_isometric_axes_are_equal() -> None:
    """In the isometric view all three axes are foreshortened alike, and the eye is above, behind and to the right."""
    axes = [ISOMETRIC.at(axis) for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))]
    assert [dist(axis, (0.0, 0.0)) for axis in axes] == pytest.approx([(2.0 / 3.0) ** 0.5] * 3)
    assert cross(ISOMETRIC.right, ISOMETRIC.up) == pytest.approx((-(3**-0.5), -(3**-0.5), 3**-0.5))


def test_arcs_are_true() -> None:
    """The curve drawn for each part of an arc stays within 1e-5 of its radius."""
    curve = curve_of(snake())
    assert curve is not None
    arcs = [piece for piece in parts(curve) if isinstance(piece, Arc)]
    assert len(arcs) >= 12
    for arc in arcs:
        a, b, c, d = controls(arc)
        for step in range(11):
            t = step / 10.0
            spot = plus(
                plus(plus(plus((0.0, 0.0, 0.0), a, (1 - t) ** 3), b, 3 * t * (1 - t) ** 2), c, 3 * t**2 * (1 - t)),
                d,
                t**3,
            )
            assert dist(spot, arc.centre) == pytest.approx(arc.radius_mm, rel=1e-5)


def test_every_bend_and_both_ends_are_named_in_every_view() -> None:
    """Each of the four views has the letters of both ends and the number of every bend, none over another."""
    root = alone(views(snake(), 0.0))
    labels = [each for each in root.iter(f"{SVG}text") if re.fullmatch(r"[AB]|\d+", each.text or "")]
    assert sorted(each.text or "" for each in labels) == sorted([*"AB123456"] * 4)
    places = [(float(each.get("x", "")), float(each.get("y", ""))) for each in labels]
    assert min(dist(a, b) for index, a in enumerate(places) for b in places[:index]) >= 5.0


@pytest.mark.parametrize("rotation", [-170.0, -90.0, -30.0, 45.0, 72.0, 120.0, 179.0])
def test_dial_points_where_the_tube_goes(rotation: float) -> None:
    """Looked at along the tube from end A, with the bend before upwards, the tube goes where the arrow points."""
    corners = rebuilt([50.0, 60.0, 70.0], [90.0, 60.0], [None, rotation], [15.0, 15.0])
    assert corners is not None
    along = unit(corners[1], corners[2])
    came = unit(corners[1], corners[0])
    goes = plus(unit(corners[2], corners[3]), along, -dot(unit(corners[2], corners[3]), along))
    right = cross(along, came)
    seen = degrees(atan2(dot(goes, right), dot(goes, came)))
    assert seen == pytest.approx(rotation)
    sheet = snake()
    turned = sheet._replace(bends=(sheet.bends[0], sheet.bends[1]._replace(rotation_deg=rotation)))
    (group,) = groups(alone(turns(turned, 0.0)), "goes")
    foot, tip = spots(next(group.iter(f"{SVG}path")).get("d", ""))
    assert (tip[0] - foot[0], foot[1] - tip[1]) == pytest.approx(
        (8.4 * sin(radians(rotation)), 8.4 * cos(radians(rotation))), abs=1e-3
    )


@pytest.mark.parametrize(
    ("rotation", "told"),
    [
        (72.2, "72 deg clockwise"),
        (-89.8, "90 deg anticlockwise"),
        (0.1, "the way of bend 1"),
        (180.0, "opposite to bend 1"),
        (-179.9, "opposite to bend 1"),
        (None, "not given"),
    ],
)
def test_turns_in_words(rotation: float | None, told: str) -> None:
    """A turn is told to the half degree with its sense, as none, as half a turn, or as not given."""
    assert turn_words(snake().bends[1]._replace(rotation_deg=rotation), 1) == told


def test_a_turn_that_is_not_given_is_asked_for() -> None:
    """An unknown rotation has a question mark and no arrow, and there are no views of an unknown shape."""
    legs = "[{leg: 100 mm, angle: 90 deg}, {leg: 80 mm, angle: 90 deg}, {leg: 100 mm}]"
    root = drawing(made(legs))
    shown = words(root)
    assert {"?", "not given", "take it from the car"} <= set(shown)
    assert groups(root, "goes") == groups(root, "view-0") == []
    assert "No views: the shape of this line is not known, since a rotation is not given." in shown


def test_a_line_of_legs_does_not_claim_to_lie_as_in_the_car() -> None:
    """Views of a line given by legs are named without the car's directions, and say so."""
    legs = "[{leg: 100 mm, angle: 90 deg}, {leg: 80 mm, angle: 90 deg, rotation: 30 deg}, {leg: 100 mm}]"
    shown = words(drawing(made(legs)))
    assert {"Plan, from above", "Side", "End", "Isometric"} <= set(shown)
    assert "the views have their own right and up, not the car's." in " ".join(shown)


def test_a_line_that_cannot_be_made_has_words_only() -> None:
    """A fault is told in the picture, and nothing is drawn that could be followed."""
    sheet = made("[[20, 0, 0]]", end="[20, 200, 0]")
    assert sheet.faults
    root = drawing(sheet)
    told = " ".join(words(root))
    assert "Cannot be made: the straight at run.from is 5 mm, its nut is at least 9.5 mm long:" in told
    assert groups(root, "strip-row") == groups(root, "view-0") == []


def test_several_lines_are_stacked_with_one_caution() -> None:
    """Each line has its heading under the one before; the caution ends the picture."""
    root = drawing(snake(), single())
    heads = [each for each in root.iter(f"{SVG}text") if (each.text or "").startswith("run: ")]
    assert float(heads[0].get("y", "")) < float(heads[1].get("y", ""))
    assert " ".join(words(root)).endswith(CAUTION)
    assert " ".join(words(root)).count(CAUTION) == 1


def test_names_cannot_become_part_of_the_drawing() -> None:
    """Marks of the format and control characters in names stay text."""
    sheet = snake()._replace(tag=HOSTILE)
    text = make_svg(sheets(sheet, build=HOSTILE))
    root = ElementTree.fromstring(text)
    assert "<script" not in text
    assert "\x1b" not in text
    assert '"><script>alert(1)</script>&\\x1b[2J' in " ".join(words(root))


def test_same_input_same_text_and_nothing_from_outside() -> None:
    """The drawing is the same each time and refers to nothing but itself."""
    once = make_svg(sheets(snake()))
    assert once == make_svg(sheets(snake()))
    assert re.findall(r'(?:href|src)="?([^" >]+)', once) == []
    assert re.findall(r"https?://[^\"]+", once) == ["http://www.w3.org/2000/svg"]
