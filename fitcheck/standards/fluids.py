"""Brake fluids: what each stands, how far it can be squeezed, what it mixes with, and which rubber stands it."""

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Final, Literal, NamedTuple

from fitcheck.standards.figures import flag, interval, measure, measure_if, number
from fitcheck.standards.unknown import UnknownNameError

Family = Literal["glycol", "silicone", "mineral"]
FAMILIES: Final = ("glycol", "silicone", "mineral")


class UnknownFluidError(UnknownNameError):
    """A fluid that the table does not hold."""

    what = "brake fluid"


class UnknownFamilyError(UnknownNameError):
    """A word that is no fluid family."""

    what = "fluid family"


class UnknownRubberError(UnknownNameError):
    """A rubber that the table does not hold."""

    what = "rubber"


class Fluid(NamedTuple):
    """One brake fluid.

    Attributes:
        name: the word used in reports.
        family: `glycol`, `silicone` or `mineral`.
        standard: where its limits stand.
        aliases: other ways people write it.
        dry_degc: least boiling point when fresh [degC]; None where the standard's figure is not known here.
        wet_degc: least boiling point with 3.70 percent water [degC]; None as above.
        viscosity_mm2_s: greatest viscosity at -40 degC [mm2/s]; None as above.
        colour: as the standard has it.
        mark: where the row comes from.
    """

    name: str
    family: Family
    standard: str
    aliases: tuple[str, ...]
    dry_degc: float | None
    wet_degc: float | None
    viscosity_mm2_s: float | None
    colour: str
    mark: str


class Mixing(NamedTuple):
    """Whether fluids of two families may be mixed, what happens, and where that comes from."""

    allowed: bool
    effect: str
    mark: str


class Modulus(NamedTuple):
    """Bulk modulus [MPa] of a fluid family: what is taken, the range it may lie in, and where that comes from."""

    mpa: float
    low_mpa: float
    high_mpa: float
    mark: str


class Dissolved(NamedTuple):
    """Air that a fluid holds in solution when it can take no more: share of its volume, give or take, and source."""

    share: float
    plus_minus: float
    mark: str


def _table() -> Mapping[str, Any]:
    from fitcheck.standards.tables import load

    return load("fluids")


@lru_cache(maxsize=1)
def fluids() -> dict[str, Fluid]:
    """Return every fluid by name, in the table's order."""
    table = _table()
    return {name: _fluid(name, row, table["unit"]) for name, row in table["fluids"].items()}


def _fluid(name: str, row: Mapping[str, Any], unit: str) -> Fluid:
    return Fluid(
        name=name,
        family=row["family"],
        standard=row["standard"],
        aliases=tuple(row["aliases"]),
        dry_degc=measure_if(row.get("dry"), unit),
        wet_degc=measure_if(row.get("wet"), unit),
        viscosity_mm2_s=measure_if(row.get("viscosity"), unit),
        colour=row["colour"],
        mark=row["mark"],
    )


_BETWEEN_DIGITS: Final = re.compile(r"(?<=\d)[-,](?=\d)")
_LONGEST: Final = 80


def _plain(text: str) -> str:
    """Return `text` without what people write differently: case, spaces, signs; `5-1` becomes `5.1`."""
    dotted = _BETWEEN_DIGITS.sub(".", text.lower())
    return "".join(letter for letter in dotted if letter.isalnum() or letter == ".")


@lru_cache(maxsize=1)
def _by_alias() -> dict[str, Fluid]:
    return {_plain(word): known for known in fluids().values() for word in (known.name, *known.aliases)}


@lru_cache(maxsize=256)
def fluid(text: str) -> Fluid:
    """Return the fluid that `text` means: its name or an alias; case, spaces and signs do not count.

    >>> fluid("dot4").name, fluid("DOT 5-1").name, fluid("mineral").name
    ('DOT 4', 'DOT 5.1', 'mineral oil')

    Raises:
        UnknownFluidError: the table holds no such fluid; the message gives the nearest.
    """
    found = _by_alias().get(_plain(text)) if len(text) <= _LONGEST else None
    if found is None:
        raise UnknownFluidError(text, fluids())
    return found


def _family(text: str) -> str:
    if text not in FAMILIES:
        raise UnknownFamilyError(text, FAMILIES)
    return text


def mixing(a: str, b: str) -> Mixing:
    """Return whether fluids of families `a` and `b` may be mixed, and what happens if they are.

    Raises:
        UnknownFamilyError: either is no fluid family.
    """
    wanted = sorted((_family(a), _family(b)))
    row = next(row for row in _table()["mixing"] if sorted(row["families"]) == wanted)
    return Mixing(flag(row["allowed"]), row["effect"], row["mark"])


@lru_cache(maxsize=1)
def rubbers() -> dict[str, tuple[str, ...]]:
    """Return every rubber by its code (ISO 1629), with the other ways people write it."""
    return {code: tuple(row["aliases"]) for code, row in _table()["rubbers"].items()}


@lru_cache(maxsize=1)
def _rubber_by_alias() -> dict[str, str]:
    return {_plain(word): code for code, words in rubbers().items() for word in (code, *words)}


def rubber(text: str) -> str:
    """Return the code of the rubber that `text` means: `EPR` and `ethylene propylene` are `EPDM` here.

    Raises:
        UnknownRubberError: the table holds no such rubber; the message gives the nearest.
    """
    code = _rubber_by_alias().get(_plain(text))
    if code is None:
        raise UnknownRubberError(text, rubbers())
    return code


class Suitability(NamedTuple):
    """Whether a rubber stands fluids of a family, and where that comes from."""

    suits: bool
    mark: str


@lru_cache(maxsize=1)
def _suitability() -> dict[tuple[str, str], Suitability]:
    rows = _table()["suitability"]
    return {(row["family"], row["rubber"]): Suitability(flag(row["suits"]), row["mark"]) for row in rows}


def suitability(family: str, text: str) -> Suitability | None:
    """Return whether the rubber that `text` means stands fluids of `family`; None where that is not known.

    Raises:
        UnknownFamilyError, UnknownRubberError: the table holds no such family or rubber.
    """
    return _suitability().get((_family(family), rubber(text)))


def suits(family: str, text: str) -> bool | None:
    """Return True or False as `suitability` does, without its source; None where it is not known.

    >>> suits("glycol", "EPDM"), suits("mineral", "EPDM"), suits("silicone", "NBR")
    (True, False, None)

    Raises:
        UnknownFamilyError, UnknownRubberError: the table holds no such family or rubber.
    """
    found = suitability(family, text)
    return found.suits if found is not None else None


def modulus(family: str) -> Modulus:
    """Return the bulk modulus of fluids of `family`.

    Limits: one figure for a family; between 20 and 100 degC, pressure left aside.

    Raises:
        UnknownFamilyError: it is no fluid family.
    """
    row = _table()["modulus"][_family(family)]
    return Modulus(measure(row["modulus"]), *interval(row["range"]), row["mark"])


def dissolved_air(family: str) -> Dissolved | None:
    """Return how much air fluids of `family` hold in solution; None where no figure is known.

    Raises:
        UnknownFamilyError: it is no fluid family.
    """
    row = _table()["dissolved_air"].get(_family(family))
    return Dissolved(number(row["percent"]) / 100, number(row["plus_minus"]) / 100, row["mark"]) if row else None
