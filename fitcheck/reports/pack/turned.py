"""Paragraphs: wrapped once for each width, drawn in the last run only, and turned where words are right to left.

Words that are written from right to left are broken into lines first, then each line is put as it is seen: reportlab
breaks a paragraph from its first character on, and a text that was turned as a whole would begin with its end.
"""

import re
from collections.abc import Iterator
from html import unescape
from itertools import groupby
from typing import Any, Final

from reportlab.platypus import Paragraph

from fitcheck.reports import pdf_fonts as fonts
from fitcheck.reports.pdf_scripts import right_to_left

_PIECES: Final = re.compile(r"<[^>]*>|[^<]+")
_WORDS: Final = re.compile(r"\s*\S+")
_BREAK: Final = "<br/>"
_SPARE: Final = 0.5
"""Left free of each line [pt], so that it is not broken again."""
Letters = list[tuple[str, bool]]
"""Characters, each with whether it is bold."""


class Words(Paragraph):
    """A paragraph of reportlab; right-to-left words in it come out in the order in which they are seen.

    It is asked for its size a few times in each run, so it remembers it.
    """

    def __init__(self, text: str | None, style: Any, *rest: Any, **more: Any) -> None:
        self._told = text if text is not None and right_to_left(text) else None
        self._size: tuple[float, float, float] | None = None
        self._lines: list[str] = []
        super().__init__(text or "", style, *rest, **more)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Return the size within a width."""
        if self._size is not None and self._size[0] == width and hasattr(self, "blPara"):  # it may be forgotten
            return self._size[1:]
        if self._told is not None:
            style = self.style
            room = width - style.leftIndent - style.rightIndent - max(style.firstLineIndent, 0.0)
            self._lines = turned(self._told, room, style.fontSize, style.fontName == fonts.BOLD)
            self.frags = Paragraph(_BREAK.join(self._lines), style).frags
        wide, high = super().wrap(width, height)
        self._size = width, float(wide), float(high)
        return self._size[1:]

    def split(self, width: float, height: float) -> list[Any]:
        """Return what fits into a height, and the rest; nothing if not even two lines do."""
        if self._told is None:
            return list(super().split(width, height))
        self.wrap(width, height)
        count = int(height / self.style.leading)
        if count >= len(self._lines):
            return [self]
        return [self._part(self._lines[:count], self.bulletText), self._part(self._lines[count:])] if count > 1 else []

    def _part(self, lines: list[str], bullet: str | None = None) -> "Words":
        """Return lines that are turned already as a paragraph."""
        return type(self)(None, self.style, bullet, frags=Paragraph(_BREAK.join(lines), self.style).frags)

    def draw(self) -> None:
        """Draw it, if this is the last run."""
        if is_last(self.canv):
            super().draw()


def is_last(canvas: Any) -> bool:
    """Return whether what is drawn now stays: runs before only count pages."""
    return bool(getattr(canvas, "last_run", False))


def turned(markup: str, room: float, size: float, bold: bool = False) -> list[str]:
    """Return markup as lines of a width [pt] in the order in which they are seen; of its tags bold is kept."""
    lines = _folded(_letters(markup, bold), room - _SPARE, size)
    return ["".join(_said(line, bold)) for line in lines]


def _letters(markup: str, bold: bool) -> Letters:
    found: Letters = []
    deep = 0
    for piece in _PIECES.findall(markup):
        if piece.startswith("<"):
            deep += {"<b>": 1, "</b>": -1}.get(piece, 0)
        else:
            found += [(char, bold or deep > 0) for char in unescape(piece)]
    return found


def _folded(letters: Letters, room: float, size: float) -> Iterator[Letters]:
    """Yield lines of words that fit into a room; a word that does not fit is broken."""
    line: Letters = []
    for word in _WORDS.finditer("".join(char for char, _ in letters)):
        more = letters[word.start() : word.end()]
        if line and _wide([*line, *more], size) > room:
            yield line
            line, more = [], _bare(more)
        while len(more) > 1 and _wide([*line, *more], size) > room:
            count = _fitting(more, room, size)
            yield more[:count]
            more = more[count:]
        line = [*line, *more]
    yield line


def _fitting(letters: Letters, room: float, size: float) -> int:
    """Return how many of the first letters fit into a room, one at least."""
    count = len(letters) - 1
    while count > 1 and _wide(letters[:count], size) > room:
        count = max(1, count - max(1, count // 10))
    return count


def _bare(letters: Letters) -> Letters:
    """Return letters without the blanks before them."""
    first = next((at for at, (char, _) in enumerate(letters) if not char.isspace()), 0)
    return letters[first:]


def _wide(letters: Letters, size: float) -> float:
    runs = groupby(letters, key=lambda letter: letter[1])
    return sum(fonts.width("".join(char for char, _ in run), size, bold) for bold, run in runs)


def _said(line: Letters, all_bold: bool) -> Iterator[str]:
    for bold, run in groupby(line, key=lambda letter: letter[1]):
        words = fonts.line_marked("".join(char for char, _ in run))
        yield f"<b>{words}</b>" if bold and not all_bold else words
