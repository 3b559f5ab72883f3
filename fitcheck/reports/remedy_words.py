"""Remedies in words and in JSON. What they are made of is imported only once there is a remedy to show."""

from collections.abc import Iterable
from typing import Any

from fitcheck.checks.findings import Finding
from fitcheck.reports.plain import count_of


def remedy_text(remedy: object) -> str:
    """Return a remedy as an act, verb first: `fit adapter-a, then adapter-b (2 more joints)`."""
    from fitcheck.remedies.adapters import AdapterChain

    if isinstance(remedy, AdapterChain):
        return f"fit {', then '.join(remedy.parts)} ({count_of(remedy.added_joints, 'more joint')})"
    return str(remedy)


def remedy_value(remedy: object) -> Any:
    """Return a remedy as plain values; `kind` says which sort it is."""
    from fitcheck.remedies.adapters import AdapterChain
    from fitcheck.reports.plain_json import plain

    if isinstance(remedy, AdapterChain):
        return {"kind": "adapters", "parts": list(remedy.parts), "added_joints": remedy.added_joints}
    return plain(remedy)


def missing_adapters(findings: Iterable[Finding]) -> dict[str, list[str]]:
    """Return the adapters of each finding's first remedy, each with the ends that it is for, by part id."""
    remedied = [finding for finding in findings if finding.remedies]
    if not remedied:
        return {}
    from fitcheck.remedies.adapters import AdapterChain

    wanted: dict[str, list[str]] = {}
    for finding in remedied:
        first = finding.remedies[0]
        if isinstance(first, AdapterChain):
            for part in first.parts:
                wanted.setdefault(part, []).append(finding.at[0])
    return {part: wanted[part] for part in sorted(wanted)}
