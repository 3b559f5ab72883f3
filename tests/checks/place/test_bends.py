"""Bends that are too tight, too close together or too close to an end."""

import pytest

from fitcheck.build.routes import Bend, Route, straights
from tests.checks.place.bench import CUNI, car, found, missing, said

TOOLS = "tools: {benders: {small: {radius: 6 mm, tubes: [3/16 in], clamp: 12 mm, between: 9 mm}}}\n"
GRIP = "tools: {flaring: {grip: 32 mm}}\n"


def bent(radius: str, tube: str = CUNI) -> str:
    """Return a line with one bend of a radius."""
    return f"{tube}, route: [{{at: [400, 0, 0], bend: {radius}}}]"


def test_radius_under_three_diameters_is_a_warning() -> None:
    """Three outside diameters of 3/16 in are 14.29 mm: 14 mm is under it, 14.25 mm is the same rounded."""
    message = "run bends to 14 mm at (400, 0, 0) mm, under 14.29 mm, three outside diameters"
    assert said(car(bent("14 mm")), "bend-tight") == [("warning", message, ("run",))]
    assert said(car(bent("14.25 mm")), "bend-tight") == []


def test_radius_under_one_and_a_half_diameters_is_an_error() -> None:
    """What no listed tool makes is refused; the witness has radius, limit, tube and source."""
    (finding,) = found(car(bent("7 mm")), "bend-tight")
    assert finding.level == "error"
    assert finding.message == "run bends to 7 mm at (400, 0, 0) mm, under 7.14 mm, one and a half outside diameters"
    evidence = finding.evidence
    assert evidence["radius_mm"] < evidence["smallest_mm"] == pytest.approx(1.5 * evidence["od_mm"])
    assert evidence["bends"] == [1]
    assert "shop bending chart" in evidence["source"]
    assert (finding.place.line, finding.place.column) == (10, 64)


def test_a_listed_bender_makes_its_radius() -> None:
    """A radius that a bender in the file makes for this tube stands; one for another tube does not count."""
    assert said(car(bent("6 mm"), TOOLS), "bend-tight") == []
    assert said(car(f"{CUNI}, bender: small, route: [[400, 0, 0]]", TOOLS), "bend-tight") == []
    other = TOOLS.replace("3/16 in", "3/8 in")
    assert [level for level, *_ in said(car(bent("6 mm"), other), "bend-tight")] == ["error"]


def test_the_tubes_own_smallest_stands_above_any_tool() -> None:
    """Steel of which the catalog gives the smallest radius is not bent tighter, tool or no tool."""
    tight = bent("15 mm", "tube: tube-3-16-steel")
    message = "run bends to 15 mm at (400, 0, 0) mm, under 20 mm, the smallest of tube-3-16-steel"
    assert said(car(tight), "bend-tight") == [("warning", message, ("run",))]
    assert len(said(car(tight, TOOLS.replace("6 mm", "15 mm")), "bend-tight")) == 1


def test_bends_of_one_radius_are_one_finding() -> None:
    """Two bends with the same fault are told once, with both their places."""
    route = "[{at: [400, 0, 0], bend: 10 mm}, {at: [400, 200, 0], bend: 10 mm}]"
    ((_, message, _),) = said(car(f"{CUNI}, route: {route}", end="[800, 200, 0]"), "bend-tight")
    assert message == (
        "run bends to 10 mm at (400, 0, 0) mm and at (400, 200, 0) mm, under 14.29 mm, three outside diameters"
    )


def test_a_leg_shorter_than_its_bends_is_an_error() -> None:
    """A route that cannot be made names its leg, and the legs and radii in evidence prove it."""
    (finding,) = found(car(f"{CUNI}, route: [[400, 0, 0]]", end="[400, 10, 0]"), "bend-tight")
    assert finding.level == "error"
    assert finding.message == (
        "run cannot be bent: its leg between (400, 0, 0) mm and run.to is 10.0 mm long, its bends take 14.3 mm"
    )
    legs, (radius,) = finding.evidence["legs_mm"], finding.evidence["radii_mm"]
    with pytest.raises(ValueError, match=r"leg 2 is 10\.0 mm long"):
        straights(Route(legs, (Bend(90.0, radius),)))


def test_a_fold_is_an_error() -> None:
    """A corner that turns straight back is no bend."""
    ((level, message, _),) = said(car(f"{CUNI}, route: [[400, 0, 0]]", end="[100, 0, 0]"), "bend-tight")
    assert level == "error"
    assert message == "run cannot be bent: leg 1 ends in a corner that turns straight back on itself"


def test_measured_legs_are_looked_at_too() -> None:
    """A route of legs needs no places: bends are told by their leg."""
    legs = f"{CUNI}, route: [{{leg: 200 mm, angle: 90 deg, bend: 12 mm}}, {{leg: 300 mm}}]"
    ((level, message, _),) = said(car(legs, start="", end=""), "bend-tight")
    assert (level, message) == (
        "warning",
        "run bends to 12 mm after leg 1, under 14.29 mm, three outside diameters",
    )


