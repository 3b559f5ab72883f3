"""Words of scripts that are written from right to left, as a line on paper has them: left to right, letters joined.

A PDF shows characters in the order in which they come, each by its own glyph. python-bidi puts a line into the order in
which it is seen (Unicode Standard Annex 9); arabic-reshaper takes for each Arabic letter the form that it has between
its neighbours (Arabic Presentation Forms of Unicode). Lines are those of an English report: their base direction is
left to right, as browsers show the same words in a page or a drawing.
"""

from collections.abc import Callable
from functools import lru_cache
from re import compile as pattern
from typing import Final
from unicodedata import normalize

from fitcheck.errors import FitcheckError

_RIGHT_TO_LEFT: Final = pattern("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff\U00010800-\U00010fff\U0001e800-\U0001efff]")
_ARABIC: Final = pattern("[\u0600-\u06ff\u0750-\u077f\u08a0-\u08ff]")
_SETTINGS: Final = {
    "delete_harakat": False,
    "delete_tatweel": False,
    "support_zwj": False,
    "ARABIC LIGATURE ALLAH": False,
}
"""Nothing is left out, and no letters but lam and alef, which always are, are made one."""


_SPARE: Final = "\u034f\u20dd\u20de\u20df"
"""Marks that follow the character before them; one that a line lacks is put in and taken out again."""


class ScriptError(FitcheckError, ImportError):
    """What puts words of right-to-left scripts on paper is not installed."""

    def __str__(self) -> str:
        return 'right-to-left words in a PDF need python-bidi and arabic-reshaper: pip install "fitcheck[print]"'


def right_to_left(text: str) -> bool:
    """Return whether any of a text is written from right to left.

    >>> right_to_left("M10x1"), right_to_left("M10x1 \u05d1\u05dc\u05dd")
    (False, True)
    """
    return not text.isascii() and _RIGHT_TO_LEFT.search(text) is not None


def seen(line: str, has: Callable[[str], bool]) -> str:
    """Return one line in the order in which it is seen; `has` says which characters the font has.

    A letter whose joined form the font lacks stands as it is by itself.

    Raises:
        ScriptError: the packages for it are not installed.
    """
    if not right_to_left(line):
        return line
    joined = _joined(line) if _ARABIC.search(line) else line
    kept = "".join(char if has(char) else normalize("NFKC", char) for char in joined)
    return _ordered(kept, has)


def _ordered(line: str, has: Callable[[str], bool]) -> str:
    """Return characters in the order in which they are seen, brackets of what is turned facing the other way (L4).

    A mark that has no width and no direction of its own stands behind each bracket to tell whether it was turned:
    then it comes out before it. Points and vowel signs stay before the letter that bears them, where their glyphs,
    which have no width either, are drawn over it.

    Raises:
        ScriptError: the package is not installed.
    """
    try:
        from bidi import get_display
        from bidi.mirror import MIRRORED
    except ImportError:
        raise ScriptError from None
    spare = next((mark for mark in _SPARE if mark not in line), "")
    told = "".join(f"{char}{spare}" if char in MIRRORED else char for char in line)
    shown = str(get_display(told, base_dir="L"))
    found: list[str] = []
    at = 0
    while at < len(shown):
        char, after = shown[at], shown[at + 1 : at + 2]
        turned = bool(spare) and char == spare
        found.append(char if not turned else MIRRORED[after] if has(MIRRORED[after]) else after)
        at += 2 if turned or (spare and after == spare and char in MIRRORED) else 1
    return "".join(found)


def _joined(line: str) -> str:
    return str(_reshape()(line))


@lru_cache(maxsize=1)
def _reshape() -> Callable[[str], str]:
    """Return what joins letters.

    Raises:
        ScriptError: the package is not installed.
    """
    try:
        from arabic_reshaper import ArabicReshaper
    except ImportError:
        raise ScriptError from None
    reshape: Callable[[str], str] = ArabicReshaper(configuration=_SETTINGS).reshape
    return reshape
