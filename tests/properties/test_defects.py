"""One defect in a valid build is one finding: of the right rule, at the right place, and nothing besides."""

import inspect
import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.checks.register import names
from tests.properties.defects import KINDS, Spoilt, spoilt
from tests.properties.strategies import report_of, serious, text_of

BRIEF, LONG = 3, 24
"""Examples of each kind: some 140 in all, and some 1,100."""


def judged(found: Spoilt, folder: Path) -> None:
    """Fail unless the defect is the one finding of its build."""
    (folder / "house.yaml").write_text(text_of({"catalog": 1, "parts": found.house}), encoding="utf-8")
    findings = serious(report_of(found.plan, folder))
    told = [(finding.rule, finding.at, finding.message) for finding in findings]
    assert [rule for rule, _, _ in told] == [found.made.rule], (found.made, told, text_of(found.plan))
    assert found.made.places & set(findings[0].at), (found.made, told, text_of(found.plan))


@pytest.mark.parametrize("kind", KINDS)
def test_one_defect_is_one_finding(kind: str, tmp_path: Path) -> None:
    """A defect put into a valid build is found by its rule, at its place, and by no other rule."""

    @given(st.data())
    @settings(settings.get_profile("brief"), max_examples=BRIEF)
    def run(data: Any) -> None:
        judged(data.draw(spoilt(kind)), tmp_path)

    run()


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_one_defect_is_one_finding_at_length(kind: str, tmp_path: Path) -> None:
    """The same for many new builds: a thousand over all kinds of defect."""

    @given(st.data())
    @settings(settings.get_profile("long"), max_examples=LONG)
    def run(data: Any) -> None:
        judged(data.draw(spoilt(kind)), tmp_path)

    run()


def test_every_rule_has_a_defect() -> None:
    """No rule is left without a kind of defect that it alone has to find."""
    rules = {rule for kind in KINDS.values() for rule in re.findall(r'made\(\s*"([a-z-]+)"', inspect.getsource(kind))}
    rules |= {"port-unknown"}  # named by a function that two kinds share
    assert rules == set(names())
