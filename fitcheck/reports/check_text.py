"""The answer of `check` as text: what to do first, then what was not looked at, then what was."""

from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Final

from fitcheck.checks.findings import LEVELS, Finding, Level, Report, Unchecked
from fitcheck.reports.evidence_words import evidence_lines
from fitcheck.reports.gaps import checks_of, gap_text, gaps_of
from fitcheck.reports.plain import WIDTH, caution_lines, count_of, first_few, nothing_found, paragraph, visible
from fitcheck.reports.remedy_words import missing_adapters, remedy_lines, remedy_text

_HEADINGS: Final[dict[Level, str]] = {
    "error": "ERRORS: do not order or drive",
    "warning": "WARNINGS: look by hand",
    "note": "NOTES",
}
_COLOURS: Final[dict[Level, str]] = {"error": "31", "warning": "33", "note": "36"}
_MOST_GAPS: Final = 12
"""Lines that say what was not checked; the rest is counted."""


def check_text(
    report: Report,
    *,
    width: int = WIDTH,
    colour: bool = False,
    all_unchecked: bool = False,
    all_remedies: bool = False,
) -> str:
    """Return the report for people, in lines of at most `width` columns.

    Errors come first, each rule's findings together. `colour` adds ANSI colours to the headings.
    `all_unchecked` lists every place that was not checked instead of the first few of each kind; `all_remedies` says
    of each remedy what to buy and what to edit.
    """
    lines = paragraph(headline(report), width)
    for level in LEVELS:
        lines += _level(report, level, width, colour, all_remedies)
    lines += _adapters(report, width)
    if report.unproven:
        words = f"REMEDIES not looked for at {count_of(report.unproven, 'finding')}: the build is large; fitcheck cure"
        lines += ["", *paragraph(f"{words} --only TAG looks there", width)]
    lines += _accepted(report, width)
    lines += _unchecked(report.unchecked, width, all_unchecked)
    lines += _checked(report, width)
    return "\n".join([*lines, *caution_lines(width)])


def headline(report: Report) -> str:
    """Return what was found in one line: `Dunlin: 2 errors; 1 accepted; 3 checks not made`."""
    counts = [count_of(report.count(level), level) for level in LEVELS if report.count(level)]
    found = ", ".join(counts) if counts else nothing_found(report.checked)
    extra = [f"{len(report.accepted)} accepted"] if report.accepted else []
    if report.unchecked:
        extra.append(f"{count_of(len(report.unchecked), 'check')} not made")
    return "; ".join([f"{report.build}: {found}", *extra])


def _level(report: Report, level: Level, width: int, colour: bool, remedies: bool) -> Iterator[str]:
    findings = [finding for finding in report.findings if finding.level == level]
    if not findings:
        return
    heading = f"{_HEADINGS[level]} ({len(findings)})"
    yield ""
    for line in paragraph(heading, width):
        yield f"\x1b[1;{_COLOURS[level]}m{line}\x1b[0m" if colour else line
    for rule, group in groupby(findings, key=lambda finding: finding.rule):
        yield ""
        yield f"  {level} {rule}"
        for finding in group:
            yield from finding_lines(finding, width, remedies)


def finding_lines(finding: Finding, width: int, whole: bool = False) -> Iterator[str]:
    """Yield a finding: place and message, then evidence and remedies set in, these with all that they ask for."""
    place = f"{finding.place.file}:{finding.place.line}:{finding.place.column}"
    yield from paragraph(f"{place}: {finding.message}", width, "    ", "      ")
    for line in evidence_lines(finding):
        yield from paragraph(line, width, "      ", "        ")
    for remedy in finding.remedies:
        yield from paragraph(f"remedy: {remedy_text(remedy)}", width, "      ", "        ")
        for line in remedy_lines(remedy) if whole else ():
            yield from paragraph(line, width, "        ", "          ")


def _heading(text: str, width: int) -> Iterator[str]:
    return iter(("", *paragraph(text, width), ""))


def _adapters(report: Report, width: int) -> Iterator[str]:
    """Yield the adapters that the first remedies call for."""
    wanted = missing_adapters(report.findings)
    if not wanted:
        return
    yield from _heading("MISSING ADAPTERS: the first remedy of each joint", width)
    for part, places in wanted.items():
        yield from paragraph(f"{len(places)} {part}: for {first_few(places)}", width, "  ", "    ")


def _accepted(report: Report, width: int) -> Iterator[str]:
    if not report.accepted:
        return
    yield from _heading(f"ACCEPTED ({len(report.accepted)})", width)
    for finding in report.accepted:
        place = f"{finding.place.file}:{finding.place.line}:{finding.place.column}"
        text = f"{finding.level} {finding.rule} {place}: {finding.message}"
        yield from paragraph(text, width, "  ", "    ")
        yield from paragraph(f"because: {finding.accepted}", width, "    ", "      ")


def _unchecked(items: Iterable[Unchecked], width: int, every: bool) -> Iterator[str]:
    """Yield what was not checked, by missing field: the field that unlocks most comes first."""
    gaps = gaps_of(items)
    if not gaps:
        return
    yield from _heading(f"NOT CHECKED ({checks_of(gaps)}): what is missing", width)
    shown = gaps if every else gaps[:_MOST_GAPS]
    for gap in shown:
        yield from paragraph(gap_text(gap, None) if every else gap_text(gap), width, "  ", "    ")
    if len(gaps) > len(shown):
        more = count_of(len(gaps) - len(shown), "more field")
        rest = count_of(checks_of(gaps[len(shown) :]), "check")
        yield from paragraph(f"and {more}, {rest}: --unchecked lists them all", width, "  ")


def _checked(report: Report, width: int) -> Iterator[str]:
    yield from _heading("CHECKED: places that each rule looked at", width)
    if report.checked:
        counts = ", ".join(f"{visible(rule)} {count}" for rule, count in report.checked.items())
        yield from paragraph(counts, width, "  ")
    else:
        yield "  nothing"
