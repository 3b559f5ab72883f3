"""Panel holes: bare ones, and ones of the wrong size for what is in them."""

from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.checks.run import check
from tests.checks.place.bench import CUNI, car, found, missing, said

ROUTE = f"{CUNI}, route: [{{at: [200, 0, 0], through: wall}}, {{at: [400, 0, 0], bend: 20 mm}}]"
LAST = f"{CUNI}, route: [[400, 0, 0], {{at: [400, 270, 0], through: wall}}]"


def wall(panel: str) -> str:
    """Return a panel section with one hole."""
    return f"panels: {{wall: {{{panel}}}}}\n"


def test_a_bare_hole_is_an_error() -> None:
    """The panel is named first, then the line, and the place is the panel's own entry."""
    (finding,) = found(car(ROUTE, wall("hole: 12 mm, thickness: 1.5 mm")), "panel-unguarded")
    assert (finding.level, finding.message) == ("error", "run passes through wall without a grommet")
    assert finding.at == ("wall", "run")
    assert finding.place.line == 11


def test_a_grommet_guards_and_a_clip_does_not() -> None:
    """By the panel's own word or as a component in the hole; a part of another kind is told by another rule."""
    size = "hole: 12 mm, thickness: 1.5 mm"
    assert said(car(ROUTE, wall(f"{size}, grommet: grommet-3-16")), "panel-unguarded") == []
    clip = car(ROUTE, wall(f"{size}, grommet: clip-3-16"))
    assert [one.message for one in found(clip, "part-unknown")] == ["clip-3-16 is a clip, not a grommet"]
    assert missing(clip, "panel-unguarded") == [(("wall",), "panels.wall.grommet")]
    fitted = car(ROUTE, wall(size)).replace("joints:", "  rubber: {part: grommet-3-16, at: [205, 0, 0]}\njoints:")
    assert said(fitted, "panel-unguarded") == []
    assert len(said(fitted.replace("[205,", "[240,"), "panel-unguarded")) == 1


def test_a_grommet_that_no_catalog_has_is_not_passed() -> None:
    """Its name is listed as what would have to be known, by both rules."""
    text = car(ROUTE, wall("hole: 12 mm, thickness: 1.5 mm, grommet: mine"))
    assert [one.at for one in found(text, "part-unknown")] == [("wall",)]
    assert missing(text, "panel-unguarded") == [(("wall",), "panels.wall.grommet")]
    assert missing(text, "panel-misfit") == [(("wall",), "panels.wall.grommet")]


@pytest.mark.parametrize(
    ("place", "guarded"), [("[400, 290, 0]", True), ("[400, 500, 0]", False), ("", True)], ids=["in", "far", "unknown"]
)
def test_a_bulkhead_part_takes_the_place_of_a_grommet(place: str, guarded: bool) -> None:
    """It counts if it is where the hole is, or, of unknown place, if the line ends in it next to the hole."""
    text = car(LAST, wall("hole: 14 mm, thickness: 1.5 mm"), end=place)
    text = text.replace("far: {part: union-3-16-inverted", "far: {part: bulkhead-union-3-16-inverted")
    text = text.replace("far.b", "far.outside").replace("far.a", "far.inside")
    findings = found(text, "panel-unguarded")
    assert ([finding.message for finding in findings] == []) is guarded


def test_a_hole_smaller_than_the_tube() -> None:
    """What does not go through is an error of its own."""
    text = (
        car(ROUTE, wall("hole: 4 mm, thickness: 1.5 mm")) + "accept: [{rule: panel-unguarded, at: wall, why: test}]\n"
    )
    message = "run is 4.76 mm thick, wall is 4 mm wide"
    assert said(text, "panel-misfit") == [("error", message, ("wall", "run"))]


