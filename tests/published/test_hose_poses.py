"""Hoses in random positions against an outside reckoning: rotations and a rod solved numerically (both scipy)."""

import random
from itertools import product
from math import pi, radians
from typing import Any

import pytest

from fitcheck.making.make import sheets
from tests.making.benches import graph_of

BUILDS = 15
HOSE = "hose-braided-350-3-8-24-inverted-male-banjo-10mm"


def rod(integrate: Any, numpy: Any, share: float) -> tuple[float, float]:
    """Return the least radius and the sag of a rod of length 1 over a chord, hinged at both ends, by a general solver.

    The rod's equation, theta'' = -p sin theta (Euler 1744; from memory), p being unknown.
    """

    def slopes(_: Any, y: Any, p: Any) -> Any:
        return numpy.vstack([numpy.cos(y[2]), numpy.sin(y[2]), y[3], -p[0] * numpy.sin(y[2])])

    def ends(a: Any, b: Any, _: Any) -> Any:
        return numpy.array([a[0], a[1], a[3], b[0] - share, b[3]])

    s = numpy.linspace(0.0, 1.0, 201)
    slope = radians(100.0) * (1.0 - share**2)
    guess = [share * s, 0.3 * numpy.sin(pi * s), slope * numpy.cos(pi * s), -slope * pi * numpy.sin(pi * s)]
    found = integrate.solve_bvp(slopes, ends, s, numpy.array(guess), p=[9.0], tol=1e-8, max_nodes=20000)
    assert found.success
    return 1.0 / max(abs(found.sol(s)[3])), max(abs(found.sol(s)[1]))


@pytest.mark.slow
def test_random_positions_of_both_ends() -> None:
    """Chords of all combined positions by other rotations, and radius and sag by a numerical rod, agree to 1e-4."""
    numpy = pytest.importorskip("numpy", reason="numpy is not installed: no numerical rod to compare with")
    integrate = pytest.importorskip("scipy.integrate", reason="scipy is not installed: no numerical rod")
    transform = pytest.importorskip("scipy.spatial.transform", reason="scipy is not installed: no outside rotations")
    chance = random.Random(23)
    compared = 0
    for _ in range(BUILDS):
        ends = [[chance.uniform(-60.0, 60.0) + x for x in base] for base in ((0, 0, 300), (0, 200, 300))]
        shifts = [[chance.uniform(-40.0, 40.0) for _ in range(3)] for _ in range(2)]
        turn, axis = chance.uniform(5.0, 35.0), [chance.uniform(-1.0, 1.0) for _ in range(3)]
        point = [chance.uniform(-50.0, 50.0) + x for x in (0, 220, 300)]
        (made,) = sheets(graph_of(_build(ends, shifts, turn, axis, point)), ("jump",)).hoses
        unit = numpy.array(axis) / numpy.linalg.norm(axis)
        near = [numpy.array(ends[0]), numpy.array(ends[0]) + shifts[0]]
        far = []
        for angle, shift in product((0.0, turn, -turn), (numpy.zeros(3), numpy.array(shifts[1]))):
            turned = transform.Rotation.from_rotvec(radians(angle) * unit)
            far.append(turned.apply(numpy.array(ends[1]) - point) + point + shift)
        chords = sorted(float(numpy.linalg.norm(a - b)) for a, b in product(near, far))
        assert sorted(pose.chord_mm for pose in made.poses) == pytest.approx(chords, abs=1e-9)
        for pose in (made.near, made.far, made.poses[chance.randrange(len(made.poses))]):
            assert pose is not None
            if 0.05 < pose.chord_mm / 350.0 < 0.97:
                radius, sag = rod(integrate, numpy, pose.chord_mm / 350.0)
                assert (pose.radius_mm, pose.sag_mm) == pytest.approx((350.0 * radius, 350.0 * sag), rel=1e-4)
                compared += 1
    assert compared > BUILDS


def _build(
    ends: list[list[float]], shifts: list[list[float]], turn: float, axis: list[float], point: list[float]
) -> str:
    """Return a build with a hose between a body that shifts and one that shifts and turns."""
    about = f"{{turn: {turn:.12f} deg, about: {{point: {point}, axis: {axis}}}}}"
    return (
        f"bodies:\n  engine: {{poses: {{rock: {{shift: {shifts[0]}}}}}}}\n"
        f"  upright: {{poses: {{droop: {{shift: {shifts[1]}}}, lock: {about}}}}}\n"
        f"components:\n  tee: {{part: tee-3-16-inverted, on: engine, at: {ends[0]}}}\n"
        f"  caliper: {{part: caliper-m10x1-washer, on: upright, at: {ends[1]}}}\n"
        f"hoses:\n  jump: {{part: {HOSE}, from: tee.left, to: caliper.inlet}}\n"
    )
