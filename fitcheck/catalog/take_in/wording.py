"""A whole description read: kind, ports, figures, and how sure all that is.

`high` takes every word and every number understood, a thread of the trade, its side, seat and tube said, and
a thread, seat and tube that the standards' tables know together. `medium` is the same with something left unsaid or
a word not understood. Anything else is `low`: a number that is not understood might be part of a thread.
"""

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Any, Final, Literal, NamedTuple

from fitcheck.catalog.take_in.ends import End, angle_seat, read_end
from fitcheck.catalog.take_in.sizes import Item, quantity, readable, unit_of, without_conversions
from fitcheck.catalog.take_in.tokens import LONGEST, Token, tokens
from fitcheck.catalog.take_in.words import Meaning, phrases
from fitcheck.quantities import Quantity
from fitcheck.standards.materials import materials
from fitcheck.standards.sizes import TUBE_SIZES, same_tube

Confidence = Literal["high", "medium", "low"]
_SINGLE: Final = {
    "nut": "nut", "sleeve": "sleeve", "banjo bolt": "bolt", "plug": "end", "cap": "end", "pressure switch": "port",
    "gauge": "port",
}  # fmt: skip
_DOUBLE: Final = {
    "union": ("a", "b"), "elbow": ("a", "b"), "bulkhead union": ("inside", "outside"), "adapter": ("a", "b"),
    "hose": ("from", "to"),
}  # fmt: skip
_TEE: Final = ("left", "right", "top")
_UNLIKE: Final = frozenset(("adapter", "hose"))
"""Kinds whose two ends have to be said both."""
_BETWEEN: Final = (Meaning("between", "between"),)
_HOSE_MM: Final = (80.0, 3000.0)
_WALL_MM: Final = (0.3, 2.5)
_STOCK_MM: Final = 500.0


class Reading(NamedTuple):
    """What a description says. `fields` are the part's own keys; `reasons` say why it is not sure."""

    confidence: Confidence
    kind: str | None
    ports: Mapping[str, Mapping[str, Any]]
    fields: Mapping[str, Any]
    reasons: tuple[str, ...]


class _Doubts:
    """What is wrong with a wording: `faults` make it unread, `doubts` likely only."""

    def __init__(self) -> None:
        self.faults: list[str] = []
        self.doubts: list[str] = []

    def reading(self, kind: str | None, ports: Mapping[str, Mapping[str, Any]], fields: Mapping[str, Any]) -> Reading:
        reasons = tuple(dict.fromkeys(self.faults or self.doubts))
        if self.faults or kind is None:
            return Reading("low", kind, {}, {}, reasons)
        return Reading("medium" if self.doubts else "high", kind, ports, fields, reasons)


@lru_cache(maxsize=4096)
def read_wording(text: str, decimal: str | None = None) -> Reading:
    """Return what a description says.

    Args:
        text: the description, English or German: `Tee 3/8-24 UNF inverted flare female for 3/16`.
        decimal: `comma` or `point` if the list is known to write that before decimals.
    """
    found = _Doubts()
    if len(text) > LONGEST:
        found.faults.append(f"the description is longer than {LONGEST} characters")
        return found.reading(None, {}, {})
    read, wrong = readable(tokens(text), decimal)
    found.faults += wrong
    items = without_conversions(angle_seat(list(phrases(read))))
    said = _said(items)
    kind = _kind(said, found)
    _check_words(items, said, kind, found)
    if kind is None or wrong:
        return found.reading(kind, {}, {})
    fields = _fields(said, kind, found)
    if kind == "tube":
        fields |= _tube(items, said, found)
        return found.reading(kind, {}, fields)
    if kind == "washer":
        fields |= _washer(items, found)
        return found.reading(kind, {}, fields)
    if kind == "hose":
        items, length = _hose_length(items, found)
        fields |= length
    return found.reading(kind, _ports(items, kind, decimal, found), fields)


Said = Mapping[str, Mapping[str, str]]
"""What a description says by sort: each value with the words that said it."""


