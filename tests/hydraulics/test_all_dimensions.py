"""No public formula of hydraulics is without a check of its dimensions by pint."""

import ast
import re
from pathlib import Path
from typing import Any

import pytest
from pint import UnitRegistry

from fitcheck.hydraulics import car, flow

HERE = Path(__file__).parent
HOUSE = HERE.parents[1] / "fitcheck"
NUMBERS = {"float", "float | None", "int"}
NO_FORMULA = {"sure", "within", "strokes"}
"""A sure amount, a bound of a range and a count of whole strokes: nothing is converted in them."""
ureg: Any = UnitRegistry()


def formulas() -> set[str]:
    """Return the public functions of hydraulics and of tube ratings that take numbers alone."""
    files = [*(HOUSE / "hydraulics").glob("*.py"), HOUSE / "standards" / "tube_rating.py"]
    return {
        one.name
        for file in files
        for one in ast.parse(file.read_text(encoding="utf-8")).body
        if isinstance(one, ast.FunctionDef) and not one.name.startswith("_") and one.args.args
        if all(ast.unparse(each.annotation) in NUMBERS for each in one.args.args if each.annotation is not None)
    }


def test_every_formula_is_looked_at() -> None:
    """Each stands in a test that uses pint."""
    texts = [path.read_text(encoding="utf-8") for path in HERE.parent.rglob("*.py")]
    told = "\n".join(text for text in texts if "from pint import" in text or "import pint" in text)
    assert {name for name in formulas() if not re.search(rf"\.{name}\b|\b{name}\(", told)} <= NO_FORMULA


def test_ideal_share_by_moments() -> None:
    """Heights and lengths in any unit: (b + z h) / L of pint's own lengths is what the shares give."""
    behind, height, base = ureg("45 in"), ureg("440 mm"), ureg("2.33 m")
    share = ((behind + 0.6 * height) / base).to("").m
    found = car.ideal_front_share((behind / base).to("").m, (height / base).to("").m, 0.6)
    assert found == pytest.approx(share)


def test_resistance_of_a_line() -> None:
    """The law of Hagen and Poiseuille in pint's units: 3 m of 3.34 mm bore, 15 mm2/s at 1060 kg/m3."""
    thick = ureg("15 mm^2/s") * ureg("1060 kg/m^3")
    by_pint = 128 * thick * ureg("3 m") / (3.141592653589793 * ureg("3.34 mm") ** 4)
    assert flow.resistance(3000.0, 3.34, 15.0, 1060.0) == pytest.approx(by_pint.to("MPa s/mm^3").m)
