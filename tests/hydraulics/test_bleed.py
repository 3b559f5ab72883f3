"""Order of bleeding, volumes of the ways, strokes: worked by hand."""

from math import pi
from pathlib import Path

import pytest

from fitcheck.hydraulics.bleed import Master, bleed, strokes
from tests.hydraulics.bleed_cars import LENGTHS, PEDAL, car

AREA = pi / 4.0 * 3.35**2
"""Of the bore of 4.75 x 0.7 mm tube."""
PISTON = pi / 4.0 * 20.0**2


def test_order_is_farthest_first_by_volume(tmp_path: Path) -> None:
    """The longest way comes first, whatever the cylinder at its end holds; the clutch is last and by itself."""
    found = bleed(car(tmp_path))
    assert [way.at for way in found.ways] == ["rr", "rl", "fr", "fl", "slave"]
    assert [way.drives for way in found.ways] == ["brake"] * 4 + ["clutch"]
    assert [way.at for way in found.of("clutch")] == ["slave"]
    assert (found.doubtful, found.without) == ((), ())


def test_each_way_holds_its_lines_and_its_cylinder(tmp_path: Path) -> None:
    """A way's volume is the bore times the lengths on it, and the part that is bled, and nothing beside it."""
    rr, rl, fr, _, slave = bleed(car(tmp_path)).ways
    assert [part.tag for part in rr.parts] == ["rear", "to_rr", "rr"]
    assert rr.before_mm3 == pytest.approx(AREA * (2600 + 900))
    assert rr.mm3 == pytest.approx(AREA * 3500 + 2_000)
    assert rl.before_mm3 == pytest.approx(AREA * 2900)
    assert fr.mm3 == pytest.approx(AREA * 2200 + 20_000)
    assert slave.mm3 == pytest.approx(AREA * 1000 + 5_000)
    assert rr.flush_mm3 == pytest.approx(2.5 * rr.mm3)
    assert (rr.screws, fr.screws, rr.outlet, rr.circuits) == (1, 2, "mc_rear.out", ("rear",))


def test_strokes_by_bore_and_stroke_behind_the_cut_off(tmp_path: Path) -> None:
    """A stroke moves the piston's area times what is left of it behind the cut-off, no further than the pedal goes."""
    rr = bleed(car(tmp_path)).ways[0]
    assert rr.swept_mm3 == pytest.approx(PISTON * 28.0)
    assert (rr.fill_strokes, rr.flush_strokes) == (4, 10)
    pushed = bleed(car(tmp_path, PEDAL)).ways[0]
    assert pushed.swept_mm3 == pytest.approx(PISTON * ((120.0 - 5.0) / 5.0 - 2.0))
    unknown = bleed(car(tmp_path, swaps=("    stroke: 30 mm\n", ""))).ways[0]
    assert (unknown.swept_mm3, unknown.fill_strokes, unknown.flush_strokes) == (None, None, None)


def test_strokes_are_whole_and_forgive_rounding() -> None:
    """Just as much as three strokes move takes three, a little more takes four."""
    assert (strokes(3.0 * 0.1, 0.1), strokes(0.31, 0.1), strokes(0.0, 0.1)) == (3, 4, 0)


def test_an_unknown_length_leaves_the_order_in_doubt(tmp_path: Path) -> None:
    """A way with a line of unknown length may belong earlier: it is named, with the field."""
    found = bleed(
        car(
            tmp_path,
            swaps=(
                "to_fr: {from: tee_front.c, to: fr.inlet, tube: pipe, length: 1400 mm}",
                "to_fr: {from: tee_front.c, to: fr.inlet, tube: pipe}",
            ),
        )
    )
    assert found.doubtful == ("fr",)
    (fr,) = (way for way in found.ways if way.at == "fr")
    assert fr.unknown == (("to_fr", "lines.to_fr.length is not given"),)


def test_an_unknown_volume_of_the_cylinder_leaves_no_doubt(tmp_path: Path) -> None:
    """What the cylinder itself holds only counts for strokes."""
    found = bleed(car(tmp_path, swaps=("    volume: 20 cm3\n", "")))
    assert found.doubtful == ()
    assert [way.unknown for way in found.ways if way.at == "fl"] == [(("fl", "parts.disc.volume is not given"),)]


def test_cylinders_without_bleed_screw_are_named(tmp_path: Path) -> None:
    """A cylinder that says it has none is on no way, and stands in its own list; one that says nothing is on a way."""
    found = bleed(car(tmp_path, rear="plain"))
    assert found.without == ("rl", "rr")
    assert [way.at for way in found.ways] == ["fr", "fl", "slave"]
    silent = bleed(car(tmp_path, swaps=("    bleeder: M7x1\n", "")))
    assert [way.screws for way in silent.ways] == [None, None, 2, 2, 1]


def test_master_cylinders_with_what_feeds_them(tmp_path: Path) -> None:
    """Each master cylinder is told with its outlets, its reservoir, and which pedal it belongs to."""
    first, _, last = bleed(car(tmp_path)).masters
    assert first == Master("mc_front", "brake", ("mc_front.out",), ("tank",), False, False)
    assert (last.tag, last.drives) == ("mc_clutch", "clutch")


def test_holdings_are_what_it_takes_to_fill(tmp_path: Path) -> None:
    """Lines, cylinders, master cylinders, feeds and reservoir add up to what the build holds."""
    found = bleed(car(tmp_path))
    lines = AREA * sum(LENGTHS)
    cylinders = 2 * 20_000 + 2 * 2_000 + 5_000 + 3 * PISTON * 30.0
    feeds = 3 * pi / 4.0 * 8.0**2 * 200.0
    assert sum(one.mm3 for one in found.holdings) == pytest.approx(lines + cylinders + feeds + 200_000)
