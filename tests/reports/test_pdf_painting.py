"""Drawings of ours straight on paper: the same ink as by way of svglib, and svglib for all that is not understood."""

from io import BytesIO
from typing import Any
from xml.etree.ElementTree import Element, fromstring

import pymupdf
import pytest

pytest.importorskip("svglib")

from reportlab.graphics import renderPDF
from reportlab.pdfgen.canvas import Canvas

from fitcheck.checks.run import check_context
from fitcheck.reports import pdf_painting
from fitcheck.reports.diagram.circuit import circuit_drawing
from fitcheck.reports.drawing import sheet
from fitcheck.reports.pdf_figures import drawing
from fitcheck.reports.pdf_painting import picture
from fitcheck.reports.plan.drawing import plan_drawing
from tests.reports.plan.seen import demo

MM = 72.0 / 25.4
SHAPES = """\
<svg viewBox="0 0 60 40" role="img"><title>t</title><desc>d</desc><style>@media print{}</style>
<rect width="60" height="40" fill="#ffffff"/>
<g transform="translate(5 6)" class="a" data-tag="b"><path d="M1 1 L20 1 L20 9 Z M2 3 L5 6" fill="#0072b2"
 stroke="#000000" stroke-width="0.6" stroke-dasharray="2 1"/></g>
<g transform="rotate(-30 30 20)"><rect x="25" y="15" width="10" height="10" fill="none" stroke="#d55e00"/></g>
<g transform="scale(2)"><circle cx="20" cy="5" r="3" fill="#888" stroke="#000" stroke-width="0.3"/></g>
<path d="M40 30 C42 20 50 20 55 30 45 35 44 36 41 31" fill="none" stroke="#007a5a" stroke-width="1"
 stroke-linecap="round" stroke-linejoin="round"/>
<ellipse cx="12" cy="30" rx="8" ry="3" fill="#f0e442" fill-opacity="0.5"/>
<polygon points="30,30 35,38 25,38" stroke="#000" stroke-width="0.5"/>
<text x="30" y="5" font-size="3" text-anchor="middle" font-weight="bold" fill="#a8508a">Ab &amp; c</text>
<text x="58" y="12" font-size="2.5" text-anchor="end">caf\u00e9 \u03c9</text>
</svg>
"""


def page_of(canvas: Canvas, file: BytesIO) -> Any:
    """Return the one page of a canvas."""
    canvas.showPage()
    canvas.save()
    return pymupdf.open(stream=file.getvalue())[0]


def painted(svg: Element) -> Any:
    """Return the page that a drawing fills."""
    made, file = picture(svg), BytesIO()
    canvas = Canvas(file, pagesize=(made.width, made.height), invariant=1)
    made.put(canvas, 0.0, 0.0, 1.0)
    return page_of(canvas, file)


def by_svglib(svg: Element) -> Any:
    """Return the same page by way of svglib."""
    made, file = drawing(svg), BytesIO()
    canvas = Canvas(file, pagesize=(made.width, made.height), invariant=1)
    renderPDF.draw(made, canvas, 0, 0)
    return page_of(canvas, file)


def element(svg: str) -> Element:
    """Return a drawing's elements by their plain names."""
    root = fromstring(svg)
    for each in root.iter():
        each.tag = each.tag.rpartition("}")[2]
    return root


def unlike(one: Any, other: Any, dpi: int = 100) -> int:
    """Return how many dots of two pages differ by more than rounding does."""
    a, b = (page.get_pixmap(dpi=dpi) for page in (one, other))
    assert (a.width, a.height) == (b.width, b.height)
    return sum(abs(x - y) > 24 for x, y in zip(a.samples, b.samples, strict=True))


def demo_svgs() -> list[str]:
    """Return the circuit and the plan of the demo with their findings."""
    build = demo()
    report = check_context(build)
    return [sheet(each, "light") for each in (circuit_drawing(build, report), plan_drawing(build, report, "plan"))]


