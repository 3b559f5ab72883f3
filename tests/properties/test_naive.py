"""The product and a slow second reading agree on what is joined, open, starved and crossed."""

from typing import Any

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from fitcheck.build.assemble import assemble
from fitcheck.build.circuits import Circuits
from fitcheck.checks.findings import Finding, Report
from tests.properties.defects import KINDS, put
from tests.properties.growing import Draw, Plan
from tests.properties.naive import Naive, look
from tests.properties.strategies import builds, read, report_of

SIDES = {"gender-clash", "thread-mismatch", "seat-mismatch", "tube-size-mismatch"}
"""Rules that speak of the two sides of a joint alone."""
STRANGE = {
    "part-id-with-a-slip",
    "part-of-the-wrong-kind",
    "unknown-nut",
    "reference-with-a-slip",
    "reference-of-a-line",
    "circuit-names-no-port",
    "nut-that-nobody-sells",
    "little-thread",
    "single-flare-joint",
    "no-bleed-screw",
    "little-fluid",
    "rubber-for-another-fluid",
}
"""Defects that the slow reading cannot follow: it knows neither unknown names nor other catalogs."""
GENERIC = [kind for kind in KINDS if kind not in STRANGE]


@st.composite
def damaged(draw: Draw, most: int = 3) -> Plan:
    """Draw a build with up to three defects, of which any may hide another."""
    plan = draw(builds())
    for kind in draw(st.lists(st.sampled_from(GENERIC), max_size=most)):
        try:
            found = put(kind, plan, draw)
        except (IndexError, KeyError, StopIteration, ValueError):
            reject()  # a defect is made for a valid build; on a damaged one it may not find what it looks for
        plan = plan if found is None else found.plan
    return plan


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
    """The same joints are wrong, for the same reason."""
    wrong = {(rule, frozenset(finding.at)) for rule in SIDES for finding in by_rule(report, rule)}
    stated = {(rule, ends) for rule, ends in wrong if rule == "thread-mismatch" and (rule, ends) not in seen.wrong}
    bolts = {at for rule, at in stated if any(f.evidence.get("verdict") for f in by_rule(report, rule))}
    assert {one for one in wrong if one[1] not in bolts} == {one for one in seen.wrong if one[0] in SIDES}
    two_tubes = {frozenset(finding.at) for finding in by_rule(report, "fixing-missing")}
    assert {ends for rule, ends in seen.wrong if rule == "fixing-missing"} <= two_tubes
    assert {finding.at[0] for finding in by_rule(report, "port-reused")} == seen.twice


def open_ends(report: Report, seen: Naive) -> None:
    """Each open end is named by one finding, and nothing else is called open."""
    named: list[str] = []
    for finding in report.findings:
        if finding.rule == "dead-end" and "open_ends" in finding.evidence:
            named += finding.evidence["open_ends"]
        elif finding.rule in ("circuit-not-fed", "reservoir-missing", "circuits-crossed", "single-circuit"):
            named += finding.evidence.get("open_ends", ())
        elif finding.rule == "port-reused":
            named += [ref for ref in finding.evidence["open_ends"] if ref in seen.open]
    assert sorted(named) == sorted(seen.open)


def starved(report: Report, seen: Naive) -> None:
    """The same consumers lack an outlet; where a port is joined twice, its finding may speak for them."""
    told = {ref for finding in by_rule(report, "circuit-not-fed") for ref in finding.evidence.get("consumers", ())}
    told = {ref for ref in told if ref in seen.fed_by}
    assert told <= seen.unfed
    spoken = {ref for finding in by_rule(report, "port-reused") for ref in finding.evidence["open_ends"]}
    for ref in seen.unfed - told:
        assert seen.water_of(ref) & spoken, ref


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