def test_what_is_missing_is_said() -> None:
    """A line without route, without places, or with a leg of unknown angle is not passed."""
    assert missing(car(CUNI), "bend-tight") == [(("run",), "lines.run.route")]
    nowhere = car(f"{CUNI}, route: [[400, 0, 0]]", start="", end="")
    both = [(("run",), "components.near.at"), (("run",), "components.far.at")]
    assert missing(nowhere, "bend-tight") == missing(nowhere, "bend-crowded") == both
    legs = car(f"{CUNI}, route: [{{leg: 200 mm}}, {{leg: 300 mm}}]")
    assert missing(legs, "bend-tight") == [(("run",), "lines.run.route.0.angle")]


def z_bend(between: float) -> str:
    """Return a line that steps aside with so much straight [mm] between its two bends of 20 mm."""
    step = 40 + between
    return f"{CUNI}, route: [{{at: [400, 0, 0], bend: 20 mm}}, {{at: [400, {step}, 0], bend: 20 mm}}]"


def test_too_little_between_two_bends() -> None:
    """Without a bender three outside diameters are wanted: a warning, since nobody stated them."""
    text = car(z_bend(10), end="[800, 50, 0]")
    (finding,) = found(text, "bend-crowded")
    assert finding.level == "warning"
    assert finding.message == (
        "run is straight for 10 mm between bends, between (400, 0, 0) mm and (400, 50, 0) mm, "
        "the bender needs 14.29 mm, by the usual figure: bend it by hand round a clamped die"
    )
    assert finding.evidence["straight_mm"] == pytest.approx(10.0)
    assert finding.evidence["source"].endswith("three outside diameters, common practice, no source")
    assert said(car(z_bend(14.3), end="[800, 54.3, 0]"), "bend-crowded") == []


def test_a_stated_bender_decides_between_bends() -> None:
    """Its `between` is enough, and less than that is pulled by hand; its clamp counts where it states no more."""
    tools = TOOLS.replace("radius: 6 mm", "radius: 20 mm")
    assert said(car(z_bend(10), tools, end="[800, 50, 0]"), "bend-crowded") == []
    ((level, message, _),) = said(car(z_bend(8), tools, end="[800, 48, 0]"), "bend-crowded")
    assert level == "warning"
    assert message == (
        "run is straight for 8 mm between bends, between (400, 0, 0) mm and (400, 48, 0) mm, the bender needs 9 mm: "
        "bend it by hand round a clamped die"
    )
    clamp = tools.replace(", between: 9 mm", "")
    ((_, message, _),) = said(car(z_bend(10), clamp, end="[800, 50, 0]"), "bend-crowded")
    assert "the bender needs 12 mm: bend it by hand" in message


def test_a_u_of_two_bends_is_one_pull() -> None:
    """Two quarter bends of one plane that meet are a half turn of the tool; across each other they are two."""
    u = f"{CUNI}, route: [{{at: [400, 0, 0], bend: 20 mm}}, {{at: [400, 40, 0], bend: 20 mm}}]"
    assert said(car(u, end="[0, 40, 0]"), "bend-crowded") == []
    assert len(said(car(u, end="[800, 40, 0]"), "bend-crowded")) == 1
    assert len(said(car(u, end="[400, 40, 300]"), "bend-crowded")) == 1


@pytest.mark.parametrize(
    ("more", "needs"), [("", "25 mm, by the usual figure"), (GRIP, "32 mm")], ids=["usual", "stated"]
)
def test_too_little_before_an_end(more: str, needs: str) -> None:
    """A bend near the end leaves nothing to hold for the flaring tool: the end is flared first."""
    text = car(f"{CUNI}, route: [{{at: [400, 0, 0], bend: 20 mm}}]", more, end="[400, 40, 0]")
    message = f"run is straight for 20 mm before run.to, the flaring tool needs {needs}: flare this end before bending"
    assert said(text, "bend-crowded") == [("warning", message, ("run",))]


def test_a_stated_grip_takes_the_place_of_the_usual_one() -> None:
    """A tool that holds 15 mm flares what the usual one does not."""
    text = car(f"{CUNI}, route: [[400, 0, 0]]", "tools: {flaring: {grip: 15 mm}}\n", end="[400, 30, 0]")
    assert said(text, "bend-crowded") == []


def test_a_straight_line_is_not_crowded() -> None:
    """A short line without a bend is flared before it is anything else."""
    text = car(f"{CUNI}, route: []", end="[20, 0, 0]")
    assert missing(text, "bend-crowded") == []
    assert [level for level, *_ in said(text, "line-dead-straight")] == ["warning"]
