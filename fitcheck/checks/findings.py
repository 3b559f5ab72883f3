"""What rules say: findings, and what they could not look at."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final, Literal, NamedTuple

from fitcheck.build.load import Place
from fitcheck.build.refs import tag_of
from fitcheck.measures import LengthUnit

Level = Literal["error", "warning", "note"]
NO_EVIDENCE: Final[Mapping[str, Any]] = MappingProxyType({})
LEVELS: Final[tuple[Level, ...]] = ("error", "warning", "note")
"""The levels of SARIF 2.1.0 (OASIS), worst first."""


class Finding(NamedTuple):
    """One thing that a rule has to say.

    `at` names ports, ends or tags, the one to look at first in front. `evidence` is a witness that can be
    verified without the rule: a path, the two designations that clash, limits of size in mm. `told_in` is what
    lengths of the evidence are told in.
    """

    rule: str
    level: Level
    message: str
    at: tuple[str, ...]
    place: Place
    evidence: Mapping[str, Any] = NO_EVIDENCE
    remedies: tuple[Any, ...] = ()
    accepted: str | None = None
    told_in: LengthUnit = "mm"


class Unchecked(NamedTuple):
    """Something a rule could not look at, and the field of the build or catalog that would let it."""

    rule: str
    at: tuple[str, ...]
    missing: str


class Looked(NamedTuple):
    """That a rule looked at so many `places`."""

    places: int = 1


Said = Finding | Unchecked | Looked
"""What a rule may yield."""


class Report(NamedTuple):
    """The whole answer of `check`: findings worst first, accepted ones apart.

    `unproven` counts findings for which remedies were left unlooked for because the build is large.
    """

    build: str
    findings: tuple[Finding, ...]
    accepted: tuple[Finding, ...]
    unchecked: tuple[Unchecked, ...]
    checked: Mapping[str, int]
    unproven: int = 0

    def count(self, level: Level) -> int:
        """Return how many findings, not counting accepted ones, have `level`."""
        return sum(finding.level == level for finding in self.findings)

    @property
    def failed(self) -> bool:
        """True if anything stands at level error."""
        return self.count("error") > 0


def met_by(said: Finding | Unchecked) -> list[tuple[str, str]]:
    """Return the (rule, place) pairs that an acceptance may name to speak of `said`.

    A place is an end, the tag it belongs to, or a circuit.
    """
    places = dict.fromkeys(name for at in said.at for name in (at, tag_of(at)))
    return [(said.rule, place) for place in places]
