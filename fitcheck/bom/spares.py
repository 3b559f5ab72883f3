"""Spares: what is bought beyond the bill, so that a lost nut or a spoiled flare does not stop the work.

What the build's `spares` leaves out has the usual, all of it common practice, no source:

- four more of each washer: a crush washer seals once, and a joint that weeps is made again with new ones;
- two more of each nut: they roll away, and a nut that is forgotten before flaring is lost with the flare;
- one flared end in twenty is spoiled, rounded up for each tube: for each of them one more piece to cut, as long as the
  longest of that tube, because a piece that was bent before its end was spoiled is lost with it;
- nothing more of any other kind.

A kind that the build names has only what is stated for it: so many per cent of what the bill asks for, rounded up, and
so many on top, for each part of the kind. Cut goods are counted in pieces, and a spare piece is as long as the longest.
What no catalog has gets no spares.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import ceil
from typing import Final, NamedTuple

from fitcheck.bom.need import SPARE, Need, Use
from fitcheck.bom.nesting.record import Cut
from fitcheck.bom.record import Bom, Row, exactly
from fitcheck.build.fixings import fixings
from fitcheck.build.graph import PortGraph
from fitcheck.build.refs import tag_of
from fitcheck.build.supplies import Spares
from fitcheck.measures import LengthUnit, long_text

WASHERS_MORE: Final = 4
"""Spare washers of each size: common practice, no source."""
NUTS_MORE: Final = 2
"""Spare nuts of each size: common practice, no source."""
ENDS_PER_SPOILED: Final = 20
"""One flared end in so many is spoiled: common practice, no source."""
_PRACTICE: Final = "common practice, no source"


class Rule(NamedTuple):
    """So many per cent more, rounded up, and so many on top; `source` says who wants it so."""

    percent: Fraction = Fraction(0)
    plus: int = 0
    source: str = _PRACTICE

    def more(self, quantity: int) -> int:
        """Return how many spares there are to `quantity` pieces; none to none."""
        return ceil(self.percent * quantity / 100) + self.plus if quantity else 0


class Policy(NamedTuple):
    """The spares of each kind, and of how many flared ends one is spoiled; 0 for none. `source` is that figure's."""

    kinds: Mapping[str, Rule]
    ends_per_spoiled: int = ENDS_PER_SPOILED
    source: str = _PRACTICE

    def of(self, kind: str) -> Rule:
        """Return the rule for a kind."""
        return self.kinds.get(kind, Rule())

    def spoiled(self, ends: int) -> int:
        """Return how many of so many flared ends are spoiled, rounded up."""
        return -(-ends // self.ends_per_spoiled) if self.ends_per_spoiled else 0


USUAL: Final = Policy({"washer": Rule(plus=WASHERS_MORE), "nut": Rule(plus=NUTS_MORE)})
"""What holds where the build says nothing."""


def policy(stated: Spares | None) -> Policy:
    """Return the spares that a build wants: what it states, and the usual for what it leaves out."""
    if stated is None:
        return USUAL
    kinds = dict(USUAL.kinds)
    for kind, rule in stated.kinds.items():
        kinds[kind] = Rule(exactly(rule.percent or 0), rule.plus or 0, f"spares.kinds.{kind}")
    if stated.ends_per_spoiled is None:
        return Policy(kinds)
    return Policy(kinds, stated.ends_per_spoiled, "spares.ends_per_spoiled")


def spares(graph: PortGraph, bom: Bom) -> tuple[Need, ...]:
    """Return the spares to the bill of a build, one need for each row that has any, in its order."""
    rules = policy(graph.build.file.spares)
    flared = flared_ends(graph)
    needs = (
        _cut(row, rules, flared, graph.unit) if row.unit == "mm" else _counted(row, rules.of(row.kind))
        for row in _had(bom)
    )
    return tuple(need for need in needs if need is not None)


def flared_ends(graph: PortGraph) -> Counter[str]:
    """Return how many ends of tube are flared, by the tube's id. An end whose flare is not known is none of them."""
    flared = {
        joint.ends[1].ref for joint in graph.joints if joint.kind == "tube" and fixings(graph, joint).flare is not None
    }
    flared.update(ref for ref, end in graph.ends.items() if end.stated is not None and end.stated.flare is not None)
    return Counter(graph.fitted[tag_of(ref)].part_id for ref in flared)


def _had(bom: Bom) -> Iterator[Row]:
    """Yield the rows of what some catalog has."""
    return (row for row in bom.rows if row.part is not None and not row.unknown)


def _counted(row: Row, rule: Rule) -> Need | None:
    quantity = rule.more(int(row.quantity or 0))
    if not quantity:
        return None
    why = f"spare: {quantity}, {rule.source}"
    return Need(row.part, row.kind, row.description, "each", (Use("", quantity, "spare"),), why=(why,))


def _cut(row: Row, rules: Policy, flared: Mapping[str, int], unit: LengthUnit) -> Need | None:
    rule, ends = rules.of(row.kind), flared.get(row.part or "", 0)
    by_rule, spoiled = rule.more(len(row.pieces)), rules.spoiled(ends)
    if not by_rule + spoiled:
        return None
    need = Need(row.part, row.kind, row.description, "mm")
    longest = max((piece.length.mm for piece in row.pieces if piece.length.mm is not None), default=None)
    if longest is None:
        return need._replace(unknown=((SPARE, "no piece of it has a known length"),))
    why = [f"spare: {_pieces(by_rule, longest, unit)}, {rule.source}"] if by_rule else []
    if spoiled:
        extra, share = _pieces(spoiled, longest, unit), f"one in {rules.ends_per_spoiled} of {ends} flared ends"
        words = f"spare: {extra}, {share} is spoiled"
        why.append(f"{words}, {rules.source}")
    return need._replace(pieces=(Cut(SPARE, longest),) * (by_rule + spoiled), why=tuple(why))


def _pieces(quantity: int, mm: float, unit: LengthUnit) -> str:
    return f"{quantity} piece{'s' if quantity > 1 else ''} as long as the longest, {long_text(mm, unit)}"
