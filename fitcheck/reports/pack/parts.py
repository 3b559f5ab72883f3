"""Flowables of our own: a drawing that is drawn in the last run only, and a box to tick."""

from collections.abc import Callable
from typing import Any

from reportlab.platypus.flowables import Flowable


class Figure(Flowable):  # type: ignore[misc]
    """A drawing in its own size, or shrunk to a scale. Runs that only count pages leave it out: that is most of the time."""

    def __init__(self, make: Callable[[], Any], wide: float, high: float, scale: float = 1.0) -> None:
        super().__init__()
        self.make, self.own, self.scale = make, (wide, high), scale
        self.hAlign = "CENTER"

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Return the size on paper."""
        self.width, self.height = (size * self.scale for size in self.own)
        return self.width, self.height

    def draw(self) -> None:
        """Draw it, if this is the last run."""
        if not getattr(self.canv, "last_run", False):
            return
        from reportlab.graphics import renderPDF

        made = self.make()
        self.canv.saveState()
        self.canv.scale(self.scale, self.scale)
        renderPDF.draw(made, self.canv, 0, 0)
        self.canv.restoreState()


class Tick(Flowable):  # type: ignore[misc]
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
        """Draw the box, then the paragraph."""
        self.canv.setLineWidth(0.8)
        self.canv.rect(self.left, self.height - 10.0, 8.0, 8.0)
        if self.words is not None:
            self.words.drawOn(self.canv, 0, 0)
