"""Words for a terminal: safe characters, wrapped lines, amounts as people write them."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from fitcheck.reports.caution import CAUTION

WIDTH: Final = 80
_LEAST_WIDTH: Final = 20


def visible(text: str) -> str:
    """Return `text` on one line with every character that could drive a terminal made visible.

    Controls, line ends, marks that turn the direction of writing and the like become their escapes.
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(char if char.isprintable() else ascii(char)[1:-1] for char in text)


def columns(text: str) -> int:
    """Return how many columns of a terminal `text` takes: East Asian wide characters two, marks none."""
    if text.isascii():
        return len(text)
    from unicodedata import combining, east_asian_width  # only for what is not plain ASCII

    return sum(0 if combining(char) else 1 + (east_asian_width(char) in "WF") for char in text)


def wrapped(text: str, width: int = WIDTH, indent: str = "", hang: str | None = None) -> list[str]:
    """Return `text` in lines of at most `width` columns; `hang` indents all but the first.

    A word longer than a line is broken. Widths below 20 count as 20.
    """
    width = max(width, _LEAST_WIDTH)
    lead, later = indent, indent if hang is None else hang
    lines: list[str] = []
    line = ""
    for word in _pieces(text.split(" "), width - max(len(lead), len(later))):
        if line and columns(lead) + columns(line) + 1 + columns(word) > width:
            lines.append(lead + line)
            lead, line = later, word
        else:
            line = f"{line} {word}" if line else word
    return [*lines, lead + line]


def _pieces(words: Iterable[str], most: int) -> Iterator[str]:
    """Yield words that fit into `most` columns, broken where they do not; no empty ones."""
    for word in words:
        if len(word) * 2 <= most or columns(word) <= most:
            if word:
                yield word
            continue
        start = used = 0
        for index, char in enumerate(word):
            size = columns(char)
            if used + size > most and index > start:
                yield word[start:index]
                start, used = index, 0
            used += size
        yield word[start:]


def paragraph(text: str, width: int = WIDTH, indent: str = "", hang: str | None = None) -> list[str]:
    """Return user's or rule's text made visible and wrapped."""
    return wrapped(visible(text), width, indent, hang)


def caution_lines(width: int = WIDTH) -> list[str]:
    """Return the caution, wrapped, after an empty line."""
    return ["", *wrapped(CAUTION, width)]


def nothing_found(checked: Mapping[str, int]) -> str:
    """Return what is said of a build without findings: no more than what was looked at, by rule."""
    return "nothing found in what was checked" if checked else "nothing was checked: the build has no parts"


def count_of(number: int, word: str, words: str | None = None) -> str:
    """Return a number with its word: `1 error`, `2 errors`."""
    return f"{number} {word if number == 1 else words or word + 's'}"


def first_few(names: Iterable[str], most: int = 4) -> str:
    """Return the first few names, and how many there are besides: `a, b and 7 more`."""
    shown = list(names)
    if len(shown) <= most:
        return ", ".join(shown)
    return f"{', '.join(shown[: most - 1])} and {len(shown) - most + 1} more"


def shortened_path(names: Iterable[str], most: int = 8) -> str:
    """Return a way through the build as `a > b > c`, its middle left out if it is long."""
    way = list(names)
    if len(way) > most:
        half = most // 2
        way = [*way[:half], f"({len(way) - 2 * half} more)", *way[-half:]]
    return " > ".join(way)
