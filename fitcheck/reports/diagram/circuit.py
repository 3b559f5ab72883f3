"""The circuit diagram of a build, whole."""

from typing import NamedTuple

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.reports.diagram.draw import drawn
from fitcheck.reports.diagram.gather import gather
from fitcheck.reports.diagram.legend import LEAST_MM, MARGIN_MM, head, legend
from fitcheck.reports.diagram.marks import Marks, marks
from fitcheck.reports.diagram.packing import packed
from fitcheck.reports.diagram.record import Layout, Scheme
from fitcheck.reports.drawing import Drawing
from fitcheck.reports.plain import count_of
from fitcheck.reports.svg_parts import n


class Diagram(NamedTuple):
    """A build as it is drawn: what is shown, where, and which finding is marked where."""

    scheme: Scheme
    layout: Layout
    marks: Marks


def diagram(context: Context, report: Report | None = None) -> Diagram:
    """Return the diagram of a build with all its places; the findings of `report`, if any, are marked on it.

    `layout.crossings` is how often lines cross.
    """
    found = marks(context.graph, report)
    scheme = gather(context, found)
    return Diagram(scheme, packed(scheme), found)


def circuit_drawing(context: Context, report: Report | None = None) -> Drawing:
    """Return the circuit diagram of a build as a drawing. Same input, same drawing."""
    made = diagram(context, report)
    layout = made.layout
    width = max(layout.width + 2.0 * MARGIN_MM, LEAST_MM)
    top, y = head(context.file.name, context.file.fluid, layout.crossings, width)
    levels = {number: finding.level for number, finding in enumerate(made.marks.findings, 1)}
    left = (width - layout.width) / 2.0
    body = [f'<g transform="translate({n(left)} {n(y)})">', *drawn(layout, made.scheme, levels), "</g>"]
    under, high = legend(report, made.marks.nowhere, y + layout.height + 5.0, width)
    title, low = f"{context.file.name}: circuit", y + layout.height + 1.5
    return Drawing(width, high, title, _desc(context, report), (*top, *body, *under), low)


def _desc(context: Context, report: Report | None) -> str:
    """Return the diagram in one sentence, for those who hear it."""
    file = context.file
    things = [
        count_of(len(file.components), "component"),
        count_of(len(file.lines), "line"),
        count_of(len(file.hoses), "hose"),
        count_of(len(context.graph.joints), "joint"),
    ]
    words = f"Circuit diagram from the pedals on the left to the wheels on the right: {', '.join(things)}."
    if report is None:
        return words
    found = ", ".join(count_of(report.count(level), level) for level in ("error", "warning", "note"))
    return f"{words} Marked on it: {found}."
