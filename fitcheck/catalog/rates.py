"""Rates of exchange as the user states them, with their date. No rate comes from anywhere else."""

from collections import deque
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import floor
from typing import NamedTuple

from fitcheck.catalog.money import Money


class Rate(NamedTuple):
    """One unit of the currency `of` is worth `worth` units of the currency `to`, as of the day `on`."""

    of: str
    worth: Decimal
    to: str
    on: date

    def __str__(self) -> str:
        return f"1 {self.of} = {self.worth} {self.to} as of {self.on}"


class Rates:
    """The stated rates, and what follows from them: each also the other way round, and several in a row."""

    def __init__(self, rates: Iterable[Rate]) -> None:
        self.rates = tuple(rates)

    def way(self, of: str, to: str) -> tuple[Rate, ...] | None:
        """Return the fewest stated rates that lead from one currency to another; None if none do."""
        queue: deque[tuple[str, tuple[Rate, ...]]] = deque([(of, ())])
        seen = {of}
        while queue:
            here, way = queue.popleft()
            if here == to:
                return way
            for rate in self.rates:
                there = rate.to if rate.of == here else rate.of if rate.to == here else None
                if there is not None and there not in seen:
                    seen.add(there)
                    queue.append((there, (*way, rate)))
        return None

    def factor(self, of: str, to: str) -> Fraction | None:
        """Return what one unit of a currency is worth in another, exactly; None if no stated rate says so."""
        way = self.way(of, to)
        if way is None:
            return None
        factor, here = Fraction(1), of
        for rate in way:
            forward = rate.of == here
            factor = factor * Fraction(rate.worth) if forward else factor / Fraction(rate.worth)
            here = rate.to if forward else rate.of
        return factor

    def converted(self, money: Money, to: str) -> Money | None:
        """Return an amount in another currency, to four places, halves up; None if no stated rate leads there."""
        if money.currency == to:
            return money
        factor = self.factor(money.currency, to)
        if factor is None:
            return None
        return Money(_rounded(Fraction(money.amount) * factor), to)


def _rounded(exact: Fraction) -> Decimal:
    """Return an amount of zero or more to four places, halves up."""
    return Decimal(floor(exact * 10_000 + Fraction(1, 2))).scaleb(-4)
