"""The answer of `check` as JUnit XML, the form in which build servers read tests; what was not looked at does not pass.

A rule that looked at something is a test case; each of its findings at level error is one of its own, a failure; what
was not checked is skipped, with the missing field. Warnings, notes and accepted findings stand in `system-out`, for a
case that has `failure` fails the build. Elements and attributes are those that the schema of the Ant JUnit task asks
for, in its order, so that stricter and laxer readers take it.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime
from html import escape
from typing import Final, NamedTuple

from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.register import FAMILIES
from fitcheck.reports.check_text import finding_lines
from fitcheck.reports.evidence_words import evidence_lines
from fitcheck.reports.plain import caution_lines, first_few, paragraph, visible
from fitcheck.reports.remedy_words import remedy_text
from fitcheck.trees import Problem

_SUITE: Final = "fitcheck"
_FAMILY_OF: Final = {rule: family for family, rules in FAMILIES.items() for rule in rules}
_NO_CLOCK: Final = "0.000"
"""What a single case takes: rules have no clock of their own, only the whole check has."""


class _Case(NamedTuple):
    """One test case: its class, its name, and what is in it; `outcome` is the element that is not a pass."""

    group: str
    name: str
    outcome: str = ""
    inside: str = ""


def check_junit(report: Report, when: datetime, seconds: float = 0.0) -> str:
    """Return the report as JUnit XML. `when` is the time of the check, `seconds` how long it took."""
    cases = [*_rules(report), *_failures(report.findings), *_skipped(report)]
    told = [finding for finding in report.findings if finding.level != "error"]
    out = [*_told(told), *_told(report.accepted), *caution_lines()]
    return _document(report.build, cases, out, when, seconds)


def problems_junit(problems: Iterable[Problem], when: datetime) -> str:
    """Return what makes a file unusable as JUnit XML: each problem is a case in error, and nothing passes."""
    cases = [_problem(problem) for problem in problems]
    return _document("not read", cases, ["nothing was checked", *caution_lines()], when, 0.0)


def _problem(problem: Problem) -> _Case:
    where = f"{problem.file}:{problem.line}:{problem.column}"
    inside = _element("error", {"message": problem.message, "type": "unreadable"}, str(problem))
    return _Case(f"{_SUITE}.file", f"{where}: {problem.message}", "error", inside)


def _rules(report: Report) -> Iterator[_Case]:
    """Yield a case that passes for each rule that looked at something and has no error to tell."""
    failed = {finding.rule for finding in report.findings if finding.level == "error"}
    for rule in report.checked:
        if rule not in failed:
            yield _Case(_group(rule), rule)


def _failures(findings: Iterable[Finding]) -> Iterator[_Case]:
    for finding in findings:
        if finding.level == "error":
            inside = _element("failure", {"message": finding.message, "type": finding.rule}, _whole(finding))
            yield _Case(_group(finding.rule), f"{finding.rule} at {', '.join(finding.at)}", "failure", inside)


def _skipped(report: Report) -> Iterator[_Case]:
    """Yield a case for each rule and missing field; its text lists the places."""
    gaps: dict[tuple[str, str], list[str]] = {}
    for item in report.unchecked:
        gaps.setdefault((item.rule, item.missing), []).extend(item.at[:1])
    for (rule, missing), places in gaps.items():
        where = f" at {first_few(places)}" if places else ""
        inside = _element("skipped", {"message": f"not checked{where}: {missing}"}, "\n".join(places))
        yield _Case(_group(rule), f"{rule} not checked: {missing}", "skipped", inside)


def _group(rule: str) -> str:
    return f"{_SUITE}.{_FAMILY_OF.get(rule, 'rules')}"


def _whole(finding: Finding) -> str:
    """Return a finding with its place, evidence and remedies, one to a line."""
    place = finding.place
    lines = [f"{place.file}:{place.line}:{place.column}: {finding.level}: {finding.message}"]
    lines += evidence_lines(finding)
    lines += [f"remedy: {remedy_text(remedy)}" for remedy in finding.remedies]
    return "\n".join(map(visible, lines))


def _told(findings: Sequence[Finding]) -> Iterator[str]:
    for finding in findings:
        yield f"{finding.level} {finding.rule}"
        yield from finding_lines(finding, 110)
        if finding.accepted is not None:
            yield from paragraph(f"accepted because: {finding.accepted}", 110, "    ", "      ")


def _document(build: str, cases: Sequence[_Case], out: Iterable[str], when: datetime, seconds: float) -> str:
    counts = Counter(case.outcome for case in cases)
    suite = {
        "name": f"{_SUITE} check {build}",
        "package": _SUITE,
        "id": "0",
        "timestamp": when.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S"),
        "hostname": "localhost",
        "tests": str(len(cases)),
        "failures": str(counts["failure"]),
        "errors": str(counts["error"]),
        "skipped": str(counts["skipped"]),
        "time": f"{seconds:.3f}",
    }
    lines = ['<?xml version="1.0" encoding="UTF-8"?>', "<testsuites>", f"<testsuite{_attributes(suite)}>"]
    lines += ["<properties></properties>", *map(_case, _named_apart(cases))]
    lines += [
        _element("system-out", {}, "\n".join(out)),
        _element("system-err", {}, ""),
        "</testsuite>",
        "</testsuites>",
    ]
    return "\n".join(lines)


def _named_apart(cases: Iterable[_Case]) -> Iterator[_Case]:
    """Yield the cases, with a number behind each name that was there before: servers follow a case by its name."""
    seen: Counter[tuple[str, str]] = Counter()
    for case in cases:
        key = (case.group, case.name)
        seen[key] += 1
        yield case if seen[key] == 1 else case._replace(name=f"{case.name} ({seen[key]})")


def _case(case: _Case) -> str:
    head = _attributes({"classname": case.group, "name": case.name, "time": _NO_CLOCK})
    return f"<testcase{head}>{case.inside}</testcase>"


def _element(name: str, attributes: dict[str, str], text: str) -> str:
    return f"<{name}{_attributes(attributes)}>{_safe(text)}</{name}>"


def _attributes(values: dict[str, str]) -> str:
    return "".join(f' {name}="{_safe(visible(value))}"' for name, value in values.items())


def _safe(text: str) -> str:
    """Return text escaped, with no character that XML 1.0 forbids."""
    return escape("\n".join(map(visible, text.split("\n"))), quote=True)
