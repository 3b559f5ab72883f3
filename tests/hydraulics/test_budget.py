"""What each part on an outlet's side takes: by hand, behind valves, by halves, and what is said of what is missing."""

from math import isclose, pi
from pathlib import Path

import pytest

from fitcheck.hydraulics.air import lost_mm3
from fitcheck.hydraulics.record import Gap
from fitcheck.hydraulics.stretch import stretch_mm3
from tests.hydraulics.plumbed import CATALOG, CLUTCH, PORT, TRAILER, TWO, by_cause, read

AREA = pi / 4.0 * 20.0**2
PISTONS = 2.0 * pi / 4.0 * 40.0**2
BORE = pi / 4.0 * 3.35**2


def test_every_part_by_hand(tmp_path: Path) -> None:
    """A trailer's brake at 5 MPa: each take is its own formula of the stated figures, and nothing else is counted."""
    takes = by_cause(read(tmp_path).budgets()["mc.out"].takes(5.0))
    expected = {
        ("mc", "cut-off"): AREA * 1.0,
        ("mc", "give"): 5.0 * 10.0,
        ("mc", "squeeze"): AREA * 30.0 * 5.0 / 1800.0,
        ("brake", "gap"): PISTONS * 0.1,
        ("brake", "give"): 5.0 * 100.0,
        ("brake", "squeeze"): 20_000.0 * 5.0 / 1800.0,
        ("run", "stretch"): stretch_mm3(5.0, 3.35, 0.7, 2000.0, 205_000.0, 0.29),
        ("run", "squeeze"): BORE * 2000.0 * 5.0 / 1800.0,
        ("hose", "swelling"): 0.5 * 5.0 / 7.0 * 300.0,
        ("hose", "squeeze"): pi / 4.0 * 3.2**2 * 300.0 * 5.0 / 1800.0,
        ("mc", "air"): 0.0,
    }
    assert set(takes) == set(expected)
    for key, value in expected.items():
        assert isclose(takes[key].mm3, value, rel_tol=1e-9, abs_tol=1e-12), key


def test_ranges_are_those_of_the_assumptions(tmp_path: Path) -> None:
    """What is stated has no range; the fluid's modulus, the tube's and the free air run over theirs."""
    takes = by_cause(read(tmp_path).budgets()["mc.out"].takes(5.0))
    assert all(takes[key].low_mm3 == takes[key].high_mm3 for key in (("mc", "cut-off"), ("brake", "gap")))
    squeeze = takes["brake", "squeeze"]
    assert isclose(squeeze.low_mm3, 20_000.0 * 5.0 / 2000.0, rel_tol=1e-9)
    assert isclose(squeeze.high_mm3, 20_000.0 * 5.0 / 1200.0, rel_tol=1e-9)
    held = AREA * 30.0 + 20_000.0 + BORE * 2000.0 + pi / 4.0 * 3.2**2 * 300.0
    assert isclose(takes["mc", "air"].high_mm3, 0.005 * held * lost_mm3(1.0, 5.0), rel_tol=1e-9)


def test_knock_back_counts_where_it_is_stated(tmp_path: Path) -> None:
    """0.3 mm of knock-back on both pistons is their area times that, at any pressure."""
    text = TRAILER.replace("knock_back: 0 mm", "knock_back: 0.3 mm")
    takes = by_cause(read(tmp_path, text).budgets()["mc.out"].takes(0.0))
    assert isclose(takes["brake", "knock-back"].mm3, PISTONS * 0.3, rel_tol=1e-9)


@pytest.mark.parametrize(
    ("style", "pistons", "moves", "most"),
    [("style: fixed", 2, 1.0, 1.0), ("style: floating", 2, 2.0, 2.0), ("note: no style", 2, 1.0, 2.0),
     ("note: no style", 1, 2.0, 2.0)],
)  # fmt: skip
def test_how_many_gaps_a_piston_crosses(style: str, pistons: int, moves: float, most: float, tmp_path: Path) -> None:
    """One of a fixed caliper crosses one, of a floating one two; of several that do not say, one, at most two."""
    catalog = CATALOG.replace("style: fixed", style)
    catalog = catalog.replace("pistons: [40 mm, 40 mm]", f"pistons: [{', '.join(['40 mm'] * pistons)}]")
    gap = by_cause(read(tmp_path, catalog=catalog).budgets()["mc.out"].takes(0.0))["brake", "gap"]
    one = pistons * pi / 4.0 * 40.0**2 * 0.1
    assert isclose(gap.mm3, one * moves, rel_tol=1e-9)
    assert isclose(gap.high_mm3, one * most, rel_tol=1e-9)


