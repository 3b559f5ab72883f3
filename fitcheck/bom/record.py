"""The bill of materials as plain records."""

from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import ceil
from typing import Final, Literal, NamedTuple

from fitcheck.catalog.money import Money
from fitcheck.measures import LengthUnit

Unit = Literal["each", "mm"]
LEFT_OUT: Final = ("fluid", "sealant for taper threads", "O-rings", "clips along the lines", "spares")
"""What a build needs and its bill does not count: said on every bill. `fitcheck.bom.needs` counts most of it."""
LEFT_OUT_OF_NEEDS: Final = ("O-rings",)
"""What a build needs and not even its needs count: said on every purchase plan, so that nobody waits for it."""


def exactly(value: float) -> Fraction:
    """Return the decimal that a binary figure stands for, to six places: 304.8 mm, not 304.79999999999995 mm."""
    return Fraction(str(round(value, 6)))


class Length(NamedTuple):
    """How long a piece has to be cut [mm], or why that is not known.

    `mm` is `run_mm`, from seat to seat along the centre line, plus `allowance_mm`, what the two flares use up.
    Either part is given as far as it is known; `source` says where they come from.
    """

    mm: float | None = None
    unknown: str | None = None
    run_mm: float | None = None
    allowance_mm: float | None = None
    source: str | None = None


class Piece(NamedTuple):
    """One piece to cut from goods sold by length: for which line or hose, and how long."""

    tag: str
    length: Length


class Price(NamedTuple):
    """What one offer asks for one piece, or one mm of cut goods: exact, in `currency`.

    `pack` pieces cost `pack_price` together; `per_mm` is the length of one piece of cut goods. `supplier` is
    the supplier's tag, `number` the supplier's own number for the part.
    """

    unit_price: Fraction
    currency: str
    supplier: str
    number: str | None
    pack: int
    pack_price: Money
    per_mm: float | None
    valid_until: date | None = None


class Row(NamedTuple):
    """One line of the bill: a part and how much of it.

    `part` is its id, None where no catalog has what is needed; `description` then says in words what would
    do. `unknown` is True if a stated id means nothing here, and `description` says why. `places` are the
    tags and ends it is for. Cut goods have `pieces`; their quantity is None while the length of one of them
    is not known, and `known_mm` adds up the others. `counts` says how many each of the `places` takes, of what is
    counted.
    """

    part: str | None
    kind: str
    description: str
    quantity: float | None
    unit: Unit
    places: tuple[str, ...]
    pieces: tuple[Piece, ...] = ()
    known_mm: float | None = None
    unknown: bool = False
    price: Price | None = None
    counts: tuple[int, ...] = ()

    @property
    def key(self) -> tuple[str, str, Unit]:
        """What makes this the same row in another bill: the part or the wording, and the unit."""
        return self.part or "", "" if self.part else self.description, self.unit

    @property
    def cost(self) -> Money | None:
        """Quantity times unit price, rounded up to 0.01 so that nothing costs nothing; None if either is not known."""
        if self.price is None or self.quantity is None:
            return None
        cents = ceil(self.price.unit_price * exactly(self.quantity) * 100)
        return Money(Decimal(cents).scaleb(-2), self.price.currency)


class NotCounted(NamedTuple):
    """A place whose fixings could not be counted, and why."""

    at: tuple[str, ...]
    reason: str


class Bom(NamedTuple):
    """The bill of materials of a build.

    `priced` is True if the build names offers; `totals` then adds up what has a price, one sum for each
    currency, and `unpriced` counts the rows that are in none of them. `told_in` is what lengths are told in.
    """

    build: str
    rows: tuple[Row, ...]
    not_counted: tuple[NotCounted, ...] = ()
    priced: bool = False
    totals: tuple[Money, ...] = ()
    told_in: LengthUnit = "mm"

    @property
    def unpriced(self) -> int:
        """How many rows are in no total: without an offer, without a known length, or in no catalog."""
        return sum(row.cost is None for row in self.rows)
