"""The findings as a section of the pack: what is wrong, with its remedy; what was accepted; what was not checked."""

from collections.abc import Iterator
from typing import Final

from fitcheck.build.load import Place
from fitcheck.checks.findings import LEVELS, Finding, Level, Report
from fitcheck.reports.check_text import headline
from fitcheck.reports.evidence_words import evidence_lines
from fitcheck.reports.gaps import asked_text, checks_of, gaps_of
from fitcheck.reports.pack.markup import heading, listed, paragraph, safe, table
from fitcheck.reports.plain import count_of, first_few
from fitcheck.reports.remedy_words import missing_adapters, remedy_text

_HEADINGS: Final[dict[Level, str]] = {
    "error": "Errors: do not order or drive",
    "warning": "Warnings: look by hand",
    "note": "Notes",
}
_MOST_PLACES: Final = 12


def findings_told(report: Report, folder: str) -> Iterator[str]:
    """Yield the findings, numbered as on the drawings; `folder` is taken off the names of files."""
    yield paragraph(headline(report))
    for level in LEVELS:
        numbered = [(number, each) for number, each in enumerate(report.findings, 1) if each.level == level]
        if numbered:
            yield heading(f"{_HEADINGS[level]} ({len(numbered)})")
        for number, finding in numbered:
            yield from _finding(number, finding, folder)
    yield from _adapters(report)
    if report.unproven:
        yield paragraph(f"Remedies not looked for at {count_of(report.unproven, 'finding')}: the build is large")
    if report.accepted:
        yield heading(f"Accepted ({len(report.accepted)})")
        yield from map(listed, _accepted(report, folder))
    yield from _unchecked(report)
    yield heading("Checked: places that each rule looked at")
    counts = ", ".join(f"{rule} {count}" for rule, count in report.checked.items())
    yield paragraph(counts or "nothing")


def _finding(number: int, finding: Finding, folder: str) -> Iterator[str]:
    yield f'<div class="finding {finding.level}">'
    yield heading(f"{number} {finding.level} {finding.rule}", 4)
    yield paragraph(f"{place_text(finding.place, folder)}: {finding.message}")
    yield listed(evidence_lines(finding))
    for remedy in finding.remedies:
        yield f"<p><b>remedy:</b> {safe(remedy_text(remedy))}</p>"
    yield "</div>"


def place_text(place: Place, folder: str) -> str:
    """Return where something stands: `build.yaml:12:5`, by the file's name within the build's folder.

    >>> place_text(Place("cars/one/build.yaml", 12, 5), "cars/one")
    'build.yaml:12:5'
    """
    return f"{place.file.removeprefix(f'{folder}/')}:{place.line}:{place.column}"


def _adapters(report: Report) -> Iterator[str]:
    wanted = missing_adapters(report.findings)
    if wanted:
        yield heading("Missing adapters: the first remedy of each joint")
        yield listed(f"{len(places)} {part}: for {first_few(places)}" for part, places in wanted.items())


def _accepted(report: Report, folder: str) -> Iterator[list[str]]:
    for each in report.accepted:
        told = f"{each.level} {each.rule} {place_text(each.place, folder)}: {each.message}"
        yield [f"{told}; because: {each.accepted}"]


def _unchecked(report: Report) -> Iterator[str]:
    gaps = gaps_of(report.unchecked)
    if not gaps:
        return
    yield heading(f"Not checked ({checks_of(gaps)}): what is missing")
    rows = [(gap.missing, str(gap.checks), asked_text(gap, _MOST_PLACES)) for gap in gaps]
    yield from table(("field that is missing", "checks", "rules and places"), rows, "lrl")
