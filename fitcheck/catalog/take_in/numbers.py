"""Numbers of sizes as a price list writes them: which sign stands before decimals, and which between thousands."""

import re
from typing import Final

from fitcheck.errors import FitcheckError

_THREE: Final = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
"""Could be thousands, and could be decimals: 2.500."""
_WHOLE: Final = {sign: rf"[1-9][0-9]{{0,2}}(?:[{sign}][0-9]{{3}})+" for sign in ".,"}
_GROUPED: Final = {
    "point": re.compile(rf"{_WHOLE[',']}(?:\.[0-9]+)?"),
    "comma": re.compile(rf"{_WHOLE['.']}(?:,[0-9]+)?"),
}
"""Numbers with a sign between thousands, by the sign before decimals."""
_PLAIN: Final = re.compile(r"[0-9]*[.,][0-9]+")
_BETWEEN: Final = {"point": ",", "comma": "."}
"""What stands between thousands, by the sign before decimals."""


class NumberError(FitcheckError, ValueError):
    """A number that the list's decimal sign does not allow, or that could be read two ways."""

    def __init__(self, reason: str) -> None:
        self.reason = reason
        super().__init__(reason)

    def __str__(self) -> str:
        return self.reason


def shows_points(number: str) -> bool:
    """Return whether a number can only be one with a decimal point: 0.028 and 4.75, never 2.500."""
    return "." in number and "," not in number and number.count(".") == 1 and not _THREE.fullmatch(number)


def plain_number(number: str, decimal: str | None, points: bool = False) -> str:
    """Return a number with a point before decimals and nothing between thousands.

    ``plain_number("2,500", "point")`` is ``2500``, and ``2.500`` in a list of decimal commas is the same. A point
    that three figures do not follow, or that a zero stands before, is a decimal point in any list: catalogs of inch
    sizes are copied so. Limits: a comma is never decimal in a list of decimal points.

    Args:
        number: figures, points and commas.
        decimal: `comma` or `point`, or None if the list does not show it.
        points: whether other sizes beside this one are written with a decimal point.

    Raises:
        NumberError: it is no such number, or could be two.
    """
    if "," not in number and "." not in number:
        return number
    three = _THREE.fullmatch(number) is not None
    if three and (decimal is None or (decimal == "comma" and "." in number and points)):
        both = "could be read two ways"
        settle = ": say `decimal: comma` or `decimal: point` in a mapping file" if decimal is None else ""
        raise NumberError(f"{both}{settle}")
    for sign in (decimal,) if decimal is not None else ("point", "comma"):
        if _GROUPED[sign].fullmatch(number):
            return number.replace(_BETWEEN[sign], "").replace(",", ".")
    if not _PLAIN.fullmatch(number):
        raise NumberError("is no number")
    if decimal == "point" and "," in number:
        raise NumberError("has a comma in a list that writes decimal points")
    return number.replace(",", ".")
