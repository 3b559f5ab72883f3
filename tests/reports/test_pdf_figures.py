"""Drawings on paper: true size, clipped where they are, hatched, their words in fonts that have them."""

from io import BytesIO
from typing import Any
from xml.etree.ElementTree import fromstring

import pymupdf
import pytest

pytest.importorskip("svglib")

from reportlab.graphics import renderPDF
from reportlab.pdfgen.canvas import Canvas

from fitcheck.reports.pdf_figures import drawing, size_pt

MM = 72.0 / 25.4


def printed(svg: str) -> Any:
    """Return the page that a drawing fills."""
    made = drawing(fromstring(svg))
    file = BytesIO()
    canvas = Canvas(file, pagesize=(made.width, made.height), invariant=1)
    renderPDF.draw(made, canvas, 0, 0)
    canvas.showPage()
    canvas.save()
    return pymupdf.open(stream=file.getvalue())[0]


def ink(page: Any) -> Any:
    """Return where on a page anything black is [pt]."""
    picture = page.get_pixmap(dpi=144, colorspace=pymupdf.csGRAY)
    dark = [divmod(at, picture.stride) for at, value in enumerate(picture.samples) if value < 128]
    rows, columns = [row for row, _ in dark], [column for _, column in dark]
    return min(columns) / 2.0, min(rows) / 2.0, (max(columns) + 1) / 2.0, (max(rows) + 1) / 2.0


def test_sizes_as_drawings_state_them() -> None:
    """Millimetres, points, or a millimetre for each unit where nothing is stated."""
    sizes = ('width="50mm" height="20mm" ', 'width="50pt" height="20pt" ', "")
    found = [size_pt(fromstring(f'<svg {size}viewBox="0 0 100 40"/>')) for size in sizes]
    assert found == [(50 * MM, 20 * MM), (50.0, 20.0), (100 * MM, 40 * MM)]


def test_a_line_has_its_length() -> None:
    """A line of 40 mm is 40 mm on paper, at its place."""
    page = printed('<svg viewBox="0 0 60 20"><path d="M10 5 L50 5" fill="none" stroke="#000" stroke-width="1"/></svg>')
    assert ink(page) == pytest.approx((10 * MM, 4.5 * MM, 50 * MM, 5.5 * MM), abs=0.6)


def test_a_drawing_within_one_is_clipped_at_its_window() -> None:
    """What stands beyond the window of a template's sheet is not printed; what is in it has its true size."""
    inner = '<path d="M-30 15 L90 15" fill="none" stroke="#000" stroke-width="2"/>'
    page = printed(
        f'<svg width="80mm" height="40mm" viewBox="0 0 80 40"><svg x="20" y="10" width="30" height="20"'
        f' viewBox="10 5 30 20">{inner}</svg></svg>'
    )
    assert ink(page) == pytest.approx((20 * MM, 19 * MM, 50 * MM, 21 * MM), abs=0.6)


def test_hatching_is_within_its_bar() -> None:
    """A bar filled with a pattern has the pattern's ground and marks, and nothing of it beside the bar."""
    svg = (
        '<svg width="100pt" height="50pt" viewBox="0 0 100 50"><defs><pattern id="h" width="72" height="72">'
        '<rect width="72" height="72" fill="#0072b2"/><path d="M0 0 L72 72 M0 -36 L72 36 M0 36 L72 108"'
        ' style="fill: #000000; stroke: #000000; stroke-width: 3"/></pattern></defs>'
        '<path d="M 20 10 L 80 10 L 80 40 L 20 40 z" style="fill: url(#h); stroke: #000000"/></svg>'
    )
    picture = printed(svg).get_pixmap(dpi=72)
    colours = {picture.pixel(x, y) for x in range(22, 78) for y in range(12, 38)}
    assert any(max(abs(a - b) for a, b in zip(each, (0, 0x72, 0xB2), strict=True)) <= 3 for each in colours)
    assert (0, 0, 0) in colours
    outside = [(x, y) for x in range(100) for y in range(50) if not (18 <= x <= 81 and 8 <= y <= 41)]
    assert {picture.pixel(x, y) for x, y in outside} == {(255, 255, 255)}


def test_rulers_are_drawn_whole_when_ticks_are_made_one_line() -> None:
    """Lines of one look become one; those of another look, and what is filled, stay apart and in their order."""
    tick = '<path d="M{0} 0 L{0} 5" fill="none" stroke="#000" stroke-width="{1}"/>'
    body = "".join(tick.format(x, 0.2) for x in (1, 2, 3)) + tick.format(4, 0.4) + '<path d="M5 0 L6 0 L6 5 z"/>'
    page = printed(f'<svg viewBox="0 0 10 10">{body}</svg>')
    assert [len(path["items"]) for path in page.get_drawings()] == [3, 1, 3]


def test_words_are_text_and_none_vanish() -> None:
    """Every word of a drawing is text on paper; a character that no font has stands there as its code."""
    body = '<text x="1" y="5" font-size="3" font-weight="bold">&lt;b&gt; caf\u00e9 \u6f22</text>'
    assert printed(f'<svg viewBox="0 0 90 10">{body}</svg>').get_text().strip() == "<b> caf\u00e9 \\u6f22"


def test_what_is_said_to_screen_readers_is_not_printed() -> None:
    """Titles and descriptions are not on paper."""
    page = printed('<svg viewBox="0 0 90 10"><title>t</title><desc>d</desc><text x="1" y="5">w</text></svg>')
    assert page.get_text().strip() == "w"


@pytest.mark.parametrize("right", [20, 20.5])
def test_a_bar_of_nothing(right: float) -> None:
    """A hatched bar that is no longer than its edge, as of a circuit that leaves no brakes, is drawn as one stroke."""
    page = printed(
        '<svg width="100pt" height="50pt" viewBox="0 0 100 50"><defs><pattern id="h" width="72" height="72">'
        '<rect width="72" height="72" fill="#d55e00"/><path d="M0 0 L72 72" style="stroke: #000000"/></pattern></defs>'
        f'<path d="M 20 10 L {right} 10 L {right} 40 L 20 40 z" style="fill: url(#h); stroke: #000000"/></svg>'
    )
    assert ink(page) == pytest.approx((19.5, 9.5, right + 0.5, 40.5), abs=0.6)
