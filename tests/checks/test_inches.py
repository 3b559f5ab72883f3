"""Every rule's own sample, written in inches: the same findings, told in inches, pounds and psi."""

import re
from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.checks.findings import Finding
from fitcheck.checks.register import names, page
from fitcheck.checks.run import check
from tests.inches import METRIC, differing, in_inches

SOLD_BY = re.compile(r"[\d.]+ mm (?:tube|hose|eye)|(?:tube|eye|hose|wall)[\w.:, ]* [\d.]+ mm|[\d.]+ mm at [\w.]+")
"""Sizes that parts are sold by stay as catalogs have them."""
OWN = re.compile(r"\([-\d., ]+\)|[\d /]+ \w+ would do")
"""Points, and lengths to order, which are rounded up in the author's own steps."""


def found(text: str, catalog: str, folder: Path) -> list[Finding]:
    """Return the findings of a sample in the order of their places."""
    folder.mkdir()
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    if catalog:
        (folder / "house.yaml").write_text(catalog, encoding="utf-8")
    return sorted(check(load(folder)).findings, key=lambda finding: (finding.rule, finding.at))


@pytest.mark.parametrize("name", names())
def test_samples_in_inches_are_told_in_inches(name: str, tmp_path: Path) -> None:
    """A build's findings do not depend on its units; their figures agree and stand in the author's own units."""
    shown = page(name)
    metric = found(shown.fails, shown.catalog, tmp_path / "mm")
    inches = found(in_inches(shown.fails), in_inches(shown.catalog), tmp_path / "in")
    assert [each[:2] + each[3:4] for each in inches] == [each[:2] + each[3:4] for each in metric]
    for first, second in zip(metric, inches, strict=True):
        assert differing(OWN.sub("", first.message), OWN.sub("", second.message)) == []
        assert METRIC.search(SOLD_BY.sub("", second.message)) is None, second.message
