"""Prices, packs, units, lead times and dates as price lists write them, in either decimal sign.

Nothing is guessed: a figure that could mean two things is refused, and the refusal says what would settle it.
"""

import re
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Final, NamedTuple

from fitcheck.catalog.money import Money
from fitcheck.catalog.take_in.currencies import CODES
from fitcheck.catalog.take_in.numbers import NumberError, plain_number
from fitcheck.errors import FitcheckError
from fitcheck.trees import short

_BLANKS: Final = str.maketrans(dict.fromkeys("\u00a0\u2007\u2009\u202f", " ") | {"\u2019": "'"})
_SIGNS: Final = {"€": "EUR", "£": "GBP"}
_CODES: Final = _SIGNS | {"EURO": "EUR"}
_DOLLARS: Final = frozenset(("USD", "CAD", "AUD", "NZD", "SGD", "HKD"))
_AFFIXES: Final = re.compile(
    r"(?P<before>[A-Z]{3}|[€£$])? ?(?P<number>[0-9][0-9.,' ]*?)(?:,-)? ?(?P<after>[A-Z]{3}|[€£$])?"
)
_GROUPED: Final = re.compile(r"[1-9][0-9]{0,2}([.,' ])[0-9]{3}(?:\1[0-9]{3})*(?:(?!\1)[.,]([0-9]{1,4}))?")
_PLAIN: Final = re.compile(r"[0-9]{1,9}(?:([.,])([0-9]{1,4}))?")
_EITHER: Final = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
_NAMES: Final = {".": "point", ",": "comma"}
_COUNTED: Final = re.compile(
    r"(?:(?:pack|box|bag|packung|beutel) ?(?:of|mit|von|a|à)? ?|per )?([1-9][0-9]{0,3})"
    r"(?: ?(?:pcs?|pieces?|each|off|st|stk|stck|stueck|stück)\.?)?",
    re.IGNORECASE,
)
_EACH: Final = frozenset(
    ("", "each", "ea", "ea.", "pc", "pc.", "pcs", "piece", "st", "st.", "stk", "stk.", "stck", "stueck", "stück")
)
_METRE: Final = "m|mtr|mtrs|metre|metres|meter|meters|lfm|lfdm"
_FOOT: Final = "ft|foot|feet|fuss|lf|'"
_RUNNING: Final = re.compile(
    r"(?:(?:per|pro|je) |/ ?)?(?:(?:linear|lineal|running|lin\.?|lfd\.?) )?"
    rf"(?:(?P<metre>{_METRE})|(?P<foot>{_FOOT}))\.?"
)
"""A running price: for each metre or foot of goods that are cut to length."""
_ROLL: Final = "(?:coil|roll|rolle|ring|reel)"
_LENGTH: Final = re.compile(
    rf"(?:per )?(?:{_ROLL} ?(?:of|mit|von|a|à)? ?)?([0-9]+(?:[.,][0-9]+)*)[ -]?"
    rf"(?:(mm|cm|in|inch|inches|''|\")|({_METRE})|({_FOOT}))(?: ?{_ROLL})?"
)
_INCH: Final = frozenset(("inch", "inches", "''", '"'))
_TIME: Final = re.compile(r"(?:[0-9]{1,3} ?(?:-|–|to|bis) ?)?([0-9]{1,3}) ?([a-z]*)\.?")  # noqa: RUF001
_DAYS: Final = {
    1: ("", "d", "day", "days", "tag", "tage", "tagen"),
    7: ("w", "wk", "wks", "week", "weeks", "woche", "wochen", "wo"),
}
_ISO_DATE: Final = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_DOTTED_DATE: Final = re.compile(r"([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})")


class FigureError(FitcheckError, ValueError):
    """A cell that is not the figure needed. `code` is the sort of refusal, `reason` the sentence."""

    def __init__(self, code: str, reason: str) -> None:
        self.code = code
        self.reason = reason
        super().__init__(code, reason)

    def __str__(self) -> str:
        return self.reason


