"""Figures of bleeding: as printed, in working units, with their sources."""

import pytest

from fitcheck.standards.bleeding import UnknownBleedFigureError, bleed_figure, bleed_figures, duty, lining_wear


def test_figures_as_printed() -> None:
    """What the sources print comes out in working units: psi and bar as MPa, lbf as N, hours and minutes as s."""
    assert bleed_figure("pedal_test").value == pytest.approx(125 * 4.4482216152605)
    assert bleed_figure("pressure_bleeding_most").value == pytest.approx(0.24132, abs=1e-5)
    low, high = bleed_figure("low_test"), bleed_figure("high_test")
    assert (low.least, low.most, high.least, high.most) == pytest.approx((0.1, 0.3, 10.0, 15.0))
    assert (bleed_figure("high_hold").most, bleed_figure("low_hold").least) == (300.0, 28800.0)
    assert (bleed_figure("flush").low, bleed_figure("flush").value, bleed_figure("flush").high) == (2.0, 2.5, 3.0)


def test_every_figure_lies_in_its_range() -> None:
    """What is taken of a figure lies between its ends."""
    assert all(one.least <= one.value <= one.most for one in bleed_figures().values())


def test_wear_and_duty() -> None:
    """Discs and drums have an assumed wear, nothing else has; a track has a temperature, a road has none known."""
    worn = [found.mm if (found := lining_wear(kind)) else None for kind in ("caliper", "wheel cylinder", "hose")]
    assert worn == [9.0, 4.0, None]
    assert [duty(name) is not None for name in ("road", "track")] == [False, True]


def test_unknown_figure_is_refused_with_the_nearest() -> None:
    """A slip of the pen is told with what was probably meant."""
    with pytest.raises(UnknownBleedFigureError, match="nearest is 'high_test'"):
        bleed_figure("hihg_test")
