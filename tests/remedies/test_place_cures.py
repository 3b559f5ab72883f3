"""Cures of rules of place: grommets and holes, radii and benders, lengths, clips. Each is made, written and checked."""

from pathlib import Path

import pytest

from fitcheck.reports.cure_text import cure_text
from tests.remedies.placed import context_of, cost, faults, healed, placed, proposed

BENDERS = """\
tools:
  benders:
    wheel: {radius: 22 mm, clamp: 20 mm}
    lever: {radius: 16 mm, clamp: 12 mm, between: 12 mm}
"""
THROUGH = "route: [{at: [100, 0, 0], through: wall}, [400, 0, 0]]"


def wall(**keys: str) -> str:
    """Return the panel `wall` with these keys."""
    stated = ", ".join(f"{key}: {value}" for key, value in {"thickness": "1.2 mm", **keys}.items())
    return f"panels: {{wall: {{{stated}}}}}\n"


def test_a_bare_hole_gets_its_grommet(tmp_path: Path) -> None:
    """A grommet for the tube that goes into the hole as it is, and nothing is drilled; its price comes on top."""
    text = placed(THROUGH, wall(hole="12 mm"))
    assert proposed(text, "panel-unguarded", tmp_path) == ["fit grommet-3-16 in wall"]
    assert cost(text, "panel-unguarded", tmp_path) == "0.35 GBP more than before"
    assert "grommet: grommet-3-16" in healed(text, "panel-unguarded", tmp_path).text


def test_a_hole_is_drilled_out_for_a_grommet_only_if_none_goes_in(tmp_path: Path) -> None:
    """Where no grommet for the tube goes into the hole, it is drilled out to the grommet's, and that is said."""
    text = placed(THROUGH, wall(hole="10 mm"))
    assert proposed(text, "panel-unguarded", tmp_path) == ["fit grommet-3-16 in wall, drilled out to 12 mm"]
    done = healed(text, "panel-unguarded", tmp_path)
    assert "wall: {thickness: 1.2 mm, hole: 12 mm, grommet: grommet-3-16}" in done.text
    notes = done.applied[0].proven.remedy.notes
    assert notes == ("whether there is sheet enough around wall to drill it out",)


def test_no_hole_is_made_smaller(tmp_path: Path) -> None:
    """For a hole that every grommet for the tube falls through nothing is proposed."""
    assert proposed(placed(THROUGH, wall(hole="30 mm")), "panel-unguarded", tmp_path) == []
    assert proposed(placed(THROUGH, wall(hole="30 mm", grommet="grommet-3-16")), "panel-misfit", tmp_path) == []


def test_an_unknown_hole_gets_a_grommet_and_a_word_about_it(tmp_path: Path) -> None:
    """Where the file does not say how wide the hole is, the grommet is stated, not the hole."""
    done = healed(placed(THROUGH, wall()), "panel-unguarded", tmp_path)
    assert "wall: {thickness: 1.2 mm, grommet: grommet-3-16}" in done.text
    notes = done.applied[0].proven.remedy.notes
    assert notes == ("whether the hole is 12 mm wide: the file does not say",)


def test_a_sheet_too_thick_for_the_grommets_stays(tmp_path: Path) -> None:
    """A grommet that does not hold in so thick a sheet is no cure of a bare hole."""
    text = placed(THROUGH, wall(hole="12 mm").replace("1.2 mm", "3 mm"))
    assert proposed(text, "panel-unguarded", tmp_path) == []


def test_a_hole_too_small_for_its_grommet_is_drilled_out(tmp_path: Path) -> None:
    """The hole becomes what the grommet needs, and nothing is bought."""
    text = placed(THROUGH, wall(hole="10 mm", grommet="grommet-3-16"))
    assert proposed(text, "panel-misfit", tmp_path) == ["drill wall out to 12 mm"]
    assert cost(text, "panel-misfit", tmp_path) == "no change"
    assert "hole: 12 mm" in healed(text, "panel-misfit", tmp_path).text


def test_a_grommet_for_another_tube_is_exchanged(tmp_path: Path) -> None:
    """One grommet puts both right that the wrong one has: its bore and its hole."""
    text = placed(THROUGH, wall(hole="12 mm", grommet="grommet-1-4"))
    assert proposed(text, "panel-misfit", tmp_path) == ["fit grommet-3-16 in wall"]
    assert cost(text, "panel-misfit", tmp_path) == "0.10 GBP less than before"
    assert "grommet: grommet-3-16" in healed(text, "panel-misfit", tmp_path).text


