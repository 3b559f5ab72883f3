"""Drawings, bench sheets, pedal figures, bleeding: sections that other reports have the bodies of."""

import re
from collections.abc import Iterator, Mapping
from html import escape
from typing import Final

from fitcheck.bom.bleed_sheet import BleedSheet
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.hydraulics.record import Answer
from fitcheck.making.hole_sheet import HoleSchedule
from fitcheck.making.sheet import Sheets
from fitcheck.reports.bleed_page import bleed_pages
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.diagram.circuit import circuit_drawing
from fitcheck.reports.drawing import Drawing, sheet
from fitcheck.reports.make_holes_page import holes_told
from fitcheck.reports.make_page import hose_page, line_told, template_pages
from fitcheck.reports.make_templates import too_large
from fitcheck.reports.pack.inline import inlined
from fitcheck.reports.pack.markup import WIDE, heading, paragraph, safe
from fitcheck.reports.pack.told import UNLIMITED, told
from fitcheck.reports.pedal_panels import PANELS
from fitcheck.reports.pedal_svg import NoPlotError, pedal_svg
from fitcheck.reports.pedal_text import pedal_text
from fitcheck.reports.pedal_words import LIMITS
from fitcheck.reports.plan.drawing import plan_drawing
from fitcheck.reports.plan.scene import scene
from fitcheck.reports.plan.views import VIEWS

ROOM_MM: Final[Mapping[str, float]] = {"a4": 215.0, "letter": 197.0}
"""Height that templates may take on a page, its head and foot and their own words left out."""
_PANELS_A_PAGE: Final = 3
_DEMOTED: Final = re.compile(r"<(/?)h([12])>")


def drawings_told(context: Context, report: Report) -> Iterator[str]:
    """Yield the circuit, then plan, side and front if anything has a place, each with a heading."""
    placed = not scene(context.graph).empty
    if not placed:
        yield paragraph("Plan, side and front are not drawn: the build does not say where anything is.")
    yield from _drawn("Circuit", circuit_drawing(context, report), "circuit")
    if not placed:
        return
    for view in VIEWS:
        name = {"plan": "Plan", "side": "Side", "front": "Front"}[view]
        yield from _drawn(name, plan_drawing(context, report, view), view)


def _drawn(title: str, drawing: Drawing, name: str) -> Iterator[str]:
    yield heading(title)
    yield f'<div class="drawing paged" tabindex="0" role="group" aria-label="{safe(title)}">'
    yield f"{inlined(sheet(drawing), name)}</div>"


def bench_told(made: Sheets, paper: str) -> Iterator[str]:
    """Yield the sheet of each line with its templates, then of each hose."""
    for made_line in made.sheets:
        yield '<div class="page">'
        yield from map(_demoted, line_told(made_line, made.unit))
        if not made_line.faults:
            yield from map(paragraph, too_large(made_line, ROOM_MM[paper]))
            for page in template_pages(made, made_line, ROOM_MM[paper]):
                yield f'<div class="drawing">{page}</div>'
        yield "</div>"
    for hose in made.hoses:
        yield '<div class="page">'
        yield from map(_demoted, hose_page(hose, made.unit))
        yield "</div>"
    if not (made.sheets or made.hoses):
        yield paragraph("The build has no lines and no hoses.")


def schedule_told(holes: HoleSchedule) -> Iterator[str]:
    """Yield the hole schedule."""
    yield from map(_demoted, holes_told(holes))


def bleeding_told(made: BleedSheet) -> Iterator[str]:
    """Yield how to fill and bleed, then each leak test."""
    for part in bleed_pages(made, f"{made.bleed.build}: filling and bleeding"):
        yield _demoted(part).replace("<section>", '<div class="page">').replace("</section>", "</div>")


def pedal_told(found: Answer) -> Iterator[str]:
    """Yield the pedal's figures in words and tables, then its plots where the library that draws them is there."""
    yield heading("Figures")
    yield from pedal_figures_told(found)
    yield from pedal_plots_told(found)


def pedal_figures_told(found: Answer) -> Iterator[str]:
    """Yield the pedal's figures in words and tables, and what is missing for more."""
    lines = pedal_text(found, width=UNLIMITED).splitlines()
    yield paragraph(lines[0])
    yield from told(line for line in lines[1:] if line not in (CAUTION, f"LIMITS: {LIMITS}"))
    yield paragraph(LIMITS)


def pedal_plots_told(found: Answer) -> Iterator[str]:
    """Yield the pedal's plots, a few in a drawing; nothing without figures, a sentence without the library."""
    panels = [panel for panel in PANELS if panel.fits(found)]
    for start in range(0, len(panels), _PANELS_A_PAGE):
        chosen = panels[start : start + _PANELS_A_PAGE]
        try:
            drawn = pedal_svg(found, chosen)
        except NoPlotError:
            yield paragraph('No plots: they need matplotlib, pip install "fitcheck[plot]".')
            return
        if not start:
            yield heading("Plots")
        yield f'<div class="drawing plots">{inlined(drawn, f"pedal{start}")}</div>'


def _demoted(part: str) -> str:
    """Return HTML with its headings two levels lower, those of the pack stand above them, and tables that may scroll.

    What users wrote has no tags in it: each `<` of theirs is an entity.
    """
    part = _DEMOTED.sub(lambda found: f"<{found[1]}h{int(found[2]) + 2}>", part)
    part = part.replace("<th></th>", "<th>No.</th>")
    return part.replace("<table", f"{WIDE}<table").replace("</table>", "</table></div>")


def caution_told() -> str:
    """Return the caution as a paragraph."""
    return f'<p class="caution">{escape(CAUTION)}</p>'
