"""What the page says of a build: findings, what was not checked, bill, sheets, pedals."""

import re
from collections.abc import Iterable, Iterator
from typing import Any, Final

from fitcheck.checks.findings import LEVELS, Finding, Unchecked
from fitcheck.checks.joint_facts import JointFacts
from fitcheck.reports.check_text import headline
from fitcheck.reports.evidence_words import evidence_lines
from fitcheck.reports.gaps import asked_text, gaps_of
from fitcheck.reports.plain_json import compact_text
from fitcheck.service.answers.source import Answer, Options, Source
from fitcheck.service.page.known import Looked, looked

_ON_PAPER: Final = re.compile(r'<div class="drawing">.*?</svg></div>', re.DOTALL)
"""Rulers and templates of a sheet: at 1 : 1 on paper only."""
_MOST_PLACES: Final = 12
"""As many places of what was not checked are named."""


def core(source: Source, options: Options) -> Answer:
    """Return what the rules say, each finding with its number, its place and its key."""
    found = looked(source, options)
    context, report = found.context, found.report
    file = context.file
    value = {
        "name": file.name,
        "note": file.note,
        "fluid": file.fluid,
        "offers": bool(file.offers),
        "headline": headline(report),
        "counts": {level: report.count(level) for level in LEVELS},
        "findings": finding_values(found),
        "accepted": [finding_value(0, each, found) for each in report.accepted],
        "gaps": gap_values(report.unchecked),
        "checked": dict(report.checked),
        "joints": list(_joints(found)),
        "things": [
            {"tag": item.tag, "kind": item.part.kind if item.part is not None else "not known", "part": item.part_id}
            for item in context.graph.fitted.values()
        ],
    }
    return Answer(compact_text(value))


def gap_values(items: Iterable[Unchecked]) -> list[list[Any]]:
    """Return what was not checked: the missing field, how many checks need it, and which and where in words."""
    return [[gap.missing, gap.checks, asked_text(gap, _MOST_PLACES)] for gap in gaps_of(items)]


def finding_values(found: Looked) -> list[dict[str, Any]]:
    """Return the findings in their order as plain values."""
    return [finding_value(number, each, found) for number, each in enumerate(found.report.findings, 1)]


def finding_value(number: int, finding: Finding, found: Looked) -> dict[str, Any]:
    """Return one finding as plain values; `number` is its mark on the drawings, 0 if it has none."""
    place = finding.place
    return {
        "number": number,
        "name": found.names[number - 1] if number else "",
        "rule": finding.rule,
        "level": finding.level,
        "message": finding.message,
        "at": list(finding.at),
        "file": place.file,
        "line": place.line,
        "column": place.column,
        "here": place.file == found.path,
        "lines": evidence_lines(finding),
        "accepted": finding.accepted,
    }


def _joints(found: Looked) -> Iterator[dict[str, Any]]:
    """Yield each joint with its verdict, in the order of the file."""
    facts = {id(each.joint): each for each in found.context.facts}
    gaps = {ref for each in found.report.unchecked for ref in each.at}
    for joint in found.context.graph.joints:
        fact = facts.get(id(joint))
        refs = set(joint.refs)
        named = [
            {"number": number, "name": name, "level": each.level}
            for number, (name, each) in enumerate(zip(found.names, found.report.findings, strict=True), 1)
            if refs & set(each.at)
        ]
        verdict = verdict_of(fact, bool(gaps & refs))
        rule = {"rule": fact.rule, "level": fact.level} if fact is not None and fact.rule is not None else None
        yield {"at": list(joint.refs), "verdict": verdict, "named": named, "fault": rule}


def verdict_of(fact: JointFacts | None, gaps: bool) -> str:
    """Return what is said of a joint: its fault, or how far it was looked at; `gaps` if a rule could not look at it."""
    if fact is None:
        return "not judged: an end of it is not known"
    if fact.rule is not None:
        return fact.message
    if fact.unchecked or gaps:
        return "fits in what was looked at; not all was"
    return "fits: nothing is wrong in what was looked at"


def drawing(source: Source, options: Options) -> Answer:
    """Return a drawing for within the page."""
    return Answer(looked(source, options).drawing(options["view"]), media="text/html")


def remedies(source: Source, options: Options) -> Answer:
    """Return the first remedy of each finding, by the finding's number."""
    from fitcheck.remedies.choose import with_remedies
    from fitcheck.reports.remedy_words import remedy_text

    found = looked(source, options)
    report = with_remedies(found.context, found.report)
    told = {number: remedy_text(each.remedies[0]) for number, each in enumerate(report.findings, 1) if each.remedies}
    return Answer(compact_text({"first": told, "unproven": report.unproven}))


def bill(source: Source, options: Options) -> Answer:
    """Return the bill of materials as HTML."""
    from fitcheck.reports.pack.shopping import bom_told

    found = looked(source, options)
    priced = bool(found.context.file.offers)
    why = (
        "What the build needs, at the offers' prices. `fitcheck order` plans what to buy where."
        if priced
        else "What the build needs. It names no offers, so nothing is priced."
    )
    return Answer("".join(bom_told(found.bom, why)), media="text/html")


def sheets(source: Source, options: Options) -> Answer:
    """Return the bench sheets and the hole schedule as HTML, without what is measured on paper."""
    from fitcheck.making.holes import hole_schedule
    from fitcheck.making.make import sheets as made_sheets
    from fitcheck.reports.make_page import hose_page, line_told
    from fitcheck.reports.pack.sheets import schedule_told

    graph = looked(source, options).context.graph
    made = made_sheets(graph)
    parts = ["".join(line_told(sheet, made.unit)) for sheet in made.sheets]
    parts += ["".join(hose_page(hose, made.unit)) for hose in made.hoses]
    told = [lower(_ON_PAPER.sub("", part), by=2) for part in parts]
    told.append(f"<h3>Holes</h3>{''.join(schedule_told(hole_schedule(graph)))}")
    return Answer("".join(map(_folded, told)), media="text/html")


def _folded(part: str) -> str:
    """Return a sheet that begins with its heading, folded under it; what is in it goes without styles of its own."""
    head, body = part.split("</h3>", 1)
    body = _OWN_STYLE.sub("", _TABLE.sub(lambda found: f'<div class="wide">{found[0]}</div>', body))
    return f'<details class="sheet"><summary>{head}</h3></summary>{body}</details>'


_HEADING: Final = re.compile(r"<(/?)h([1-4])>")
_TABLE: Final = re.compile(r'(?<!<div class="wide">)<table.*?</table>', re.DOTALL)
_OWN_STYLE: Final = re.compile(r' style="[a-z:-]*"(?=>)')


def lower(part: str, by: int) -> str:
    """Return HTML with its headings so many levels lower, or higher. What users wrote has no tags in it."""
    return _HEADING.sub(lambda found: f"<{found[1]}h{min(6, int(found[2]) + by)}>", part)


def look(source: Source, options: Options) -> Answer:
    """Return what the rules say of a text that is being written, each finding at its line."""
    found = looked(source, options)
    marks = [
        {"line": each.place.line, "column": each.place.column, "level": each.level, "message": each.message}
        for each in found.report.findings
        if each.place.file == options["file"]
    ]
    return Answer(compact_text({"headline": headline(found.report), "marks": marks}))
