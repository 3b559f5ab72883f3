"""Flowables of our own: the contents, a drawing that is drawn in the last run only, a box to tick."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from reportlab.platypus import Table
from reportlab.platypus.flowables import Flowable
from reportlab.platypus.tableofcontents import TableOfContents

from fitcheck.reports.pack.turned import Words, is_last
from fitcheck.reports.pdf_painting import Picture


class Figure(Flowable):
    """A drawing in its own size, or shrunk to a scale. Runs that only count pages leave it out."""

    def __init__(self, make: Callable[[], Picture], wide: float, high: float, scale: float = 1.0) -> None:
        super().__init__()
        self.make, self.own, self.scale = make, (wide, high), scale
        self.hAlign = "CENTER"

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Return the size on paper."""
        self.width, self.height = (size * self.scale for size in self.own)
        return self.width, self.height

    def draw(self) -> None:
        """Draw it, if this is the last run."""
        if is_last(self.canv):
            self.make().put(self.canv, 0.0, 0.0, self.scale)


Heading = tuple[int, str, int, str]
"""A heading in the contents: its level from 0 on, its words as markup, its page, its anchor."""


MOST_WORDS = 160
"""Characters of a heading that the contents have; the heading itself has all of them."""


def in_short(words: str) -> str:
    """Return a heading as the contents have it."""
    return words if len(words) <= MOST_WORDS else f"{words[: MOST_WORDS - 3]}..."


class Headline(Words):
    """A heading. `contents` is what the table of contents says of it: level, words, anchor; None if nothing."""

    contents: tuple[int, str, str] | None = None

    def split(self, width: float, height: float) -> list[Any]:
        """Return what fits, and the rest; the contents lead to the first of it."""
        pieces: list[Any] = super().split(width, height)
        if pieces:
            pieces[0].contents = self.contents
        return pieces


class Contents(TableOfContents):
    """The table of contents. It knows its headings, so its height, from the beginning; their pages come later."""

    def __init__(self, headings: Iterable[Heading], styles: Sequence[Any]) -> None:
        super().__init__(dotsMinLevel=0, levelStyles=list(styles))
        self.number(headings)

    def number(self, headings: Iterable[Heading]) -> None:
        """Take headings with their pages in the place of those before."""
        self._lastEntries = list(headings)


class Grid(Table):
    """A table; runs that only count pages do not draw it."""

    def draw(self) -> None:
        """Draw it, if this is the last run."""
        if is_last(self.canv):
            super().draw()


class Tick(Flowable):
    """A box to tick, `left` of it free, before a paragraph or by itself."""

    def __init__(self, words: Any, left: float) -> None:
        super().__init__()
        self.words, self.left = words, left

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Return the size of the paragraph, or of the box."""
        if self.words is None:
            self.width, self.height = 12.0, 10.0
        else:
            self.width, self.height = self.words.wrap(width, height)
        return self.width, self.height

    def getSpaceAfter(self) -> float:  # noqa: N802
        """Return what the paragraph wants after it."""
        return 0.0 if self.words is None else float(self.words.getSpaceAfter())

    def draw(self) -> None:
        """Draw the box, then the paragraph, if this is the last run."""
        if not is_last(self.canv):
            return
        self.canv.setLineWidth(0.8)
        self.canv.rect(self.left, self.height - 10.0, 8.0, 8.0)
        if self.words is not None:
            self.words.drawOn(self.canv, 0, 0)
