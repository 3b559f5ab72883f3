"""What was not checked, told by what is missing: one entry for a field, whatever rules ask for it."""

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from fitcheck.build.refs import tag_of
from fitcheck.checks.findings import Unchecked
from fitcheck.reports.plain import count_of, first_few

_MOST: Final = 4
"""As many places of one gap are named, unless all are asked for."""


class Asked(NamedTuple):
    """Rules that lack a field at the same places; `places` is empty where they could look nowhere at all."""

    rules: tuple[str, ...]
    places: tuple[str, ...]

    @property
    def checks(self) -> int:
        """How many checks were not made."""
        return len(self.rules) * max(1, len(self.places))


class Gap(NamedTuple):
    """A field that is missing, `lines.TAG.route` for the same one of several things, and who asks for it."""

    missing: str
    asked: tuple[Asked, ...]

    @property
    def checks(self) -> int:
        """How many checks it stands in the way of."""
        return sum(each.checks for each in self.asked)


def gaps_of(items: Iterable[Unchecked]) -> list[Gap]:
    """Return what is missing: what stands in the way of most checks first, what leaves rules without any place last.

    Rules that lack a field at the same places are named together. A field that several things lack, each asked for
    its own only, is one gap.
    """
    asked: dict[str, list[Unchecked]] = {}
    for item in items:
        asked.setdefault(item.missing, []).append(item)
    general = {field: _general(found) for field, found in asked.items()}
    many = {name for name, count in Counter(general.values()).items() if count > 1}
    merged: dict[str, list[Unchecked]] = {}
    for field, found in asked.items():
        merged.setdefault(general[field] if general[field] in many else field, []).extend(found)
    gaps = [Gap(missing, tuple(_by_places(found))) for missing, found in merged.items()]
    return sorted(gaps, key=lambda gap: (not any(each.places for each in gap.asked), -gap.checks))


def _by_places(items: Iterable[Unchecked]) -> Iterator[Asked]:
    """Yield who asks for a field: rules with the same places together, in the order of first asking."""
    order: dict[str, int] = {}
    by_rule: dict[tuple[str, bool], list[str]] = {}
    for item in items:
        at = item.at[:1]
        by_rule.setdefault((item.rule, bool(at)), []).extend(at)
        order.setdefault("".join(at), len(order))
    by_places: dict[tuple[str, ...], list[str]] = {}
    for (rule, _), places in by_rule.items():
        by_places.setdefault(tuple(sorted(places, key=order.__getitem__)), []).append(rule)
    return (Asked(tuple(rules), places) for places, rules in by_places.items())


def checks_of(gaps: Iterable[Gap]) -> int:
    """Return how many checks were not made."""
    return sum(gap.checks for gap in gaps)


def gap_text(gap: Gap, most: int | None = _MOST) -> str:
    """Return a gap in a sentence: `lines.a.route: bend-tight, near-heat at a; air-trap at 4 places: a, b, c, d`.

    Of the places at most so many are named, the rest is counted; all with None.
    """
    return f"{gap.missing}: {asked_text(gap, most)}"


def asked_text(gap: Gap, most: int | None = _MOST) -> str:
    """Return the part of `gap_text` that follows the field."""
    return "; ".join(_asked(each, most) for each in gap.asked)


def _asked(asked: Asked, most: int | None) -> str:
    rules = ", ".join(asked.rules)
    if not asked.places:
        return rules
    many = f"{count_of(len(asked.places), 'place')}: " if len(asked.places) > 1 else ""
    return f"{rules} at {many}{first_few(asked.places, most or len(asked.places))}"


def _general(items: Iterable[Unchecked]) -> str:
    """Return a missing field with `TAG` for the one thing that all who ask look at, if it is a field of that thing."""
    found = list(items)
    tags = {tag_of(item.at[0]) if item.at else "" for item in found}
    own = tags.pop()
    return found[0].missing if tags or not own else found[0].missing.replace(f".{own}.", ".TAG.")
