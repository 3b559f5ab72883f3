"""Adapters between two ends that do not join as they are."""

from collections.abc import Iterator

from fitcheck.changes import Change, Put
from fitcheck.checks.findings import Finding
from fitcheck.remedies.bench import Bench, bare
from fitcheck.remedies.remedy import Remedy, fresh_tag


def adapters(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Fit the shortest chains of adapters that join the two ends of the joint."""
    joint = bench.joint_of.get(frozenset(finding.at))
    if joint is None or len(joint.ends) != 2 or joint.kind not in ("pair", "tube"):
        return
    first, second = joint.ends if joint.kind == "pair" else joint.ends[::-1]
    for chain in bench.bridges.between(bare(first), second):
        changes: list[Change] = []
        steps: list[tuple[str, str]] = []
        taken: list[str] = []
        for part_id, near, far in chain.steps:
            tag = fresh_tag(bench.build, "adapter", first.ref, taken)
            taken.append(tag)
            changes.append(Put(("components", tag), bench.component(part_id)))
            steps.append((f"{tag}.{near}", f"{tag}.{far}"))
        changes += bench.between(first.ref, second.ref, steps)
        yield Remedy("adapters", tuple(changes), chain.parts, added_joints=chain.added_joints)
