"""Names: the nearest known word, for messages that help instead of merely refusing, how they compare, their order."""

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import Final

_DIGITS: Final = re.compile("([0-9]+)")


@lru_cache(maxsize=8192)
def in_order(name: str) -> tuple[str | int, ...]:
    """Return what names are sorted by: numbers in them by value, so that `line_2` comes before `line_10`."""
    return tuple(int(part) if index % 2 else part for index, part in enumerate(_DIGITS.split(name)))


def plain_word(text: str) -> str:
    """Return a name without what people write differently: case, spaces and signs.

    >>> plain_word("Cu-Ni 90/10")
    'cuni9010'
    """
    return "".join(letter for letter in text.lower() if letter.isalnum())


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word most like `word`, or None if none is alike.

    The comparison ignores case. Of equally near words the first in alphabetical order wins, so the
    answer never depends on the order of `known`. Words over 80 characters are not compared.
    """
    from difflib import SequenceMatcher, get_close_matches  # costs 5 ms to import, needed only when something is wrong

    if len(word) > 80:
        return None
    by_lower = {candidate.lower(): candidate for candidate in sorted(known, reverse=True)}
    matches = get_close_matches(word.lower(), sorted(by_lower), n=8, cutoff=0.6)
    if not matches:
        return None
    likeness = {match: SequenceMatcher(None, match, word.lower()).ratio() for match in matches}
    return by_lower[min(matches, key=lambda match: (-likeness[match], match))]


def hint(word: str, known: Iterable[str]) -> str:
    """Return ``"; nearest is 'x'"`` or an empty string, to be put at the end of a message."""
    match = nearest(word, known)
    return f"; nearest is {match!r}" if match else ""
