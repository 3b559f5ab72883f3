"""Remedies of a build in inches: the same as of the build in mm, told and written in inches."""

from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.checks.register import names, page
from fitcheck.checks.run import check_context
from fitcheck.remedies.choose import with_remedies
from fitcheck.reports.remedy_words import remedy_text
from tests.inches import METRIC, differing, in_inches
from tests.remedies.placed import placed, proposed

THROUGH = "route: [{at: [100, 0, 0], through: wall}, [400, 0, 0]]"
FORMED = f"{THROUGH}, ends: {{from: {{formed: true}}, to: {{formed: true}}}}"
WALL = "panels: {wall: {hole: 9 mm, thickness: 1.2 mm}}\naccept: [{rule: panel-unguarded, at: wall, why: example}]\n"
GROMMET = "panels: {wall: {hole: 9 mm, thickness: 1.2 mm, grommet: grommet-3-16}}\n"


def acts(text: str, catalog: str, folder: Path) -> dict[tuple[str, tuple[str, ...]], list[str]]:
    """Return the remedies of each finding, as acts."""
    folder.mkdir()
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    if catalog:
        (folder / "house.yaml").write_text(catalog, encoding="utf-8")
    context = Context(assemble(load(folder)))
    report = with_remedies(context, check_context(context))
    return {(each.rule, each.at): [remedy_text(one) for one in each.remedies] for each in report.findings}


@pytest.mark.parametrize("name", names())
def test_remedies_of_samples_are_the_same_in_inches(name: str, tmp_path: Path) -> None:
    """Each finding has as many remedies in inches, with the same figures to the last digit, and they hold as well."""
    shown = page(name)
    metric = acts(shown.fails, shown.catalog, tmp_path / "mm")
    inches = acts(in_inches(shown.fails), in_inches(shown.catalog), tmp_path / "in")
    assert inches.keys() == metric.keys()
    for key, told in metric.items():
        assert len(inches[key]) == len(told)
        for first, second in zip(told, inches[key], strict=True):
            assert differing(first, second) == []
            assert METRIC.search(second) is None


def test_holes_are_drilled_out_to_sizes_of_inch_drills(tmp_path: Path) -> None:
    """A hole for something to pass goes up to the next 1/64 in; one for a grommet is no smaller than asked for."""
    trapped, misfit = placed(FORMED, WALL), placed(THROUGH, GROMMET)
    assert proposed(trapped, "fixing-trapped", tmp_path)[-1] == "drill wall out to 13 mm"
    assert proposed(in_inches(trapped), "fixing-trapped", tmp_path)[-1] == "drill wall out to 33/64 in"
    assert "drill wall out to 12 mm" in proposed(misfit, "panel-misfit", tmp_path)
    assert "drill wall out to 0.4725 in" in proposed(in_inches(misfit), "panel-misfit", tmp_path)
