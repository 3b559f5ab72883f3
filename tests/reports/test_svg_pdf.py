"""Drawings as PDF: the words, colours and dashes of the SVG, on a page that fits, the same bytes each time."""

import sys
from pathlib import Path

import pymupdf
import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.reports.diagram.circuit import circuit_drawing
from fitcheck.reports.drawing import Drawing, path, sheet, text
from fitcheck.reports.svg_pdf import PrintError, svg_pdf
from tests.reports.diagram.looking import Rect, overlapping

DEMO = Path(__file__).parents[2] / "demo_vehicle"
POINT = 72.0 / 25.4
Page = pymupdf.Page


def page(*parts: str, wide: float = 100.0, high: float = 50.0) -> Page:
    """Return the one page of a drawing."""
    found = pymupdf.open(stream=svg_pdf(sheet(Drawing(wide, high, "t", "d", parts), "light")))
    assert len(found) == 1
    return found[0]


def demo_svg(theme: str = "light") -> str:
    """Return the circuit of the demo."""
    context = Context(assemble(load(DEMO, None)))
    return sheet(circuit_drawing(context, check_context(context)), theme)  # type: ignore[arg-type]


def size_mm(of: Page) -> tuple[int, int]:
    """Return the size of a page in whole mm."""
    return round(of.rect.width / POINT), round(of.rect.height / POINT)


@pytest.mark.parametrize(
    ("size", "paper"),
    [
        ((100.0, 50.0), (297, 210)),
        ((50.0, 100.0), (210, 297)),
        ((380.0, 200.0), (297, 210)),
        ((480.0, 200.0), (420, 297)),
        ((200.0, 480.0), (297, 420)),
        ((900.0, 700.0), (916, 716)),
        ((20_000.0, 100.0), (5000, 41)),
    ],
)
def test_page_fits_the_drawing(size: tuple[float, float], paper: tuple[int, int]) -> None:
    """A4 where it is read there, else A3, else a page of the drawing's own size; lying or upright as the drawing is."""
    assert size_mm(page(wide=size[0], high=size[1])) == paper


def test_a_millimetre_stays_a_millimetre() -> None:
    """A line of 60 mm is 60 mm long on a page that it fits."""
    (line,) = page(path([(10.0, 20.0), (70.0, 20.0)], "blue", 0.6)).get_drawings()[-1:]
    assert round(line["rect"].width / POINT, 3) == 60.0
    assert round(line["width"] / POINT, 3) == 0.6
    assert tuple(round(part * 255) for part in line["color"]) == (0x00, 0x72, 0xB2)


def test_dashes_are_kept() -> None:
    """A broken line is broken on paper."""
    (line,) = page(path([(10.0, 20.0), (70.0, 20.0)], "ink", 0.3, 'stroke-dasharray="2 1"')).get_drawings()[-1:]
    dashes = [float(each) for each in line["dashes"].split("]")[0].strip("[ ").split()]
    assert [round(each / dashes[1], 3) for each in dashes] == [2.0, 1.0]


def test_words_stay_words() -> None:
    """Words are text in the PDF, at their place and with their anchor, accents and signs of markup included."""
    shown = page(text(50.0, 20.0, 4.0, 'Grüße <b> & "M10x1"', anchor="end", bold=True))
    assert shown.get_text().strip() == 'Grüße <b> & "M10x1"'
    (block,) = shown.get_text("blocks")
    left = (297.0 - 100.0) / 2.0
    assert abs(block[2] / POINT - left - 50.0) < 0.5


def test_letters_of_other_scripts_are_not_lost() -> None:
    """Letters that a PDF's own fonts lack come from another font, or stand as their codes; the bytes stay the same."""
    words = text(5.0, 20.0, 4.0, "\u0416 \u8f66 M10x1")
    assert page(words).get_text().strip() in ("\u0416 \\u8f66 M10x1", "\\u0416 \\u8f66 M10x1")
    svg = sheet(Drawing(50.0, 30.0, "t", "d", (words,)), "light")
    assert svg_pdf(svg) == svg_pdf(svg)


def test_what_is_no_drawing_is_refused() -> None:
    """Text that is no SVG is refused with the place where reading it ended."""
    with pytest.raises(ValueError, match=r"^expected a drawing as SVG text: .*line 1, column 0$"):
        svg_pdf("no drawing")


def test_all_words_of_the_demo_are_on_paper() -> None:
    """Every tag, thread and finding of the demo's circuit is in its PDF, and no word lies on another."""
    found = pymupdf.open(stream=svg_pdf(demo_svg()))[0]
    words = found.get_text()
    for wanted in ("tee_axle", "3/8-24 inv", "nut M10x1", "double-45", "eye 10 mm", "Brakes hurt people"):
        assert wanted in words
    assert "error seat-mismatch: bubble of hose_axle.to against inverted-flare of tee_axle.top" in words
    lines = [line for block in found.get_text("dict")["blocks"] for line in block.get("lines", ())]
    spans = [span for line in lines for span in line["spans"] if span["text"].strip()]
    rects = [_inner(span["text"], span["bbox"], span["size"]) for span in spans]
    assert len(rects) > 150
    assert overlapping(rects) == []


def _inner(words: str, box: tuple[float, float, float, float], size: float) -> Rect:
    """Return what the letters of a line take of its box, which is higher."""
    low = box[3] - 0.25 * size
    return Rect(words, box[0], low - 0.7 * size, box[2], low)


def test_same_drawing_same_bytes() -> None:
    """A PDF holds no date and no number that changes."""
    assert svg_pdf(demo_svg()) == svg_pdf(demo_svg())


def test_without_the_packages_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where svglib is missing the error names the extra."""
    monkeypatch.setitem(sys.modules, "svglib.svglib", None)
    with pytest.raises(PrintError) as caught:
        svg_pdf("<svg/>")
    assert str(caught.value) == 'PDF needs svglib and reportlab: pip install "fitcheck[print]"'
