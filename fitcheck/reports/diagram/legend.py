"""What stands over and under the diagram: its title, the findings by number, what was not checked, how to read it."""

from collections.abc import Iterator
from typing import Final

from fitcheck.checks.findings import Report
from fitcheck.reports.drawing import text
from fitcheck.reports.plain import count_of, nothing_found
from fitcheck.reports.plan.legend import Block, caution, findings_list, paragraph

MARGIN_MM: Final = 7.0
LEAST_MM: Final = 180.0
TITLE_MM: Final = 5.0
_SIZE: Final = 2.6
READ: Final = (
    "Thick lines: pressure, a colour for each circuit, which is named where it begins and at its brakes. Thin lines: "
    "feed from a reservoir. Double lines: rods. Dots: lines join; lines that cross without a dot do not. Strokes "
    "across: two parts meet. Rings: open ports. Arcs: hoses."
    " At each port its name, thread and seat; at each end of a line its flare and nut. Crosses: closed, with a thread "
    "beside it a bleed point. A reservoir with several outlets is drawn at each. Symbols: own drawing after the words "
    "of ISO 1219-1."
)


def head(build: str, fluid: str | None, crossings: int, width: float) -> Block:
    """Return the title over the diagram, in as many lines as it needs."""
    words = f"fluid {fluid}" if fluid else "fluid not stated"
    crossed = f"; {count_of(crossings, 'crossing')} of lines" if crossings else ""
    top, wide = MARGIN_MM + 4.0, width - 2.0 * MARGIN_MM
    parts, y = paragraph(MARGIN_MM, top, wide, f"{build}: circuit", size=TITLE_MM, bold=True)
    parts.append(text(MARGIN_MM, y - 2.5, _SIZE, f"{words}{crossed}", colour="soft"))
    return parts, y + 1.0


def legend(report: Report | None, nowhere: tuple[int, ...], y: float, width: float) -> Block:
    """Return findings by number, what was accepted, how many checks were not made, how to read, and the caution."""
    parts: list[str] = []
    wide = width - 2.0 * MARGIN_MM
    if report is not None:
        placed = [number for number in range(1, len(report.findings) + 1) if number not in nowhere]
        parts, y = findings_list(report, placed, MARGIN_MM, y, wide)
    for words in (*_told(report), READ):
        rows, y = paragraph(MARGIN_MM, y + 1.0, wide, words)
        parts += rows
    rows, y = caution(MARGIN_MM, y + 1.0, wide)
    return [*parts, *rows], y + MARGIN_MM - 3.0


def _told(report: Report | None) -> Iterator[str]:
    if report is None:
        yield "Findings are not drawn: fitcheck check tells them."
        return
    if not report.findings:
        yield f"{nothing_found(report.checked).capitalize()}."
    if report.unchecked:
        count = count_of(len(report.unchecked), "check")
        yield f"{count} not made for lack of data: fitcheck check --unchecked lists them."
