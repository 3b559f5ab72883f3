"""Lines of a bill in words: what the text and the CSV report share."""

from fractions import Fraction
from typing import Final

from fitcheck.bom.record import Piece, Price, Row
from fitcheck.measures import bare_length, cut_length, number

FOOT_MM: Final = Fraction(3048, 10)


def amount(row: Row, unit: str = "mm") -> str:
    """Return how much of a part: `4`, `1830.5 mm`, `unknown (1200 mm known)`, lengths in `unit`."""
    if row.unit == "each":
        return number(row.quantity or 0, 0)
    if row.quantity is not None:
        return cut_length(row.quantity, unit)
    return f"unknown ({cut_length(row.known_mm, unit)} known)" if row.known_mm else "unknown"


def name_of(row: Row) -> str:
    """Return the part's id, or that no catalog has one."""
    return row.part if row.part is not None else f"no part ({row.kind})"


def piece_text(piece: Piece, unit: str = "mm") -> str:
    """Return one piece to cut: `front_feed 511.1 mm (run 508.1 + flares 3)`, or why it is not known."""
    length = piece.length
    if length.mm is None:
        run = f" (run {cut_length(length.run_mm, unit)})" if length.run_mm is not None else ""
        return f"{piece.tag} unknown{run}: {length.unknown}"
    parts = ""
    if length.allowance_mm and length.run_mm is not None:
        parts = f" (run {bare_length(length.run_mm, unit)} + flares {bare_length(length.allowance_mm, unit)})"
    return f"{piece.tag} {cut_length(length.mm, unit)}{parts}"


def price_text(price: Price, unit: str = "mm") -> str:
    """Return what a piece costs, or a metre or foot of cut goods: `2.50 GBP`, `7.8740 GBP/m`, `2.4 USD/ft`."""
    if price.per_mm is None:
        return f"{decimal_text(price.unit_price, 4)} {price.currency}"
    per, name = (FOOT_MM, "ft") if unit == "in" else (Fraction(1000), "m")
    return f"{decimal_text(price.unit_price * per, 4)} {price.currency}/{name}"


def decimal_text(value: Fraction, most: int) -> str:
    """Return an exact number with two decimals, or up to `most` where it has more; rounded half to even.

    >>> decimal_text(Fraction(5, 2), 4), decimal_text(Fraction(1, 3), 4)
    ('2.50', '0.3333')
    """
    scaled = round(value * 10**most)
    whole, part = divmod(scaled, 10**most)
    digits = f"{part:0{most}d}"
    return f"{whole}.{digits[:2]}{digits[2:].rstrip('0')}"
