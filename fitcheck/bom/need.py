"""What has to be there before the car is whole: the bill's rows, spares, and what the work uses up."""

from collections.abc import Iterable, Sequence
from typing import Final, Literal, NamedTuple

from fitcheck.bom.nesting.record import Cut
from fitcheck.bom.record import Unit

MM3_PER_ML: Final = 1000.0
"""Cubic millimetres in a millilitre: needs for fluid count these, files and parts are kept in those."""
Origin = Literal["bill", "spare", "work"]
"""Why something is needed: the bill of materials counts it, a spare of what the bill counts, the work uses it up."""


class Use(NamedTuple):
    """How much of a part one place takes. `place` is a tag or an end of the build, or "" for the build as a whole."""

    place: str
    quantity: int
    origin: Origin = "bill"


class Need(NamedTuple):
    """One part that the build needs, and how much of it.

    `unit` says what `uses` count: pieces (`each`) or millilitres of fluid (`ml`). Goods bought by length (`mm`) have
    no uses but `pieces`: what is cut, each tagged with the line or hose it is for; spare pieces have the tag `spare`.
    `part` is None where no catalog has what is needed: `description` then says in words what would do. `unknown` are
    the places whose amount is not known, with the reason: no number in this need covers them. `why` says in words
    where the amounts come from that the bill does not count, with their source. `unlisted` is True if `part` is an id
    that the build states and that means nothing here: no catalog has it, or it is of another kind; `description` then
    says so.
    """

    part: str | None
    kind: str
    description: str
    unit: Unit | Literal["ml"]
    uses: tuple[Use, ...] = ()
    pieces: tuple[Cut, ...] = ()
    unknown: tuple[tuple[str, str], ...] = ()
    why: tuple[str, ...] = ()
    unlisted: bool = False

    @property
    def quantity(self) -> int:
        """How many pieces or millilitres, spares included; how many pieces to cut of goods bought by length."""
        return sum(use.quantity for use in self.uses) if self.unit != "mm" else len(self.pieces)

    @property
    def spare(self) -> int:
        """How many of them are spares."""
        if self.unit == "mm":
            return sum(piece.tag == SPARE for piece in self.pieces)
        return sum(use.quantity for use in self.uses if use.origin == "spare")


SPARE = "spare"
"""The tag of a piece of tube that is cut for no line: for an end that is spoiled."""


def merged(needs: Iterable[Need]) -> tuple[Need, ...]:
    """Return the needs with those for the same part made one, each in the place of its first; words are said once."""
    alike: dict[tuple[object, ...], list[Need]] = {}
    for need in needs:
        words = "" if need.part is not None else need.description
        alike.setdefault((need.part, words, need.unit, need.unlisted), []).append(need)
    return tuple(_one(same) for same in alike.values())


def _one(same: Sequence[Need]) -> Need:
    return same[0]._replace(
        uses=tuple(use for need in same for use in need.uses),
        pieces=tuple(piece for need in same for piece in need.pieces),
        unknown=tuple(dict.fromkeys(entry for need in same for entry in need.unknown)),
        why=tuple(dict.fromkeys(words for need in same for words in need.why)),
    )
