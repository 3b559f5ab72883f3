"""What `swap` says of a replacement is what `check` says of the build with it fitted."""

from copy import deepcopy
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.build.assemble import assemble
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.remedies.replacements import Replacement, like_for_like, replacements
from tests.properties.growing import Plan
from tests.properties.strategies import builds, read, report_of

SECTIONS = {"components": "part", "lines": "tube", "hoses": "part"}


def fitted(plan: Plan, tag: str, found: Replacement) -> Plan:
    """Return the build with the replacement in it, its ports by their new names."""
    changed: Plan = _renamed(deepcopy(plan), {f"{tag}.{old}": f"{tag}.{new}" for old, new in found.renamed})
    section = next(name for name in SECTIONS if tag in changed.get(name, {}))
    entry = changed[section][tag]
    entry[SECTIONS[section]] = found.part.id
    if section == "hoses":
        turned = {dict(found.renamed).get(key, key): entry.pop(key) for key in ("from", "to") if key in entry}
        entry.update(turned)
    return changed


def _renamed(node: Any, names: dict[str, str]) -> Any:
    if isinstance(node, dict):
        return {key: _renamed(value, names) for key, value in node.items()}
    if isinstance(node, list):
        return [_renamed(value, names) for value in node]
    return names.get(node, node) if isinstance(node, str) else node


def errors(report: Report) -> list[str]:
    """Return what stands at level error."""
    return [f"{finding.rule}: {finding.message}" for finding in report.findings if finding.level == "error"]


def spoilt_joints(plan: Plan) -> set[frozenset[str]]:
    """Return the joints that a rule of joints or of engagement finds at fault, by their ends."""
    context = Context(assemble(read(plan)))
    short = {frozenset(each.at) for each in report_of(plan).findings if each.rule == "short-engagement"}
    return short | {frozenset(facts.joint.refs) for facts in context.facts if facts.rule and facts.level == "error"}


def told_spoilt(found: Replacement) -> set[frozenset[str]]:
    """Return the joints that the replacement is said to spoil."""
    wrong = (fit.then for fit in found.misfits if fit.then.rule not in (None, "unpressurised-part"))
    return {frozenset(facts.joint.refs) for facts in wrong if facts.level == "error"}


def _look(plan: Plan, random: Random) -> None:
    context = Context(assemble(read(plan)))
    for tag in random.sample(sorted(context.graph.fitted), 2):
        listed = replacements(context, tag)
        assert [found.rank for found in listed] == sorted(found.rank for found in listed)
        alike = list(like_for_like(context, tag))
        assert {found.part.id for found in alike} <= {found.part.id for found in listed if not found.wrong}
        for found in random.sample(alike, min(2, len(alike))):
            assert errors(report_of(fitted(plan, tag, found))) == [], (tag, found.part.id)
        whole = [found for found in listed if not found.lost_ports]
        for found in random.sample(whole, min(2, len(whole))):
            assert told_spoilt(found) == spoilt_joints(fitted(plan, tag, found)), (tag, found.part.id)


@given(builds(), st.randoms(use_true_random=False))
@settings(settings.get_profile("brief"), max_examples=15)
def test_what_is_said_of_a_replacement_is_what_check_finds(plan: Plan, random: Random) -> None:
    """Like-for-like parts fitted to a sound build bring no error; of any part just the joints named are at fault."""
    _look(plan, random)


@pytest.mark.slow
@given(builds(), st.randoms(use_true_random=False))
@settings(settings.get_profile("long"), max_examples=250)
def test_what_is_said_of_a_replacement_is_what_check_finds_at_length(plan: Plan, random: Random) -> None:
    """The same on hundreds of builds."""
    _look(plan, random)
