"""Shear areas, stress areas and lengths of engagement against print and against an independent package."""

import doctest
from math import pi
from typing import Any

import pytest
import screw_thread_lib.data as reference
from screw_thread_lib.threads import Assembly

from fitcheck.standards.threads import limits, parse, strength
from fitcheck.standards.threads.strength import (
    engagement_for_load,
    external_strip_area,
    internal_strip_area,
    strip_areas,
)

INCH = 25.4

# A handbook on bolted joints (4th edition), table of metric thread stress and shear areas, mm2: bolt
# strip area over one diameter of engagement, 6g in 6H and 4g6g in 6H; nut strip area. Printed to five figures.
METRIC_AREAS = {
    "M5x0.8": (35.366, 37.085, 49.994),
    "M6x1": (51.875, 54.174, 73.145),
    "M8x1.25": (97.290, 100.74, 134.63),
    "M10x1.5": (155.80, 160.73, 214.77),
    "M12x1.75": (227.72, 234.86, 313.41),
    "M14x2": (313.94, 323.24, 434.47),
    "M16x2": (417.55, 429.92, 569.12),
    "M20x2.5": (665.58, 682.06, 907.76),
    "M24x3": (971.10, 994.23, 1320.2),
    "M30x3.5": (1549.2, 1582.5, 2086.5),
    "M36x4": (2271.5, 2315.8, 3026.2),
}

# ASME B1.1 table of the fine series: tensile stress area, square inches.
PACKAGE = reference.ASME_UN_2A2B_dict | reference.ASME_M_6g6H_dict

# Threads of the package that have a limit of size other than ours (see tests/published).
ODD = {"10-24", "1-8", "M12-1.75"}


@pytest.mark.parametrize(("name", "printed"), METRIC_AREAS.items())
def test_metric_areas_as_printed(name: str, printed: tuple[float, float, float]) -> None:
    """From our limits of size both strip areas equal the handbook's to 0.1 %."""
    thread = parse(name)
    usual, fine = limits(thread), limits(parse(f"{name}-4g6g"))
    over = thread.nominal_mm
    found = (
        strip_areas(usual.external, usual.internal, over)[0],
        strip_areas(fine.external, fine.internal, over)[0],
        strip_areas(usual.external, usual.internal, over)[1],
    )
    assert found == pytest.approx(printed, rel=0.001)


def package(name: str, **strengths: float) -> Any:
    """Return the independent package's record of a thread; inches."""
    return Assembly(PACKAGE[name], **strengths)


@pytest.mark.parametrize("name", PACKAGE)
def test_formulas_are_the_packages(name: str) -> None:
    """From the package's own limits both strip areas are the package's to nine figures."""
    row, theirs = PACKAGE[name], package(name)
    pitch = 1.0 / row["n"]
    assert external_strip_area(1.0, pitch, row["D1max"], row["d2min"]) == pytest.approx(theirs.ASs_min_FEDSTD_4a())
    assert internal_strip_area(1.0, pitch, row["dmin"], row["D2max"]) == pytest.approx(theirs.ASn_min_FEDSTD_2a())


@pytest.mark.parametrize("name", [name for name in PACKAGE if name not in ODD])
def test_areas_from_our_limits_are_the_packages(name: str) -> None:
    """From our limits of size both strip areas differ by at most 0.03 %."""
    ours, theirs = limits(parse(name)), package(name, UTSs=100.0, UTSn=100.0)
    external_area, internal_area = strip_areas(ours.external, ours.internal, INCH)
    assert external_area / INCH**2 == pytest.approx(theirs.ASs_min_FEDSTD_4a(), rel=3e-4)
    assert internal_area / INCH**2 == pytest.approx(theirs.ASn_min_FEDSTD_2a(), rel=3e-4)


def test_simplified_formulas_of_the_federal_standard_are_near() -> None:
    """Formulas (3) and (5), pi D2 3/4 LE and pi d2 5/8 LE, lie within a sixth of the full ones for UNF."""
    for name in ("3/8-24 UNF", "7/16-20 UNF", "1/2-20 UNF"):
        found = limits(parse(name))
        external_area, internal_area = strip_areas(found.external, found.internal, 1.0)
        assert external_area == pytest.approx(pi * found.external.basic_pitch_mm * 5 / 8, rel=1 / 6)
        assert internal_area == pytest.approx(pi * found.internal.basic_pitch_mm * 3 / 4, rel=1 / 6)


def test_engagement_for_a_load() -> None:
    """A load that one millimetre of the weaker member just carries needs one millimetre, twice as much needs two."""
    found = limits(parse("M10x1"))
    # pi 9.153 [0.5 + tan 30 (9.212 - 9.153)] = 15.36 and pi 9.794 [0.5 + tan 30 (9.794 - 9.5)] = 20.61 mm2 a mm
    load = 15.36 * 145.0
    assert engagement_for_load(found.external, found.internal, load, 290.0, 290.0) == pytest.approx(1.0, abs=0.001)
    assert engagement_for_load(found.external, found.internal, 2 * load, 290.0, 290.0) == pytest.approx(2.0, abs=0.002)
    weak = engagement_for_load(found.external, found.internal, 20.61 * 50.0, 290.0, 100.0)
    assert weak == pytest.approx(1.0, abs=0.001)


def test_nothing_left_to_shear_is_no_area() -> None:
    """Where the ridge is cut away altogether the area is nothing, never negative."""
    assert external_strip_area(10.0, 1.0, 12.0, 9.0) == 0.0
    assert internal_strip_area(10.0, 1.0, 9.0, 12.0) == 0.0


def test_worked_examples() -> None:
    """The worked example in each docstring holds."""
    ran = doctest.testmod(strength)
    assert (ran.failed, ran.attempted) == (0, 2)
