"""The words for one thing that a replacement does otherwise, with units."""

import pytest

from fitcheck.measures import Units
from fitcheck.quantities import parse
from fitcheck.reports.replacements_text import _difference


@pytest.mark.parametrize(
    ("field", "now", "then", "told"),
    [
        ("bore", 16.0, 19.0, "bore 16 mm -> 19 mm, +41.0% area"),
        ("bore", None, 19.0, "bore not stated -> 19 mm"),
        ("pistons", (parse("44 mm", "length"), 44.0), (38.0,), "pistons 44 mm and 44 mm -> 38 mm"),
        ("piston_area", 1520.53, 1134.11, "piston area 1521 mm2 -> 1134 mm2"),
        ("chambers", (14.0, 18.0), None, "chambers 14 mm and 18 mm -> not stated"),
        ("cut_off", 1.0, 1.2, "cut off 1 mm -> 1.2 mm"),
        ("give", 90.0, 120.0, "give 9 mm3/bar -> 12 mm3/bar"),
        ("burst", 50.0, 40.0, "burst 50 MPa -> 40 MPa"),
        ("slope", 0.4, 0.3, "slope 0.4 -> 0.3"),
        ("style", "fixed", "floating", "style fixed -> floating"),
        ("expansion", ((7.0, 1.5), (10.0, 2.0)), None, "expansion 1.5 cm3/m at 7 MPa, 2 cm3/m at 10 MPa -> not stated"),
        ("rubber", ("EPDM", "PTFE"), ("EPDM",), "rubber EPDM, PTFE -> EPDM"),
    ],
)
def test_each_figure_has_its_unit(field: str, now: object, then: object, told: str) -> None:
    """Both values stand with the unit they are measured in; a bore says what it does to the area."""
    assert _difference(Units(), field, now, then) == told
