"""How a joint rule gives the word that `joint_facts` gave it."""

from collections.abc import Iterator

from fitcheck.build.graph import Joint
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked


def speak(context: Context, rule: str) -> Iterator[Said]:
    """Yield what `rule` finds, looked at and could not look at, over all joints of the build."""
    looked = 0
    for facts in context.facts:
        looked += rule in facts.looked
        for other, missing in facts.unchecked:
            if other == rule:
                yield Unchecked(rule, places(facts.joint), missing)
        if facts.rule == rule:
            at, path = places(facts.joint), facts.joint.path
            yield context.finding(rule, facts.level, facts.message, at, path, facts.evidence)
    yield Looked(looked)
    yield from _unknown(context, rule)


def places(joint: Joint) -> tuple[str, ...]:
    """Return a joint's references, what is brought to the port first: the tube's end or the eyes, then the port."""
    port, *others = joint.refs
    return (*others, port) if joint.kind in ("tube", "banjo") else joint.refs


def _unknown(context: Context, rule: str) -> Iterator[Unchecked]:
    """Yield the joints that no joint rule can judge, once, with the rule that would look first."""
    if rule != "thread-mismatch":
        return
    for joint in context.graph.joints:
        unknown = next((end for end in joint.ends if not end.known), None)
        if unknown is not None:
            yield Unchecked(rule, places(joint), f"parts.{unknown.fitted.part_id}")
        elif joint.assumed:
            yield Unchecked(rule, places(joint), "a port that exists")
