"""What rigid tube is made of: strength, stretch, and whether it may carry brake pressure."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from fitcheck.naming import plain_word
from fitcheck.standards.figures import flag, interval, measure, measure_if, number
from fitcheck.standards.unknown import UnknownNameError


class UnknownMaterialError(UnknownNameError):
    """A tube material that the table does not hold."""

    what = "tube material"


class Strength(NamedTuple):
    """Minimum tensile and yield strength [MPa] by one standard or temper; yield None where not given."""

    standard: str
    tensile_mpa: float
    yield_mpa: float | None
    mark: str


class Elastic(NamedTuple):
    """How a material stretches: Young's modulus [MPa] and Poisson's ratio, and the ranges they may lie in."""

    modulus_mpa: float
    modulus_range: tuple[float, float]
    poisson: float
    poisson_range: tuple[float, float]
    mark: str


class Material(NamedTuple):
    """One tube material.

    Attributes:
        name: the word used in reports.
        description: what it is.
        standard: standards that describe tube of it.
        aliases: other ways people write it.
        brake_pressure: whether `fitcheck` lets it carry brake pressure.
        reason: why, or why not.
        against: what speaks for the other view.
        strengths: figures by standard or temper.
        mark: where reason and counter-reason come from.
        elastic: how it stretches.
    """

    name: str
    description: str
    standard: str
    aliases: tuple[str, ...]
    brake_pressure: bool
    reason: str
    against: str
    strengths: tuple[Strength, ...]
    mark: str
    elastic: Elastic

    @property
    def tensile_mpa(self) -> float:
        """Least of the minimum tensile strengths [MPa]."""
        return min(strength.tensile_mpa for strength in self.strengths)

    @property
    def yield_mpa(self) -> float | None:
        """Least of the minimum yield strengths [MPa]; None if no source gives one."""
        known = (strength.yield_mpa for strength in self.strengths)
        return min((value for value in known if value is not None), default=None)


@lru_cache(maxsize=1)
def materials() -> dict[str, Material]:
    """Return every tube material by name, in the table's order."""
    from fitcheck.standards.tables import load

    table = load("materials")
    return {name: _material(name, row, table["unit"]) for name, row in table["materials"].items()}


def _material(name: str, row: Mapping[str, Any], unit: str) -> Material:
    return Material(
        name=name,
        description=row["description"],
        standard=row["standard"],
        aliases=tuple(row["aliases"]),
        brake_pressure=flag(row["brake_pressure"]),
        reason=row["reason"],
        against=row["against"],
        strengths=tuple(_strength(strength, unit) for strength in row["strengths"]),
        mark=row["mark"],
        elastic=_elastic(row["elastic"]),
    )


def _elastic(row: Mapping[str, Any]) -> Elastic:
    low, _, high = row["poisson_range"].partition(" to ")
    ratios = (number(low), number(high))
    return Elastic(measure(row["modulus"]), interval(row["range"]), number(row["poisson"]), ratios, row["mark"])


def _strength(row: Mapping[str, Any], unit: str) -> Strength:
    tensile, least = measure(row["tensile"], unit), measure_if(row.get("yield"), unit)
    return Strength(row["standard"], tensile, least, row["mark"])


@lru_cache(maxsize=1)
def _by_alias() -> dict[str, Material]:
    return {plain_word(word): made for made in materials().values() for word in (made.name, *made.aliases)}


@lru_cache(maxsize=256)
def material(text: str) -> Material:
    """Return the tube material that `text` means: its name or an alias; case, spaces and signs do not count.

    >>> material("Cu-Ni").name, material("90/10").name
    ('copper-nickel', 'copper-nickel')

    Raises:
        UnknownMaterialError: the table holds no such material; the message gives the nearest.
    """
    found = _by_alias().get(plain_word(text))
    if found is None:
        raise UnknownMaterialError(text, materials())
    return found
