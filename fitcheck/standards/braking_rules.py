"""What published rules ask of a passenger car's brakes: deceleration, and the push of the foot that they allow.

They are compared with what is computed, which is no type approval: the rules ask for tests on a road, with the car
loaded and unloaded, hot and cold.
"""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Final, Literal, NamedTuple

from fitcheck.naming import plain_word
from fitcheck.standards.figures import measure
from fitcheck.standards.unknown import UnknownNameError

Case = Literal["service", "secondary"]
_LONGEST: Final = 80


class UnknownBrakingRuleError(UnknownNameError):
    """A name that is none of the published rules in the table."""

    what = "published rule of braking"


class Clause(NamedTuple):
    """What one clause asks: a deceleration [mm/s2] at a push of the foot of at most `pedal_n` [N].

    `case` is `service` with everything in order, `secondary` with one circuit lost. `mark` tells where that is from.
    """

    case: Case
    clause: str
    words: str
    deceleration_mm_s2: float
    pedal_n: float
    mark: str


class BrakingRule(NamedTuple):
    """One published rule and its clauses."""

    name: str
    title: str
    aliases: tuple[str, ...]
    clauses: tuple[Clause, ...]
    mark: str

    def asks(self, case: Case) -> tuple[Clause, ...]:
        """Return the clauses for one case."""
        return tuple(clause for clause in self.clauses if clause.case == case)


@lru_cache(maxsize=1)
def braking_rules() -> dict[str, BrakingRule]:
    """Return every published rule by name, in the table's order."""
    from fitcheck.standards.tables import load

    table = load("braking_rules")
    return {name: _rule(name, row, table["unit"]) for name, row in table["rules"].items()}


def _rule(name: str, row: Mapping[str, Any], unit: str) -> BrakingRule:
    clauses = tuple(_clause(clause, unit) for clause in row["clauses"])
    return BrakingRule(name, row["title"], tuple(row["aliases"]), clauses, row["mark"])


def _clause(row: Mapping[str, Any], unit: str) -> Clause:
    asked = measure(row["deceleration"], unit) if "deceleration" in row else _from_distance(row)
    return Clause(row["case"], row["clause"], row["words"], asked, measure(row["pedal"]), row["mark"])


def _from_distance(row: Mapping[str, Any]) -> float:
    """Return the steady deceleration that a stopping distance asks for once its delay is over [mm/s2]."""
    speed, distance = measure(row["speed"]), measure(row["distance"])
    return speed**2 / (2.0 * (distance - speed * measure(row["delay"])))


@lru_cache(maxsize=1)
def _by_alias() -> dict[str, BrakingRule]:
    return {plain_word(word): rule for rule in braking_rules().values() for word in (rule.name, *rule.aliases)}


def braking_rule(text: str) -> BrakingRule:
    """Return the rule that `text` means: its name or an alias; case, spaces and signs do not count.

    >>> braking_rule("ECE-R13H").name, braking_rule("FMVSS 135").name
    ('ece-r13h', 'fmvss-135')

    Raises:
        UnknownBrakingRuleError: the table holds no such rule; the message gives the nearest.
    """
    found = _by_alias().get(plain_word(text)) if len(text) <= _LONGEST else None
    if found is None:
        raise UnknownBrakingRuleError(text, braking_rules())
    return found
