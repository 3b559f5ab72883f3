"""The vocabulary of descriptions: what a word, or several in a row, stand for."""

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any, Final, NamedTuple

from fitcheck.catalog.take_in.tokens import Token
from fitcheck.sources import read

_LISTS: Final = ("between", "idle", "not_read")


class Meaning(NamedTuple):
    """What a phrase says: a sort such as `kinds` or `seats`, and which one."""

    sort: str
    value: str


@cache
def vocabulary() -> Mapping[tuple[str, ...], tuple[Meaning, ...]]:
    """Return the meanings of every phrase; `pipe` is a kind where nothing else is, and the tube a nut is for."""
    root: Any = read(Path(__file__).with_name("words.yaml")).root
    found: dict[tuple[str, ...], tuple[Meaning, ...]] = {}
    for sort, entries in root.items():
        if sort == "source":
            continue
        values = {sort: entries} if sort in _LISTS else entries
        for value, phrases in values.items():
            for phrase in phrases:
                key = tuple(phrase.split())
                found[key] = (*found.get(key, ()), Meaning(sort, value))
    return found


@cache
def _longest() -> Mapping[str, int]:
    """Return how many words the longest phrase has that begins with each word."""
    found: dict[str, int] = {}
    for phrase in vocabulary():
        found[phrase[0]] = max(found.get(phrase[0], 0), len(phrase))
    return found


def phrases(tokens: Sequence[Token]) -> Iterator[tuple[Token, tuple[Meaning, ...]]]:
    """Yield the tokens with what they mean, words that make a phrase as one. No meaning: not understood."""
    known, longest = vocabulary(), _longest()
    index = 0
    while index < len(tokens):
        token = tokens[index]
        most = longest.get(token.text, 0)
        if most < 2:
            yield token, known[(token.text,)] if most else ()
            index += 1
            continue
        length, meanings = _longest_at(tokens, index, most)
        if length > 1:
            token = Token("word", " ".join(each.text for each in tokens[index : index + length]))
        yield token, meanings
        index += max(length, 1)


def _longest_at(tokens: Sequence[Token], index: int, most: int) -> tuple[int, tuple[Meaning, ...]]:
    known = vocabulary()
    words = [token.text for token in tokens[index : index + most]]
    for length in range(len(words), 0, -1):
        found = known.get(tuple(words[:length]))
        if found is not None:
            return length, found
    return 0, ()
