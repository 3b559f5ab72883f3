"""What was not checked, told by what is missing: one entry for a field, whatever rules ask for it."""

from collections.abc import Iterable
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

    Rules that lack a field at the same places are named together.
    """
    by_rule: dict[tuple[str, str, bool], list[Unchecked]] = {}
    for item in items:
        by_rule.setdefault((_general(item), item.rule, bool(item.at)), []).append(item)
    by_field: dict[str, dict[tuple[str, ...], list[str]]] = {}
    for (field, rule, _), found in by_rule.items():
        missing = field if len(found) > 1 else found[0].missing
        places = tuple(item.at[0] for item in found if item.at)
        by_field.setdefault(missing, {}).setdefault(places, []).append(rule)
    gaps = [
        Gap(missing, tuple(Asked(tuple(rules), places) for places, rules in asked.items()))
        for missing, asked in by_field.items()
    ]
    return sorted(gaps, key=lambda gap: (not any(each.places for each in gap.asked), -gap.checks))


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


def _general(item: Unchecked) -> str:
    """Return the missing field with `TAG` in place of the tag that the rule looked at."""
    head, dot, rest = item.missing.partition(".")
    tag, more, last = rest.partition(".")
    return f"{head}.TAG.{last}" if item.at and dot and more and tag == tag_of(item.at[0]) else item.missing
