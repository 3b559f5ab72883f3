"""What differs between two bills of materials."""

from typing import NamedTuple

from fitcheck.bom.record import Bom, Row
from fitcheck.catalog.money import Money
from fitcheck.measures import LengthUnit


class RowChange(NamedTuple):
    """A row that both bills have, with another quantity or other pieces."""

    before: Row
    after: Row


class BomChange(NamedTuple):
    """Rows that are gone, new, or there in another quantity; and the totals before and after.

    `priced` is True if the bill has prices; `unpriced` counts the rows without one, before and after. `told_in` is what
    lengths are told in.
    """

    gone: tuple[Row, ...]
    new: tuple[Row, ...]
    changed: tuple[RowChange, ...]
    priced: bool = False
    totals_before: tuple[Money, ...] = ()
    totals_after: tuple[Money, ...] = ()
    unpriced: tuple[int, int] = (0, 0)
    told_in: LengthUnit = "mm"

    @property
    def empty(self) -> bool:
        """True if both bills ask for the same."""
        return not (self.gone or self.new or self.changed)


def compare(before: Bom, after: Bom) -> BomChange:
    """Return what differs between the bill `before` and the one `after`. Which place a part is for does not."""
    old = {row.key: row for row in before.rows}
    new = {row.key: row for row in after.rows}
    both = (RowChange(old[key], row) for key, row in new.items() if key in old)
    return BomChange(
        gone=tuple(row for key, row in old.items() if key not in new),
        new=tuple(row for key, row in new.items() if key not in old),
        changed=tuple(change for change in both if _amount(change.before) != _amount(change.after)),
        priced=before.priced or after.priced,
        totals_before=before.totals,
        totals_after=after.totals,
        unpriced=(before.unpriced, after.unpriced),
        told_in=after.told_in,
    )


def _amount(row: Row) -> tuple[object, ...]:
    return row.quantity, row.known_mm, row.unknown, [(piece.tag, piece.length.mm) for piece in row.pieces]
