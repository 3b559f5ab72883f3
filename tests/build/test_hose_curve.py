"""The curve of least bending: closed form against tables, limits, and curves made otherwise."""

import random
from collections.abc import Callable, Iterator
from math import asin, cos, degrees, hypot, inf, pi, radians, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.build.hose_curve import (
    FOLDED,
    Curve,
    complete,
    free_curve,
    length_to_bend,
    length_to_reach,
    widest_radius_mm,
)

TIGHTEST_OF_CHORD = 0.3837934
"""Least radius over chord of any free curve: 1 over the greatest 4 k (2 E - K), by a general minimiser."""
PIECES = 400
lengths = st.floats(50.0, 2000.0)
shares = st.floats(0.0, 0.999)


def curve_of(length: float, chord: float) -> Curve:
    """Return the curve of least bending, which must exist."""
    curve = free_curve(length, chord)
    assert curve is not None
    return curve


@pytest.mark.parametrize(
    ("parameter", "whole", "second"),
    [(0.0, 1.570796327, 1.570796327), (0.25, 1.685750355, 1.467462209), (0.5, 1.854074677, 1.350643881)],
)
def test_elliptic_integrals_are_those_of_the_tables(parameter: float, whole: float, second: float) -> None:
    """K and E of m = k^2 as printed in handbooks of functions (Abramowitz and Stegun, table 17.1; from memory)."""
    found = complete(sqrt(parameter))
    assert found[:2] == pytest.approx((whole, second), abs=1e-9)
    assert found[2] == pytest.approx((whole - second) / whole, abs=1e-9)


def test_legendre_relation_holds() -> None:
    """K E' + K' E - K K' = pi / 2 for every modulus (Legendre; from memory)."""
    for number in range(1, 100):
        k = number / 100.0
        (a, b, _), (c, d, _) = complete(k), complete(sqrt(1.0 - k**2))
        assert a * d + c * b - a * c == pytest.approx(pi / 2.0, rel=1e-12)


def test_ends_that_meet_make_the_known_loop() -> None:
    """With both ends in one point the modulus is 0.90891, the end angle 130.7 degrees (from memory), 2 E = K."""
    curve = curve_of(100.0, 0.0)
    whole, second, _ = complete(FOLDED)
    assert curve.modulus == pytest.approx(0.9089086, abs=1e-7)
    assert degrees(2.0 * asin(curve.modulus)) == pytest.approx(130.7, abs=0.05)
    assert 2.0 * second == pytest.approx(whole, rel=1e-14)
    assert curve.radius_mm == pytest.approx(11.85, abs=0.005)


def test_half_a_circle_is_the_widest_over_its_chord() -> None:
    """A hose pi / 2 times its chord could lie as a half circle of half the chord; left free it bends tighter."""
    assert widest_radius_mm(50.0 * pi, 100.0) == pytest.approx(50.0, abs=1e-12)
    assert 38.3 < curve_of(50.0 * pi, 100.0).radius_mm < 38.5


@pytest.mark.parametrize("slack", [1e-10, 1e-8, 1e-6, 1e-4])
def test_hardly_any_slack_is_a_sine(slack: float) -> None:
    """Near straight the curve is half a sine wave: sag 2 c sqrt(s) / pi, radius c / (2 pi sqrt(s)) (derived)."""
    curve = curve_of(1000.0, 1000.0 * (1.0 - slack))
    assert curve.radius_mm == pytest.approx(1000.0 / (2.0 * pi * sqrt(slack)), rel=max(2.0 * slack, 1e-5))
    assert curve.sag_mm == pytest.approx(2.0 * 1000.0 * sqrt(slack) / pi, rel=max(2.0 * slack, 1e-5))
    arc = 1000.0 / sqrt(24.0 * slack)  # an arc of slack s: s = x^2 / 6, R = L / (2 x)
    assert widest_radius_mm(1000.0, 1000.0 * (1.0 - slack)) == pytest.approx(arc, rel=max(2.0 * slack, 1e-5))


def test_straight_and_too_short() -> None:
    """A hose as long as its chord is straight; one that is shorter, endless or nothing has no curve."""
    assert curve_of(100.0, 100.0) == Curve(100.0, 100.0, 0.0)
    assert (curve_of(100.0, 100.0).radius_mm, curve_of(100.0, 100.0).sag_mm) == (inf, 0.0)
    assert widest_radius_mm(100.0, 100.0) == inf
    assert free_curve(100.0, 100.1) is None
    assert free_curve(inf, 100.0) is None
    assert free_curve(0.0, 0.0) is None


