"""The outline of a hose: points of the curve of least bending, from end to end."""

from itertools import pairwise
from math import atan2, dist, sin, sqrt

import pytest

from fitcheck.build.hose_curve import Curve, complete, free_curve, outline

SHARES = [0.0, 0.02, 0.35, 0.6, 0.9, 0.999]


def curve_of(share: float) -> Curve:
    """Return the curve of a hose of 300 mm over a share of its length."""
    curve = free_curve(300.0, 300.0 * share)
    assert curve is not None
    return curve


@pytest.mark.parametrize("share", SHARES)
def test_outline_has_the_curves_figures(share: float) -> None:
    """It goes from end to end, is as long as the hose, as deep as its sag, and lies alike on both sides."""
    curve = curve_of(share)
    points = outline(curve, 400)
    assert points[0] == pytest.approx((0.0, 0.0), abs=1e-5)
    assert points[-1] == pytest.approx((curve.chord_mm, 0.0), abs=1e-5)
    assert points[200] == pytest.approx((curve.chord_mm / 2.0, curve.sag_mm), abs=1e-5)
    assert max(y for _, y in points) == points[200][1]
    assert sum(dist(a, b) for a, b in pairwise(points)) == pytest.approx(300.0, rel=1e-4)
    for (x, y), (other_x, other_y) in zip(points, points[::-1], strict=True):
        assert (curve.chord_mm - other_x, other_y) == pytest.approx((x, y), abs=1e-9)


@pytest.mark.parametrize("share", SHARES)
def test_outline_bends_as_tight_as_told(share: float) -> None:
    """The circle through the three points in the middle has the smallest radius."""
    curve = curve_of(share)
    points = outline(curve, 400)
    a, b, c = points[199:202]
    area = abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / 2.0
    assert dist(a, b) * dist(b, c) * dist(c, a) / (4.0 * area) == pytest.approx(curve.radius_mm, rel=1e-3)


@pytest.mark.parametrize("share", SHARES)
def test_outline_is_that_of_the_elliptic_functions(share: float) -> None:
    """Point by point y = (2 k / w) cn(w s) and x = (2 / w) E(am(w s)) - s, with w = 2 K / length.

    sn and cn are scipy's; E is integrated, since scipy's own (1.17) is wrong by 0.39 at E(0.98186, 0.001).
    """
    special = pytest.importorskip("scipy.special", reason="scipy is not installed: no elliptic functions to compare")
    integrate = pytest.importorskip("scipy.integrate", reason="scipy is not installed: nothing to integrate with")
    curve = curve_of(share)
    k, w = curve.modulus, 2.0 * complete(curve.modulus)[0] / curve.length_mm
    for index, (x, y) in enumerate(outline(curve, 64)):
        s = (index / 64.0 - 0.5) * curve.length_mm
        sn, cn, _, _ = special.ellipj(w * s, k**2)
        second, _ = integrate.quad(lambda angle: sqrt(1.0 - (k * sin(angle)) ** 2), 0.0, atan2(sn, cn))
        assert (x, y) == pytest.approx((2.0 / w * second - s + curve.chord_mm / 2.0, 2.0 * k / w * cn), abs=3e-5)