def test_a_grommet_that_is_a_component_is_exchanged_there(tmp_path: Path) -> None:
    """A grommet fitted by its own tag is exchanged under that tag."""
    components = "  ring: {part: grommet-1-4, at: [100, 0, 0]}\n"
    done = healed(placed(THROUGH, wall(hole="12 mm"), components=components), "panel-misfit", tmp_path)
    assert "ring: {part: grommet-3-16, at: [100, 0, 0]}" in done.text


def test_a_hole_for_a_bulkhead_union_is_drilled_out(tmp_path: Path) -> None:
    """A hole that a union does not go into becomes as wide as the catalog asks for."""
    house = "{kind: bulkhead union, panel: {hole: 14 mm, grip: 5 mm}, ports: {a: &end , b: {same as: a}}}"
    end = "{thread: 3/8-24 UNF, gender: internal, seat: inverted-flare, tube: 3/16 in}"
    (tmp_path / "house.yaml").write_text(f"catalog: 1\nparts: {{through: {house.replace('&end ', end)}}}\n")
    text = placed("route: [[400, 0, 0]]", wall(hole="12 mm", at="[0, 0, 0]"), head="catalogs: [house.yaml]\n")
    text = text.replace("near: {part: union-3-16-inverted", "near: {part: through")
    assert proposed(text, "panel-misfit", tmp_path) == ["drill wall out to 14 mm"]
    assert "hole: 14 mm" in healed(text, "panel-misfit", tmp_path).text


def test_a_tight_bend_gets_the_least_radius_that_is_made(tmp_path: Path) -> None:
    """Of the radii that the tube stands that of a listed bender is taken before any other."""
    text = placed("route: [{at: [400, 0, 0], bend: 5 mm}]", BENDERS)
    acts = proposed(text, "bend-tight", tmp_path)
    assert acts == ["bend run to 14.3 mm there", "bend run to 16 mm there", "bend run to 22 mm there"]
    text = placed("route: [{at: [400, 0, 0], bend: 5 mm}]")
    assert proposed(text, "bend-tight", tmp_path) == ["bend run to 14.3 mm there"]
    # 2 R tan 45 - R pi / 2 is 2.15 mm of tube for 5 mm and 6.14 mm for 14.3 mm: 4 mm less, at 10 GBP a metre
    assert cost(text, "bend-tight", tmp_path) == "0.04 GBP less than before"
    assert "bend: 14.3 mm" in healed(text, "bend-tight", tmp_path).text


def test_a_leg_shorter_than_its_bend_is_left_if_the_flare_has_no_room(tmp_path: Path) -> None:
    """A tighter bend that fits the leg and leaves too little before the flare is no cure."""
    text = placed("route: [{at: [400, 0, 0], bend: 30 mm}]", end="[400, 20, 0]")
    assert proposed(text, "bend-tight", tmp_path) == []
    text = placed("route: [{at: [400, 0, 0], bend: 50 mm}]", end="[400, 45, 0]")
    assert proposed(text, "bend-tight", tmp_path) == ["bend run to 14.3 mm there"]
    healed(text, "bend-tight", tmp_path)


def test_a_radius_is_stated_where_the_file_has_a_bare_point(tmp_path: Path) -> None:
    """Two bends too near to each other are made tighter, and their points keep the digits they were written in."""
    text = placed("route: [[400.0, 0, 0], [400, 50, 0]], bender: wheel", BENDERS, end="[800, 50, 0]")
    acts = proposed(text, "bend-crowded", tmp_path)
    assert acts == ["bend run with lever", "bend run to 14.3 mm there"]
    alone = text.replace("    lever: {radius: 16 mm, clamp: 12 mm, between: 12 mm}\n", "")
    done = healed(alone, "bend-crowded", tmp_path)
    assert "{at: [400.0, 0, 0], bend: 14.3 mm}" in done.text
    assert done.applied[0].proven.remedy.notes == ("none of the listed benders makes 14.3 mm",)


