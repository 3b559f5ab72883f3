"""A bracket, a moving part, and a hose between them, as text of a build."""

from pathlib import Path

from fitcheck.build.load import load
from fitcheck.checks.findings import Report
from fitcheck.checks.run import check

ENDS = "{from: {thread: 3/8-24 UNF, gender: external, seat: inverted-flare, tube: 3/16 in}, to: {same as: from}}"
HOUSE = f"""\
catalog: 1
parts:
  hose-300: {{kind: hose, ports: {ENDS}, length: 300 mm, bend_radius: 40 mm}}
  hose-340: {{kind: hose, ports: {ENDS}, length: 340 mm, bend_radius: 40 mm}}
  hose-400: {{kind: hose, ports: {ENDS}, length: 400 mm, bend_radius: 40 mm}}
  hose-400-stiff: {{kind: hose, ports: {ENDS}, length: 400 mm, bend_radius: 200 mm}}
  hose-plain: {{kind: hose, ports: {ENDS}, length: 300 mm, inside: 3.2 mm}}
  hose-odd: {{kind: hose, ports: {ENDS}, length: 300 mm, inside: 3.6 mm}}
  hose-endless: {{kind: hose, ports: {ENDS}, bend_radius: 40 mm}}
  hose-loose: {{kind: hose, ports: {ENDS}, length: 800 mm, bend_radius: 90 mm}}
"""
AXLE = "axle: {poses: {droop: {shift: [0, 0, -90]}, bump: {shift: [0, 0, 70]}}}"


def build_of(
    at: str, part: str = "hose-300", bodies: str = AXLE, far: str = "[0, 0, 300]", hose: str = "", head: str = ""
) -> str:
    """Return a build with a hose from a bracket at `at` on the chassis to a union at `far` on the axle."""
    place = f", at: {at}" if at else ""
    there = f", at: {far}" if far else ""
    return f"""\
build: 1
{head}catalogs: [house.yaml]
bodies: {{{bodies}}}
components:
  bracket: {{part: union-3-16-inverted{place}}}
  stop_a: {{part: plug-3-8-24-inverted}}
  far: {{part: union-3-16-inverted, on: axle{there}}}
  stop_b: {{part: plug-3-8-24-inverted}}
joints:
  - [stop_a.end, bracket.a]
  - [stop_b.end, far.b]
hoses:
  jump: {{part: {part}, from: bracket.b, to: far.a{hose}}}
"""


def report_of(text: str, folder: Path) -> Report:
    """Return the report of a build."""
    (folder / "house.yaml").write_text(HOUSE, encoding="utf-8")
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    return check(load(folder))


def said(report: Report, rule: str) -> list[tuple[str, str]]:
    """Return level and message of what a rule finds."""
    return [(finding.level, finding.message) for finding in report.findings if finding.rule == rule]


def missing(report: Report, rule: str) -> list[str]:
    """Return the fields that a rule misses."""
    return [item.missing for item in report.unchecked if item.rule == rule]
