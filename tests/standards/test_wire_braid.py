"""The bend radii of wire-braided hose."""

import pytest

from fitcheck.standards.hoses import wire_braid

PUBLISHED_IN = {1 / 8: 3.0, 3 / 16: 3.0, 1 / 4: 3.38, 5 / 16: 4.0, 13 / 32: 4.63, 1 / 2: 5.5, 5 / 8: 6.5, 7 / 8: 7.38}


@pytest.mark.parametrize(("bore", "radius"), PUBLISHED_IN.items())
def test_published_bend_radii_are_kept(bore: float, radius: float) -> None:
    """AC 43.13-1B, table 9-3, single wire braid to MIL-H-8794, in inches; bores of the dash sizes from memory."""
    found = wire_braid(bore * 25.4)
    assert found is not None
    assert found.bend_radius_mm == pytest.approx(radius * 25.4)
    assert found.bore_mm == pytest.approx(bore * 25.4)


def test_a_bore_between_the_sizes_has_none() -> None:
    """3.2 mm counts as 1/8 in; 3.6 mm is no size of the table, and nothing is made up for it."""
    near = wire_braid(3.2)
    assert near is not None
    assert near.size == "-3"
    assert wire_braid(3.6) is None
