"""What a slave cylinder does with the clutch pedal right down."""

from math import isclose, pi
from pathlib import Path

from fitcheck.hydraulics.clutch import clutches, resisted
from fitcheck.hydraulics.push import Lever, press
from fitcheck.hydraulics.stretch import stretch_mm3
from tests.hydraulics.plumbed import CATALOG, CLUTCH, read

MASTER, SLAVE = pi / 4.0 * 20.0**2, pi / 4.0 * 25.0**2


def test_travel_by_hand(tmp_path: Path) -> None:
    """The floor lets the piston go 23 mm; cut-off, give, stretch and squeeze at the clutch's pressure are lost."""
    (found,) = read(tmp_path, CLUTCH).moved("clutch").clutches
    pressure = 900.0 / SLAVE
    held = MASTER * 30.0 + pi / 4.0 * 3.35**2 * 1500.0 + 5000.0
    lost = MASTER * 1.0 + pressure * (10.0 + 10.0) + held * pressure / 1800.0
    lost += stretch_mm3(pressure, 3.35, 0.7, 1500.0, 205_000.0, 0.29)
    assert found.travel_mm is not None
    assert isclose(found.travel_mm, (MASTER * (120.0 - 5.0) / 5.0 - lost) / SLAVE, rel_tol=1e-9)
    assert found.force_n is not None
    assert isclose(found.force_n, 150.0 * 5.0 / MASTER * SLAVE, rel_tol=1e-9)
    assert (found.needs_force_n, found.needs_travel_mm, found.complete) == (900.0, 12.0, True)
    assert found.spread_mm is not None
    assert found.spread_mm[0] < found.travel_mm < found.spread_mm[1]


def test_the_stroke_ends_before_the_floor(tmp_path: Path) -> None:
    """A piston of 15 mm stroke goes no further, however far the pedal does."""
    catalog = CATALOG.replace("stroke: 30 mm", "stroke: 15 mm")
    (short,) = read(tmp_path, CLUTCH, catalog).moved("clutch").clutches
    (long,) = read(tmp_path, CLUTCH.replace("travel: 120 mm", "travel: 80 mm")).moved("clutch").clutches
    assert short.travel_mm is not None
    assert long.travel_mm is not None
    assert abs(short.travel_mm - long.travel_mm) < 0.05  # (80 - 5) / 5 is 15 too; only the fluid held differs


def test_the_clutch_sets_the_pressure(tmp_path: Path) -> None:
    """A push that could make more is resisted at what the clutch asks for; one that makes less stays as it is."""
    found = read(tmp_path, CLUTCH)
    hard = resisted(found.graph, found.found, press(300.0, "clutch", Lever(5.0), found.found))
    assert isclose(hard.pressures_mpa["mc.out"], 900.0 / SLAVE, rel_tol=1e-12)
    assert isclose(hard.at_mpa["slave"], 900.0 / SLAVE, rel_tol=1e-12)
    soft = resisted(found.graph, found.found, press(50.0, "clutch", Lever(5.0), found.found))
    assert isclose(soft.pressures_mpa["mc.out"], 250.0 / MASTER, rel_tol=1e-12)


def test_stroke_and_foot_take_what_the_clutch_needs(tmp_path: Path) -> None:
    """The clutch's stroke counts the slave's needed travel, and the foot's way follows from it."""
    moved = read(tmp_path, CLUTCH).moved("clutch")
    (one,) = moved.strokes
    assert isclose(next(take.mm3 for take in one.takes if take.cause == "travel"), 12.0 * SLAVE, rel_tol=1e-12)
    assert moved.travel is not None
    assert isclose(moved.travel.foot_mm, 5.0 * one.used_mm + 5.0, rel_tol=1e-12)


def test_a_silent_build_leaves_it_open(tmp_path: Path) -> None:
    """Without force the slave's is not known, but its travel; without stroke and floor not that either."""
    found = read(tmp_path, CLUTCH)
    (silent,) = clutches(found.graph, found.found, found.budgets(), None)
    assert silent.force_n is None
    assert silent.travel_mm is not None
    bare = CLUTCH.replace("travel: 120 mm, ", "")
    found = read(tmp_path, bare, CATALOG.replace("    stroke: 30 mm\n", ""))
    (bare_one,) = found.moved("clutch").clutches
    assert bare_one.travel_mm is None
    assert bare_one.spread_mm is None
