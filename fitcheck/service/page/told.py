"""What the page says of a build: findings, what was not checked, bill, sheets, pedals."""

import re
from collections.abc import Iterator
from typing import Any, Final

from fitcheck.checks.findings import LEVELS, Finding
from fitcheck.reports.check_text import gaps_of, headline
from fitcheck.reports.evidence_words import evidence_lines
from fitcheck.reports.plain_json import compact_text
from fitcheck.service.answers.source import Answer, Options, Source
from fitcheck.service.page.known import Looked, looked

_ON_PAPER: Final = re.compile(r'<div class="drawing">.*?</svg></div>', re.DOTALL)
"""Rulers and templates of a sheet: at 1 : 1 on paper only."""


def core(source: Source, options: Options) -> Answer:
    """Return what the rules say, each finding with its number, its place and its key."""
    found = looked(source, options)
    context, report = found.context, found.report
    file, path = context.file, found.path
    value = {
        "name": file.name,
        "note": file.note,
        "fluid": file.fluid,
        "headline": headline(report),
        "counts": {level: report.count(level) for level in LEVELS},
        "findings": [finding_value(number, each, path) for number, each in enumerate(report.findings, 1)],
        "accepted": [finding_value(0, each, path) for each in report.accepted],
        "gaps": [list(gap) for gap in gaps_of(report.unchecked)],
        "checked": dict(report.checked),
        "joints": list(_joints(found)),
        "things": [
            {"tag": item.tag, "kind": item.part.kind if item.part is not None else "not known", "part": item.part_id}
            for item in context.graph.fitted.values()
        ],
    }
    return Answer(compact_text(value))


def finding_value(number: int, finding: Finding, path: str) -> dict[str, Any]:
    """Return one finding as plain values; `number` is its mark on the drawings."""
    place = finding.place
    return {
        "number": number,
        "rule": finding.rule,
        "level": finding.level,
        "message": finding.message,
        "at": list(finding.at),
        "file": place.file,
        "line": place.line,
        "column": place.column,
        "here": place.file == path,
        "lines": evidence_lines(finding),
        "accepted": finding.accepted,
    }


def _joints(found: Looked) -> Iterator[dict[str, Any]]:
    """Yield each joint with its verdict, in the order of the file."""
    facts = {id(each.joint): each for each in found.context.facts}
    gaps = {ref for each in found.report.unchecked for ref in each.at}
    for joint in found.context.graph.joints:
        fact = facts.get(id(joint))
        if fact is None:
            verdict = "not judged"
        elif fact.rule is not None:
            verdict = f"{fact.level}: {fact.rule}"
        elif fact.unchecked or gaps & set(joint.refs):
            verdict = "fits in what was looked at; not all was"
        else:
            verdict = "fits"
        marks = [number for number, each in enumerate(found.report.findings, 1) if set(each.at) & set(joint.refs)]
        yield {"at": list(joint.refs), "verdict": verdict, "findings": marks}


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
    told = [_lower(_ON_PAPER.sub("", part), by=2) for part in parts]
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


def _lower(part: str, by: int) -> str:
    """Return HTML with its headings so many levels lower, or higher. What users wrote has no tags in it."""
    return _HEADING.sub(lambda found: f"<{found[1]}h{min(6, int(found[2]) + by)}>", part)


def pedal(source: Source, options: Options) -> Answer:
    """Return the pedal's figures as HTML; says so where the build says nothing of a pedal."""
    from fitcheck.hydraulics.answer import has_pedal
    from fitcheck.reports.caution import CAUTION
    from fitcheck.reports.pack.told import UNLIMITED, told
    from fitcheck.reports.pedal_text import pedal_text

    found = looked(source, options)
    if not has_pedal(found.context.file):
        words = "The build says nothing of a pedal: pressure, stroke, travel and balance are not computed."
        return Answer(f"<p>{words}</p>", media="text/html")
    lines = pedal_text(found.pedal, width=UNLIMITED).splitlines()
    html = "".join(told(line for line in lines if line != CAUTION))
    return Answer(_lower(html, by=-1), media="text/html")


def look(source: Source, options: Options) -> Answer:
    """Return what the rules say of a text that is being written, each finding at its line."""
    found = looked(source, options)
    marks = [
        {"line": each.place.line, "column": each.place.column, "level": each.level, "message": each.message}
        for each in found.report.findings
        if each.place.file == options["file"]
    ]
    return Answer(compact_text({"headline": headline(found.report), "marks": marks}))
