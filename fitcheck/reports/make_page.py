"""Bench sheets as pages to print: steps, bends, drawings, and templates at 1:1. No script, nothing from outside."""

from collections.abc import Iterable, Iterator
from html import escape
from typing import Final, Literal

from fitcheck.making.hole_sheet import HoleSchedule
from fitcheck.making.hose_sheet import HoseSheet
from fitcheck.making.sheet import Sheet, Sheets
from fitcheck.measures import exact, tape
from fitcheck.reports import svg_parts as svg
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.make_clips import clips_text
from fitcheck.reports.make_holes_page import holes_told
from fitcheck.reports.make_hose_page import hose_told
from fitcheck.reports.make_steps import step_text
from fitcheck.reports.make_svg import blocks, check_line
from fitcheck.reports.make_templates import Tile, laid_out, template_sheet, too_large
from fitcheck.reports.make_turns import turn_words
from fitcheck.reports.make_words import VIEW, concern_text, degrees, end_text, fault_text, od_text
from fitcheck.reports.plain import count_of, visible

Paper = Literal["a4", "letter"]
SIZES: Final[dict[str, tuple[str, float]]] = {"a4": ("A4", 297.0), "letter": ("letter", 279.4)}
"""Name and height [mm] of each paper."""
EDGE_MM: Final = 8.0
"""Margin of a page; what is drawn is 190 mm wide and fits between two of them on both papers."""
_SPARE_MM: Final = 4.0
_HEAD_MM: Final = 25.0
_FOOT_MM: Final = 11.0
_LAY: Final = (
    "Lay the bent tube between the two lines. Lines across it: where a bend starts and ends. What is bent out of the"
    " plane hangs over the edge of the bench; a flat run may be turned over."
)

_STYLE: Final = """
@page{{size:{paper} portrait;margin:{edge}mm}}
*{{box-sizing:border-box}}
body{{font:10pt/1.3 sans-serif;margin:0;color:#000;background:#fff}}
.line,.template{{break-before:page;width:190mm}}.line:first-of-type{{break-before:auto}}
.frame{{border-collapse:collapse;table-layout:fixed;width:190mm}}.frame>*>tr>td{{padding:0 6mm}}
.head{{font-size:9pt;border-bottom:.3mm solid #000}}
.caution{{font-size:7.5pt;border-top:.3mm solid #000;padding-top:1mm}}
h1{{font-size:17pt;margin:2mm 0 1mm}}h2{{font-size:12pt;margin:2mm 0 1mm;break-after:avoid}}p,ul{{margin:0 0 1mm}}
ul{{padding-left:5mm}}
ol{{margin:1mm 0;padding-left:9mm}}li{{break-inside:avoid}}
ol li{{padding:.3mm 0 .3mm 6mm;position:relative}}
ol li::before{{content:"";position:absolute;left:0;top:.8mm;width:3.4mm;height:3.4mm;border:.3mm solid #000}}
.bends{{border-collapse:collapse;width:100%;break-inside:avoid;font-size:9.5pt}}
.bends td,.bends th{{border:.2mm solid #000;padding:.5mm 1.2mm;text-align:left}}
.bends td:not(:last-child){{white-space:nowrap}}
.bends .n{{font-weight:bold;white-space:nowrap}}
.drawing{{break-inside:avoid;margin:0 -6mm}}svg{{display:block}}
.faults{{border:.6mm solid #000;padding:2mm;font-weight:bold}}
@media screen{{body{{margin:8mm}}.line,.template{{margin-bottom:12mm}}}}
"""


def make_html(made: Sheets, paper: Paper = "a4", holes: HoleSchedule | None = None) -> str:
    """Return the bench sheets as one HTML document that prints on `paper`, each line and hose from a page of its own.

    Templates come on pages after their line, hoses after the lines, holes last. Same input, same text.
    """
    high = SIZES[paper][1]
    parts = [part for place, sheet in enumerate(made.sheets, 1) for part in _line(made, sheet, place, high)]
    parts += [part for place, hose in enumerate(made.hoses, 1) for part in _hose(made, hose, place)]
    parts += _holes(holes) if holes is not None and (holes.jobs or holes.remarks) else []
    return _document(f"{made.build}: bench sheets", paper, parts)


def holes_html(holes: HoleSchedule, paper: Paper = "a4") -> str:
    """Return the hole schedule alone as one HTML document that prints on `paper`."""
    return _document(f"{holes.build}: hole schedule", paper, _holes(holes))


def _document(title: str, paper: Paper, parts: Iterable[str]) -> str:
    style = _STYLE.format(paper=SIZES[paper][0], edge=f"{EDGE_MM:g}")
    return "\n".join(
        [
            '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">',
            f"<title>{_safe(title)}</title><style>{style}</style></head><body>",
            *(parts or [f"<p>No lines.</p><p>{escape(CAUTION)}</p>"]),
            "</body></html>",
        ]
    )


def _holes(holes: HoleSchedule) -> list[str]:
    """Return the pages of the holes."""
    return [*_opened(f"{_safe(holes.build)}: <b>holes</b>"), *holes_told(holes), _CLOSED]


def _line(made: Sheets, sheet: Sheet, place: int, high: float) -> Iterator[str]:
    """Yield the pages of one line."""
    yield from _opened(f"{_safe(made.build)}, line {place} of {len(made.sheets)}: <b>{_safe(sheet.tag)}</b>")
    yield from line_told(sheet, made.unit)
    room = high - 2.0 * EDGE_MM - _SPARE_MM - _HEAD_MM - _FOOT_MM
    if not sheet.faults:
        yield from (f"<p>{escape(words)}</p>" for words in too_large(sheet, room))
    yield _CLOSED
    if sheet.faults:
        return
    for drawn in template_pages(made, sheet, room):
        yield from ('<section class="template">', drawn, "</section>")


