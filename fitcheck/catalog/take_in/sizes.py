"""What a size in the wording is the size of: a tube, a hose, an eye, a spanner."""

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from fitcheck.catalog.take_in.numbers import NumberError, plain_number, shows_points
from fitcheck.catalog.take_in.tokens import Token
from fitcheck.catalog.take_in.words import Meaning
from fitcheck.quantities import Quantity, QuantityError, parse
from fitcheck.standards.nuts import nuts
from fitcheck.standards.sizes import same_tube
from fitcheck.standards.threads import Thread

Item = tuple[Token, tuple[Meaning, ...]]
"""A token and what it means."""
_UNITS: Final = {
    '"': "in", "''": "in", "zoll": "in", "inch": "in", "inches": "in", "'": "ft", "foot": "ft", "feet": "ft",
}  # fmt: skip
_SIZED: Final = frozenset(("size", "number", "bare"))
_MEASURED: Final = frozenset(("size", "number"))
SAME_SIZE: Final = 0.02
"""Most that a size converted into another unit differs from the size, besides half its last place: common practice,
no source. 14 in (356 mm) is one size, 10 mm (3/8 in) are two."""


class Sized(NamedTuple):
    """A size and its role: `tube`, `hose`, `eye`, `across`, or `free` if nothing near it says."""

    size: Quantity
    role: str
    text: str


def quantity(token: Token, usual: str = "mm") -> Quantity | None:
    """Return the length that a token states; without a unit a fraction is inches and anything else `usual`.

    None if it is no length. The text of it is what a catalog file takes.
    """
    text = token.text.removeprefix("m") if token.sort == "bare" else token.text
    number, unit = _split(text)
    unit = _UNITS.get(unit, unit) or ("in" if "/" in number else usual)
    try:
        return parse(f"{number} {unit}", "length")
    except QuantityError:
        return None


def _split(text: str) -> tuple[str, str]:
    end = max(index for index, sign in enumerate(text) if sign.isdigit()) + 1
    number, unit = text[:end].strip(), text[end:].strip()
    return ("0" + number if number.startswith(".") else number), unit


def unit_of(token: Token) -> str:
    """Return the unit that a token states or that its fraction implies: `in`, `ft`, `mm`, `cm`, `m`, or nothing."""
    number, unit = _split(token.text)
    return _UNITS.get(unit, unit) or ("in" if "/" in number else "")


def readable(found: Sequence[Token], decimal: str | None) -> tuple[list[Token], list[str]]:
    """Return the tokens with decimal points and nothing between thousands, and what is wrong with those that stay.

    Args:
        found: the tokens of a description.
        decimal: the list's decimal sign, `comma` or `point`, if it is known.
    """
    if not any(token.sort in _MEASURED and ("," in token.text or "." in token.text) for token in found):
        return list(found), []
    points = any(token.sort in _MEASURED and shows_points(_split(token.text)[0]) for token in found)
    read: list[Token] = []
    wrong: list[str] = []
    for token in found:
        if token.sort in _MEASURED:
            number, unit = _split(token.text)
            try:
                plain = plain_number(number, decimal, points)
            except NumberError as error:
                wrong.append(f"{token.text!r} {error}")
            else:
                text = f"{plain} {unit}".strip()
                token = Token(token.sort, text, "" if plain == number else token.text)
        read.append(token)
    return read, wrong


def without_conversions(items: Sequence[Item]) -> list[Item]:
    """Return the items without sizes that only repeat the size before them in another unit: 14 in (356 mm)."""
    return list(_without_conversions(items))


def _without_conversions(items: Sequence[Item]) -> Iterator[Item]:
    last: Item | None = None
    for item in items:
        if last is not None and _plain_size(last) and _plain_size(item) and _converted(last[0], item[0]):
            continue
        last = item
        yield item


def _plain_size(item: Item) -> bool:
    token, meanings = item
    return not meanings and token.sort in _MEASURED


def _converted(first: Token, second: Token) -> bool:
    units = unit_of(first), unit_of(second)
    if "" in units or units[0] == units[1]:
        return False
    size, other = quantity(first), quantity(second)
    if size is None or other is None:
        return False
    number = _split(second.text)[0]
    parts = float(number.rpartition("/")[2]) if "/" in number else 10.0 ** len(number.partition(".")[2])
    one = quantity(Token("size", f"1 {units[1]}"))
    half = (one or 0.0) / parts / 2
    return abs(size - other) <= min(half * (1 + 1e-9), SAME_SIZE * size)


def sized(items: Sequence[Item]) -> list[Sized]:
    """Return every size among the items with its role, by the words next to it."""
    found = []
    for index, (token, meanings) in enumerate(items):
        if meanings or token.sort not in _SIZED:
            continue
        before = items[index - 1][1] if index else ()
        after = items[index + 1][1] if index + 1 < len(items) else ()
        role = _role(token, before, after)
        size = quantity(token)
        found.append(Sized(size if size is not None else Quantity(0.0, token.text), role, token.shown))
    return found


def _role(token: Token, before: Iterable[Meaning], after: Iterable[Meaning]) -> str:
    near = {*before, *after}
    if Meaning("seats", "banjo") in near:
        return "eye"
    if token.sort == "bare":
        return "free"
    if Meaning("roles", "across") in near:
        return "across"
    if Meaning("seats", "push-on") in near:
        return "hose"
    if {Meaning("roles", "tube"), Meaning("roles", "for")} & set(before) or Meaning("roles", "tube") in after:
        return "tube"
    return "free"


@lru_cache(maxsize=1024)
def known_tube(thread: Thread, seat: str, od_mm: float) -> bool:
    """Return whether the standards' table of nuts has this thread for this seat and tube [mm]."""
    from fitcheck.standards.threads import parse as parse_thread

    rows = (nut for nut in nuts() if nut.seat == seat and same_tube(nut.od_mm, od_mm))
    return any(parse_thread(nut.thread).key == thread.key for nut in rows)
