"""What was not checked, by missing field: nothing twice, nothing lost, what unlocks most first."""

from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.build.refs import tag_of
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Unchecked
from fitcheck.checks.run import check_context
from fitcheck.reports.gaps import Asked, Gap, checks_of, gap_text, gaps_of

DEMO = Path(__file__).parents[2] / "demo_vehicle"


def test_rules_of_one_field_stand_together() -> None:
    """Rules that lack a field at the same places are named once; other places follow; the field is said once."""
    items = [
        *(Unchecked(rule, (at,), "components.t.at") for rule in ("bend-tight", "near-heat") for at in ("a", "b")),
        Unchecked("hose-short", ("h",), "components.t.at"),
        Unchecked("bend-tight", ("c",), "lines.c.route"),
    ]
    first, second = gaps_of(items)
    assert first == Gap(
        "components.t.at", (Asked(("bend-tight", "near-heat"), ("a", "b")), Asked(("hose-short",), ("h",)))
    )
    assert gap_text(first) == "components.t.at: bend-tight, near-heat at 2 places: a, b; hose-short at h"
    assert gap_text(second) == "lines.c.route: bend-tight at c"
    assert (first.checks, second.checks) == (5, 1)


def test_the_same_field_of_several_things_is_one() -> None:
    """Two lines without a route lack `lines.TAG.route`; one alone is named."""
    several = gaps_of(Unchecked("bend-tight", (tag,), f"lines.{tag}.route") for tag in "abcde")
    assert [gap_text(gap) for gap in several] == ["lines.TAG.route: bend-tight at 5 places: a, b, c and 2 more"]
    assert gap_text(several[0], None) == "lines.TAG.route: bend-tight at 5 places: a, b, c, d, e"


def test_a_field_is_said_once_whoever_asks() -> None:
    """A rule that lacks the field of one line only joins those that lack it of several; two ends are one line's."""
    items = [Unchecked("air-trap", (tag,), f"lines.{tag}.route") for tag in "ab"]
    items += [Unchecked("bend-tight", ("a",), "lines.a.route"), Unchecked("bend-tight", ("b",), "lines.b.route")]
    items.append(Unchecked("line-dead-straight", ("a",), "lines.a.route"))
    items += [Unchecked("seat-mismatch", (end,), "lines.c.ends") for end in ("c.from", "c.to")]
    assert [gap_text(gap) for gap in gaps_of(items)] == [
        "lines.TAG.route: air-trap, bend-tight at 2 places: a, b; line-dead-straight at a",
        "lines.c.ends: seat-mismatch at 2 places: c.from, c.to",
    ]


def test_a_field_that_others_ask_for_keeps_its_name() -> None:
    """What stands in the way of checks elsewhere too is not hidden among several of its kind."""
    items = [Unchecked("residual-pressure", (tag,), f"components.{tag}.at") for tag in ("tank", "caliper")]
    items.append(Unchecked("hose-short", ("feed",), "components.tank.at"))
    assert [gap_text(gap) for gap in gaps_of(items)] == [
        "components.tank.at: residual-pressure at tank; hose-short at feed",
        "components.caliper.at: residual-pressure at caliper",
    ]


def test_every_mention_of_a_thing_is_general() -> None:
    """A field or another of the same thing is one gap for all of them."""
    items = [Unchecked("stroke-short", (tag,), f"lines.{tag}.route or lines.{tag}.length") for tag in "ab"]
    assert [gap_text(gap) for gap in gaps_of(items)] == [
        "lines.TAG.route or lines.TAG.length: stroke-short at 2 places: a, b"
    ]


def test_rules_that_could_look_nowhere_come_last() -> None:
    """What leaves rules without any place is one entry without places."""
    items = [Unchecked(rule, (), "consumables.clips") for rule in ("clip-sparse", "clip-size")]
    items.append(Unchecked("bend-tight", ("a",), "lines.a.route"))
    assert [gap_text(gap) for gap in gaps_of(items)] == [
        "lines.a.route: bend-tight at a",
        "consumables.clips: clip-sparse, clip-size",
    ]
    assert checks_of(gaps_of(items)) == 3


QUESTIONS = st.builds(
    Unchecked,
    st.sampled_from(["bend-tight", "near-heat", "air-trap"]),
    st.sampled_from([(), ("a",), ("b",), ("c",)]),
    st.sampled_from(["lines.a.route", "lines.b.route", "components.t.at", "consumables.clips", "how a hangs"]),
)


@given(st.lists(QUESTIONS, unique=True))
@settings(derandomize=True, database=None, deadline=None, max_examples=200)
def test_nothing_is_lost_or_told_twice(items: list[Unchecked]) -> None:
    """Of any questions each is in one gap and no other, and gaps with places come by how many checks they unlock."""
    gaps = gaps_of(items)
    told = Counter(
        (rule, place, gap.missing.replace("TAG", place))
        for gap in gaps
        for asked in gap.asked
        for rule in asked.rules
        for place in asked.places or ("",)
    )
    assert told == Counter((item.rule, item.at[0] if item.at else "", item.missing) for item in items)
    assert checks_of(gaps) == len(items)
    placed = [gap.checks for gap in gaps if any(asked.places for asked in gap.asked)]
    assert placed == sorted(placed, reverse=True)


@pytest.mark.parametrize("variant", [None, "as_corrected"])
def test_each_field_of_the_demo_is_said_once(variant: str | None) -> None:
    """Each field stands in one entry, by its own name or that of its kind, and the count is that of the checks."""
    report = check_context(Context(assemble(load(DEMO, variant=variant))))
    gaps = gaps_of(report.unchecked)
    entries: dict[str, set[str]] = {}
    for item in report.unchecked:
        own = tag_of(item.at[0]) if item.at else ""
        names = {item.missing, item.missing.replace(f".{own}.", ".TAG.")}
        (found,) = {
            gap.missing
            for gap in gaps
            if gap.missing in names
            and any(item.rule in each.rules and set(item.at[:1]) <= {*each.places} for each in gap.asked)
        }
        entries.setdefault(item.missing, set()).add(found)
    assert [field for field, found in entries.items() if len(found) > 1] == []
    assert checks_of(gaps) == len(report.unchecked)