def _said(items: Iterable[Item]) -> Said:
    found: dict[str, dict[str, str]] = {}
    for token, meanings in items:
        for sort, value in meanings:
            found.setdefault(sort, {}).setdefault(value, token.text)
    return found


def _kind(said: Said, found: _Doubts) -> str | None:
    if "not_read" in said:
        word = said["not_read"]["not_read"]
        found.faults.append(f"{word!r}: such a part has figures that wording does not give; write it by hand")
        return None
    kinds = list(said.get("kinds", ()))
    if len(kinds) > 1 and "tube" in kinds:  # the tube that a nut or a fitting is for
        kinds.remove("tube")
    if len(kinds) == 1:
        return kinds[0]
    names = f"it names two kinds of part: {' and '.join(kinds)}" if kinds else "it names no kind of part that is known"
    found.faults.append(names)
    return None


def _check_words(items: Iterable[Item], said: Said, kind: str | None, found: _Doubts) -> None:
    for value, word in said.get("refused", {}).items():
        found.faults.append(f"{word!r} is {value}")
    for (sort, text, _), meanings in items:
        if meanings:
            continue
        if sort == "word" and len(text) > 1:
            found.doubts.append(f"the word {text!r} is not understood")
        elif sort in ("word", "other"):  # a lone letter is part of something that was not read, as in M10x1-25
            found.faults.append(f"{text!r} is not understood")
        elif sort == "angle" and not (kind == "elbow" and text.startswith("90")):
            found.faults.append(f"what {text!r} is the angle of is not said")


def _fields(said: Said, kind: str, found: _Doubts) -> dict[str, Any]:
    named, eyes = said.get("materials", {}), said.get("eyes", {})
    fields: dict[str, Any] = {}
    if len(named) > 1:
        found.doubts.append(f"it names two materials: {' and '.join(named)}")
    elif named:
        fields["material"] = next(iter(named))
    if eyes and kind == "banjo bolt":
        if len(eyes) > 1:
            found.faults.append("it is for one eye and for two")
        fields["eyes"] = min(eyes)
    elif eyes:
        found.doubts.append("what is single or double is not said")
    return fields


def _ports(items: Sequence[Item], kind: str, decimal: str | None, found: _Doubts) -> dict[str, Mapping[str, Any]]:
    times = [token for token, _ in items if token.sort == "times"]
    sides = _sides([item for item in items if item[0].sort != "times"] if times else items)
    names = (_SINGLE[kind],) if kind in _SINGLE else _DOUBLE.get(kind, _TEE)
    if times and (len(times) > 1 or len(sides) > 1 or int(times[0].text[0]) != len(names)):
        found.faults.append(f"what {times[0].text!r} counts is not understood")
    ends = [read_end(tuple(side), kind, decimal) for side in sides]
    for each in ends:
        found.faults += each.faults
        found.doubts += each.doubts
    return _named(ends, kind, names, found)


def _named(ends: Sequence[End], kind: str, names: tuple[str, ...], found: _Doubts) -> dict[str, Mapping[str, Any]]:
    if len(ends) == 1 and kind not in _UNLIKE:
        return dict.fromkeys(names, ends[0].port)
    if len(ends) != len(names):
        found.faults.append(f"{a(kind)} has {_ends(len(names))}; the wording gives {len(ends)}")
    elif kind == "tee":
        found.doubts.append("which end of the tee is the branch is not said")
    return {name: end.port for name, end in zip(names, ends, strict=False)}


def a(kind: str) -> str:
    """Return a kind of part with its article: `an adapter`, `a union`."""
    return f"{'an' if kind[0] in 'ae' else 'a'} {kind}"


def _ends(number: int) -> str:
    return "1 end" if number == 1 else f"{number} ends"


def _sides(items: Iterable[Item]) -> list[list[Item]]:
    """Return the items on each side of `to` or `x`."""
    sides: list[list[Item]] = [[]]
    for item in items:
        if item[1] == _BETWEEN:
            sides.append([])
        else:
            sides[-1].append(item)
    return sides


