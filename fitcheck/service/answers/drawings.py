"""Drawings: the circuit, and the car seen from above, from the side and from ahead."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from fitcheck.build.assemble import assemble
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.service.answers.source import SVG, Answer, Options, Source

if TYPE_CHECKING:
    from fitcheck.checks.findings import Report
    from fitcheck.reports.drawing import Drawing


def draw(source: Source, options: Options) -> Answer:
    """Return a drawing as SVG, with the findings marked unless they are not wanted."""
    from fitcheck.reports.drawing import sheet, stacked

    context = Context(assemble(source.build()))
    report = check_context(context) if options["findings"] else None
    drawings = list(_drawings(context, report, options["view"]))
    drawing = drawings[0] if len(drawings) == 1 else stacked(drawings, context.file.name)
    code = 1 if report is not None and report.failed else 0
    return Answer(f"{sheet(drawing, options['theme'])}\n", code, SVG)


def _drawings(context: Context, report: "Report | None", view: str) -> "Iterator[Drawing]":
    if view in ("circuit", "all"):
        from fitcheck.reports.diagram.circuit import circuit_drawing

        yield circuit_drawing(context, report)
    if view != "circuit":
        from fitcheck.reports.plan.drawing import plan_drawing
        from fitcheck.reports.plan.views import VIEWS

        yield from (plan_drawing(context, report, each) for each in VIEWS if view in (each, "all"))
