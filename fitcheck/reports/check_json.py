"""The answer of `check` as JSON."""

from typing import Any

from fitcheck.checks.findings import LEVELS, Finding, Report
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain_json import json_text, plain
from fitcheck.reports.remedy_words import remedy_value


def check_json(report: Report) -> str:
    """Return the report as JSON text: findings, accepted ones apart, what was not checked, what was."""
    return json_text(check_value(report))


def check_value(report: Report) -> dict[str, Any]:
    """Return the report as plain values, its keys in the order in which they are written."""
    return {
        "build": report.build,
        "findings": [finding_value(finding) for finding in report.findings],
        "accepted": [finding_value(finding) | {"accepted": finding.accepted} for finding in report.accepted],
        "unchecked": [{"rule": item.rule, "at": list(item.at), "missing": item.missing} for item in report.unchecked],
        "checked": dict(report.checked),
        "unproven": report.unproven,
        "summary": {level: report.count(level) for level in LEVELS},
        "caution": CAUTION,
    }


def finding_value(finding: Finding) -> dict[str, Any]:
    """Return one finding as plain values."""
    return {
        "rule": finding.rule,
        "level": finding.level,
        "message": finding.message,
        "at": list(finding.at),
        "file": finding.place.file,
        "line": finding.place.line,
        "column": finding.place.column,
        "evidence": plain(finding.evidence),
        "remedies": [remedy_value(remedy) for remedy in finding.remedies],
    }
