"""What must grow grows, and every formula has the dimension it says."""

from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st
from pint import UnitRegistry

from fitcheck.hydraulics import air, compress, cylinders, flow, stretch, stroke, travel
from fitcheck.hydraulics.displacement import Displacement
from tests.hydraulics.plumbed import CATALOG, TRAILER, read

BRIEF = settings(max_examples=15, deadline=None, derandomize=True)
SIZES = st.floats(50.0, 3000.0)
FORCES = st.floats(10.0, 900.0)


def moved(foot_n: float = 400.0, **changes: str) -> Displacement:
    """Return what the trailer's pedal moves with texts changed: `LENGTH`, `HOSE`, `BORE`."""
    text, catalog = TRAILER, CATALOG
    if "line" in changes:
        text = text.replace("length: 2000 mm", f"length: {changes['line']}")
    if "hose" in changes:
        catalog = catalog.replace("length: 300 mm", f"length: {changes['hose']}")
    if "bore" in changes:
        catalog = catalog.replace("bore: 20 mm", f"bore: {changes['bore']}")
    with TemporaryDirectory() as folder:
        return read(Path(folder), text, catalog).moved(foot_n=foot_n)


def foot(found: Displacement) -> tuple[float, float, float]:
    """Return the foot's way and its range."""
    assert found.travel is not None
    return found.travel.foot_mm, *found.travel.spread_mm


@BRIEF
@given(short=SIZES, more=st.floats(1.0, 1000.0))
def test_longer_lines_and_hoses_take_more(short: float, more: float) -> None:
    """A longer hose and a longer line make the foot go further, in the answer and at both ends of its range."""
    for what in ("hose", "line"):
        before, after = (foot(moved(**{what: f"{length:.3f} mm"})) for length in (short, short + more))
        assert all(a < b for a, b in zip(before, after, strict=True))
    hose, line = (foot(moved(**{what: f"{short + more:.3f} mm"})) for what in ("hose", "line"))
    same = foot(moved(line=f"{short + more:.3f} mm", hose="300 mm"))
    assert line == same
    assert hose != line


@BRIEF
@given(bore=st.floats(12.0, 30.0), more=st.floats(0.5, 10.0))
def test_a_bigger_bore_makes_less_pressure_and_less_stroke(bore: float, more: float) -> None:
    """Bigger bore, less pressure and less stroke for the same push; smaller bore, more of both."""
    small, big = (moved(bore=f"{each:.3f} mm").strokes[0] for each in (bore, bore + more))
    assert big.pressure_mpa < small.pressure_mpa
    assert big.used_mm < small.used_mm


@BRIEF
@given(force=FORCES, more=st.floats(1.0, 500.0))
def test_more_force_more_travel(force: float, more: float) -> None:
    """A harder push makes more pressure and takes the foot further."""
    soft, hard = moved(force), moved(force + more)
    assert soft.strokes[0].pressure_mpa < hard.strokes[0].pressure_mpa
    assert all(a < b for a, b in zip(foot(soft), foot(hard), strict=True))


@given(less=st.floats(0.0, 5000.0), more=st.floats(0.1, 5000.0), pressure=st.floats(0.01, 20.0))
def test_more_air_takes_more(less: float, more: float, pressure: float) -> None:
    """More free air loses more, more at more pressure, and never more than all of it."""
    assert air.lost_mm3(less, pressure) < air.lost_mm3(less + more, pressure) < less + more
    assert air.lost_mm3(more, pressure) < air.lost_mm3(more, pressure + 0.5)


UNITS = UnitRegistry()
MM, MPA, MM3 = UNITS.mm, UNITS.MPa, UNITS.mm**3


def test_every_formula_has_its_dimension() -> None:
    """Run with pint's quantities in mixed units, each function gives its dimension, and the number of plain ones."""
    bar, cm = UNITS.bar, UNITS.cm
    lengths = {
        stroke.stroke_mm(2.0 * cm**3, 200.0 * MM**2): stroke.stroke_mm(2000.0, 200.0),
        travel.foot_mm(2.0 * cm, 5.0, 3.0 * MM): travel.foot_mm(20.0, 5.0, 3.0),
    }
    volumes = {
        compress.squeeze_mm3(10.0 * cm**3, 100.0 * bar, 1.8 * UNITS.GPa): compress.squeeze_mm3(10e3, 10.0, 1800.0),
        air.lost_mm3(1.0 * cm**3, 10.0 * MPA, 1.0, 1.01325 * bar): air.lost_mm3(1000.0, 10.0),
        cylinders.gap_mm3(20.0 * cm**2, 0.1 * MM): cylinders.gap_mm3(2000.0, 0.1),
        stretch.stretch_mm3(100 * bar, 0.334 * cm, 0.71 * MM, 1 * UNITS.m, 205 * UNITS.GPa, 0.29): stretch.stretch_mm3(
            10.0, 3.34, 0.71, 1000.0, 205e3, 0.29
        ),
    }
    pressures = {
        stretch.thick_stress(100 * bar, 0.4 * UNITS.m, 600 * MM, 50 * cm).hoop: (
            stretch.thick_stress(10.0, 400.0, 600.0, 500.0).hoop
        ),
    }
    plain = {
        stretch.thick_strain(100 * bar, 3 * MM, 0.5 * cm, 205 * UNITS.GPa, 0.3).volume: (
            stretch.thick_strain(10.0, 3.0, 5.0, 205e3, 0.3).volume
        ),
    }
    for found, unit in ((lengths, MM), (volumes, MM3), (pressures, MPA), (plain, UNITS.dimensionless)):
        for quantity, number in found.items():
            assert abs(quantity.to(unit).magnitude / number - 1.0) < 1e-12


def test_flow_in_units_of_its_own() -> None:
    """Where density comes in, pint works the same formulas out in SI and comes to the same figures."""
    density, viscosity = 1060.0 * UNITS.kg / UNITS.m**3, 15.0 * MM**2 / UNITS.s
    bore, length, rate = 3.34 * MM, 3.0 * UNITS.m, 10.0 * UNITS.cm**3 / UNITS.s
    loss = 128.0 * (density * viscosity) * length * rate / (3.141592653589793 * bore**4)
    assert abs(loss.to(MPA).magnitude / (10_000.0 * flow.resistance(3000.0, 3.34, 15.0, 1060.0)) - 1.0) < 1e-9
    give = 20.0 * MM3 / UNITS.bar
    lag = 128.0 * (density * viscosity) * length / (3.141592653589793 * bore**4) * give
    assert abs(lag.to("s").magnitude / flow.lag_s(3000.0, 3.34, 15.0, 1060.0, 200.0) - 1.0) < 1e-9
