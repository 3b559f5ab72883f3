"""Things in `heat` that move: lines are kept away from them in every position of their bodies, by true distances."""

import random
from math import cos, dist, radians, sin
from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.curves import Arc, Piece, length_of, point_at
from fitcheck.build.load import load_document
from fitcheck.checks.context import Context
from fitcheck.sources import parse
from tests.checks.place.bench import CUNI, car, found, missing, said

LINE = f"{CUNI}, route: [{{at: [400, 0, 0], bend: 20 mm}}]"
SHAFT = "heat: {{shaft: {{path: [[-100, -120, {z}], [300, -120, {z}]], radius: 20 mm, clearance: 30 mm, on: {on}}}}}\n"
RISES = "bump: {shift: [0, 0, 60]}"
SWINGS = "lock: {turn: 25 deg, about: {point: [-100, -120, 0], axis: [0, 0, 1]}}"
STILL = "bodies: {axle: {poses: {bump: {shift: [0, 0, 60]}, droop: {shift: [0, 0, -80]}}}, engine: {}}"


def test_what_moves_towards_a_line_is_found_in_its_pose() -> None:
    """A shaft 50 mm beside the line and 60 below is far enough as drawn and too near in bump; one 200 below is not."""
    assert said(car(LINE, SHAFT.format(z=-200, on="axle")), "near-heat") == []
    (finding,) = found(car(LINE, SHAFT.format(z=-60, on="axle").replace("-120", "-50")), "near-heat")
    gap = 50.0 - 20.0 - 4.7625 / 2.0
    assert finding.level == "error"
    assert finding.message == f"run comes within {gap:.1f} mm of shaft in bump of axle: it needs 30 mm"
    assert finding.evidence["poses"] == (None, "bump")
    assert finding.evidence["gap_mm"] == pytest.approx(gap, abs=0.01)


def test_the_same_shaft_that_does_not_move_is_far_enough() -> None:
    """On the chassis it stays 60 mm below: nothing is found."""
    assert said(car(LINE, SHAFT.format(z=-60, on="chassis").replace("-120", "-50")), "near-heat") == []


def test_shift_and_turn_combine() -> None:
    """A shaft that has to rise and to swing to come near is found where it does both, not if it does one of them."""
    text = car(LINE, SHAFT.format(z=-60, on="axle"))
    (finding,) = found(
        text.replace(STILL, f"bodies: {{axle: {{poses: {{{RISES}, {SWINGS}}}}}, engine: {{}}}}"), "near-heat"
    )
    assert finding.message.startswith("run runs into shaft in bump and lock")
    for one in (RISES, SWINGS):
        assert said(text.replace(STILL, f"bodies: {{axle: {{poses: {{{one}}}}}, engine: {{}}}}"), "near-heat") == []


def test_a_moving_body_without_poses_is_not_passed() -> None:
    """Where nobody says how the engine moves, what is on it was not looked at wholly, and its field is named."""
    assert missing(car(LINE, SHAFT.format(z=-300, on="engine")), "near-heat") == [(("engine",), "bodies.engine.poses")]


def spots(piece: Piece) -> list[tuple[float, float, float]]:
    """Return points along a piece, 0.5 mm apart."""
    count = int(length_of(piece) / 0.5) + 1
    return [point_at(piece, index / count) for index in range(count + 1)]


def to_path(point: tuple[float, float, float], a: list[float], b: list[float]) -> float:
    """Return the distance of a point from a straight."""
    along = [q - p for p, q in zip(a, b, strict=True)]
    share = sum((x - p) * d for x, p, d in zip(point, a, along, strict=True)) / sum(d * d for d in along)
    share = min(max(share, 0.0), 1.0)
    return dist(point, [p + share * d for p, d in zip(a, along, strict=True)])


def moved(point: list[float], turn: float, shift: float) -> list[float]:
    """Return a point turned about the z axis through the origin [deg] and lifted [mm]."""
    c, s = cos(radians(turn)), sin(radians(turn))
    return [c * point[0] - s * point[1], s * point[0] + c * point[1], point[2] + shift]


def test_the_nearest_of_all_positions_is_that_of_points_along_the_tube() -> None:
    """For random shafts that rise and swing, the gap is that of the nearest point of the bent tube in any position."""
    chance = random.Random(11)
    seen = 0
    for _ in range(25):
        a, b = ([float(chance.randint(-400, 600)) for _ in range(3)] for _ in range(2))
        lift, turn = chance.randint(20, 120), chance.randint(5, 40)
        bodies = (
            f"bodies: {{axle: {{poses: {{bump: {{shift: [0, 0, {lift}]}}, lock: {{turn: {turn} deg, about: {{point:"
            " [0, 0, 0], axis: [0, 0, 1]}}}}, engine: {}}"
        )
        heat = f"heat: {{shaft: {{path: [{a}, {b}], radius: 20 mm, clearance: 250 mm, on: axle}}}}\n"
        text = car(LINE, heat).replace(STILL, bodies)
        run = Context(assemble(load_document(parse(text, "car.yaml"), Path()))).runs["run"]
        assert any(isinstance(piece, Arc) for piece in run.curve)
        tube = [point for piece in run.curve for point in spots(piece)]
        least = min(
            min(to_path(point, moved(a, angle, up), moved(b, angle, up)) for point in tube)
            for angle in (0.0, turn, -turn)
            for up in (0.0, lift)
        )
        gap = least - 20.0 - 4.7625 / 2.0
        findings = found(text, "near-heat")
        assert bool(findings) == (gap < 250.0)
        for finding in findings:
            seen += 1
            assert finding.evidence["gap_mm"] == pytest.approx(gap, abs=0.06)
    assert seen >= 10
