r"""Characters on paper: no one that a font lacks may vanish.

Text is set in Helvetica, which every reader of PDF has. What it lacks is taken from DejaVu Sans, which comes with
matplotlib, or without that from Vera, which comes with reportlab. What both lack is shown as its code: `\u4e2d`.
What is written from right to left is put in the order in which it is seen line by line (`pdf_scripts.py`).
"""

from functools import lru_cache
from html import escape
from importlib.util import find_spec
from itertools import groupby
from pathlib import Path
from typing import Final

from fitcheck.reports.pdf_scripts import seen
from fitcheck.reports.plain import visible

REGULAR: Final = "Helvetica"
BOLD: Final = "Helvetica-Bold"
_MORE: Final = "PackMore"
_MORE_BOLD: Final = "PackMore-Bold"
_NARROWER: Final = 0.88
"""Size of a drawing's words in the second font, which is wider: so they keep the room that is theirs."""


@lru_cache(maxsize=1)
def _known() -> frozenset[int]:
    """Return the characters that the second font has, in both weights; it is registered with reportlab here."""
    from reportlab.lib.fonts import addMapping
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    regular, bold = _files()
    faces = [TTFont(_MORE, regular), TTFont(_MORE_BOLD, bold)]
    for face in faces:
        registerFont(face)
    for italic in (0, 1):
        addMapping(_MORE, 0, italic, _MORE)
        addMapping(_MORE, 1, italic, _MORE_BOLD)
    return frozenset(faces[0].face.charToGlyph) & frozenset(faces[1].face.charToGlyph)


def _files() -> tuple[str, str]:
    found = find_spec("matplotlib")  # only looked for: importing it takes half a second
    for place in (found.submodule_search_locations or ()) if found is not None else ():
        folder = Path(place) / "mpl-data" / "fonts" / "ttf"
        files = folder / "DejaVuSans.ttf", folder / "DejaVuSans-Bold.ttf"
        if all(file.is_file() for file in files):
            return str(files[0]), str(files[1])
    return "Vera.ttf", "VeraBd.ttf"


def shown(text: str) -> str:
    """Return text with each character that no font here has as its code."""
    words = visible(text)
    if words.isascii():
        return words
    return "".join(char if _has(char) else ascii(char)[1:-1] for char in words)


def line_shown(text: str) -> str:
    """Return one line of text as it is seen: what is written from right to left is turned, and its letters joined.

    Raises:
        ScriptError: there are such words, and the packages for them are not installed.
    """
    words = shown(text)
    return words if words.isascii() else seen(words, _has)


def _has(char: str) -> bool:
    return _plain(char) or ord(char) in _known()


def marked(text: str) -> str:
    """Return text as markup of reportlab's paragraphs: escaped, each run in a font that has it."""
    return _runs(shown(text))


def line_marked(text: str) -> str:
    """Return one line of text as markup, as it is seen.

    Raises:
        ScriptError: see `line_shown`.
    """
    return _runs(line_shown(text))


def _runs(words: str) -> str:
    if words.isascii():
        return escape(words)
    runs = ((plain, escape("".join(run))) for plain, run in groupby(words, _plain))
    return "".join(run if plain else f'<font name="{_MORE}">{run}</font>' for plain, run in runs)


def font_for(text: str, bold: bool) -> tuple[str, float]:
    """Return the font of one line of a drawing, and what its size is multiplied by."""
    if text.isascii() or all(map(_plain, text)):
        return BOLD if bold else REGULAR, 1.0
    _known()
    return _MORE_BOLD if bold else _MORE, _NARROWER


def width(text: str, size: float, bold: bool = False) -> float:
    """Return how wide text is [pt]."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    words = line_shown(text)
    if words.isascii():
        return float(stringWidth(words, BOLD if bold else REGULAR, size))
    _known()
    fonts = (BOLD, _MORE_BOLD) if bold else (REGULAR, _MORE)
    runs = groupby(words, _plain)
    return float(sum(stringWidth("".join(run), fonts[0 if plain else 1], size) for plain, run in runs))


def _plain(char: str) -> bool:
    """Return whether Helvetica has a character, in the encoding that it is written with."""
    try:
        char.encode("cp1252")
    except UnicodeEncodeError:
        return False
    return True