def template_pages(made: Sheets, sheet: Sheet, room: float) -> Iterator[str]:
    """Yield the drawings of a line's templates, one for each page; `room` [mm] is the height that they may take."""
    papers = laid_out(sheet, room)
    for number, tiles in enumerate(papers, 1):
        title = f"{made.build}, {sheet.tag}: templates, page {number} of {len(papers)}"
        yield _template(title, tiles, sheet, made.unit)


_CLOSED: Final = "</td></tr></tbody></table></section>"


def _opened(head: str) -> Iterator[str]:
    """Yield the beginning of a sheet: a table whose head and foot are printed on every page that it goes over."""
    yield '<section class="line"><table class="frame"><thead><tr><td><div class="head">'
    yield f"{head}</div></td></tr></thead><tfoot><tr><td>"
    yield f'<div class="caution">{escape(CAUTION)}</div></td></tr></tfoot><tbody><tr><td>'


def _hose(made: Sheets, sheet: HoseSheet, place: int) -> Iterator[str]:
    """Yield the page of one hose."""
    yield from _opened(f"{_safe(made.build)}, hose {place} of {len(made.hoses)}: <b>{_safe(sheet.tag)}</b>")
    yield from hose_page(sheet, made.unit)
    yield _CLOSED


def hose_page(sheet: HoseSheet, unit: str) -> Iterator[str]:
    """Yield what stands on a hose's page, as HTML with its drawing."""
    for part in hose_told(sheet, unit):
        if isinstance(part, str):
            yield part
        else:
            yield _figure(*check_line(0.0, unit))
            yield _figure(*part)


def line_told(sheet: Sheet, unit: str) -> Iterator[str]:
    """Yield what stands on a line's page, as HTML with its drawings."""
    size = f", {od_text(sheet.tube.od_mm, unit)}" if sheet.tube.od_mm is not None else ""
    yield f"<h1>{_safe(sheet.tag)}: {_safe(sheet.tube.part)}{size}</h1>"
    for letter, end in zip("AB", sheet.ends or (), strict=False):
        yield f"<p>{_safe(end_text(end, letter))}</p>"
    if sheet.faults:
        yield '<div class="faults">Cannot be made:<ul>'
        yield from _items(fault_text(fault, unit) for fault in sheet.faults)
        yield "</ul></div>"
        return
    yield f"<p>{escape(VIEW)}</p>"
    yield _figure(*check_line(0.0, unit))
    yield "<h2>Steps</h2><ol>"
    yield from _items(step_text(sheet, step, unit) for step in sheet.steps)
    yield "</ol>"
    if sheet.bends:
        yield from _bends(sheet, unit)
    if (clips := clips_text(sheet.clips, unit)) is not None:
        yield f"<p>{_safe(clips)}</p>"
    if sheet.concerns:
        yield "<h2>Look at</h2><ul>"
        yield from _items(concern_text(concern, unit) for concern in sheet.concerns)
        yield "</ul>"
    for block in blocks(sheet, unit):
        yield _figure(*block)


def _items(sentences: Iterable[str]) -> Iterator[str]:
    return (f"<li>{_safe(words)}</li>" for words in sentences)


def _bends(sheet: Sheet, unit: str) -> Iterator[str]:
    heads = ("Bend", "Mark", "Angle", "Pull to", "Lies, seen from A", "Radius", "Straight before", "Tool")
    yield f"<h2>{count_of(len(sheet.bends), 'bend')}</h2>"
    yield '<table class="bends"><thead><tr>' + "".join(f"<th>{head}</th>" for head in heads) + "</tr></thead><tbody>"
    for index, bend in enumerate(sheet.bends):
        cells = (
            tape(bend.mark_mm, unit),
            degrees(bend.angle_deg),
            degrees(bend.pull_deg) if bend.pull_deg is not None else "until it stays",
            turn_words(bend, index) if index else "first",
            exact(bend.radius_mm, unit),
            tape(sheet.straights_mm[index], unit),
            "by hand" if bend.hand else bend.tool or "not known",
        )
        yield f'<tr><td class="n">{index + 1}</td><td class="n">{_safe(cells[0])}</td>'
        yield "".join(f"<td>{_safe(cell)}</td>" for cell in cells[1:]) + "</tr>"
    after = tape(sheet.straights_mm[-1], unit)
    yield f"</tbody></table><p>Straight after bend {len(sheet.bends)}, to the finished face of end B: {after}.</p>"


def _figure(parts: list[str], high: float) -> str:
    """Return a drawing inside the text."""
    return f'<div class="drawing">{_svg(parts, high)}</div>'


def _svg(parts: list[str], high: float) -> str:
    wide, tall = svg.n(svg.PAGE_MM), svg.n(high)
    size = f'width="{wide}mm" height="{tall}mm" viewBox="0 0 {wide} {tall}"'
    return f'<svg {size} font-family="sans-serif">{"".join(parts)}</svg>'


def _template(title: str, tiles: list[Tile], sheet: Sheet, unit: str) -> str:
    """Return a page of templates: what it is of, the line to measure, the tiles, the caution."""
    body = [svg.text(svg.MARGIN_MM, 4.0, 3.4, title)]
    bar, y = check_line(6.0, unit)
    words, y = svg.block(svg.MARGIN_MM, y + 2.0, 3.0, svg.PAGE_MM - 2.0 * svg.MARGIN_MM, _LAY)
    part, y = template_sheet(tiles, sheet.tag, unit, y)
    foot, y = svg.caution(y + 4.0)
    return _svg([*body, *bar, *words, *part, *foot], y)


def _safe(words: str) -> str:
    return escape(visible(words))
