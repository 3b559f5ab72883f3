"""Money: an exact decimal amount with its currency. Unlike currencies never meet by accident."""

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from fitcheck.errors import FitcheckError

_MONEY: Final = re.compile(r"([0-9]{1,9})(\.[0-9]{1,4})? ([A-Z]{3})", re.ASCII)
_CURRENCY: Final = re.compile(r"[A-Z]{3}", re.ASCII)


class MoneyError(FitcheckError, ValueError):
    """Text that is not money. `text` is what was given, `reason` says what is wrong with it."""

    def __init__(self, text: str, reason: str) -> None:
        self.text = text
        self.reason = reason
        super().__init__(text, reason)

    def __str__(self) -> str:
        shown = self.text if len(self.text) <= 40 else self.text[:37] + "..."
        return f"expected an amount and a currency, such as 12.50 GBP, got {shown!r}: {self.reason}"


class CurrencyError(FitcheckError, ValueError):
    """Amounts in the currencies `left` and `right` that would have to be added or compared."""

    def __init__(self, left: str, right: str) -> None:
        self.left = left
        self.right = right
        super().__init__(left, right)

    def __str__(self) -> str:
        return f"{self.left} and {self.right} cannot be added or compared without a rate of exchange"


@dataclass(frozen=True, slots=True)
class Money:
    """An amount of one currency. `currency` is an ISO 4217 code of three letters."""

    amount: Decimal
    currency: str

    def __str__(self) -> str:
        return f"{self.amount} {self.currency}"

    def __add__(self, other: "Money") -> "Money":
        """Return the sum. Raises CurrencyError if the currencies differ."""
        self._same(other)
        return Money(self.amount + other.amount, self.currency)

    def __mul__(self, times: int) -> "Money":
        """Return this amount taken a whole number of times."""
        return Money(self.amount * times, self.currency)

    def __lt__(self, other: "Money") -> bool:
        """Return whether this is less. Raises CurrencyError if the currencies differ."""
        self._same(other)
        return self.amount < other.amount

    def _same(self, other: "Money") -> None:
        if self.currency != other.currency:
            raise CurrencyError(self.currency, other.currency)


def parse_money(text: str) -> Money:
    """Return the money that text such as `12.50 GBP` means, exactly.

    At most nine figures before the point and four behind it, one space, three capital letters.

    Raises:
        MoneyError: the text is anything else, with the reason.
    """
    match = _MONEY.fullmatch(text)
    if match is None:
        raise MoneyError(text, _reason(text))
    return Money(Decimal(match[1] + (match[2] or "")), match[3])


def parse_currency(text: str) -> str:
    """Return `text` if it has the form of an ISO 4217 currency code.

    Raises:
        ValueError: it has not.
    """
    if not _CURRENCY.fullmatch(text):
        raise ValueError(f"expected a currency as three capital letters (ISO 4217), such as GBP, got {text[:40]!r}")
    return text


def _reason(text: str) -> str:
    words = text.split(" ")
    if text.startswith("-"):
        return "an amount is never negative"
    if "," in text:
        return "write a decimal point, and no mark between thousands"
    if re.search(r"[^\x00-\x7f]", text):
        return "write the currency as three letters, not as a sign"
    if len(words) == 1:
        return "the currency is missing" if re.fullmatch(r"[0-9.]+", text) else "put one space before the currency"
    if len(words) == 2 and not _CURRENCY.fullmatch(words[1]):
        return "the currency is three capital letters (ISO 4217)"
    return "at most nine figures before the point and four behind it, then one space"