def followed(curve: Curve) -> tuple[float, float, float]:
    """Return half the chord, the sag and the curvature at the end, by following the hose from its middle.

    The rod's own equation, theta'' = -(2 K / L)^2 sin theta, in small steps (Runge and Kutta), from no angle and the
    greatest curvature.
    """
    steps = 2000
    h = curve.length_mm / 2.0 / steps
    stiff = (2.0 * complete(curve.modulus)[0] / curve.length_mm) ** 2

    def slope(state: tuple[float, ...]) -> tuple[float, ...]:
        _, _, angle, bend = state
        return cos(angle), sin(angle), bend, -stiff * sin(angle)

    def moved(state: tuple[float, ...], by: tuple[float, ...], step: float) -> tuple[float, ...]:
        return tuple(a + step * b for a, b in zip(state, by, strict=True))

    state: tuple[float, ...] = (0.0, 0.0, 0.0, 1.0 / curve.radius_mm)
    for _ in range(steps):
        k1 = slope(state)
        k2 = slope(moved(state, k1, h / 2.0))
        k3 = slope(moved(state, k2, h / 2.0))
        k4 = slope(moved(state, k3, h))
        mean = tuple((a + 2 * b + 2 * c + d) / 6.0 for a, b, c, d in zip(k1, k2, k3, k4, strict=True))
        state = moved(state, mean, h)
    return state[0], state[1], state[3]


@pytest.mark.parametrize("share", [0.0, 0.1, 0.35, 0.6, 0.8, 0.95, 0.999])
def test_closed_form_obeys_the_rod_equation(share: float) -> None:
    """Followed step by step from its middle, the hose ends half a chord and one sag away, and unbent there."""
    curve = curve_of(300.0, 300.0 * share)
    half, sag, bend = followed(curve)
    assert (half, sag) == pytest.approx((150.0 * share, curve.sag_mm), abs=1e-6)
    assert bend * curve.radius_mm == pytest.approx(0.0, abs=1e-8)


def other_curves(length: float, chord: float, count: int) -> Iterator[tuple[float, float]]:
    """Yield bending and greatest curvature of random curves of one length and chord.

    The angle along each is a random sum of waves, made so large that the ends are the chord apart.
    """
    chance = random.Random(17)
    for _ in range(count):
        waves = [chance.gauss(0.0, 1.0) / number for number in range(1, 6)]
        turn = chance.uniform(-3.0, 3.0)
        at = [(index + 0.5) / PIECES for index in range(PIECES)]
        angle = [turn * s + sum(a * cos(n * pi * s) for n, a in enumerate(waves, 1)) for s in at]
        bend = [turn - sum(n * pi * a * sin(n * pi * s) for n, a in enumerate(waves, 1)) for s in at]
        size = _first_size(lambda size, angle=angle: _apart(angle, size) * length / PIECES, chord)
        if size is not None:
            bends = [size * value / length for value in bend]
            yield 0.5 * sum(value**2 for value in bends) * length / PIECES, max(map(abs, bends))


def _apart(angle: list[float], size: float) -> float:
    return hypot(sum(cos(size * value) for value in angle), sum(sin(size * value) for value in angle))


def _first_size(chord_of: Callable[[float], float], chord: float) -> float | None:
    size = next((step / 20.0 for step in range(1, 400) if chord_of(step / 20.0) < chord), None)
    if size is None:
        return None
    low, high = size - 0.05, size
    for _ in range(50):
        middle = (low + high) / 2.0
        low, high = (middle, high) if chord_of(middle) > chord else (low, middle)
    return high