@pytest.mark.parametrize(
    ("panel", "level", "message"),
    [
        ("hole: 12.4 mm, thickness: 1.5 mm", None, ""),
        ("hole: 13 mm, thickness: 1.5 mm", "warning", "wall is 13 mm wide, grommet-3-16 needs 12 mm"),
        ("hole: 17 mm, thickness: 1.5 mm", "error", "wall is 17 mm wide, grommet-3-16 needs 12 mm"),
        ("hole: 11.2 mm, thickness: 1.5 mm", "warning", "wall is 11.2 mm wide, grommet-3-16 needs 12 mm"),
        ("hole: 10 mm, thickness: 1.5 mm", "error", "wall is 10 mm wide, grommet-3-16 needs 12 mm"),
        ("hole: 12 mm, thickness: 3 mm", "warning", "wall is 3 mm thick, grommet-3-16 grips up to 1.6 mm"),
    ],
)
def test_holes_for_a_grommet(panel: str, level: str | None, message: str) -> None:
    """A grommet of 17 mm in a hole for 12 mm: what it stands, what has to be looked at, what cannot be."""
    expected = [] if level is None else [(level, message, ("wall",))]
    assert said(car(ROUTE, wall(f"{panel}, grommet: grommet-3-16")), "panel-misfit") == expected


def test_a_grommet_for_another_tube() -> None:
    """A bore of 6.35 mm does not hold a tube of 4.76 mm."""
    text = car(ROUTE, wall("hole: 13 mm, thickness: 1.5 mm, grommet: grommet-1-4"))
    message = "grommet-1-4 in wall has a bore of 6.35 mm, run is 4.76 mm thick"
    assert said(text, "panel-misfit") == [("warning", message, ("wall",))]


@pytest.mark.parametrize(
    ("panel", "level", "message"),
    [
        ("hole: 14.5 mm, thickness: 6 mm", None, ""),
        ("hole: 13.5 mm, thickness: 1.5 mm", "error", "wall is 13.5 mm wide, bulkhead-union-3-16-inverted needs 14 mm"),
        ("hole: 16 mm, thickness: 1.5 mm", "warning", "wall is 16 mm wide, bulkhead-union-3-16-inverted needs 14 mm"),
        ("hole: 18 mm, thickness: 1.5 mm", "error", "wall is 18 mm wide, bulkhead-union-3-16-inverted needs 14 mm"),
        ("hole: 14 mm, thickness: 8 mm", "error", "wall is 8 mm thick, bulkhead-union-3-16-inverted grips up to 6 mm"),
    ],
)
def test_holes_for_a_bulkhead_part(panel: str, level: str | None, message: str) -> None:
    """A part in a panel without any line through it is looked at by its place."""
    text = car(f"{CUNI}, route: [[400, 0, 0]]", wall(f"{panel}, at: [400, 310, 0]"))
    text = text.replace("far: {part: union-3-16-inverted", "far: {part: bulkhead-union-3-16-inverted")
    text = text.replace("far.b", "far.outside").replace("far.a", "far.inside")
    expected = [] if level is None else [(level, message, ("wall", "far"))]
    assert said(text, "panel-misfit") == expected


def test_sizes_that_nobody_states_are_listed(tmp_path: Path) -> None:
    """A hole without width or thickness, and a part without hole, grip and bore, are not passed."""
    rubber = ", grommet: grommet-3-16"
    assert missing(car(ROUTE, wall("thickness: 1.5 mm" + rubber)), "panel-misfit") == [(("wall",), "panels.wall.hole")]
    thick = missing(car(ROUTE, wall("hole: 12 mm" + rubber)), "panel-misfit")
    assert thick == [(("wall", "wall"), "panels.wall.thickness")]
    (tmp_path / "mine.yaml").write_text("catalog: 1\nparts: {mine: {kind: grommet}}\n")
    text = car(ROUTE, wall("hole: 12 mm, thickness: 1.5 mm, grommet: mine")) + "catalogs: [mine.yaml]\n"
    (tmp_path / "build.yaml").write_text(text)
    unchecked = [one.missing for one in check(load(tmp_path)).unchecked if one.rule == "panel-misfit"]
    assert unchecked == ["parts.mine.inside", "parts.mine.panel.hole", "parts.mine.panel.grip"]


def test_a_build_without_panels_has_nothing_to_look_at() -> None:
    """No panel, no hole: neither rule speaks."""
    assert missing(car(CUNI), "panel-unguarded") == missing(car(CUNI), "panel-misfit") == []
