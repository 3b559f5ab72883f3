"""Figures that nobody states, and what a sum of parts may come to when they run over their ranges.

Every part of a displacement grows, or shrinks, with each of its assumptions all the way, and what several parts share
(the fluid's modulus) moves all of them the same way. The sum of the parts' own extremes is then the extreme of the sum.
"""

from collections.abc import Iterable
from typing import NamedTuple

from fitcheck.hydraulics.record import Figure, Known, Take
from fitcheck.standards.displacement import assumption


class Amount(NamedTuple):
    """A figure, the range it may lie in, and whether it is only known to be no more than that."""

    value: float
    low: float
    high: float
    upper_bound: bool = False

    def times(self, factor: float) -> "Amount":
        """Return it multiplied by what is known exactly and is not negative."""
        return Amount(self.value * factor, self.low * factor, self.high * factor, self.upper_bound)


WHOLE = Amount(1.0, 1.0, 1.0)
"""All of something."""


def product(one: Amount, other: Amount) -> Amount:
    """Return the product of two figures that are not negative and do not depend on one another."""
    values = (one.value * other.value, one.low * other.low, one.high * other.high)
    return Amount(*values, one.upper_bound or other.upper_bound)


def sure(value: float) -> Amount:
    """Return a figure that is known."""
    return Amount(value, value, value)


def less(of: Amount, before: Amount) -> Amount:
    """Return by how much something grew from `before`, by the same assumptions; below a limit, all may come after."""
    high = of.high if of.upper_bound else of.high - before.high
    return Amount(of.value - before.value, of.low - before.low, high, of.upper_bound)


def assumed(key: str, name: str) -> Figure:
    """Return the figure for a field that is not stated: what `fitcheck.standards.displacement` assumes of `name`.

    Raises:
        UnknownAssumptionError: nothing is assumed of it.
    """
    found = assumption(name)
    return Figure(key, found.value, found.unit, "assumed", found.mark, found.low, found.high)


def known(key: str, value: float, unit: str, by: Known, source: str) -> Figure:
    """Return the figure for a field that is stated."""
    return Figure(key, value, unit, by, source, value, value)


def amount(figure: Figure) -> Amount:
    """Return a figure's value and range."""
    return Amount(figure.value, figure.low, figure.high)


def total(takes: Iterable[Take]) -> Amount:
    """Return the sum of takes [mm3] and its range."""
    listed = tuple(takes)
    return Amount(
        sum(take.mm3 for take in listed),
        sum(take.low_mm3 for take in listed),
        sum(take.high_mm3 for take in listed),
        any(take.upper_bound for take in listed),
    )
