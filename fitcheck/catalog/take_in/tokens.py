"""The wording of a description, cut into threads, sizes and words.

Every pattern ends where nothing may follow that would change what it read: `M10x1` is not found in `M10x1.25`,
`M10x1-25` or `M10x1x20`. What is in no pattern stays as it is, and a number among that makes the wording unread.
"""

import re
from typing import Final, NamedTuple

LONGEST: Final = 300
"""Most characters of a description that is read."""
_PLAIN: Final = str.maketrans(
    {"×": "x", "*": "x", "⁄": "/", "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-", "º": "°", "˚": "°"}  # noqa: RUF001
    | dict.fromkeys("″”“„", '"')
    | dict.fromkeys("′’", "'")  # noqa: RUF001
    | {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
    | {"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss", "ø": " od ", "\u00a0": " ", "\t": " "}
)
_NOT_AFTER: Final = r"(?![\w/°]|[.,-]\d|,-| ?[x-] ?\d+(?:[.,]\d+)?(?![\d/]|-\d| ?x))"
"""What ends a thread: no sign that goes on, no further number behind a multiplication sign or a dash."""
_NOT_A_LENGTH: Final = (
    r"(?! ?(?:mm|cm|m|in|inch|inches|zoll|ft|foot|feet|psi|bar|pcs|stk|stueck|pieces|grad|deg|degrees?)\b| ?[\"'°])"
)
_END: Final = _NOT_AFTER + _NOT_A_LENGTH
_FRACTION: Final = r"(?:\d{1,2}[ -])?\d{1,2}/\d{1,2}"
_SIZE: Final = rf"(?:{_FRACTION}|0?\.\d{{3,4}}|\#\d{{1,2}})"
_MARK: Final = r'(?: ?(?:"|\'\'|in\b|inch\b))?'
_SERIES: Final = r"(?:unjef|unj[cfs]?|unef|un[cfs]?)"
_PIPE: Final = r"(?:nptf|npt|bspp|bspt|bsp)"
_UNIT: Final = r"(?:mm|cm|m|inches|inch|in|zoll|feet|foot|ft|\"|''|')"
_NUMBER: Final = r"\d++(?:[.,]\d++)*+|\.\d++"
"""With every sign between its figures: 1,250.5 is never cut into two."""
_PATTERNS: Final = (
    ("metric", rf"m ?\d{{1,2}}(?:[.,]\d{{1,2}})? ?x ?\d(?:[.,]\d{{1,2}})?(?: ?mm\b)?{_END}"),
    ("pipe", rf"{_FRACTION}{_MARK}(?: ?[-x]? ?(?:27|18|14|11\.5|28|19))? ?-? ?{_PIPE}\b{_END}"),
    ("pipe_", rf"(?:{_PIPE}|rc|rp|g|r) ?-? ?\d{{1,2}}/\d{{1,2}}{_MARK}(?:-(?:27|18|14|11\.5|28|19))?{_END}"),
    ("unified", rf"{_SIZE}{_MARK} ?[-x]? ?\d{{2}}(?: ?tpi)? ?-? ?{_SERIES}{_END}"),
    ("unified_", rf"{_SIZE}{_MARK} ?[-x]? ?{_SERIES}(?:[ -]{{1,3}}(?:x )?\d{{2}}(?: ?tpi)?)?{_END}"),
    ("unified__", rf"{_SERIES} {_SIZE}{_MARK}(?:-\d{{2}})?{_END}"),
    ("unified___", rf"{_SIZE}{_MARK}(?:-\d{{2}}(?: ?tpi)?| ?x ?\d{{2}} ?tpi){_END}"),
    ("dash", rf"(?:an|jic)(?:-| -)?0?\d{{1,2}}{_END}|jic \d{{1,2}}{_END}"),
    ("dash_", rf"(?:-|\#)0?\d{{1,2}} ?(?:an|jic)\b{_END}|0?\d{{1,2}}an\b{_END}"),
    ("dash__", rf"37 ?(?:°|deg|degrees?|grad) ?-\d{{1,2}}{_END}"),
    ("angle", r"(?:37|45|90|180) ?(?:°|deg\b|degrees?\b|grad\b)"),
    ("times", r"[23] ?x ?(?=m ?\d{1,2}(?:[.,]\d+)? ?x|\d{1,2}/\d{1,2}-|\d{1,2}/\d{1,2} ?npt)"),
    ("bare", r"m\d{1,2}(?![\w.,/])"),
    ("size", rf"(?:{_FRACTION}|{_NUMBER}) ?{_UNIT}(?!\w)"),
    ("number", rf"(?:{_FRACTION}|{_NUMBER})(?![\d/])"),
    ("word", r"[^\W\d_]+"),
    ("other", r"[^\s\w,;:.()\[\]'!-]|\d+|_"),
)
_GAP: Final = r"[\s,;:()\[\]!]*+"
"""What only keeps words apart; passed over first, so that no pattern is tried on it."""
_USUAL_WORD: Final = r"(?!m ?\d|an|jic|un|npt|bsp|rc|rp|[gr] ?-? ?\d)[^\W\d_]+"
"""A word that cannot begin a thread: most of them, and read without trying every pattern."""
_TOKEN: Final = re.compile(
    f"{_GAP}(?:" + "|".join(f"(?P<{name}>{pattern})" for name, pattern in (("word_", _USUAL_WORD), *_PATTERNS)) + ")"
)
_SORTS: Final = {name: name.rstrip("_") for name in ("word_", *(name for name, _ in _PATTERNS))}


class Token(NamedTuple):
    """A piece of the wording: what sort it is, its text in the one spelling, and as the list writes it if unlike."""

    sort: str
    text: str
    written: str = ""

    @property
    def shown(self) -> str:
        """Return the text for messages."""
        return self.written or self.text


def plain(text: str) -> str:
    """Return wording in small letters with one spelling of dashes, quotes, multiplication signs and umlauts."""
    return " ".join(text.casefold().translate(_PLAIN).split())


def tokens(text: str) -> list[Token]:
    """Return the tokens of a description, in its order. Punctuation between words is left out."""
    found = []
    for match in _TOKEN.finditer(plain(text)):
        name = match.lastgroup or ""  # every pattern has a name
        found.append(Token(_SORTS[name], match[name].strip()))
    return found