def bending_per_mm(curve: Curve) -> float:
    """Return half the integral of the curvature squared along a hose [1/mm]: what the free curve has least of."""
    whole, second, _ = complete(curve.modulus)
    return 8.0 * whole * (second - (1.0 - curve.modulus**2) * whole) / curve.length_mm


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8, 0.95])
def test_no_other_curve_bends_less(share: float) -> None:
    """The closed form has less bending than the arc of a circle and than any of 100 random curves."""
    least = bending_per_mm(curve_of(300.0, 300.0 * share))
    arc = widest_radius_mm(300.0, 300.0 * share)
    assert least < 0.5 * 300.0 / arc**2
    others = list(other_curves(300.0, 300.0 * share, 100))
    assert len(others) > 50
    assert min(bending for bending, _ in others) > least * (1.0 - 1e-4)


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8, 0.95])
def test_no_other_curve_is_wider_than_the_arc(share: float) -> None:
    """Every curve of one length and chord bends as tight as the arc of a circle somewhere, the free one too."""
    arc = widest_radius_mm(300.0, 300.0 * share)
    assert curve_of(300.0, 300.0 * share).radius_mm < arc
    assert min(bend for _, bend in other_curves(300.0, 300.0 * share, 100)) > (1.0 - 1e-3) / arc


@given(lengths, shares, shares)
@settings(derandomize=True, database=None, deadline=None)
def test_radius_grows_with_the_chord(length: float, one: float, other: float) -> None:
    """For one hose the nearest position of its ends is the tightest: no other position need be looked at."""
    near, far = sorted((one, other))
    assert curve_of(length, length * near).radius_mm <= curve_of(length, length * far).radius_mm * (1.0 + 1e-9)


@given(lengths, shares)
@settings(derandomize=True, database=None, deadline=None)
def test_radius_is_never_under_0_384_of_the_chord(length: float, share: float) -> None:
    """Whatever its length, a free hose never bends tighter than 0.38379 of its chord."""
    assert curve_of(length, length * share).radius_mm >= TIGHTEST_OF_CHORD * length * share


@given(st.floats(0.0, 500.0), st.floats(5.0, 200.0), st.floats(1.0, 1.5))
@settings(derandomize=True, database=None, deadline=None)
def test_length_to_bend_is_enough_and_no_more(chord: float, radius: float, more: float) -> None:
    """The length found keeps to the radius; it is the least asked for, or the radius is met with nothing to spare."""
    least = max(chord * more, 10.0)
    length = length_to_bend(chord, radius, least)
    found = curve_of(length, chord).radius_mm
    assert length >= least
    assert found >= radius * (1.0 - 1e-9)
    assert (
        length == least
        or found == pytest.approx(radius, rel=1e-6)
        or found == pytest.approx(TIGHTEST_OF_CHORD * chord, rel=1e-6)
    )


def test_length_to_reach_leaves_its_slack() -> None:
    """A length with 5 % slack over 190 mm is 200 mm."""
    assert length_to_reach(190.0, 0.05) == pytest.approx(200.0)


@pytest.mark.slow
def test_closed_form_is_that_of_a_numerical_rod() -> None:
    """At random lengths and chords a general solver of boundary values finds the same rod: load, radius and sag."""
    numpy = pytest.importorskip("numpy", reason="numpy is not installed: no numerical rod to compare with")
    integrate = pytest.importorskip(
        "scipy.integrate", reason="scipy is not installed: no numerical rod to compare with"
    )
    chance = random.Random(5)
    for _ in range(40):
        length, share = chance.uniform(150.0, 600.0), chance.uniform(0.05, 0.97)
        curve = curve_of(length, share * length)

        def rod(s, y, p):  # type: ignore[no-untyped-def]
            return numpy.vstack([numpy.cos(y[2]), numpy.sin(y[2]), y[3], -p[0] * numpy.sin(y[2])])

        def ends(a, b, p, share=share):  # type: ignore[no-untyped-def]
            return numpy.array([a[0], a[1], a[3], b[0] - share, b[3]])

        s = numpy.linspace(0.0, 1.0, 201)
        slope = radians(100.0) * (1.0 - share**2)
        guess = [share * s, 0.3 * numpy.sin(pi * s), slope * numpy.cos(pi * s), -slope * pi * numpy.sin(pi * s)]
        found = integrate.solve_bvp(rod, ends, s, numpy.array(guess), p=[9.0], tol=1e-8, max_nodes=20000)
        assert found.success
        assert length / max(abs(found.sol(s)[3])) == pytest.approx(curve.radius_mm, rel=1e-4)
        assert max(abs(found.sol(s)[1])) * length == pytest.approx(curve.sag_mm, rel=1e-4)
        assert found.p[0] == pytest.approx((2.0 * complete(curve.modulus)[0]) ** 2, rel=1e-5)
