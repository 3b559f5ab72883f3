"""A build composed of what fits is one that no rule has anything serious to say about."""

import pytest
from hypothesis import given, settings

from tests.properties.growing import Plan
from tests.properties.strategies import builds, report_of, serious


@given(builds())
@settings(settings.get_profile("brief"), max_examples=80)
def test_valid_build_has_no_finding(plan: Plan) -> None:
    """No rule gives an error or a warning on a build put together from parts that fit."""
    assert serious(report_of(plan)) == []


@pytest.mark.slow
@given(builds())
@settings(settings.get_profile("long"))
def test_valid_build_has_no_finding_at_length(plan: Plan) -> None:
    """No rule gives an error or a warning on any of a thousand new builds put together from parts that fit."""
    assert serious(report_of(plan)) == []


@given(builds())
@settings(settings.get_profile("brief"), max_examples=20)
def test_valid_build_is_looked_at(plan: Plan) -> None:
    """A clean answer rests on having looked: every joint, every end and every consumer has been."""
    report = report_of(plan)
    ends = len(plan["lines"]) * 2 + len(plan["hoses"]) * 2
    assert report.checked["dead-end"] > ends
    assert report.checked["gender-clash"] >= len(plan["lines"]) * 2
    assert report.checked["circuit-not-fed"] >= 2
    assert report.checked["single-circuit"] >= 1
    assert report.accepted if "accept" in plan else not report.accepted
