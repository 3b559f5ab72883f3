"""What a size in the wording is the size of: a tube, a hose, an eye, a spanner."""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from fitcheck.catalog.take_in.tokens import Token
from fitcheck.catalog.take_in.words import Meaning
from fitcheck.quantities import Quantity, QuantityError, parse
from fitcheck.standards.nuts import nuts
from fitcheck.standards.sizes import same_tube
from fitcheck.standards.threads import Thread

Item = tuple[Token, tuple[Meaning, ...]]
"""A token and what it means."""
_UNITS: Final = {'"': "in", "''": "in", "zoll": "in", "inch": "in", "inches": "in"}
_SIZED: Final = frozenset(("size", "number", "bare"))


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
    number, unit = _split(text.replace(",", "."))
    unit = _UNITS.get(unit, unit) or ("in" if "/" in number else usual)
    try:
        return parse(f"{number} {unit}", "length")
    except QuantityError:
        return None


def _split(text: str) -> tuple[str, str]:
    end = max(index for index, sign in enumerate(text) if sign.isdigit()) + 1
    number, unit = text[:end].strip(), text[end:].strip()
    return ("0" + number if number.startswith(".") else number), unit


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
        found.append(Sized(size if size is not None else Quantity(0.0, token.text), role, token.text))
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
