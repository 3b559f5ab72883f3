"""Ring heads of spanners against the print, and what lies between the printed sizes."""

import pytest

from fitcheck.standards.spanners import CORNERS, ring_head, rings, room_beside

INCH = 25.4
PRINTED = [(7 / 16, 0.695), (1 / 2, 0.775), (9 / 16, 0.868), (5 / 8, 0.946), (11 / 16, 1.025), (3 / 4, 1.125)]
"""A-A-1346A (US commercial item description, box wrenches), 3.2: opening and largest outside diameter of head [in]."""


@pytest.mark.parametrize(("flats", "head"), PRINTED)
def test_printed_heads(flats: float, head: float) -> None:
    """Each printed head comes out as printed."""
    found = ring_head(flats * INCH)
    assert found.head_mm == pytest.approx(head * INCH)
    assert not found.mark.startswith("derived")


def test_heads_between_and_beyond() -> None:
    """Between two printed sizes lies the line through them; beyond, the nearest line goes on, and both say so."""
    between = ring_head(12.0)
    assert rings()[0].head_mm < between.head_mm < rings()[1].head_mm
    assert between.mark.startswith("derived (on the line through 11.11 and 12.7 mm); A-A-1346A")
    # from 7/16 to 1/2 in: 0.08 in of head for 1/16 in of flats
    assert ring_head(3 / 8 * INCH).head_mm == pytest.approx((0.695 - 0.08) * INCH)
    assert ring_head(7 / 8 * INCH).head_mm == pytest.approx((1.125 + 0.2) * INCH)


def test_a_larger_nut_needs_a_larger_head() -> None:
    """The heads grow with the nuts over all sizes that are met."""
    heads = [ring_head(flats / 2).head_mm for flats in range(16, 60)]
    assert heads == sorted(heads)
    assert all(head > flats / 2 * CORNERS for flats, head in zip(range(16, 60), heads, strict=True))


def test_room_is_half_of_both() -> None:
    """Half the head of the one and half the width of the other."""
    assert room_beside(0.5 * INCH, 10.0) == pytest.approx((0.775 * INCH + 10.0) / 2.0)
