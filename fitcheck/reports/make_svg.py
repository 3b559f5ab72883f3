"""Bench sheets as drawings to print: the marks on a ruler, four views of the tube, a dial for each turn."""

from collections.abc import Iterator
from typing import Final

from fitcheck.making.hose_sheet import HoseSheet
from fitcheck.making.sheet import Sheet, Sheets
from fitcheck.measures import INCH_MM, exact, tape
from fitcheck.reports import svg_parts as svg
from fitcheck.reports.make_hose_drawing import hose_drawing
from fitcheck.reports.make_hoses import hose_fault, title
from fitcheck.reports.make_strip import strip
from fitcheck.reports.make_turns import turns
from fitcheck.reports.make_views import views
from fitcheck.reports.make_words import VIEW, end_text, fault_text, od_text

CHECK_MM: Final = 100.0
CHECK_INCHES: Final = 4.0
_FULL: Final = svg.PAGE_MM - 2.0 * svg.MARGIN_MM
CHECK_WORDS: Final = "Measure this: {}. If it is not, print again at 100 %."
Block = tuple[list[str], float]
"""Parts of a drawing, and where it ends [mm]."""


def make_svg(made: Sheets) -> str:
    """Return the drawings of all sheets, one under the other, as SVG text; one unit is a millimetre on paper.

    A line that cannot be made has words only. Same input, same text.
    """
    body, y = svg.block(svg.MARGIN_MM, 9.0, 5.0, _FULL, f"{made.build}: bench drawings", bold=True)
    part, y = svg.block(svg.MARGIN_MM, y, 3.2, _FULL, VIEW)
    body += part
    bar, y = check_line(y + 2.0, made.unit)
    body += bar
    for sheet in made.sheets:
        body.append(svg.line([(svg.MARGIN_MM, y), (svg.PAGE_MM - svg.MARGIN_MM, y)], width=0.3))
        part, y = _sheet(sheet, made.unit, y + 6.0)
        body += part
    for hose in made.hoses:
        body.append(svg.line([(svg.MARGIN_MM, y), (svg.PAGE_MM - svg.MARGIN_MM, y)], width=0.3))
        part, y = _hose(hose, made.unit, y + 6.0)
        body += part
    part, y = svg.caution(y + 4.0)
    tags = ", ".join([*(sheet.tag for sheet in made.sheets), *(hose.tag for hose in made.hoses)])
    return svg.page(y, f"{made.build}: {tags}", [], [*body, *part])


def _hose(sheet: HoseSheet, unit: str, y: float) -> Block:
    """Return the drawing of a hose, or the words that there is none."""
    body, y = svg.block(svg.MARGIN_MM, y, 4.4, _FULL, title(sheet, sheet.tag), bold=True)
    if sheet.faults:
        told = "Will not do: " + "; ".join(hose_fault(fault, unit) for fault in sheet.faults) + "."
        part, y = svg.block(svg.MARGIN_MM, y, 3.2, _FULL, told)
        body += part
    drawing = hose_drawing(sheet, unit, y)
    if drawing is None:
        drawing = svg.block(svg.MARGIN_MM, y, 3.2, _FULL, "How it hangs is not known: nothing is drawn.")
    return [*body, *drawing[0]], drawing[1] + 2.0


def check_line(y: float, unit: str) -> Block:
    """Return the line that shows whether the printer kept the size, 100 mm or 4 in long, and where it ends."""
    long = CHECK_INCHES * INCH_MM if unit == "in" else CHECK_MM
    return svg.scale_bar(svg.MARGIN_MM, y + 1.5, long, CHECK_WORDS.format(exact(long, unit))), y + 6.0


def blocks(sheet: Sheet, unit: str) -> Iterator[Block]:
    """Yield the drawings of a line that can be made, each beginning at 0: ruler, views, dials."""
    yield strip(sheet, unit, 0.0)
    yield views(sheet, 0.0)
    if len(sheet.bends) > 1:
        yield turns(sheet, 0.0)


def _sheet(sheet: Sheet, unit: str, y: float) -> Block:
    size = f", {od_text(sheet.tube.od_mm, unit)}" if sheet.tube.od_mm is not None else ""
    body, y = svg.block(svg.MARGIN_MM, y, 4.4, _FULL, f"{sheet.tag}: {sheet.tube.part}{size}", bold=True)
    lines = [end_text(end, letter) for letter, end in zip("AB", sheet.ends or (), strict=False)]
    if sheet.faults:
        lines.append("Cannot be made: " + "; ".join(fault_text(fault, unit) for fault in sheet.faults) + ".")
    elif sheet.cut_mm is not None:
        lines.append(f"cut {tape(sheet.cut_mm, unit)}, finished {tape(sheet.run_mm or 0.0, unit)}")
    for words in lines:
        part, y = svg.block(svg.MARGIN_MM, y, 3.2, _FULL, words)
        body += part
    if sheet.faults:
        return body, y + 2.0
    part, y = strip(sheet, unit, y)
    body += part
    for draw in (views, turns):
        part, y = draw(sheet, y)
        body += part
    return body, y + 3.0
