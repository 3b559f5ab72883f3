"""A pack put together: each section from the report that has its words."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Final

from fitcheck.bom.bleed_sheet import BleedSheet, bleed_sheet
from fitcheck.bom.nesting.record import NoSolverError
from fitcheck.bom.ordering.market import Terms
from fitcheck.bom.ordering.shop import planned
from fitcheck.bom.record import Bom
from fitcheck.bom.take_off import take_off
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.hydraulics.answer import answer, has_pedal
from fitcheck.making.holes import hole_schedule
from fitcheck.making.make import sheets
from fitcheck.progress import step
from fitcheck.reports.check_text import headline
from fitcheck.reports.pack import sheets as bodies
from fitcheck.reports.pack.findings import findings_told
from fitcheck.reports.pack.markup import paragraph
from fitcheck.reports.pack.record import Pack, Revision, Section
from fitcheck.reports.pack.shopping import bom_told, order_told
from fitcheck.reports.pack.sources import sources_told
from fitcheck.reports.plain import count_of

_NO_OFFERS: Final = "The build names no offers: nothing is planned or priced, this is the bill of materials."
_NO_PEDAL: Final = "The build says nothing of a pedal: pressure, stroke, travel and balance are not computed."
STEPS: Final = 10
"""Steps of the work: each section, counting the pages of the PDF, drawing it."""


def gather(context: Context, report: Report, revision: Revision, paper: str = "a4") -> Pack:
    """Return the pack of a build whose findings are known; what the build lacks is said in the section's place.

    `paper` is `a4` or `letter`: templates are laid out for it.

    Raises:
        InputError: an offer file or the stock file cannot be read.
    """
    errors = report.count("error")
    warning = f"DO NOT ORDER OR DRIVE: {count_of(errors, 'error')} in this build" if errors else ""
    sections = []
    for section in _sections(context, report, revision, paper):
        sections.append(section)
        step(len(sections), STEPS, section.title)
    return Pack(context.file.name, _facts(context), warning, headline(report), revision, tuple(sections))


def _facts(context: Context) -> tuple[tuple[str, str], ...]:
    """Return what the build says of itself, for the cover."""
    file = context.file
    counts = [
        count_of(len(file.components), "component"),
        count_of(len(file.lines), "line"),
        count_of(len(file.hoses), "hose"),
        count_of(len(file.circuits), "circuit") if file.circuits else "no circuit named",
    ]
    said = [("Note", file.note), ("Fluid", file.fluid), ("Holds", ", ".join(counts))]
    return tuple((name, words) for name, words in said if words)


def _sections(context: Context, report: Report, revision: Revision, paper: str) -> Iterator[Section]:
    graph = context.graph
    on = datetime.combine(revision.on, datetime.min.time())
    bom, bleeding = take_off(graph, on=revision.on), bleed_sheet(graph, on, context.circuits)
    yield _section("Drawings", bodies.drawings_told(context, report), drawings=True)
    yield _section("Findings", findings_told(report, graph.build.folder.as_posix()))
    yield _section("Shopping list", _shopping(context, bom, on, report.count("error")))
    yield _section("Bench sheets", bodies.bench_told(sheets(graph), paper))
    yield _section("Hole schedule", bodies.schedule_told(hole_schedule(graph)))
    yield _section("Pedal", _pedal(context))
    yield _section("Filling, bleeding, leak tests", bodies.bleeding_told(bleeding))
    yield _section("Sources and cautions", _last(context, report, bom, bleeding))


def _section(title: str, body: Iterable[str], *, drawings: bool = False) -> Section:
    return Section(title, tuple(part for part in body if part), drawings)


def _shopping(context: Context, bom: Bom, on: datetime, errors: int) -> Iterator[str]:
    if not context.file.offers:
        yield from bom_told(bom, _NO_OFFERS)
        return
    try:
        plan, ready = planned(context.graph, Terms(on))
    except NoSolverError as error:
        yield from bom_told(bom, f"No purchase plan, this is the bill of materials: {error}")
        return
    yield from order_told(plan, ready, errors)


def _pedal(context: Context) -> Iterator[str]:
    if not has_pedal(context.file):
        yield paragraph(_NO_PEDAL)
        return
    yield from bodies.pedal_told(answer(context.graph, None, context.circuits))


def _last(context: Context, report: Report, bom: Bom, bleeding: BleedSheet) -> Iterator[str]:
    yield from sources_told(context.graph, report, bom, bleeding)
    yield bodies.caution_told()
