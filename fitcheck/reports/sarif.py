"""The answer of `check` as SARIF 2.1.0 (OASIS, 2020): the form that editors and code hosts read.

Findings are results, accepted ones with a suppression; what was not checked is a notification of the run, so
that no reader takes silence for a pass. The rule table carries the text of each rule's page.
"""

from collections.abc import Mapping, Sequence
from hashlib import sha256
from typing import Any

from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.register import Page
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain import first_few
from fitcheck.reports.plain_json import json_text, plain
from fitcheck.reports.remedy_words import remedy_value


def sarif(report: Report, pages: Sequence[Page], version: str | None = None) -> str:
    """Return the report as SARIF text. `pages` fill the rule table; `version` is that of this program.

    Without a version the installed one is named, if there is one.
    """
    return json_text(sarif_value(report, pages, version or _installed_version()))


def sarif_value(report: Report, pages: Sequence[Page], version: str | None) -> dict[str, Any]:
    """Return the report as plain values in the shape of SARIF 2.1.0."""
    index = {page.name: number for number, page in enumerate(pages)}
    driver: dict[str, Any] = {"name": "fitcheck"}
    if version:
        driver["version"] = version
    driver["rules"] = [_rule(page) for page in pages]
    run = {
        "tool": {"driver": driver},
        "columnKind": "unicodeCodePoints",
        "invocations": [
            {
                "executionSuccessful": True,
                "exitCode": 1 if report.failed else 0,
                "toolExecutionNotifications": _notifications(report, index),
            }
        ],
        "results": [_result(finding, index) for finding in (*report.findings, *report.accepted)],
        "properties": {"build": report.build, "checked": plain(report.checked), "caution": CAUTION},
    }
    return {"version": "2.1.0", "runs": [run]}


def _rule(page: Page) -> dict[str, Any]:
    finds = " ".join(page.sections.get("What it finds", page.short).split())
    return {
        "id": page.name,
        "shortDescription": {"text": page.short},
        "fullDescription": {"text": finds},
        "help": {"text": page.text},
    }


def _result(finding: Finding, index: Mapping[str, int]) -> dict[str, Any]:
    result: dict[str, Any] = {"ruleId": finding.rule}
    if finding.rule in index:
        result["ruleIndex"] = index[finding.rule]
    result |= {
        "level": finding.level,
        "message": {"text": finding.message},
        "locations": [_location(finding)],
        "partialFingerprints": {"ruleAtMessage/v1": _fingerprint(finding)},
    }
    if finding.accepted is not None:
        # The acceptance stands in the very file that was checked.
        result["suppressions"] = [{"kind": "inSource", "status": "accepted", "justification": finding.accepted}]
    remedies = [remedy_value(remedy) for remedy in finding.remedies]
    result["properties"] = {"evidence": plain(finding.evidence), "remedies": remedies}
    return result


def _location(finding: Finding) -> dict[str, Any]:
    place = finding.place
    region = {"startLine": place.line, "startColumn": place.column}
    location: dict[str, Any] = {
        "physicalLocation": {"artifactLocation": {"uri": relative_uri(place.file)}, "region": region}
    }
    if finding.at:
        location["logicalLocations"] = [
            {"name": name.rpartition(".")[2], "fullyQualifiedName": name} for name in finding.at
        ]
    return location


def relative_uri(name: str) -> str:
    """Return a file's name as a URI reference (RFC 3986): forward slashes, all else percent-encoded.

    >>> relative_uri("my car/50%.yaml")
    'my%20car/50%25.yaml'
    """
    from urllib.parse import quote

    return quote(name.replace("\\", "/"), safe="/")


def _fingerprint(finding: Finding) -> str:
    """Return what stays the same when the finding only moves to another line."""
    identity = "\0".join((finding.rule, *finding.at, finding.message))
    return sha256(identity.encode("utf-8", "backslashreplace")).hexdigest()


def _notifications(report: Report, index: Mapping[str, int]) -> list[dict[str, Any]]:
    """Return one notification for each rule and missing field."""
    gaps: dict[tuple[str, str], list[str]] = {}
    for item in report.unchecked:
        places = gaps.setdefault((item.rule, item.missing), [])
        places.extend(item.at[:1])
    return [_notification(rule, missing, places, index) for (rule, missing), places in gaps.items()]


def _notification(rule: str, missing: str, places: list[str], index: Mapping[str, int]) -> dict[str, Any]:
    where = f" at {first_few(places)}" if places else ""
    associated: dict[str, Any] = {"id": rule}
    if rule in index:
        associated["index"] = index[rule]
    return {
        "level": "note",
        "message": {"text": f"{rule} was not checked{where}: {missing}"},
        "associatedRule": associated,
        "properties": {"missing": missing, "at": places},
    }


def _installed_version() -> str | None:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("fitcheck")
    except PackageNotFoundError:
        return None