def _hose_length(items: Sequence[Item], found: _Doubts) -> tuple[list[Item], dict[str, str]]:
    """Return the items without a hose's length, and that; a size with its unit that no end could have."""
    least, most = _HOSE_MM
    kept: list[Item] = []
    lengths: list[tuple[Token, Quantity]] = []
    for token, meanings in items:
        size = quantity(token) if token.sort == "size" and not meanings else None
        if size is not None and size >= least:
            lengths.append((token, size))
        else:
            kept.append((token, meanings))
    if not lengths:
        found.doubts.append("the length of the hose is not said")
        return kept, {}
    if len(lengths) > 1:
        found.faults.append(_many_lengths("hose", (token for token, _ in lengths)))
    elif lengths[0][1] > most:
        found.faults.append(f"{lengths[0][0].shown!r} is no length of a brake hose: from {least:g} to {most:g} mm")
    return kept, {"length": lengths[0][1].text}


def _many_lengths(kind: str, lengths: Iterable[Token]) -> str:
    return f"the {kind} has more than one length: {' and '.join(repr(token.shown) for token in lengths)}"


def _figures(items: Sequence[Item]) -> tuple[list[list[Token]], list[Token]]:
    """Return the runs of sizes joined by `x`, and whatever else there is that is no word."""
    runs: list[list[Token]] = []
    other: list[Token] = []
    joined = False
    for token, meanings in items:
        if token.sort in ("size", "number") and not meanings:
            if joined and runs:
                runs[-1].append(token)
            else:
                runs.append([token])
            joined = False
        elif token.sort == "word":
            joined = token.text == "x"
        else:
            other.append(token)
    return runs, other


def _run(run: Sequence[Token]) -> list[Quantity]:
    """Return the lengths of a run; a unit at its end holds for the bare numbers before it."""
    usual = "in" if run[-1].sort == "size" and unit_of(run[-1]) == "in" else "mm"
    return [size for token in run if (size := quantity(token, usual)) is not None]


def _tube(items: Sequence[Item], said: Said, found: _Doubts) -> dict[str, Any]:
    runs, other = _figures(items)
    pairs = [_run(run) for run in runs if len(run) == 2]
    lengths = [run[0] for run in runs if len(run) == 1]
    if len(pairs) == 1 and len(lengths) > 1 and all(token.sort == "size" for token in lengths):
        found.faults.append(_many_lengths("tube", lengths))
        return {}
    if other or len(pairs) != 1 or len(pairs[0]) != 2 or len(lengths) > 1 or any(len(run) > 2 for run in runs):
        found.faults.append("a tube is read from its outside diameter x wall, such as 4.75 x 0.9 mm, and a length")
        return {}
    od, wall = pairs[0]
    if wall >= _STOCK_MM:
        found.faults.append(f"how thick the wall is is not said; {wall.text} is a length")
        return {}
    if not any(same_tube(od, size) for size in TUBE_SIZES.values()) or not _WALL_MM[0] <= wall <= _WALL_MM[1]:
        found.faults.append(f"{od.text} x {wall.text} is no size of brake tube")
    fields = {"od": od.text, "wall": wall.text}
    if lengths:
        length = quantity(lengths[0]) if lengths[0].sort == "size" else None
        if length is None or length < _STOCK_MM:
            found.faults.append(f"what {lengths[0].shown!r} measures is not said")
        else:
            fields["length"] = length.text
    named = list(said.get("materials", ()))
    if not named:
        found.doubts.append("the material of the tube is not said")
    elif named[0] not in materials():
        found.faults.append(f"{named[0]} is no material of brake tube")
    return fields


def _washer(items: Sequence[Item], found: _Doubts) -> dict[str, Any]:
    runs, other = _figures(items)
    sizes = _run(runs[0]) if len(runs) == 1 and len(runs[0]) == 3 and not other else []
    if len(sizes) != 3:
        found.faults.append("a washer is read from inside x outside x thickness, such as 10 x 14 x 1 mm")
        return {}
    inside, outside, thick = sizes
    if not (3 < inside < outside - 1 < 40 and 0.3 <= thick <= 4):
        found.faults.append(f"{inside.text} x {outside.text} x {thick.text} is no washer")
    return {"inside": inside.text, "outside": outside.text, "thickness": thick.text}