def test_another_bender_frees_a_crowded_bend(tmp_path: Path) -> None:
    """The bender that holds the tube in less is named for the line; radii that the file states go if they must."""
    line = "route: [{at: [400, 0, 0], bend: 22 mm}, {at: [400, 50, 0], bend: 22 mm}], bender: wheel"
    text = placed(line, BENDERS, end="[800, 50, 0]")
    assert "bend run with lever" in proposed(text, "bend-crowded", tmp_path, most=9)
    done = healed(
        placed(line.replace("bend: 22 mm", "bend: 18 mm"), BENDERS, end="[800, 50, 0]"), "bend-crowded", tmp_path
    )
    assert "bender: lever" in done.text


def test_a_bender_for_another_tube_gives_way_to_one_that_takes_it(tmp_path: Path) -> None:
    """A line that names a bender for 1/4 in tube is bent with the listed one that takes 3/16 in."""
    benders = BENDERS.replace("wheel: {", "wheel: {tubes: [1/4 in], ")
    text = placed("route: [[400, 0, 0]], bender: wheel", benders)
    assert proposed(text, "bend-tight", tmp_path) == ["bend run with lever"]
    assert "bender: lever" in healed(text, "bend-tight", tmp_path).text


def test_bends_by_legs_get_their_radius_in_the_leg(tmp_path: Path) -> None:
    """A route of measured legs has the radius in the leg before the bend."""
    text = placed("route: [{leg: 300 mm, angle: 90 deg, bend: 5 mm}, {leg: 200 mm}]", end="[400, 300, 0]")
    assert "{leg: 300 mm, angle: 90 deg, bend: 14.3 mm}" in healed(text, "bend-tight", tmp_path).text


def test_the_length_becomes_that_of_the_route(tmp_path: Path) -> None:
    """The stated length is set to what the route comes to, with a word that either may be wrong."""
    text = placed("route: [[400, 0, 0]], length: 600 mm")
    assert proposed(text, "length-disagrees", tmp_path) == ["state 694 mm for run, as its route comes to"]
    assert cost(text, "length-disagrees", tmp_path) == "no change"  # bought for the route
    done = healed(text, "length-disagrees", tmp_path)
    assert "length: 694 mm" in done.text
    assert done.applied[0].proven.remedy.notes == (
        "whether it is the length of run that was measured wrong, or its route, before it is cut",
    )


def test_a_length_alone_is_measured_again(tmp_path: Path) -> None:
    """Without a route nothing says what the length should be: it is left, with the reason."""
    context = context_of(placed("length: 450 mm"), tmp_path)
    assert faults(context) == ["length-disagrees"]
    assert proposed(placed("length: 450 mm"), "length-disagrees", tmp_path) == []


def test_clips_are_stated_closer(tmp_path: Path) -> None:
    """A spacing that holds no line becomes 300 mm."""
    text = placed("length: 900 mm", "consumables: {clips: {spacing: 500 mm}}\n")
    assert proposed(text, "clip-sparse", tmp_path) == ["put clips every 300 mm"]
    assert "spacing: 300 mm" in healed(text, "clip-sparse", tmp_path).text


@pytest.mark.parametrize(
    ("unit", "place", "end"), [("mm", "[200, 0, 0]", "[400, 600, 0]"), ("in", "[8, 0, 0]", "[16, 24, 0]")]
)
def test_clips_are_placed_where_the_line_hangs_free(unit: str, place: str, end: str, tmp_path: Path) -> None:
    """Clips like those of the build go on the tube itself, in the file's own unit, and are paid for."""
    corner = "[400, 0, 0]" if unit == "mm" else "[16, 0, 0]"
    components = f"  clip_1: {{part: clip-3-16, at: {place}}}\n"
    text = placed(f"route: [{corner}]", end=end, components=components, head=f"coordinates: {unit}\n")
    assert proposed(text, "clip-sparse", tmp_path) == ["fit 2 clips on run: clip-3-16"]
    assert cost(text, "clip-sparse", tmp_path) == "0.60 GBP more than before"
    done = healed(text, "clip-sparse", tmp_path)
    assert {"clip_run", "clip_run_2"} <= set(done.after.file.components)


def test_what_no_cure_holds_for_is_told_with_what_to_do(tmp_path: Path) -> None:
    """The report of a cure says of what is left what is to be done by hand."""
    from fitcheck.checks.run import check_context
    from fitcheck.remedies.cure import cure

    context = context_of(placed("length: 450 mm"), tmp_path)
    said = cure_text(cure(context, check_context(context)))
    assert "one of the two was measured wrong: measure again" in said
