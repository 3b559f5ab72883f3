"""Cars spoilt at random in several places: nothing open and nothing unfed is passed over in silence."""

import random
import re

import pytest

from fitcheck.build.circuits import is_feed
from fitcheck.checks.findings import Finding, Unchecked
from fitcheck.checks.run import check
from tests.checks.circuit.cars import CAR, UNSTATED, assert_walked, build_of, context_of, reached, said

_REF = re.compile(r"\b[a-z_]+\.[a-z]+\b")
_PORTS = sorted(ref for ref, end in context_of(CAR).graph.ends.items() if end.port is None or not end.port.mechanical)


def _spoilt(seed: int) -> str:
    """Return the car with one to six slips: a reference changed, an entry left out, a part that no catalog has."""
    chance = random.Random(seed)
    lines = chance.choice((CAR, UNSTATED)).splitlines()
    for _ in range(chance.randint(1, 6)):
        number = chance.randrange(3, len(lines))
        refs = list(_REF.finditer(lines[number]))
        kind = chance.random()
        if refs and kind < 0.7:
            match = chance.choice(refs)
            ref = chance.choice(_PORTS) if chance.random() < 0.9 else "xyz.foo"
            lines[number] = lines[number][: match.start()] + ref + lines[number][match.end() :]
        elif "part:" in lines[number] and kind < 0.9:
            lines[number] = re.sub(r"part: [\w-]+", "part: nobody-knows", lines[number])
        elif lines[number].startswith("  ") and "- [" not in lines[number]:
            lines[number] = ""
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("block", range(10))
def test_nothing_open_or_unfed_is_passed_over(block: int) -> None:
    """Every open end and every consumer that no outlet reaches stands in a finding or among what was not checked."""
    for seed in range(block * 30, block * 30 + 30):
        context = context_of(_spoilt(seed))
        answers = [one for one in said(context) if isinstance(one, (Finding, Unchecked))]
        named = {place for one in answers for place in one.at}
        tags = {place.partition(".")[0] for place in named}
        outlets = [ref for net in context.circuits.networks for ref in net.outlets]
        fed = reached(context, *outlets)
        for ref, end in context.graph.ends.items():
            if end.fitted.part is None or (end.port is not None and end.port.mechanical):
                continue
            open_end = not context.graph.joined(ref) and ref not in context.graph.excused
            is_feed = ref.endswith(".feed")
            assert not open_end or ref in named or (is_feed and end.tag in tags), (seed, ref)
            unfed = end.fitted.part.kind in ("caliper", "slave cylinder") and ref not in fed
            assert not unfed or ref in named, (seed, ref)


@pytest.mark.parametrize("block", range(5))
def test_no_acceptance_hides_an_open_end(block: int) -> None:
    """With all that was found accepted, every open end is still an error: an acceptance is of what it names alone.

    Ends that nothing is joined to because their part or reference is not known are listed as not checked.
    """
    for seed in range(2000 + block * 20, 2020 + block * 20):
        text = _spoilt(seed)
        found = [one for one in check(build_of(text)).findings if one.rule != "dead-end"]
        entries = {(one.rule, one.at[0]) for one in found}
        accept = "".join(f"  - {{rule: {rule}, at: {at}, why: it may}}\n" for rule, at in sorted(entries))
        report = check(build_of(f"{text}accept:\n{accept}" if accept else text))
        told = {place for one in report.findings if one.rule == "dead-end" for place in one.at}
        context = context_of(text)
        for ref, end in context.graph.ends.items():
            if end.fitted.part is None or (end.port is not None and end.port.mechanical) or is_feed(end):
                continue
            if not context.graph.joined(ref) and ref not in context.graph.excused:
                assert ref in told, (seed, ref)


def test_every_witness_can_be_walked() -> None:
    """Each path in the evidence leads step by step from where it says to where it says."""
    walked = 0
    for seed in range(1000, 1300):
        context = context_of(_spoilt(seed))
        for one in said(context):
            evidence = one.evidence if isinstance(one, Finding) else {}
            for path in [item["path"] for item in (evidence, *evidence.get("crossings", ())) if "path" in item]:
                assert_walked(context, path, path[0], path[-1])
                walked += 1
    assert walked >= 5
