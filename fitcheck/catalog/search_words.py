"""Words as builders type them, and part texts as catalogs spell them, brought to one spelling.

`3/16`, `3/16 in` and `3/16"` are one word, and so are `M10 x 1` and `m10x1`, `-3 AN` and `an3`, `8 mm` and `8mm`. What
is left of punctuation are spaces; a decimal point between digits stays, so that M10x1 is not found in M10x1.25.
"""

import re
from collections.abc import Iterable
from typing import Final, NamedTuple

_NOT_A_LENGTH: Final = r"(?! ?(?:mm|in\b|[/\".″]))"
_DASH_AFTER: Final = re.compile(r"(?:an|jic)(?![^\W_])")
_SPELLINGS: Final = tuple(
    (re.compile(pattern), better)
    for pattern, better in (
        (rf"(?:an(?<!\wan)|jic(?<!\wjic))[ -]*([0-9]+)\b{_NOT_A_LENGTH}", r"an\1"),
        (r"([0-9]) *(?:inch(?:es)?|in|\"|″|”|'')(?![^\W_])", r"\1"),
        (r"([0-9]) +mm\b", r"\1mm"),
        (r"m(?<!\wm) ?([0-9]+(?:\.[0-9]+)?) *[x\u00d7] *(?=[0-9])", r"m\1x"),
        (r"m(?<!\wm)([0-9.]+x[0-9]+)\.0+\b", r"m\1"),
        (r"g(?<!\wg) ([0-9])", r"g\1"),
        (r"([0-9])(?=(?:npt|un[cfs]?|unef|unj[cf]?)\b)", r"\1 "),
    )
)
"""Applied to a whole text at once; none reaches across a line's end. Patterns that begin with a letter are faster."""
_SIZE_BEFORE: Final = re.compile(r"(?<![0-9/.])-? ?([0-9]+)[ -]*(?:an|jic)\b")
_SIGNS: Final = str.maketrans({sign: " " for sign in map(chr, range(128)) if not sign.isalnum() and sign not in ".\n"})
_OTHER_SIGNS: Final = re.compile(r"[^\w.\n]+")
_IDLE_DOT: Final = re.compile(r"\.(?![0-9])|(?<![0-9])\.")


def _respelled(text: str) -> str:
    """Return `text` in small letters with sizes in the one spelling and every other sign as it was."""
    text = text.casefold()
    if _DASH_AFTER.search(text):  # rare in catalogs, and slow to look for
        text = _SIZE_BEFORE.sub(r" an\1", text)
    for pattern, better in _SPELLINGS:
        text = pattern.sub(better, text)
    return text


def _unsigned(text: str) -> str:
    text = _IDLE_DOT.sub(" ", text.translate(_SIGNS))
    return text if text.isascii() else _OTHER_SIGNS.sub(" ", text)


def spelled(text: str) -> str:
    """Return `text` in the one spelling: one space before, between and after its words, each line kept a line."""
    lines = _unsigned(_respelled(text)).split("\n")
    return "\n".join(f" {' '.join(line.split())} " for line in lines)


class Word(NamedTuple):
    """One word of a query: as typed, what finds it in a spelled text, and what finds it in an id as it is."""

    typed: str
    spelled: tuple[str, ...]
    finds: re.Pattern[str]
    in_id: re.Pattern[str] | None

    def matches(self, text: str, part_id: str) -> bool:
        """Return whether the word begins a word of the spelled `text`, or stands in the id in small letters."""
        if self.finds.search(text) is not None:
            return True
        return self.in_id is not None and self.in_id.search(part_id) is not None

    @property
    def size(self) -> bool:
        """Return whether it is a bare size: `3/16`, `8mm`, `1/8-27`."""
        return self.spelled[0][0].isdigit()

    def whole_in(self, text: str, part_id: str) -> bool:
        """Return whether the word, to its end, is a word of the spelled `text` or a stretch of the id as it is."""
        if any(f" {word} " in text for word in self.spelled):
            return True
        return self.in_id is not None and f"-{self.typed}-" in f"-{part_id}-"


def query_words(words: Iterable[str]) -> tuple[Word, ...]:
    """Return the words of a query, each once, in the order typed; what is nothing but punctuation is left out."""
    found: dict[str, Word] = {}
    for typed in _respelled(" ".join(words)).split():
        word = " ".join(_unsigned(typed).split())
        if word and word not in found:
            found[word] = _word(typed, word)
    return tuple(found.values())


def _word(typed: str, word: str) -> Word:
    forms = [word, *_singular(word)]
    finds = "|".join(f" {re.escape(form)}{_tail(form)}" for form in forms)
    in_id = None
    if "-" in typed.strip("-") or "_" in typed:
        in_id = re.compile(rf"(?:^|[-_]){re.escape(typed)}{_tail(typed)}")
    return Word(typed, tuple(forms), re.compile(finds), in_id)


def _singular(word: str) -> list[str]:
    """Return what a word may be the plural of: shops say `nuts`, catalogs say `nut`."""
    if len(word) < 4 or not word.isalpha() or not word.endswith("s"):
        return []
    return [word[:-1], word[:-2]] if word.endswith(("ches", "shes")) else [word[:-1]]


def _tail(word: str) -> str:
    """Return what may not follow: a number is found whole, any other word also as the beginning of one."""
    return r"(?![0-9]|\.[0-9])" if word[-1:].isdigit() else ""
