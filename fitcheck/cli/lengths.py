"""A length on the command line."""

from fitcheck.cli.common import RequestError


def length(option: str, text: str) -> float:
    """Return the length that an option says [mm].

    Raises:
        RequestError: it says none, or one below zero.
    """
    from fitcheck.quantities import QuantityError, parse

    try:
        found = float(parse(text, "length"))
    except QuantityError as error:
        raise RequestError(f"{option}: {error}") from None
    if found < 0:
        raise RequestError(f"{option}: expected a length of 0 mm or more, got {text}")
    return found
