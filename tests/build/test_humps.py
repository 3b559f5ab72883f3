"""How much of a line lies above a height: worked by hand on straights, arcs and U-bends."""

from math import acos, asin, pi

import pytest

from fitcheck.build.curves import Arc, Straight, length_of
from fitcheck.build.humps import length_above, slopes
from tests.build.bent import centre_line, volume_above

HOOP = Arc((0.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0), 20.0, pi)
"""Half a circle that stands on its two ends."""


def test_an_arc_over_its_top_is_two_slopes() -> None:
    """An arch is cut at its highest point, so that each part only climbs or only falls."""
    left, right = slopes((HOOP,))
    assert [length_of(piece) for piece in (left, right)] == pytest.approx([10.0 * pi, 10.0 * pi])


def test_a_level_arc_is_one_slope() -> None:
    """An arc that lies flat has no highest point and stays whole."""
    flat = Arc((0.0, 0.0, 5.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), 20.0, pi)
    assert list(slopes((flat,))) == [flat]
    assert length_above(flat, 4.0) == pytest.approx(20.0 * pi)
    assert length_above(flat, 6.0) == 0.0


@pytest.mark.parametrize(("level", "turn"), [(0.0, pi), (10.0, 2.0 * acos(0.5)), (20.0, 0.0), (-5.0, pi)])
def test_length_of_an_arch_above_a_height(level: float, turn: float) -> None:
    """Of a standing half circle the part above a height is R times twice the angle whose cosine is height / R."""
    assert sum(length_above(piece, level) for piece in slopes((HOOP,))) == pytest.approx(20.0 * turn)


def test_a_straight_counts_by_its_share() -> None:
    """Of a straight that climbs or falls the upper part counts; of a level one all or nothing."""
    up, down = Straight((0, 0, 0), (30, 0, 40)), Straight((30, 0, 40), (0, 0, 0))
    assert [length_above(piece, 10.0) for piece in (up, down)] == pytest.approx([37.5, 37.5])
    level = Straight((0, 0, 5), (10, 0, 5))
    assert (length_above(level, 4.9), length_above(level, 5.0)) == (10.0, 0.0)


def test_volume_of_a_bent_hump() -> None:
    """Up, over and down with 90 degree bends: the level run, and of each bend what is above its middle."""
    curve = centre_line([(0, 0, 0), (0, 0, 100), (200, 0, 100), (200, 0, 0)], [20.0, 20.0])
    above = 200.0 - 40.0 + 2.0 * 20.0 * (pi / 2.0 - asin(0.5))
    assert volume_above(curve, 90.0, 3.34) == pytest.approx(pi / 4.0 * 3.34**2 * above)
