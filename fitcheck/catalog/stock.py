"""What is on the builder's own shelf, and what has been ordered and is on its way, as plain records."""

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple


class Stocked(NamedTuple):
    """One entry of the shelf. `lengths` are the pieces of cut goods [mm]; `contents` is what fluid there is [mm3]."""

    part: str
    quantity: int
    lengths: tuple[float, ...] = ()
    contents: float | None = None
    note: str | None = None


class Coming(NamedTuple):
    """Something ordered and not here yet: like an entry of the shelf, from whom, and when it is due."""

    part: str
    quantity: int
    lengths: tuple[float, ...] = ()
    contents: float | None = None
    supplier: str | None = None
    number: str | None = None
    ordered: date | None = None
    due: date | None = None
    note: str | None = None


class Stock:
    """What is on the builder's own shelf, and what is coming."""

    def __init__(self, entries: Iterable[Stocked], coming: Iterable[Coming] = ()) -> None:
        self.entries = tuple(entries)
        self.coming = tuple(coming)
        self._by_part: dict[str, list[Stocked]] = {}
        for entry in self.entries:
            self._by_part.setdefault(entry.part, []).append(entry)

    @staticmethod
    def empty() -> "Stock":
        """Return a shelf with nothing on it."""
        return Stock(())

    @property
    def parts(self) -> tuple[str, ...]:
        """The ids of all parts that are here or coming."""
        return tuple(dict.fromkeys([*self._by_part, *(entry.part for entry in self.coming)]))

    def quantity(self, part_id: str) -> int:
        """Return how many pieces of a part there are."""
        return sum(entry.quantity for entry in self._by_part.get(part_id, ()))

    def lengths(self, part_id: str) -> tuple[float, ...]:
        """Return the pieces of cut goods there are [mm], longest first."""
        found = (length for entry in self._by_part.get(part_id, ()) for length in entry.lengths)
        return tuple(sorted(found, reverse=True))

    def contents(self, part_id: str) -> float:
        """Return how much of a fluid there is [mm3]."""
        return sum(entry.contents or 0.0 for entry in self._by_part.get(part_id, ()))
