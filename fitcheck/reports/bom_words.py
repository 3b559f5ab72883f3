"""Lines of a bill in words: what the text and the CSV report share."""

from fractions import Fraction

from fitcheck.bom.record import Piece, Price, Row
from fitcheck.reports.plain import mm, number


def amount(row: Row) -> str:
    """Return how much of a part: `4`, `1830.5 mm`, `unknown (1200 mm known)`."""
    if row.unit == "each":
        return number(row.quantity or 0, 0)
    if row.quantity is not None:
        return mm(row.quantity)
    return f"unknown ({mm(row.known_mm)} known)" if row.known_mm else "unknown"


def name_of(row: Row) -> str:
    """Return the part's id, or that no catalog has one."""
    return row.part if row.part is not None else f"no part ({row.kind})"


def piece_text(piece: Piece) -> str:
    """Return one piece to cut: `front_feed 511.1 mm (run 508.1 + flares 3)`, or why it is not known."""
    length = piece.length
    if length.mm is None:
        run = f" (run {mm(length.run_mm)})" if length.run_mm is not None else ""
        return f"{piece.tag} unknown{run}: {length.unknown}"
    parts = ""
    if length.allowance_mm and length.run_mm is not None:
        parts = f" (run {number(length.run_mm, 1)} + flares {number(length.allowance_mm, 1)})"
    return f"{piece.tag} {mm(length.mm)}{parts}"


def price_text(price: Price) -> str:
    """Return what a piece costs, or a metre of cut goods: `2.50 GBP`, `7.8740 GBP/m`."""
    if price.per_mm is None:
        return f"{decimal_text(price.unit_price, 4)} {price.currency}"
    return f"{decimal_text(price.unit_price * 1000, 4)} {price.currency}/m"


def decimal_text(value: Fraction, most: int) -> str:
    """Return an exact number with two decimals, or up to `most` where it has more; rounded half to even.

    >>> decimal_text(Fraction(5, 2), 4), decimal_text(Fraction(1, 3), 4)
    ('2.50', '0.3333')
    """
    scaled = round(value * 10**most)
    whole, part = divmod(scaled, 10**most)
    digits = f"{part:0{most}d}"
    return f"{whole}.{digits[:2]}{digits[2:].rstrip('0')}"