def test_what_is_assumed_says_so(tmp_path: Path) -> None:
    """Cut-off, give, gap and volume that nobody states are figures with a range and a mark, under their own fields."""
    catalog = CATALOG.replace("    cut_off: 1 mm\n", "").replace("    give: 10 mm3/bar\n    volume: 20 cm3\n", "")
    made = read(tmp_path, TRAILER.replace("gap: 0.1 mm, ", ""), catalog).budgets()["mc.out"]
    told = {figure.key: figure for figure in made.figures(5.0)}
    assert made.gaps == ()
    for key, value, low, high in (
        ("parts.pump.cut_off", 1.2, 0.5, 2.0),
        ("parts.disc.give", 100.0, 50.0, 200.0),
        ("brakes.brake.gap", 0.1, 0.05, 0.3),
        ("parts.disc.volume", 12.0 * PISTONS, 5.0 * PISTONS, 25.0 * PISTONS),
    ):
        assert (told[key].known, told[key].value, told[key].low, told[key].high) == ("assumed", value, low, high)
        assert any(mark in told[key].source for mark in ("no source", "from memory"))


def test_stated_figures_are_told_with_their_file(tmp_path: Path) -> None:
    """The length of a line, the maker's swelling and a stated gap are figures too, and no assumptions."""
    told = {figure.key: figure for figure in read(tmp_path).budgets()["mc.out"].figures(5.0)}
    assert told["lines.run.length"][1:6] == (2000.0, "mm", "stated", "stated in the build", 2000.0)
    assert told["brakes.brake.gap"].known == "stated"
    assert told["parts.flex.expansion"].known == "catalog"
    assert told["parts.wire.material"][1:5] == (205_000.0, "MPa", "assumed", "Young's modulus of steel; from memory")


@pytest.mark.parametrize(
    ("text", "catalog", "gap"),
    [
        (TRAILER.replace(", length: 2000 mm", ""), CATALOG, Gap("run", "lines.run.route or lines.run.length")),
        (TRAILER.replace("fluid: DOT 4\n", ""), CATALOG, Gap("mc.out", "fluid")),
        (TRAILER, CATALOG.replace("    material: steel\n", ""), Gap("run", "parts.wire.material")),
        (TRAILER, CATALOG.replace("    pistons: [40 mm, 40 mm]\n", ""), Gap("brake", "parts.disc.pistons")),
        (TRAILER, CATALOG.replace("    length: 300 mm\n", ""), Gap("hose", "parts.flex.length")),
        (CLUTCH.replace("needs_travel: 12 mm,", ""), CATALOG, Gap("slave", "clutch.needs_travel")),
    ],
)
def test_what_is_missing_is_a_gap(text: str, catalog: str, gap: Gap, tmp_path: Path) -> None:
    """A figure that nobody can assume leaves a gap with its field, and the budget goes on without it."""
    made = read(tmp_path, text, catalog).budgets()["mc.out"]
    assert made.gaps == (gap,)
    assert made.takes(5.0)


def test_two_cylinders_into_one_fluid_are_a_gap(tmp_path: Path) -> None:
    """Where another master cylinder presses into the same fluid nobody can say which of them moves what."""
    text = TRAILER.replace("mc: {part: pump}", "mc: {part: pump}, other: {part: pump}")
    text = text.replace("length: 2000 mm}}", "length: 2000 mm}, more: {from: other.out, to: mc.out, tube: wire}}")
    made = read(tmp_path, text).budgets()["mc.out"]
    assert Gap("mc.out", "a circuit of its own: other presses into the same fluid") in made.gaps