class Price(NamedTuple):
    """An amount as a cell says it, and the currency if the cell says that too. `dollar` if only as `$`."""

    amount: Decimal
    currency: str | None
    dollar: bool = False


def decimal_sign(text: str) -> str | None:
    """Return `comma` or `point` if a price can only mean one of them, else None."""
    match = _AFFIXES.fullmatch(text.translate(_BLANKS).strip().upper().replace("EURO", "EUR"))
    number = match["number"] if match else ""
    if _EITHER.fullmatch(number):
        return None
    grouped = _GROUPED.fullmatch(number)
    if grouped:
        if grouped[2] is not None:
            return _NAMES[number[-len(grouped[2]) - 1]]
        return {".": "comma", ",": "point"}.get(grouped[1])
    plain = _PLAIN.fullmatch(number)
    return _NAMES[plain[1]] if plain and plain[1] else None


def voted_sign(votes: Iterable[str | None]) -> str | None:
    """Return the sign that all prices agree on; None if none says or they differ."""
    found = set(votes) - {None}
    return found.pop() if len(found) == 1 else None


def price(text: str, decimal: str | None = None) -> Price:
    """Return the price that a cell says.

    Args:
        text: the cell: `12.50`, `1.234,50 €`, `EUR 12,-`, `$3.20`.
        decimal: `comma` or `point` if the list is known to write that; decides what `1,234` means.

    Raises:
        FigureError: it is no price, it is zero, or it could mean two amounts.
    """
    shown = text.translate(_BLANKS).strip()
    if not shown:
        raise FigureError("no-price", "no price")
    match = _AFFIXES.fullmatch(shown.upper().replace("EURO", "EUR"))
    if match is None or (match["before"] and match["after"]):
        raise FigureError("price", f"{short(text)} is no price such as 12.50 or 1.234,50")
    amount = _amount(match["number"].strip(), decimal, text)
    if amount <= 0:
        raise FigureError("price", "the price is zero")
    sign = match["before"] or match["after"]
    return Price(amount, _SIGNS.get(sign, None if sign == "$" else sign) if sign else None, sign == "$")


def _amount(number: str, decimal: str | None, text: str) -> Decimal:
    if _EITHER.fullmatch(number):
        if decimal is None:
            said = f"{short(text)} could be read two ways: say `decimal: comma` or `decimal: point` in a mapping file"
            raise FigureError("price", said)
        sign = "," if decimal == "comma" else "."
        return Decimal(number.replace(sign, ".") if sign in number else re.sub("[.,]", "", number))
    grouped = _GROUPED.fullmatch(number)
    if grouped:
        whole = number[: -len(grouped[2]) - 1] if grouped[2] else number
        return Decimal(re.sub(r"[^0-9]", "", whole) + (f".{grouped[2]}" if grouped[2] else ""))
    plain = _PLAIN.fullmatch(number)
    if plain is None:
        raise FigureError("price", f"{short(text)} is no price such as 12.50 or 1.234,50")
    return Decimal(number.replace(",", "."))


def currency_code(text: str) -> str:
    """Return the code that a column of currencies means: `EUR` for `€`, `Euro` and `eur`; empty for an empty cell."""
    plain = text.strip().upper()
    return _CODES.get(plain, plain)


def in_currency(found: Price, said: str, currency: str) -> Money:
    """Return a price in the list's currency.

    Args:
        found: the price.
        said: what the row's column of currencies says; may be empty.
        currency: the currency of the list.

    Raises:
        FigureError: the row is in another currency, or says `$` in a list of no dollars.
    """
    column = currency_code(said)
    named = found.currency or column or currency
    if found.dollar and named not in _DOLLARS:
        raise FigureError("currency", f"the price is in dollars; the list is in {currency}")
    if column and column != named:
        raise FigureError("currency", f"the price is in {named}, the column of currencies says {short(said)}")
    if named != currency:
        fault = f"the price is in {short(named)}" if named in CODES else f"{short(named)} is no currency of ISO 4217"
        raise FigureError("currency", f"{fault}; the list is in {currency}")
    return Money(found.amount, currency)


