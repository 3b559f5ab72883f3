"""Flares: diameters, walls, and the tube that forming uses up."""

import math

import pytest

from fitcheck.standards.flares import (
    FLARE_NAMES,
    FlareSize,
    UnknownFlareError,
    allowance_mm,
    flare,
    flare_size,
    flare_sizes,
    flares,
    max_wall_mm,
)

SIZES = flare_sizes()
NAMES = [f"{size.flare} {size.od_mm:g}" for size in SIZES]


def test_the_words_in_the_code_are_those_of_the_table() -> None:
    """The tuple kept for speed and the table hold the same flares in the same order."""
    assert tuple(flares()) == FLARE_NAMES


@pytest.mark.parametrize("size", SIZES, ids=NAMES)
def test_a_size_agrees_with_itself(size: FlareSize) -> None:
    """A flare is wider than its tube, its least width no more than its greatest, its wall less than half the tube."""
    assert size.flare in FLARE_NAMES
    assert size.od_mm < size.diameter_min_mm <= size.diameter_max_mm < 2 * size.od_mm
    assert size.max_wall_mm is None or 0 < size.max_wall_mm < size.od_mm / 2
    assert size.allowance_mm is None or 0 < size.allowance_mm < size.od_mm


@pytest.mark.parametrize("name", FLARE_NAMES)
def test_sizes_grow_together(name: str) -> None:
    """Down a flare's rows the tube and the flare grow, and the thickest wall never shrinks."""
    sizes = [size for size in SIZES if size.flare == name]
    walls = [size.max_wall_mm for size in sizes if size.max_wall_mm is not None]
    assert sizes
    assert [size.od_mm for size in sizes] == sorted({size.od_mm for size in sizes})
    assert [size.diameter_min_mm for size in sizes] == sorted({size.diameter_min_mm for size in sizes})
    assert walls == sorted(walls)


def test_a_published_row_is_kept() -> None:
    """SAE J533 (2024), by a secondary summary, 3/16 in: double flare 6.7 to 7.1 mm, wall at most 0.71 mm."""
    size = flare_size("double-45", 3 / 16 * 25.4)
    assert size is not None
    assert (size.diameter_min_mm, size.diameter_max_mm, size.max_wall_mm) == (6.7, 7.1, 0.71)


def test_a_double_flare_is_wider_and_thinner_walled_than_a_single_one() -> None:
    """SAE J533 prints, size for size, a wider flare and a thinner wall for the double form."""
    for od in (3.18, 4.76, 6.35, 7.94):
        double, single = flare_size("double-45", od), flare_size("single-45", od)
        assert double is not None
        assert single is not None
        assert double.diameter_min_mm > single.diameter_max_mm
        assert (double.max_wall_mm or 0) < (single.max_wall_mm or 0)


@pytest.mark.parametrize(
    "size", [size for size in SIZES if size.flare.startswith("single") and size.allowance_mm], ids=str
)
def test_a_single_flare_uses_up_what_its_geometry_says(size: FlareSize) -> None:
    """Slope less height of a cone from tube to flare is half the growth times tan(angle / 2), to 0.06 mm."""
    angle = flare(size.flare).angle_deg
    assert angle is not None
    growth = ((size.diameter_min_mm + size.diameter_max_mm) / 2 - size.od_mm) / 2
    assert size.allowance_mm == pytest.approx(growth * math.tan(math.radians(angle) / 2), abs=0.06)


def test_an_allowance_comes_with_its_source() -> None:
    """A size's own figure goes before the flare's usual one, each with its own mark."""
    assert allowance_mm("double-45", 4.75) == (
        3.0,
        "SAE J533 (2024) by a secondary summary; derived (allowance)",
    )
    assert allowance_mm("bubble", 4.75).mm == 3.2
    assert allowance_mm("double-45", 20.0) == (3.5, flare("double-45").mark)


def test_the_thickest_wall_is_none_where_the_standard_is_silent() -> None:
    """3/16 in has a limit for double flares; bubbles, 37 degree flares and sizes off the table have none."""
    assert max_wall_mm("double-45", 4.75) == 0.71
    assert max_wall_mm("single-45", 7.9375) == 1.24
    assert max_wall_mm("bubble", 4.75) is None
    assert max_wall_mm("single-37", 4.7625) is None
    assert max_wall_mm("double-45", 6.0) is None


def test_an_unknown_flare_is_refused_with_the_nearest() -> None:
    """Every look-up refuses a word that is no flare."""
    for look in (
        lambda: flare("double45"),
        lambda: allowance_mm("double45", 5),
        lambda: max_wall_mm("double45", 5),
    ):
        with pytest.raises(UnknownFlareError) as caught:
            look()
        assert str(caught.value) == (
            "'double45' is no flare; nearest is 'double-45'; known: double-45, bubble, single-37, single-45"
        )
