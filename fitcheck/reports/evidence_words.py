"""The evidence of a finding in one or two plain lines. All of it is in the JSON."""

import re
from collections.abc import Iterable, Mapping
from math import isfinite
from typing import Any, Final

from fitcheck.build.refs import tag_of
from fitcheck.checks.findings import Finding
from fitcheck.measures import INCH_MM, number
from fitcheck.reports.plain import first_few, shortened_path

_PATHS: Final = ("path", "loop", "cut", "way")
_MOST_LINES: Final = 2
_REF: Final = re.compile(r"[^\s,;:]+\.[^\s,;:]+")
"""A reference in a sentence: `tee.left`."""


def evidence_lines(finding: Finding) -> list[str]:
    """Return what of the evidence helps to see the fault: at most two lines, and one of open ends not told yet.

    No line if the message says it all. Sources are left to the JSON and to the rule's page: this is read in a cold
    workshop. Every open end that goes with the fault is told: nothing else in the report names it.
    """
    evidence = finding.evidence
    parts = (_seats, _ways, _joints, _sides, _reason, _also)
    lines = [*_threads(evidence, finding.told_in), *(line for part in parts for line in part(evidence))][:_MOST_LINES]
    return [*lines, *_open_with_it(finding, lines)]


def _open_with_it(finding: Finding, lines: Iterable[str]) -> list[str]:
    """Return the open ends that the finding accounts for and that neither its message nor these lines name."""
    if finding.rule == "dead-end":  # its message names ends, or the part that all of them belong to
        return []
    told = set(_REF.findall(" ".join((finding.message, *lines))))
    ends = (*finding.evidence.get("open_ends", ()), *finding.evidence.get("left_out", ()))
    left = [ref for ref in dict.fromkeys(map(str, ends)) if ref not in told]
    return [f"open with it: {', '.join(left)}"] if left else []


def _threads(evidence: Mapping[str, Any], unit: str) -> list[str]:
    """Return the verdict on two threads and the figures it rests on."""
    if "verdict" not in evidence:
        return []
    figures = [
        _span("clearance", _told_in(unit, evidence.get("clearance_mm")), unit, 4 if unit == "in" else 2),
        _span("overlap", evidence.get("overlap_percent"), "%", 0),
        _span("free turns", evidence.get("free_turns"), "", 1),
    ]
    verdict = str(evidence["verdict"]).replace("-", " ")
    reason = f"{verdict}: {evidence['reason']}" if evidence.get("reason") else verdict
    shown = ", ".join(figure for figure in figures if figure)
    return [reason, shown] if shown else [reason]


def _told_in(unit: str, bounds: Any) -> Any:
    """Return bounds in mm as bounds in the user's unit."""
    if unit != "in" or bounds is None:
        return bounds
    return [mm / INCH_MM if mm is not None else None for mm in bounds]


def _span(name: str, bounds: Any, unit: str, places: int) -> str:
    """Return `clearance 0.54 to 0.79 mm`; empty if there are no bounds, or no end of them."""
    if bounds is None:
        return ""
    least, most = bounds
    if least is None or most is None or not (isfinite(least) and isfinite(most)):
        return ""
    low, high = number(least, places), number(most, places)
    span = low if low == high else f"{low} to {high}"
    return f"{name} {span} {unit}".rstrip()


def _seats(evidence: Mapping[str, Any]) -> list[str]:
    outcome = evidence.get("outcome")
    return [str(outcome)] if outcome else []


def _ways(evidence: Mapping[str, Any]) -> list[str]:
    """Return the way that fluid takes, or each way where there are several."""
    ways = [evidence[key] for key in _PATHS if _is_way(evidence.get(key))]
    ways += [crossing["path"] for crossing in evidence.get("crossings") or () if _is_way(crossing.get("path"))]
    return [shortened_path(_through_parts(list(map(str, way)))) for way in ways]


def _through_parts(way: list[str]) -> list[str]:
    """Return a way with each part told by the port that fluid enters at and the one it leaves by, none between.

    The graph chains the ports that share a passage; on the car they open into one bore.
    """
    tags = [tag_of(ref) for ref in way]
    last = len(way) - 1
    return [ref for i, ref in enumerate(way) if not (0 < i < last and tags[i - 1] == tags[i] == tags[i + 1])]


def _is_way(value: Any) -> bool:
    return isinstance(value, (list, tuple)) and len(value) > 1


def _joints(evidence: Mapping[str, Any]) -> list[str]:
    """Return the joints that one port has, and where each is stated."""
    joints = evidence.get("joints") or ()
    named = (f"line {joint['line']}: {' - '.join(joint['ends'])}" for joint in joints)
    return ["joined on " + "; ".join(named)] if joints else []


def _sides(evidence: Mapping[str, Any]) -> list[str]:
    """Return where a circuit breaks off, on the side that is fed and on the one that is not."""
    fed, unfed = evidence.get("fed_side") or (), evidence.get("unfed_side") or ()
    sides = [f"fed as far as {first_few(fed)}"] if fed else []
    sides += [f"open on the other side: {first_few(unfed)}"] if unfed else []
    return ["; ".join(sides)] if sides else []


def _reason(evidence: Mapping[str, Any]) -> list[str]:
    """Return why, where the evidence is neither a pair of threads nor a pair of seats."""
    if "verdict" in evidence or "outcome" in evidence or not evidence.get("reason"):
        return []
    return [str(evidence["reason"])]


def _also(evidence: Mapping[str, Any]) -> list[str]:
    """Return what else is wrong with the same joint, in one line."""
    others = evidence.get("also") or ()
    if not others:
        return []
    return ["also: " + "; ".join(f"{other['message']} ({other['rule']})" for other in others)]
