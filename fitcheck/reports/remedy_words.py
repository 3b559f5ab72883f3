"""Remedies in words and in JSON."""

from collections.abc import Iterable
from typing import Any

from fitcheck.checks.findings import Finding
from fitcheck.remedies.adapters import AdapterChain
from fitcheck.reports.plain import count_of
from fitcheck.reports.plain_json import plain


def remedy_text(remedy: object) -> str:
    """Return a remedy as an act, verb first: `fit adapter-a, then adapter-b (2 more joints)`."""
    if isinstance(remedy, AdapterChain):
        return f"fit {', then '.join(remedy.parts)} ({count_of(remedy.added_joints, 'more joint')})"
    return str(remedy)


def remedy_value(remedy: object) -> Any:
    """Return a remedy as plain values; `kind` says which sort it is."""
    if isinstance(remedy, AdapterChain):
        return {"kind": "adapters", "parts": list(remedy.parts), "added_joints": remedy.added_joints}
    return plain(remedy)


def missing_adapters(findings: Iterable[Finding]) -> dict[str, list[str]]:
    """Return the adapters of each finding's first remedy, each with the ends that it is for, by part id."""
    wanted: dict[str, list[str]] = {}
    for finding in findings:
        first = finding.remedies[0] if finding.remedies else None
        if isinstance(first, AdapterChain):
            for part in first.parts:
                wanted.setdefault(part, []).append(finding.at[0])
    return {part: wanted[part] for part in sorted(wanted)}