class Pack(NamedTuple):
    """What one price is for: how many pieces, and for goods by length how long a piece is.

    `running` if it is for each metre or foot of what is cut to length, and no length of a piece is said.
    """

    pieces: int = 1
    per: str | None = None
    running: bool = False


def unit(text: str, decimal: str | None = None) -> Pack:
    """Return what one unit of sale is: `each`, `m`, `per foot`, `25 ft`, `pack of 10`, `pair`.

    Args:
        text: the cell.
        decimal: `comma` or `point` if the list is known to write that; decides what `2,500 m` means.

    Raises:
        FigureError: it is none of them.
    """
    if not text:
        return Pack()
    plain = " ".join(text.translate(_BLANKS).casefold().split())
    if plain in _EACH:
        return Pack()
    running = _RUNNING.fullmatch(plain)
    if running:
        return Pack(1, "1 m" if running["metre"] else "1 ft", True)
    if plain in ("pair", "paar", "pr"):
        return Pack(2)
    length = _LENGTH.fullmatch(plain)
    return Pack(per=_length(length, text, decimal)) if length else Pack(pieces(text, "unit"))


def _length(found: re.Match[str], text: str, decimal: str | None) -> str:
    try:
        number = plain_number(found[1], decimal)
    except NumberError as error:
        raise FigureError("unit", f"{short(text)} {error}") from None
    if not Decimal(number):
        raise FigureError("unit", f"{short(text)} is no length")
    small = "in" if found[2] in _INCH else found[2]
    return f"{number} {small or ('m' if found[3] else 'ft')}"


def pieces(text: str, code: str) -> int:
    """Return a number of pieces: `10`, `10 pcs`, `pack of 10`, `per 100`, `100 Stk.`; 1 for an empty cell.

    Raises:
        FigureError: it is none.
    """
    if not text:
        return 1
    plain = " ".join(text.translate(_BLANKS).split())
    match = _COUNTED.fullmatch(plain)
    if match is None:
        expected = "each, m, ft, pair or pack of 10" if code == "unit" else "a whole number from 1 to 9999"
        raise FigureError(code, f"{short(text)} is no {_WORDS[code]}; expected {expected}")
    return int(match[1])


_WORDS: Final = {"unit": "unit of sale", "pack": "pack size", "price_unit": "number that a price is for"}


def lead_time(text: str) -> str | None:
    """Return a lead time as the offers file writes it, the longest of a range: `3-5 days` is `5 d`.

    Raises:
        FigureError: it is none.
    """
    plain = text.casefold().strip()
    if not plain:
        return None
    match = _TIME.fullmatch(plain)
    days = next((each for each, words in _DAYS.items() if match and match[2] in words), None)
    if match is None or days is None:
        raise FigureError("lead-time", f"{short(text)} is no lead time such as 3 days or 2 weeks")
    return f"{int(match[1]) * days} d"


def valid_until(text: str) -> str | None:
    """Return a date year first: from `2026-12-31` or `31.12.2026`.

    Raises:
        FigureError: it is no date, or in a form that could be read two ways, such as 3/4/2026.
    """
    plain = text.strip()
    if not plain:
        return None
    iso, dotted = _ISO_DATE.fullmatch(plain), _DOTTED_DATE.fullmatch(plain)
    year, month, day = (iso[1], iso[2], iso[3]) if iso else (dotted[3], dotted[2], dotted[1]) if dotted else ("0",) * 3
    try:
        return date(int(year), int(month), int(day)).isoformat()
    except ValueError:
        raise FigureError("date", f"{short(text)} is no date such as 2026-12-31 or 31.12.2026") from None
