"""A pack as one PDF: cover, contents with page numbers, sections; the revision and the page's number on each page."""

from io import BytesIO
from typing import Any

from fitcheck.progress import step
from fitcheck.reports.pack.gather import STEPS
from fitcheck.reports.pack.record import Pack
from fitcheck.reports.svg_pdf import PrintError


def ready() -> None:
    """Refuse to go on without what puts a pack on paper.

    Raises:
        PrintError: svglib or reportlab is not installed.
    """
    from importlib.util import find_spec

    if find_spec("reportlab") is None or find_spec("svglib") is None:
        raise PrintError


def pack_pdf(pack: Pack, paper: str = "a4") -> bytes:
    """Return the pack as a PDF for `paper`. Same input, same bytes, with the same fonts installed (see `fonts`).

    It is laid out twice: once without drawings, to learn on which page each heading comes to stand; the table of
    contents has its full height by then, so that nothing moves when the numbers are put in.

    Raises:
        PrintError: svglib or reportlab is not installed.
    """
    ready()
    from fitcheck.reports.pack.document import Counting, Document
    from fitcheck.reports.pack.story import story

    made = story(pack, paper)
    counting = Document(BytesIO(), pack, made.pages)
    counting.build(list(made.parts), canvasmaker=Counting)
    made.contents.number(counting.entries)
    _forget(made.parts)
    step(STEPS - 1, STEPS, "PDF")
    file = BytesIO()
    final = Document(file, pack, made.pages, total=counting.page)
    final.build(list(made.parts))
    if (final.entries, final.page) != (counting.entries, counting.page):
        raise AssertionError("pages moved between two runs over the same parts")
    return file.getvalue()


def _forget(parts: tuple[Any, ...]) -> None:
    """Take from parts what a run has left on them: that they were put off, or kept with the next, once."""
    for part in parts:
        for mark in ("_postponed", "keepWithNext"):
            vars(part).pop(mark, None)
