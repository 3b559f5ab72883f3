"""The program and a slow second reading agree on what is joined, open, starved and crossed."""

from typing import Any

import pytest
from hypothesis import given, settings

from fitcheck.build.assemble import assemble
from fitcheck.build.circuits import Circuits
from fitcheck.checks.findings import Finding, Report
from tests.properties.defects import damaged
from tests.properties.growing import Plan
from tests.properties.naive import Naive, look
from tests.properties.strategies import builds, read, report_of

SIDES = {"gender-clash", "thread-mismatch", "seat-mismatch", "tube-size-mismatch"}
"""Rules that speak of the two sides of a joint alone."""
OPEN = {"dead-end", "circuit-not-fed", "reservoir-missing", "circuits-crossed", "single-circuit"}
"""Rules whose findings name open ends, each end by one of them."""


def by_rule(report: Report, rule: str) -> list[Finding]:
    """Return the findings of one rule."""
    return [finding for finding in (*report.findings, *report.accepted) if finding.rule == rule]


def agree(plan: Plan) -> None:
    """Fail unless both readings of a build say the same."""
    report, seen = report_of(plan), look(plan)
    joints(report, seen)
    open_ends(report, seen)
    starved(report, seen)
    outlets(report, seen)
    networks(plan, seen)


def joints(report: Report, seen: Naive) -> None:
    """The same joints are wrong, for the same reason; a stated nut may speak first, with the reason as evidence."""
    told = {(finding.rule, frozenset(finding.at)) for finding in report.findings}
    besides = {
        (also["rule"], frozenset(finding.at))
        for finding in report.findings
        for also in finding.evidence.get("also", ())
    }
    assert {one for one in told if one[0] in SIDES} <= seen.wrong
    assert seen.wrong <= told | besides
    assert {finding.at[0] for finding in by_rule(report, "port-reused")} == seen.twice


def open_ends(report: Report, seen: Naive) -> None:
    """Each open end is named by just one finding, or listed as not sure; nothing else is called open."""
    named: list[str] = []
    for finding in report.findings:
        if finding.rule in OPEN:
            named += finding.evidence.get("open_ends", ())
        elif finding.rule == "port-reused":
            named += [ref for ref in finding.evidence["left_out"] if ref in seen.open]
    assert sorted(named) == sorted(seen.open)


def starved(report: Report, seen: Naive) -> None:
    """The same consumers lack an outlet; where a port is joined twice they may be listed as not sure instead."""
    told = {ref for finding in by_rule(report, "circuit-not-fed") for ref in finding.evidence.get("consumers", ())}
    unsure = {ref for one in report.unchecked if one.rule == "circuit-not-fed" for ref in one.at}
    assert {ref for ref in told if ref in seen.fed_by} <= seen.unfed
    assert seen.unfed <= told | unsure
    assert seen.twice or seen.unfed <= told


def outlets(report: Report, seen: Naive) -> None:
    """The same outlets are joined into one circuit, or named as not sure because a port is joined twice."""
    told = {frozenset(f.evidence["outlets"]) for f in by_rule(report, "circuits-crossed") if "outlets" in f.evidence}
    unsure = {frozenset(one.at) for one in report.unchecked if one.rule == "circuits-crossed"}
    assert told <= seen.joined_outlets <= told | unsure
    assert seen.twice or not seen.joined_outlets - told


def networks(plan: Plan, seen: Naive) -> None:
    """The graph's networks are the sets of ends that the slow reading pours together."""
    found = {frozenset(network.ends) for network in Circuits(assemble(read(plan))).networks}
    assert found == {frozenset(water) for water in seen.waters}


@given(damaged())
@settings(settings.get_profile("brief"), max_examples=60)
def test_both_readings_agree(plan: Plan) -> None:
    """On sound and damaged builds a second implementation comes to the same verdicts."""
    agree(plan)


@pytest.mark.slow
@given(damaged())
@settings(settings.get_profile("long"), max_examples=1000)
def test_both_readings_agree_at_length(plan: Plan) -> None:
    """On a thousand new builds with up to three defects a second implementation comes to the same verdicts."""
    agree(plan)


@given(builds())
@settings(settings.get_profile("brief"), max_examples=20)
def test_slow_reading_finds_valid_builds_sound(plan: Plan) -> None:
    """The second implementation has nothing to say of a valid build, and sees every brake fed once."""
    seen: Any = look(plan)
    assert (seen.wrong, seen.open, seen.twice, seen.unfed, seen.joined_outlets) == (set(), set(), set(), set(), set())
    assert {len(outlets) for outlets in seen.fed_by.values()} == {1}
