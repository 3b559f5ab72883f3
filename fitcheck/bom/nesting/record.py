"""Pieces to cut, what they can be cut from, and the plan."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Final, NamedTuple

from fitcheck.errors import FitcheckError

LONGEST_MM: Final = 200_000.0
"""Longest piece or coil that is nested: far longer than any that is sold, short enough to be searched in memory."""


class Cut(NamedTuple):
    """One piece to cut: for which line or hose, and how long [mm]."""

    tag: str
    mm: float


class Coil(NamedTuple):
    """One length on offer, coil or straight bar [mm].

    `cost` is for a pack of `pack` of them, None where there is no price. `available` is how many packs there are,
    None if as many as one likes. `tag` is what the caller knows it by.
    """

    mm: float
    cost: Fraction | None = None
    available: int | None = None
    pack: int = 1
    tag: str = ""


class Source(NamedTuple):
    """What a piece is cut from: the offcut on the shelf or the coil on offer with this number in the input."""

    offcut: bool
    number: int


class Bar(NamedTuple):
    """One length that is cut into: what it is, the pieces in the order in which they are cut, what is left [mm]."""

    source: Source
    mm: float
    cuts: tuple[Cut, ...]
    left_mm: float


class Proof(NamedTuple):
    """What is proven about a plan: no plan does better than these figures.

    `least` is in money, or in mm bought where nothing has a price. `least_new_mm` and `longest_left_mm` hold among
    plans as good in what comes before them; None if the search ended before it came to them. `seconds` is the time
    that the solver was given, None if it was not needed.
    """

    least: Fraction
    least_new_mm: float | None
    longest_left_mm: float | None
    seconds: float | None = None


class Nest(NamedTuple):
    """A cutting plan.

    `bought` has the packs to buy of each coil of the input. `bars` are cut into, offcuts first; `whole` are not:
    offcuts left alone, and coils over from a pack. `cost` is None where nothing has a price; `bought_mm` is what is
    bought. `new_mm` comes off bought stock, kerf included. `too_long` are the pieces that fit no length there is:
    they are in no bar.
    """

    bars: tuple[Bar, ...]
    whole: tuple[Bar, ...]
    bought: tuple[int, ...]
    cost: Fraction | None
    bought_mm: Fraction
    new_mm: float
    longest_left_mm: float
    proof: Proof
    too_long: tuple[Cut, ...] = ()

    @property
    def spent(self) -> Fraction:
        """What the plan keeps least: its cost, or the length bought where nothing has a price."""
        return self.bought_mm if self.cost is None else self.cost

    @property
    def cost_proven(self) -> bool:
        """True if no plan spends less."""
        return self.spent == self.proof.least

    @property
    def optimal(self) -> bool:
        """True if no plan spends less, nor takes less off new stock for that, nor then keeps a longer leftover."""
        proof = self.proof
        return self.cost_proven and (proof.least_new_mm, proof.longest_left_mm) == (self.new_mm, self.longest_left_mm)


class NestingError(FitcheckError, ValueError):
    """Pieces and stock that cannot be nested. `reason` says what was expected and what was got."""

    def __init__(self, reason: str) -> None:
        self.reason = reason
        super().__init__(reason)


class NoSolverError(FitcheckError, ImportError):
    """The solver is needed and is not installed. `extra` names what installs it."""

    def __init__(self, extra: str = "order") -> None:
        self.extra = extra
        super().__init__(extra)

    def __str__(self) -> str:
        return f'this plan needs a solver that is not installed: pip install "fitcheck[{self.extra}]"'


def refuse_nonsense(pieces: Sequence[Cut], coils: Sequence[Coil], offcuts: Sequence[float], kerf_mm: float) -> None:
    """Refuse what cannot be nested.

    Raises:
        NestingError: a length is not above zero or above 200 m, the kerf or a cost is negative, a pack is empty, or
            some coils have a price and others not.
    """
    lengths = [(piece.tag, piece.mm) for piece in pieces]
    lengths += [("stock", coil.mm) for coil in coils] + [("offcut", mm) for mm in offcuts]
    for what, mm in lengths:
        if not 0 < mm <= LONGEST_MM:
            raise NestingError(f"{what}: expected a length of more than 0 mm and at most 200 m, got {mm:g} mm")
    if not 0 <= kerf_mm <= LONGEST_MM:
        raise NestingError(f"kerf: expected 0 mm or more and at most 200 m, got {kerf_mm:g} mm")
    for coil in coils:
        if coil.pack < 1 or (coil.available or 0) < 0 or (coil.cost or 0) < 0:
            raise NestingError(f"stock of {coil.mm:g} mm: expected a pack of 1 or more, nothing below zero")
    if len({coil.cost is None for coil in coils}) == 2:
        raise NestingError("stock with and without a price cannot be compared: give every price, or none")
