"""`no-bleeder` by position, and `reservoir-small` where only pistons are known."""

from math import pi
from pathlib import Path

import pytest

from tests.checks.circuit.cars import context_of, findings, looked, told, unchecked

CATALOG = """\
catalog: 1
parts:
  disc:
    kind: caliper
    ports:
      inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm, offset: [0 mm, 0 mm, 10 mm]}
    bleeder: M8x1.25
    bleeder_at: [0 mm, 20 mm, %s]
    side: %s
    pistons: [40 mm, 40 mm]
    %s
  tank:
    kind: reservoir
    ports: {out: {seat: push-on, gender: external, hose: 8 mm}}
    reservoir_volume: %s
"""
BUILD = """\
build: 1
components:
  tank: {part: tank}
  mc: {part: mc-m10x1-bubble}
  brake: {part: disc, at: [2000, %s, 300]}
lines:
  run: {from: mc.outlet, to: brake.inlet, tube: tube-3-16-cuni}
hoses:
  feed: {part: feed-hose-8mm, from: tank.out, to: mc.feed}
"""


def car(folder: Path, *, z: str = "30 mm", side: str = "left", y: int = 600, style: str = "", tank: str = "90 cm3"):  # type: ignore[no-untyped-def]
    """Return a car of one brake."""
    return context_of(BUILD % y, CATALOG % (z, side, style or "style: fixed", tank), folder)


@pytest.mark.parametrize("z", ["10 mm", "30 mm"])
def test_a_bleed_screw_at_the_top_is_looked_at(z: str, tmp_path: Path) -> None:
    """A bleed screw as high as every port, on the side that the caliper is made for, is in order."""
    context = car(tmp_path, z=z)
    assert told(context, "no-bleeder") == []
    assert looked(context, "no-bleeder") == 1


def test_a_bleed_screw_below_the_inlet_leaves_air(tmp_path: Path) -> None:
    """Air above the bleed screw stays: the finding says by how much, and carries both heights."""
    (found,) = findings(car(tmp_path, z="-5 mm"), "no-bleeder")
    assert (found.level, found.at) == ("warning", ("brake",))
    assert found.message == "the bleed screw of brake stands 15 mm below its port inlet"
    assert found.evidence == {"part": "disc", "bleeder_at_mm": (0.0, 20.0, -5.0), "port_z_mm": {"inlet": 10.0}}


@pytest.mark.parametrize(("side", "y"), [("left", -600), ("right", 600)])
def test_a_caliper_on_the_wrong_side_is_upside_down(side: str, y: int, tmp_path: Path) -> None:
    """A caliper made for the other side of the car has its bleed screw at the bottom."""
    there = "left" if y > 0 else "right"
    message = f"brake is made for the {side} of the car and stands on the {there}: its bleed screw is at the bottom"
    assert told(car(tmp_path, side=side, y=y), "no-bleeder") == [("no-bleeder", "warning", message)]


def test_a_caliper_in_the_middle_is_on_no_side(tmp_path: Path) -> None:
    """A place on the centre-line of the car says nothing of sides."""
    assert told(car(tmp_path, y=0), "no-bleeder") == []


@pytest.mark.parametrize(("style", "times"), [("style: fixed", 1.0), ("style: floating", 2.0)])
def test_pistons_stand_in_for_a_displacement_with_a_warning(style: str, times: float, tmp_path: Path) -> None:
    """Pistons that follow 9 mm of lining each, both pads where the caliper floats, make a warning and no error."""
    (found,) = findings(car(tmp_path, style=style, tank="20 cm3"), "reservoir-small")
    taken = 2.0 * pi / 4.0 * 40.0**2 * 9.0 * times
    assert (found.level, found.at) == ("warning", ("tank",))
    assert found.message == f"tank holds 20 cm3, the brakes take about {taken / 1000.0:.1f} cm3"
    assert found.evidence["displacement_mm3"] == {"brake": pytest.approx(taken)}
    assert found.evidence["assumed"] == {"caliper": {"mm": 9.0, "mark": "common practice, no source"}}


def test_enough_by_an_assumption_is_still_not_checked(tmp_path: Path) -> None:
    """A reservoir that is large enough only by what is assumed is listed, not passed."""
    context = car(tmp_path)
    assert told(context, "reservoir-small") == []
    assert unchecked(context, "reservoir-small") == [("reservoir-small", ("tank",), "parts.disc.displacement")]


def test_a_stated_displacement_is_not_assumed(tmp_path: Path) -> None:
    """With the displacement in the catalog pistons are not asked, and what is too small is an error."""
    context = car(tmp_path, style="displacement: 30 cm3", tank="20 cm3")
    assert told(context, "reservoir-small") == [
        ("reservoir-small", "error", "tank holds 20 cm3, the brakes take 30 cm3")
    ]
