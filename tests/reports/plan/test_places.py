"""What stands where: figures worked by hand for one corner, three views, and the car mirrored."""

import pytest

from fitcheck.reports.plan.views import VIEWS, View
from tests.reports.plan.seen import BENT, context, demo, path_of, root_of, square, steps, tagged, told

TALL = BENT.replace("[900, 300, 300]", "[900, 300, 400]").replace(
    "[{at: [900, 200, 300], bend: 20 mm}]", "[[900, 200, 300], [900, 300, 300]]"
)


@pytest.mark.parametrize(
    ("view", "a", "b"),
    [
        ("plan", (-1000.0, 200.0), (-900.0, 300.0)),
        ("side", (-1000.0, -300.0), (-900.0, -300.0)),
        ("front", (200.0, -300.0), (300.0, -300.0)),
    ],
)
def test_components_land_where_the_car_has_them(view: View, a: tuple[float, float], b: tuple[float, float]) -> None:
    """A car of 100 mm is drawn 1 : 1: front to the left in plan and side, the car's left to the right from ahead."""
    root = root_of(context(BENT), view)
    assert "1 : 1," in told(root)
    found = tagged(root, "component")
    assert square(found["a"]) == pytest.approx(a, abs=1e-3)
    assert square(found["b"]) == pytest.approx(b, abs=1e-3)


def test_bend_is_an_arc_of_its_radius() -> None:
    """The bend of 20 mm begins and ends 20 mm from its corner, and its middle lies R (sqrt 2 - 1) from the corner."""
    ends = steps(path_of(tagged(root_of(context(BENT), "plan"), "line")["run"]))
    wanted = [(-1000.0, 200.0), (-920.0, 200.0), (-905.8579, 205.8579), (-900.0, 220.0), (-900.0, 300.0)]
    assert ends == [pytest.approx(spot, abs=1e-3) for spot in wanted]


def test_scale_is_a_round_figure_that_fits() -> None:
    """A car of 2400 mm is too long for 236 mm at 1 : 10: it is drawn at the next round figure, 1 : 15."""
    far = BENT.replace("a: {part: union-3-16-inverted, at: [1000,", "a: {part: union-3-16-inverted, at: [3300,")
    root = root_of(context(far), "side")
    assert square(tagged(root, "component")["a"]) == pytest.approx((-220.0, -20.0), abs=1e-3)
    assert "1 : 15," in told(root)


def test_inches_are_the_users_unit() -> None:
    """Points in inches are placed by 25.4 mm; grid, scale bar and words are in inches."""
    text = "coordinates: in\n" + BENT.replace("[1000, 200, 300]", "[20, 2, 3]").replace(
        "[900, 300, 300]", "[10, 12, 3]"
    )
    root = root_of(context(text.replace("[900, 200, 300]", "[10, 2, 3]")), "plan")
    x, y = square(tagged(root, "component")["a"])
    assert (x / y, y) == pytest.approx((-10.0, 50.8 / 2.0), abs=1e-3)
    for shown in ("all lengths in inches.", "x in inches", "y in inches", "3 in; 1 : 2 if this drawing is"):
        assert shown in told(root)


@pytest.mark.parametrize("view", VIEWS)
def test_a_mirrored_car_is_seen_mirrored(view: View) -> None:
    """With every y turned round, lines keep their shape: mirrored in plan and from ahead, the same from the side."""
    mirrored = TALL.replace(", 200,", ", -200,").replace(", 300, 3", ", -300, 3").replace(", 300, 4", ", -300, 4")
    one, other = (steps(path_of(tagged(root_of(context(text), view), "line")["run"])) for text in (TALL, mirrored))
    flip = {"plan": (1.0, -1.0), "side": (1.0, 1.0), "front": (-1.0, 1.0)}[view]
    assert len(one) == 8
    assert other == [pytest.approx((x * flip[0], y * flip[1]), abs=1e-3) for x, y in one]


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("variant", [None, "as_corrected"])
def test_every_line_is_drawn_once_or_told(view: View, variant: str | None) -> None:
    """Each line of the demo whose run is known is drawn once; the others are listed with the field that is missing."""
    build = demo(variant)
    root = root_of(build, view)
    known = {tag for tag, run in build.runs.items() if run.curve}
    assert set(tagged(root, "line")) == known
    assert set(build.file.lines) - known == {"rear_run"}
    assert "rear_run: lines.rear_run.route missing" in told(root)
    assert set(tagged(root, "component")) == set(build.file.components)
    assert set(tagged(root, "hose")) == set(build.file.hoses)


def test_line_that_cannot_be_bent_is_drawn_by_its_corners() -> None:
    """Of a route no tube can follow its corners are drawn, and the reason stands below."""
    root = root_of(context(BENT.replace("bend: 20 mm", "bend: 120 mm")), "plan")
    ends = steps(path_of(tagged(root, "line")["run"]))
    assert ends == [pytest.approx(spot, abs=1e-3) for spot in ((-1000.0, 200.0), (-900.0, 200.0), (-900.0, 300.0))]
    assert "run: drawn by its corners: leg 1 " in told(root)


def test_part_without_place_is_where_its_joint_is() -> None:
    """A plug without a place of its own is drawn where the port is that it closes; one that is loose is listed."""
    more = "  plug: {part: plug-3-8-24-inverted}\n  loose: {part: plug-3-8-24-inverted}\n"
    text = BENT.replace("lines:\n", f"{more}joints:\n  - [plug.end, a.a]\nlines:\n")
    root = root_of(context(text), "plan")
    assert square(tagged(root, "component")["plug"]) == pytest.approx((-1000.0, 200.0), abs=1e-3)
    assert "loose: components.loose.at missing" in told(root)


def test_nothing_has_a_place() -> None:
    """A build without any position is answered with the fields that would give them, not with a crash."""
    text = "components:\n  a: {part: union-3-16-inverted}\nlines:\n"
    text += "  run: {from: a.a, to: a.b, tube: tube-3-16-cuni, length: 300 mm}\n"
    for view in VIEWS:
        found = told(root_of(context(text), view))
        assert "Nothing is drawn: the build does not say where anything is." in found
        assert "a: components.a.at missing" in found
        assert "run: lines.run.route missing" in found
    assert "Nothing is drawn" in told(root_of(context(""), "plan"))
