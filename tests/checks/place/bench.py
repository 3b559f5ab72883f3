"""Two closed unions with a line between, and what the check says of it."""

from pathlib import Path

from fitcheck.build.load import load_document
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check
from fitcheck.sources import parse


def car(line: str, more: str = "", start: str = "[0, 0, 0]", end: str = "[400, 300, 0]", on: str = "chassis") -> str:
    """Return a build with one line `run` between two unions whose places are given; `line` is what it states."""
    where = [f", at: {place}" if place else "" for place in (start, end)]
    return f"""\
build: 1
bodies: {{axle: {{poses: {{bump: {{shift: [0, 0, 60]}}, droop: {{shift: [0, 0, -80]}}}}}}, engine: {{}}}}
components:
  near: {{part: union-3-16-inverted, on: {on}{where[0]}}}
  stop_a: {{part: plug-3-8-24-inverted}}
  far: {{part: union-3-16-inverted, on: {on}{where[1]}}}
  stop_b: {{part: plug-3-8-24-inverted}}
joints: [[stop_a.end, near.a], [stop_b.end, far.b]]
lines:
  run: {{from: near.b, to: far.a, {line}}}
{more}"""


CUNI = "tube: tube-3-16-cuni"


def report_of(text: str, folder: Path = Path()) -> Report:
    """Return the report of a build text."""
    return check(load_document(parse(text, "car.yaml"), folder))


def found(text: str, rule: str) -> list[Finding]:
    """Return what one rule says, and fail if another has an error or a warning."""
    findings = report_of(text).findings
    assert {finding.rule for finding in findings if finding.level != "note"} <= {rule}, findings
    return [finding for finding in findings if finding.rule == rule]


def said(text: str, rule: str) -> list[tuple[str, str, tuple[str, ...]]]:
    """Return level, message and places of what one rule says, and fail if another speaks too."""
    return [(finding.level, finding.message, finding.at) for finding in found(text, rule)]


def missing(text: str, rule: str) -> list[tuple[tuple[str, ...], str]]:
    """Return what one rule could not look at, and the field that would let it."""
    return [(one.at, one.missing) for one in report_of(text).unchecked if one.rule == rule]
