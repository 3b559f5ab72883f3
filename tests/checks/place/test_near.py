"""Lines too near to something hot, or to each other."""

from math import dist

import pytest

from tests.checks.place.bench import CUNI, car, found, missing, report_of, said

ROUTE = f"{CUNI}, route: [{{at: [400, 0, 0], bend: 20 mm}}]"


def hot(path: str, more: str = "") -> str:
    """Return a heat section with one exhaust."""
    return f"heat: {{exhaust: {{path: {path}, radius: 20 mm{more}}}}}\n"


def test_the_usual_clearance_is_three_inches() -> None:
    """A pipe whose middle is 80 mm beside the tube's: 57.6 mm are left between the surfaces, found and proven."""
    (finding,) = found(car(ROUTE, hot("[[-100, -80, 0], [300, -80, 0]]")), "near-heat")
    assert finding.level == "warning"
    assert finding.message == "run comes within 57.6 mm of exhaust: it needs 76 mm, by the usual figure"
    assert finding.at == ("run", "exhaust")
    evidence = finding.evidence
    surfaces = dist(*evidence["points_mm"]) - sum(evidence["radii_mm"])
    assert evidence["gap_mm"] == pytest.approx(surfaces, abs=0.01)
    assert evidence["gap_mm"] < evidence["clearance_mm"]
    assert said(car(ROUTE, hot("[[-100, -99, 0], [300, -99, 0]]")), "near-heat") == []


def test_a_stated_clearance_is_the_builders_word() -> None:
    """Under it is an error, above it nothing, however near the usual figure is."""
    path = "[[-100, -80, 0], [300, -80, 0]]"
    message = "run comes within 57.6 mm of exhaust: it needs 60 mm"
    assert said(car(ROUTE, hot(path, ", clearance: 60 mm")), "near-heat") == [("error", message, ("run", "exhaust"))]
    assert said(car(ROUTE, hot(path, ", clearance: 50 mm")), "near-heat") == []


def test_distance_is_that_of_the_bend_and_not_of_its_corner() -> None:
    """Beside the corner the tube is further in: the arc's nearest point counts, not where the legs would meet."""
    (finding,) = found(car(ROUTE, hot("[[440, -40, 0]]")), "near-heat")
    arc = dist((440, -40), (380, 20)) - 20
    assert finding.evidence["gap_mm"] == pytest.approx(arc - 20 - 4.7625 / 2, abs=0.01)
    assert finding.evidence["along_mm"] == pytest.approx(380 + 20 * 3.14159 / 4, abs=0.2)


def test_meeting_is_an_error_whatever_is_stated() -> None:
    """A line drawn through the pipe is told as that."""
    ((level, message, _),) = said(car(ROUTE, hot("[[200, -80, 0], [200, 80, 0]]")), "near-heat")
    assert (level, message) == ("error", "run runs into exhaust")


def test_every_pose_is_looked_at() -> None:
    """An axle that drops brings its line to the pipe: the pose is named; a pipe on the axle goes with it."""
    path = "[[-100, -60, -90], [300, -60, -90]]"
    text = car(ROUTE, hot(path, ", clearance: 70 mm"), on="axle")
    (finding,) = found(text, "near-heat")
    assert finding.message == "run comes within 38.4 mm of exhaust in droop of axle: it needs 70 mm"
    assert finding.evidence["poses"] == ("droop", None)
    together = car(ROUTE, hot(path, ", clearance: 70 mm, on: axle"), on="axle")
    assert said(together, "near-heat") == []


def test_what_hinders_looking_is_listed() -> None:
    """No heat stated, a line without places, a body that moves without poses: none is passed."""
    assert missing(car(ROUTE), "near-heat") == [((), "heat")]
    far = hot("[[0, -900, 0]]")
    assert missing(car(CUNI, far), "near-heat") == [(("run",), "lines.run.route")]
    assert missing(car(ROUTE, far, end=""), "near-heat") == [(("run",), "components.far.at")]
    assert missing(car(ROUTE, far, on="engine"), "near-heat") == [(("engine",), "bodies.engine.poses")]
    assert missing(car(ROUTE, far), "near-heat") == []
    assert report_of(car(ROUTE, far)).checked["near-heat"] == 1


TWO = """\
build: 1
bodies: {{axle: {{poses: {{droop: {{shift: [0, 0, -80]}}}}}}}}
components:
  near: {{part: union-3-16-inverted, at: [0, 0, 0]}}
  stop_a: {{part: plug-3-8-24-inverted}}
  far: {{part: union-3-16-inverted, at: [400, 300, 0]}}
  stop_b: {{part: plug-3-8-24-inverted}}
  left: {{part: union-3-16-inverted, at: [{x}, -200, {z}], on: {on}}}
  stop_c: {{part: plug-3-8-24-inverted}}
  right: {{part: union-3-16-inverted, at: [0, 280, {z}], on: {on}}}
  stop_d: {{part: plug-3-8-24-inverted}}
joints: [[stop_a.end, near.a], [stop_b.end, far.b], [stop_c.end, left.a], [stop_d.end, right.b]]
lines:
  run: {{from: near.b, to: far.a, tube: tube-3-16-cuni, route: [{{at: [400, 0, 0], bend: 20 mm}}]}}
  across: {{from: left.b, to: right.a, tube: tube-3-16-cuni, route: [{{at: [{x}, 280, {z}], bend: 20 mm}}]}}
"""


def test_lines_that_cross_too_near() -> None:
    """Two tubes of 4.76 mm whose middles pass at 6 mm leave 1.2 mm; at 6.5 mm they leave enough."""
    (finding,) = found(TWO.format(x=200, z=6, on="chassis"), "lines-touching")
    assert finding.level == "warning"
    assert finding.message == "across and run come within 1.2 mm of each other: they need 1.6 mm"
    assert finding.at == ("across", "run")
    surfaces = dist(*finding.evidence["points_mm"]) - sum(finding.evidence["radii_mm"])
    assert finding.evidence["gap_mm"] == pytest.approx(surfaces, abs=0.01)
    assert said(TWO.format(x=200, z=6.5, on="chassis"), "lines-touching") == []


def test_lines_in_one_place() -> None:
    """Middles that meet are told as that, in the pose that brings them together."""
    ((_, message, _),) = said(TWO.format(x=200, z=0, on="chassis"), "lines-touching")
    assert message == "across and run run into each other"
    ((_, message, _),) = said(TWO.format(x=200, z=80, on="axle"), "lines-touching")
    assert message == "across and run run into each other in droop of axle"


def test_where_fittings_hold_the_lines_nothing_is_said() -> None:
    """A line that passes 20 mm from another's end is left to the fittings there, at 35 mm it is not."""
    far = TWO.replace("at: [0, 280", "at: [-200, 280")
    assert said(far.format(x=20, z=0, on="chassis"), "lines-touching") == []
    assert len(said(far.format(x=35, z=0, on="chassis"), "lines-touching")) == 1


def test_one_line_touches_nothing() -> None:
    """With a single line there is nothing to look at; of two, one without a route is listed."""
    assert missing(car(CUNI), "lines-touching") == []
    text = TWO.format(x=200, z=40, on="chassis").replace(", route: [{at: [400, 0, 0], bend: 20 mm}]", "")
    assert missing(text, "lines-touching") == [(("run",), "lines.run.route")]
