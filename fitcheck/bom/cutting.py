"""The cutting list: for each part that is bought by length, which piece is cut from which coil or offcut."""

from collections.abc import Sequence
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Final, Literal, NamedTuple

from fitcheck.bom.nesting.grid import PER_MM, up
from fitcheck.bom.nesting.nest import nest
from fitcheck.bom.nesting.record import Coil, Cut, Nest, NestingError
from fitcheck.bom.nesting.search import SECONDS
from fitcheck.bom.record import Bom, Row
from fitcheck.catalog.money import Money
from fitcheck.catalog.offers import Offer, Offers
from fitcheck.catalog.shelf import Shelf
from fitcheck.catalog.stock import Stock
from fitcheck.measures import LengthUnit, exact, long_text, no_longer, rounded_mm
from fitcheck.progress import stepping, task

USUAL_COIL_MM: Final = 7620.0
"""A coil of 25 ft, in which brake tube is usually sold: common practice, no source."""
Origin = Literal["offers", "asked", "usual", "none"]
"""Where the lengths come from: the build's offers, the caller, usual practice, or nowhere."""


class LeftOut(NamedTuple):
    """A piece that is in no bar, or an offer that is not looked at, and why."""

    what: str
    reason: str


class CutPart(NamedTuple):
    """The cutting list of one part.

    `coils` are the lengths that can be bought, in `currency` if they have prices. `nest` is None where nothing has a
    known length, or nothing says in what lengths it is sold: `by_the_metre` are then the pieces, to be cut off a reel.
    A `nest` without bars cuts nothing: every piece is too long. Pieces in `left_out` are in no bar; offers in `ignored`
    are not looked at. `told_in` is what lengths are told in.
    """

    part: str
    description: str
    origin: Origin
    coils: tuple[Coil, ...]
    offcuts: tuple[float, ...]
    currency: str | None
    nest: Nest | None
    by_the_metre: tuple[Cut, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    ignored: tuple[LeftOut, ...] = ()
    told_in: LengthUnit = "mm"


class CuttingList(NamedTuple):
    """Everything of a build that is cut to length. `kerf_mm` is what each cut takes away."""

    build: str
    kerf_mm: float
    parts: tuple[CutPart, ...]
    told_in: LengthUnit = "mm"

    @property
    def complete(self) -> bool:
        """True if every piece is in a bar, or comes off a reel."""
        return not any(part.left_out for part in self.parts)


class Sources(NamedTuple):
    """What can be cut from: offers that hold on the day `on`, the shelf's offcuts, or lengths `asked` for [mm].

    `asked` lengths are of tube, and take the place of all offers for it. `shelf` says what length a part comes in.
    """

    offers: Offers
    stock: Stock
    shelf: Shelf
    on: date | None = None
    asked: tuple[float, ...] = ()


def cutting_list(bom: Bom, sources: Sources, kerf_mm: float = 0.0, seconds: float = SECONDS) -> CuttingList:
    """Return which piece of a bill is cut from what; `seconds` is how long the solver may look at each part.

    Pieces of unknown length, and pieces that fit no length there is, are left out and named with the reason. The kerf
    [mm] is 0 for a wheel cutter, which parts the tube without chips (common practice, no source).

    Raises:
        NestingError: the kerf or a length makes no sense.
        NoSolverError: the solver is needed and is not installed.
    """
    rows = [row for row in bom.rows if row.unit == "mm"]
    with task("planning cuts"):
        told = stepping(rows, lambda row: row.part or row.description)
        parts = tuple(_part(row, sources, kerf_mm, seconds, bom.told_in) for row in told)
    return CuttingList(bom.build, kerf_mm, parts, bom.told_in)


def _part(row: Row, sources: Sources, kerf_mm: float, seconds: float, told_in: LengthUnit) -> CutPart:
    name = row.part or row.description
    offcuts = sources.stock.lengths(name)
    origin, coils, currency, ignored = _coils(row, name, sources)
    if origin == "none" and offcuts:
        origin = "offers"
    pieces = tuple(Cut(piece.tag, piece.length.mm) for piece in row.pieces if piece.length.mm is not None)
    left_out = [LeftOut(piece.tag, piece.length.unknown or "") for piece in row.pieces if piece.length.mm is None]
    part = CutPart(name, row.description, origin, coils, offcuts, currency, None, (), tuple(left_out), ignored, told_in)
    if not pieces or origin == "none":
        return part._replace(by_the_metre=pieces)
    try:
        plan = nest(pieces, coils, offcuts, kerf_mm, seconds)
    except NestingError:
        if coils:
            raise
        return part._replace(by_the_metre=pieces)  # the offcuts do not reach, and nothing says what else there is
    longest = max([*offcuts, *(coil.mm for coil in coils)])
    for piece in plan.too_long:
        left_out.append(LeftOut(piece.tag, _too_long(piece.mm, longest, told_in)))
    return part._replace(nest=plan, left_out=tuple(left_out))


def _too_long(mm: float, longest: float, unit: LengthUnit) -> str:
    """Return that a piece is longer than all there is, so finely that it reads as longer.

    Where the rule does not show it, it is told as it is planned: to the next tenth of a mm.
    """
    read = rounded_mm(mm, unit) if unit == "in" else round(mm, 1)
    piece = long_text(mm, unit) if read > longest else exact(up(mm) / PER_MM, unit)
    return f"{piece} is longer than the longest there is, {no_longer(longest, unit)}"


_Coils = tuple[Origin, tuple[Coil, ...], str | None, tuple[LeftOut, ...]]


def _coils(row: Row, name: str, sources: Sources) -> _Coils:
    """Return where the lengths come from, the lengths, their currency, and the offers that are not looked at."""
    if row.kind == "tube" and sources.asked:
        return "asked", tuple(Coil(mm) for mm in dict.fromkeys(sources.asked)), None, ()
    part = sources.shelf.get(name)
    offered = sources.offers.of(name, sources.on)
    coils, currency, ignored = _on_offer(offered, part.length if part is not None else None, sources.offers)
    if coils:
        return "offers", coils, currency, ignored
    if row.kind == "tube":
        return "usual", (Coil(USUAL_COIL_MM),), None, ignored
    return "none", (), None, ignored


def _exact(cost: Money, price: Money) -> Fraction:
    """Return a price as it is, or to the cent if it was exchanged: then it has more places than anybody pays."""
    return Fraction(cost.amount if cost == price else cost.amount.quantize(Decimal("0.01"), ROUND_HALF_UP))


def _on_offer(
    offered: Sequence[Offer], stock_length: float | None, offers: Offers
) -> tuple[tuple[Coil, ...], str | None, tuple[LeftOut, ...]]:
    """Return the offers as coils, all in one currency: that of most offers if a price is in it, else the first by name.

    Prices in others come in at the stated rate of exchange, to the cent; those without one are left out.
    """
    sized = [(offer, offer.per or stock_length) for offer in offered]
    currencies = {offer.currency for offer, length in sized if length}
    currency = offers.currency if offers.currency in currencies else min(currencies, default=None)
    coils, ignored = [], []
    for offer, length in sized:
        words = f"{offer.supplier.tag} {offer.number}" if offer.number else offer.supplier.tag
        if not length:
            ignored.append(LeftOut(words, "the price does not say for what length it is"))
        elif offer.to_length:
            ignored.append(LeftOut(words, "cut to length off a reel, which `fitcheck order` weighs against coils"))
        elif (cost := offers.rates.converted(offer.price, currency or "")) is None:
            ignored.append(LeftOut(words, f"its price is in {offer.currency}, the others are in {currency}"))
        else:
            coils.append(Coil(float(length), _exact(cost, offer.price), None, offer.pack, words))
    return tuple(coils), currency, tuple(ignored)
