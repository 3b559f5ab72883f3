"""A pack as one PDF: cover, contents with page numbers, sections; the revision and the page's number on each page."""

from io import BytesIO

from fitcheck.progress import step
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

    Pages are counted without drawings until the numbers in the table of contents stand still; then it is drawn once.

    Raises:
        PrintError: svglib or reportlab is not installed.
    """
    ready()
    from fitcheck.reports.pack.document import Document
    from fitcheck.reports.pack.story import story

    made = story(pack, paper)
    counting = Document(BytesIO(), pack, made.pages)
    counting.multiBuild(list(made.parts))
    for part in made.parts:
        vars(part).pop("_postponed", None)  # left by the run before; it would be taken for too large
    step(1, 2, "PDF")
    file = BytesIO()
    final = Document(file, pack, made.pages, total=counting.page)
    final.build(list(made.parts))
    return file.getvalue()