def valved(kind: str) -> str:
    """Return the trailer with a valve in its line, 500 mm from the master cylinder."""
    text = TRAILER.replace("brake: {part: disc}}", f"brake: {{part: disc}}, valve: {{part: {kind}}}}}")
    near = "near: {from: mc.out, to: valve.in, tube: wire, length: 500 mm}"
    far = "run: {from: valve.out, to: hose.from, tube: wire, length: 1500 mm}"
    return text.replace("run: {from: mc.out, to: hose.from, tube: wire, length: 2000 mm}", f"{near}, {far}")


def test_behind_a_proportioning_valve_the_pressure_is_that_of_the_brake(tmp_path: Path) -> None:
    """The line before the valve sees the outlet's 6 MPa, line, hose and caliper behind it 4."""
    takes = by_cause(read(tmp_path, valved("meter")).moved(foot_n=6.0 * AREA / 5.0).strokes[0].takes)
    assert isclose(takes["near", "squeeze"].mm3, BORE * 500.0 * 6.0 / 1800.0, rel_tol=1e-9)
    assert isclose(takes["run", "squeeze"].mm3, BORE * 1500.0 * 4.0 / 1800.0, rel_tol=1e-9)
    assert isclose(takes["brake", "give"].mm3, 400.0, rel_tol=1e-9)
    assert isclose(takes["hose", "swelling"].mm3, 0.5 * 4.0 / 7.0 * 300.0, rel_tol=1e-9)


def test_a_residual_valve_has_taken_its_part_at_rest(tmp_path: Path) -> None:
    """Behind a valve that holds 0.5 MPa only 5.5 of 6 MPa are still to come; the gap is crossed all the same."""
    takes = by_cause(read(tmp_path, valved("holder")).moved(foot_n=6.0 * AREA / 5.0).strokes[0].takes)
    assert isclose(takes["near", "squeeze"].mm3, BORE * 500.0 * 6.0 / 1800.0, rel_tol=1e-9)
    assert isclose(takes["run", "squeeze"].mm3, BORE * 1500.0 * 5.5 / 1800.0, rel_tol=1e-9)
    assert isclose(takes["brake", "give"].mm3, 550.0, rel_tol=1e-9)
    assert isclose(takes["brake", "gap"].mm3, PISTONS * 0.1, rel_tol=1e-9)


def test_a_caliper_that_two_circuits_feed_is_halved(tmp_path: Path) -> None:
    """With one half of its pistons on each circuit, each side takes half of its gap, give and squeeze."""
    catalog = CATALOG.replace(
        f"ports: {{in: {PORT}}}\n    pistons",
        f"ports: {{in: {PORT}, b: {PORT}}}\n    passages: [[in], [b]]\n    pistons",
    )
    text = TRAILER.replace("mc: {part: pump}", "mc: {part: pump}, other: {part: pump}")
    text = text.replace(
        "length: 2000 mm}}", "length: 2000 mm}, more: {from: other.out, to: brake.b, tube: wire, length: 2000 mm}}"
    )
    made = read(tmp_path, text, catalog).budgets()
    for ref in ("mc.out", "other.out"):
        takes = by_cause(made[ref].takes(5.0))
        assert isclose(takes["brake", "gap"].mm3, PISTONS * 0.1 / 2.0, rel_tol=1e-9)
        assert isclose(takes["brake", "give"].mm3, 250.0, rel_tol=1e-9)
        assert made[ref].gaps == ()


def test_one_hose_at_two_pressures_is_told_twice(tmp_path: Path) -> None:
    """The same kind of hose swells otherwise on either axle: each pressure has a figure of its own."""
    text = TWO.replace("{from: one.out, to: front.in,", "{from: one.out, to: h1.from,")
    text = text.replace("{from: two.out, to: rear.in,", "{from: two.out, to: h2.from,")
    text += "hoses: {h1: {part: flex, to: front.in}, h2: {part: flex, to: rear.in}}\n"
    figures = read(tmp_path, text).moved().figures
    swelling = [figure.source for figure in figures if figure.key == "parts.flex.expansion"]
    assert swelling == ["the maker's figures; at 4.77 MPa", "the maker's figures; at 3.18 MPa"]
    assert len(set(figures)) == len(figures)