def only_painted(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let svglib refuse all work."""

    def refuse(svg: Element) -> Any:
        raise AssertionError("svglib was asked")

    monkeypatch.setattr(pdf_painting, "drawing", refuse)


def test_every_kind_of_element_is_painted_as_svglib_draws_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Shapes, dashes, turns, half-clear fill and words lie where svglib puts them, in the same colours."""
    wanted = by_svglib(element(SHAPES))
    only_painted(monkeypatch)
    assert unlike(painted(element(SHAPES)), wanted) == 0


@pytest.mark.parametrize("place", [0, 1])
def test_drawings_of_the_demo_are_painted_as_svglib_draws_them(place: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Circuit and plan of the demo need no svglib; of 100,000 dots ten differ at most, at edges."""
    svg = demo_svgs()[place]
    wanted = by_svglib(element(svg))
    only_painted(monkeypatch)
    page = painted(element(svg))
    assert unlike(page, wanted) <= 1e-4 * len(page.get_pixmap(dpi=100).samples)
    assert page.get_text().split() == wanted.get_text().split()


@pytest.mark.parametrize(
    "odd",
    [
        '<path d="M0 0 h5" stroke="#000"/>',
        '<path d="M0 0 L1e3 5" stroke="#000"/>',
        '<path d="M0 0 L5 5" stroke="red"/>',
        '<path d="M0 0 L5 5" style="stroke: #000"/>',
        '<path d="M0 0 L5 5" stroke="#000" stroke-width="2mm"/>',
        '<path d="M0 0 L5 5" stroke="#000" stroke-linecap="odd"/>',
        '<g transform="skewX(3)"><path d="M0 0 L5 5" stroke="#000"/></g>',
        '<g transform="translate(1 2) rotate(3)"/>',
        '<g transform="rotate(3 4)"/>',
        '<g fill="#f00"><path d="M0 0 L5 5"/></g>',
        '<text x="1" y="2">a<tspan>b</tspan></text>',
        '<text x="1" y="2" transform="rotate(3)">a</text>',
        '<text x="a" y="2">a</text>',
        '<use href="#a"/>',
        '<svg viewBox="0 0 1 1"/>',
        '<style type="text/css">path{stroke:red}</style>',
    ],
)
def test_what_is_not_understood_goes_to_svglib(odd: str) -> None:
    """One element that says more than is understood here sends the whole drawing to svglib."""
    assert pdf_painting._simple(element('<svg viewBox="0 0 9 9"><path d="M0 0 L5 5 Z" stroke="#000"/></svg>'))
    assert not pdf_painting._simple(element(f'<svg viewBox="0 0 9 9">{odd}</svg>'))


@pytest.mark.parametrize("view", ["1 0 9 9", "0 0 9", ""])
def test_a_view_that_does_not_begin_at_its_corner_goes_to_svglib(view: str) -> None:
    """The corner of the paper is the drawing's origin, or svglib moves it."""
    assert not pdf_painting._simple(element(f'<svg viewBox="{view}"><path d="M0 0 L5 5"/></svg>'))


def test_colours_said_in_a_group_do_not_outlast_it() -> None:
    """After a turned group the colours of before hold again, and are said again where they differ."""
    line = '<path d="M{0} 2 L{0} 8" fill="none" stroke="{1}" stroke-width="1"/>'
    inner = f'<g transform="translate(0 0)">{line.format(5, "#d55e00")}</g>'
    body = f"{line.format(2, '#0072b2')}{inner}{line.format(8, '#0072b2')}{line.format(9, '#d55e00')}"
    colours = [each["color"] for each in painted(element(f'<svg viewBox="0 0 10 10">{body}</svg>')).get_drawings()]
    shown = [tuple(round(part * 255) for part in colour) for colour in colours]
    assert shown == [(0, 0x72, 0xB2), (0xD5, 0x5E, 0), (0, 0x72, 0xB2), (0xD5, 0x5E, 0)]


def test_same_drawing_same_bytes() -> None:
    """What is painted holds nothing that changes."""
    made = []
    for _ in range(2):
        file = BytesIO()
        canvas = Canvas(file, invariant=1)
        picture(element(SHAPES)).put(canvas, 1.0, 2.0, 0.5)
        canvas.showPage()
        canvas.save()
        made.append(file.getvalue())
    assert made[0] == made[1]
