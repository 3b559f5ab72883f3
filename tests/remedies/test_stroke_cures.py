"""Strokes that are too short: another master cylinder out of the catalogs, and what that does to the pressure."""

from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.remedies.choose import with_remedies
from fitcheck.remedies.proof import standing
from fitcheck.remedies.remedy import Remedy
from tests.hydraulics.plumbed import CATALOG, CLUTCH, PORT, TRAILER

BLEED = CATALOG.replace("    volume: 20 cm3\n", "    volume: 20 cm3\n    bleeder: M8x1\n    displacement: 20 cm3\n")
BLEED = BLEED.replace("    volume: 5 cm3\n", "    volume: 5 cm3\n    bleeder: M8x1\n    displacement: 5 cm3\n")
BLEED = BLEED.replace("    give: 1 mm3/bar\n", "    give: 1 mm3/bar\n    reservoir_volume: 100 cm3\n", 2)


def pump(name: str, bore: str, stroke: str) -> str:
    """Return a master cylinder as `pump` is, of another bore and stroke."""
    return f"""\
  {name}:
    kind: master cylinder
    ports: {{out: {PORT}}}
    outlets: [out]
    bore: {bore}
    stroke: {stroke}
    cut_off: 1 mm
    give: 1 mm3/bar
    reservoir_volume: 100 cm3
"""


def remedies(folder: Path, text: str, catalog: str) -> list[Remedy]:
    """Return what is proposed, and has been proven, for the finding of the rule."""
    (folder / "parts.yaml").write_text(catalog, encoding="utf-8")
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    context = Context(assemble(load(folder / "build.yaml")))
    report = with_remedies(context, check_context(context), 5)
    (found,) = [finding for finding in standing(report) if finding.rule == "stroke-short"]
    return [proven.remedy for proven in found.remedies]


def test_the_nearest_larger_bore_comes_first(tmp_path: Path) -> None:
    """Of cylinders that are enough the nearest bore is first; what the foot has to make up for is told."""
    catalog = BLEED.replace("stroke: 30 mm", "stroke: 4 mm")
    catalog += pump("pump-28", "28 mm", "30 mm") + pump("pump-22", "22 mm", "30 mm") + pump("pump-21", "21 mm", "4 mm")
    found = remedies(tmp_path, TRAILER, catalog)
    assert [remedy.parts for remedy in found] == [("pump-22",), ("pump-28",)]
    assert [remedy.notes for remedy in found] == [
        ("whether the foot is strong enough: mc then makes 17 % less pressure for the same push",),
        ("whether the foot is strong enough: mc then makes 49 % less pressure for the same push",),
    ]


def test_a_longer_stroke_of_the_same_bore_leaves_the_pressure(tmp_path: Path) -> None:
    """One of the same bore that goes further is nearer still, and nothing is said of pressure."""
    catalog = BLEED.replace("stroke: 30 mm", "stroke: 4 mm")
    catalog += pump("pump-22", "22 mm", "30 mm") + pump("pump-long", "20 mm", "30 mm")
    found = remedies(tmp_path, TRAILER, catalog)
    assert (found[0].parts, found[0].notes) == (("pump-long",), ())


@pytest.mark.parametrize(
    ("text", "bore", "note"),
    [
        ("needs_travel: 15 mm,\n  needs_force: 800 N", "23 mm", "24 % less"),
        ("needs_travel: 12 mm,\n  needs_force: 1250 N", "19 mm", "11 % more"),
    ],
)
def test_a_clutch_gets_what_it_lacks(text: str, bore: str, note: str, tmp_path: Path) -> None:
    """Too little travel asks for a larger bore, too little force for a smaller one: the check tells which holds."""
    stated = "needs_travel: 12 mm,\n  needs_force: 900 N"
    catalog = BLEED + pump("pump-23", "23 mm", "30 mm") + pump("pump-19", "19 mm", "30 mm")
    (found,) = remedies(tmp_path, CLUTCH.replace(stated, text), catalog)
    assert found.parts == (f"pump-{bore.removesuffix(' mm')}",)
    assert found.notes == (f"whether the foot is strong enough: mc then makes {note} pressure for the same push",)


def test_nothing_is_proposed_that_is_not_enough(tmp_path: Path) -> None:
    """Cylinders that would come to their end as well are no cure."""
    catalog = BLEED.replace("stroke: 30 mm", "stroke: 3 mm") + pump("pump-21", "21 mm", "3 mm")
    assert remedies(tmp_path, TRAILER, catalog) == []
