"""What is said to have arrived, found in what is coming: whole entries, or some of their pieces."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final, NamedTuple

from fitcheck.catalog.stock import Coming
from fitcheck.errors import FitcheckError
from fitcheck.naming import hint
from fitcheck.quantities import Quantity, render
from fitcheck.trees import short

_MOST_NAMED: Final = 12
"""Entries named in a message one by one; the rest of them are counted."""

_MOST_LENGTHS: Final = 4


class ArrivalError(FitcheckError, ValueError):
    """Something is said to have arrived that is not coming: the `word` that says so, and the `reason`."""

    def __init__(self, word: str, reason: str) -> None:
        self.word = word
        self.reason = reason
        super().__init__(word, reason)

    def __str__(self) -> str:
        return self.reason


class Move(NamedTuple):
    """What arrives of the entry `at` a place of what is coming, and what of it is still to come."""

    at: int
    arrived: Coming
    rest: Coming | None


def moves_of(entries: Sequence[Coming], who: Sequence[str]) -> tuple[Move, ...]:
    """Return what arrives of what is coming if `who` says so, in the order of the file; all of it without words.

    Raises:
        ArrivalError: a word names nothing that is coming, or more of it than is coming.
    """
    if not who:
        return tuple(Move(index, entry, None) for index, entry in enumerate(entries))
    gone: dict[int, Coming] = {}
    counts: list[str] = []
    for word in who:
        named = [index for index, each in enumerate(entries) if word in (each.supplier, each.part, each.number)]
        gone.update((index, entries[index]) for index in named)
        if not named:
            counts.append(word)
    left = {index: entry for index, entry in enumerate(entries) if index not in gone}
    for word in counts:
        for index, taken in _counted(word, entries, left):
            gone[index] = _with(taken, gone.get(index))
    return tuple(Move(index, entry, left.get(index)) for index, entry in sorted(gone.items()))


def _counted(word: str, entries: Sequence[Coming], left: dict[int, Coming]) -> Iterator[tuple[int, Coming]]:
    """Take the pieces that a word such as `PART=3` names out of what is left, and yield them with their places."""
    key, equals, count = word.rpartition("=")
    named = [index for index, each in enumerate(entries) if equals and key in (each.part, each.number)]
    if not named and equals and key in (each.supplier for each in entries):
        raise ArrivalError(word, f"pieces are counted of a part or number, and {short(key)} is a supplier")
    if not named:
        raise ArrivalError(word, _unknown(word, entries))
    if not (count.isascii() and count.isdigit() and len(count) <= 4 and int(count)):
        raise ArrivalError(word, f"expected a whole number of pieces from 1 to 9999, got {short(count)} for {key}")
    wanted = int(count)
    pieces = {index: _pieces(left[index]) for index in named if index in left}
    if None in pieces.values():
        shown = _listed(left[index] for index in pieces)
        raise ArrivalError(word, f"{key} does not come in like pieces that can be counted; coming: {shown}")
    there = sum(number or 0 for number in pieces.values())
    if wanted > there:
        are = "is" if there == 1 else "are"
        raise ArrivalError(word, f"{wanted} of {key} cannot have arrived: {there} {are} coming")
    for index, number in pieces.items():
        taken = min(wanted, number or 0)
        if taken:
            yield index, _split(left, index, taken)
            wanted -= taken


def _pieces(entry: Coming) -> int | None:
    """Return how many pieces an entry has that are all alike; None if it has others, or is measured."""
    if not entry.lengths:
        return entry.quantity if entry.contents is None else None
    alike = entry.contents is None and not entry.quantity and len(set(entry.lengths)) == 1
    return len(entry.lengths) if alike else None


def _split(left: dict[int, Coming], index: int, taken: int) -> Coming:
    """Take pieces out of what is left of an entry, and return them."""
    entry = left[index]
    if entry.lengths:
        taken_out, rest = entry._replace(lengths=entry.lengths[:taken]), entry._replace(lengths=entry.lengths[taken:])
    else:
        taken_out, rest = entry._replace(quantity=taken), entry._replace(quantity=entry.quantity - taken)
    if rest.lengths or rest.quantity:
        left[index] = rest
    else:
        del left[index]
    return taken_out


def _with(entry: Coming, other: Coming | None) -> Coming:
    """Return pieces of one entry together."""
    if other is None:
        return entry
    return entry._replace(quantity=entry.quantity + other.quantity, lengths=(*other.lengths, *entry.lengths))


def _unknown(word: str, entries: Sequence[Coming]) -> str:
    if not entries:
        return f"{short(word)} cannot have arrived: nothing is coming"
    known = {name for entry in entries for name in (entry.supplier, entry.part, entry.number) if name is not None}
    near = hint(word, known) or hint(word.rpartition("=")[0], known)
    return f"nothing that is coming has the supplier, part or number {short(word)}{near}; coming: {_listed(entries)}"


def _listed(entries: Iterable[Coming]) -> str:
    said = list(map(_told, entries))
    more = len(said) - _MOST_NAMED
    return ", ".join((*said[:_MOST_NAMED], f"and {more} more") if more > 0 else said)


def _told(entry: Coming) -> str:
    """Return an entry in a few words."""
    much = [str(entry.quantity)] if entry.quantity else []
    lengths = [quantity_text(length, "length") for length in entry.lengths]
    much += [*lengths[:_MOST_LENGTHS], "..."] if len(lengths) > _MOST_LENGTHS else lengths
    much += [quantity_text(entry.contents, "volume")] if entry.contents is not None else []
    sender = f" from {entry.supplier}" if entry.supplier is not None else ""
    return f"{' + '.join(much) or '0'} {entry.part}{sender}"


def quantity_text(value: float, dimension: str) -> str:
    """Return a quantity as it was written, or else in its usual unit."""
    return value.text if isinstance(value, Quantity) else render(value, dimension)
