"""A drawing as PDF: its SVG text, put on paper by svglib and reportlab. No drawing is written twice."""

from io import BytesIO
from typing import Final
from xml.etree import ElementTree

from fitcheck.errors import FitcheckError

PAPERS_MM: Final = ((297.0, 210.0), (420.0, 297.0))
"""A4 and A3 (ISO 216), lying."""
_EDGE_MM: Final = 8.0
LEAST_SCALE: Final = 0.7
"""Below this the small type of a drawing is no longer read with ease (common practice, no source)."""
MOST_MM: Final = 5000.0
"""No reader of PDF has to show a page of more than 14,400 units of 1/72 in (ISO 32000-1, annex C)."""


class PrintError(FitcheckError, ImportError):
    """What puts drawings on paper is not installed."""

    def __str__(self) -> str:
        return 'PDF needs svglib and reportlab: pip install "fitcheck[print]"'


def svg_pdf(*svgs: str) -> bytes:
    """Return drawings, texts of SVG files with a `viewBox`, as a PDF of a page for each. Same input, same bytes.

    A page is A4, else A3, as the drawing lies; a drawing that would be shrunk to less than 0.7 of its size on both
    has a page of its own size. One unit of the drawing is a millimetre at most.

    Raises:
        PrintError: svglib or reportlab is not installed.
        ValueError: the text is no SVG.
    """
    try:
        import svglib.svglib  # noqa: F401 - asked for here, so that what is missing is told
        from reportlab.lib.units import mm
        from reportlab.pdfgen.canvas import Canvas
    except ImportError:
        raise PrintError from None
    from fitcheck.reports.pdf_painting import picture

    written = BytesIO()
    canvas = Canvas(written, invariant=1, pageCompression=1)
    for svg in svgs:
        made = picture(_plain(svg))
        wide, high = made.width / mm, made.height / mm
        page, scale = _paper(wide, high)
        canvas.setPageSize((page[0] * mm, page[1] * mm))
        left, bottom = (page[0] - wide * scale) / 2.0, page[1] - _EDGE_MM - high * scale
        made.put(canvas, left * mm, bottom * mm, scale)
        canvas.showPage()
    canvas.save()
    return written.getvalue()


def _plain(svg: str) -> ElementTree.Element:
    """Return a drawing's elements by their plain names."""
    try:
        root = ElementTree.fromstring(svg.encode("utf-8"))
    except ElementTree.ParseError as error:
        raise ValueError(f"expected a drawing as SVG text: {error}") from None
    for element in root.iter():
        element.tag = element.tag.rpartition("}")[2]
    return root


def _paper(wide: float, high: float) -> tuple[tuple[float, float], float]:
    """Return the paper [mm] for a drawing of a size, and what it is shrunk to there."""
    for long, short in PAPERS_MM:
        page = (long, short) if wide >= high else (short, long)
        scale = min(1.0, (page[0] - 2.0 * _EDGE_MM) / wide, (page[1] - 2.0 * _EDGE_MM) / high)
        if scale >= LEAST_SCALE:
            return page, scale
    scale = min(1.0, (MOST_MM - 2.0 * _EDGE_MM) / max(wide, high))
    return (wide * scale + 2.0 * _EDGE_MM, high * scale + 2.0 * _EDGE_MM), scale
