"""The file that a pack's PDF is written to: its pages, what stands at head and foot of each, its headings."""

from functools import lru_cache
from typing import IO, Any

from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate, Paragraph

from fitcheck.reports import pdf_fonts as fonts
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.pack.looks import ALARM, FOOT_MM, FRAME_MM, HEAD_MM, LINE, MM, SOFT
from fitcheck.reports.pack.page import MADE_BY
from fitcheck.reports.pack.parts import Heading, in_short
from fitcheck.reports.pack.record import Pack
from fitcheck.reports.plain import visible

_SMALL = 7.0
_CAUTION = 5.8


class Document(BaseDocTemplate):
    """A pack's PDF. `total` is the number of its pages; None in runs that only count them, which leave drawings out."""

    def __init__(self, file: IO[bytes], pack: Pack, pages: dict[str, tuple[float, float]], total: int | None = None):
        wide, high = next(iter(pages.values()))
        super().__init__(
            file, pagesize=(wide * MM, high * MM), invariant=1, title=f"{visible(pack.build)}: pack", author="",
            subject=visible(pack.revision.words), creator=MADE_BY, producer="fitcheck", lang="en", pageCompression=1,
        )  # fmt: skip
        self.pack, self.total = pack, total
        self.entries: list[Heading] = []
        self.addPageTemplates([self._page(name, *size) for name, size in pages.items()])

    def _page(self, name: str, wide: float, high: float) -> PageTemplate:
        across = FRAME_MM if name == "usual" else wide - 20.0
        frame = Frame(
            (wide - across) / 2.0 * MM, FOOT_MM * MM, across * MM, (high - HEAD_MM - FOOT_MM) * MM,
            leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
        )  # fmt: skip
        return PageTemplate(id=name, frames=[frame], pagesize=(wide * MM, high * MM), onPage=self._furnish)

    def _furnish(self, canvas: Canvas, document: Any) -> None:
        """Put head and foot on a page."""
        canvas.last_run = self.total is not None  # type: ignore[attr-defined]
        if self.total is None:
            return
        wide, high = document.pageTemplate.pagesize
        left, right = 16.0 * MM, wide - 16.0 * MM
        canvas.saveState()
        top = high - 10.0 * MM
        page = f"page {self.page} of {self.total}"
        canvas.setFont(fonts.REGULAR, _SMALL)
        canvas.drawRightString(right, top, page)
        room = right - left - fonts.width(page, _SMALL) - 12.0
        warned = f"  {self.pack.warning}" if self.pack.warning else ""
        name = _cut(self.pack.build, room - fonts.width(warned, _SMALL, bold=True), _SMALL)
        _words(canvas, f"<b>{fonts.line_marked(name)}</b><font color='{ALARM}'><b>{warned}</b></font>", left, top, room)
        canvas.setStrokeColor(LINE)
        canvas.setLineWidth(0.5)
        canvas.line(left, top - 3.0, right, top - 3.0)
        canvas.line(left, FOOT_MM * MM - 4.0, right, FOOT_MM * MM - 4.0)
        _words(
            canvas,
            fonts.line_marked(_cut(self.pack.revision.words, right - left, _SMALL)),
            left,
            6.0 * MM,
            right - left,
        )
        _caution(canvas, left, FOOT_MM * MM - 5.0, right - left)
        canvas.restoreState()

    def afterFlowable(self, flowable: Any) -> None:  # noqa: N802
        """Note a heading for the table of contents, and put it into the reader's outline."""
        contents = getattr(flowable, "contents", None)
        if contents is None:
            return
        level, words, anchor = contents
        self.canv.bookmarkPage(anchor)
        self.canv.addOutlineEntry(in_short(visible(words)), anchor, level, closed=level == 0)
        self.entries.append((level, fonts.line_marked(in_short(words)), self.page, anchor))


class Counting(Canvas):
    """What a run that only counts pages writes on: nothing is kept of it."""

    def save(self) -> None:
        """Keep nothing."""


def _cut(words: str, room: float, size: float) -> str:
    """Return words that fit into a room, their end left out if they do not."""
    found = fonts.shown(words)
    if fonts.width(found, size, bold=True) <= room:
        return found
    while found and fonts.width(f"{found}...", size, bold=True) > room:
        found = found[: -max(1, len(found) // 20)]
    return f"{found}..."


def _words(canvas: Canvas, markup: str, x: float, y: float, room: float) -> None:
    """Draw one line of marked words."""
    made = Paragraph(markup, ParagraphStyle("small", fontName=fonts.REGULAR, fontSize=_SMALL, leading=_SMALL + 1.0))
    _, high = made.wrap(room, 100.0)
    made.drawOn(canvas, x, y - high + _SMALL)


def _caution(canvas: Canvas, x: float, top: float, room: float) -> None:
    made, high = _caution_for(room)
    made.drawOn(canvas, x, top - high)


@lru_cache(maxsize=8)
def _caution_for(room: float) -> tuple[Paragraph, float]:
    """Return the caution for a width, and how high it is: it stands on every page."""
    style = ParagraphStyle("caution", fontName=fonts.REGULAR, fontSize=_CAUTION, leading=6.8)
    made = Paragraph(f"<font color='{SOFT}'>{CAUTION}</font>", style)
    return made, made.wrap(room, 100.0)[1]
