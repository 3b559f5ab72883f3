"""What a change of the bill costs, over what has a price and a length both before and after; and what has none."""

from collections import Counter
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Final, Literal, NamedTuple

from fitcheck.bom.change import BomChange
from fitcheck.bom.record import Row
from fitcheck.catalog.money import Money

LEAST_MM: Final = 1.0
"""Nobody orders less than this of tube: a flare of another form takes so much more or less."""
Act = Literal["bought", "dropped", "changed"]
"""What becomes of a line: more of it is bought, or less, or its length was not known before or is not any more."""
Lack = Literal["price", "length"]
"""What keeps a line out of the sum."""


class CostChange(NamedTuple):
    """How much more a bill comes to than before, as far as that is known.

    `by` is negative where it is less: one sum for each currency, by code, none where a currency comes to the same.
    `counted` is False if no line that changes is in those sums. `lacking` counts the lines that are not, or not whole,
    by what becomes of them and what they lack.
    """

    by: tuple[Money, ...]
    counted: bool
    lacking: Mapping[tuple[Act, Lack], int]

    def unpriced(self, act: Act) -> int:
        """Return to how many lines this is done at a cost that is not known."""
        return sum(count for (done, _), count in self.lacking.items() if done == act)

    def lacks(self, lack: Lack) -> int:
        """Return how many lines are not in the sums for want of this."""
        return sum(count for (_, what), count in self.lacking.items() if what == lack)


class _Beside(NamedTuple):
    """A row before and after, cut down to what is known of both; `acts` are done to what is not."""

    old: Row
    new: Row
    acts: frozenset[Act]


def cost_change(change: BomChange) -> CostChange:
    """Return what a change of the bill costs.

    Limits: a line whose amount stays is taken to cost what it did.
    """
    sums: dict[str, Decimal] = {}
    lacking: Counter[tuple[Act, Lack]] = Counter()
    counted = False
    for old, new, acts in _pairs(change):
        before, after = old.cost, new.cost
        if before is None or after is None:
            lacking.update((act, "price") for act in acts | _act(old, new) if act != "dropped" or can_be_ordered(old))
            continue
        lacking.update((act, "length") for act in acts)
        counted = counted or old.quantity != new.quantity
        sums[before.currency] = sums.get(before.currency, Decimal(0)) - before.amount
        sums[after.currency] = sums.get(after.currency, Decimal(0)) + after.amount
    by = tuple(Money(amount, currency) for currency, amount in sorted(sums.items()) if amount)
    return CostChange(by, counted, dict(sorted(lacking.items())))


def can_be_ordered(row: Row) -> bool:
    """Return whether a row can be on an order: a part that some catalog has."""
    return row.part is not None and not row.unknown


def _pairs(change: BomChange) -> Iterator[_Beside]:
    for row in change.gone:
        yield _beside(row, row._replace(quantity=0.0, pieces=()))
    for row in change.new:
        yield _beside(row._replace(quantity=0.0, pieces=()), row)
    for old, new in change.changed:
        yield _beside(old, new)


def _beside(old: Row, new: Row) -> _Beside:
    """Return two rows cut down to the pieces whose length is known wherever they are."""
    if old.quantity is not None and new.quantity is not None:
        return _Beside(old, new, frozenset())
    before, after = ({piece.tag: piece.length.mm for piece in row.pieces} for row in (old, new))
    unknown = {tag for lengths in (before, after) for tag, mm in lengths.items() if mm is None}
    acts: set[Act] = set()
    for tag in unknown:
        if tag not in before or tag not in after:
            acts.add("bought" if tag in after else "dropped")
        elif before[tag] != after[tag]:
            acts.add("changed")
    known = (sum(mm for tag, mm in lengths.items() if mm and tag not in unknown) for lengths in (before, after))
    was, is_ = known
    return _Beside(old._replace(quantity=float(was)), new._replace(quantity=float(is_)), frozenset(acts))


def _act(old: Row, new: Row) -> set[Act]:
    """Return what is done with a row of known amounts, if so much of it changes that it is bought or dropped."""
    by, least = (new.quantity or 0.0) - (old.quantity or 0.0), LEAST_MM if new.unit == "mm" else 1.0
    return {"bought" if by > 0 else "dropped"} if abs(by) >= least else set()
