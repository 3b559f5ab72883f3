"""Verdicts against what the trade reports of wrong pairs: experience, not measurement, each with its weight."""

from typing import NamedTuple

import pytest

from fitcheck.standards.threads import dangerous, fit, look_alikes, parse


class Report(NamedTuple):
    """A trade report: what was screwed into what, what happened, the verdicts that say so, and where it stands.

    `turns` is from how many turns to how many the pair went, lead-in included; None where the report does not say.
    """

    external: str
    internal: str
    told: str
    verdicts: tuple[str, ...]
    turns: tuple[float, float] | None
    source: str


REPORTS = [
    Report(
        "3/8-24 UNF",
        "M10x1",
        "goes in very easily and loosely, threads just barely catch, strip when tightened",
        ("runs-in-loose",),
        None,
        "trade page on brake nuts, specific",
    ),
    Report(
        "M10x1",
        "3/8-24 UNF",
        "starts, catches one thread, immediately begins to destroy the threads",
        ("will-not-start",),
        (0.5, 1.5),
        "trade page on brake nuts, specific",
    ),
    Report(
        "1/8-27 NPT",
        "Rc1/8",
        "0.5 mm too large along the taper, would not start until a die of the other pitch was run over it",
        ("will-not-start",),
        (0.0, 2.0),
        "workshop forum, plausible",
    ),
    Report(
        "R1/8",
        "1/8-27 NPT",
        "screws in, but leaks",
        ("runs-in-loose",),
        None,
        "boat owners' forum, weak",
    ),
    Report(
        "G1/4",
        "1/4-18 NPT",
        "short male threads engage without difficulty, may not seal",
        ("starts-then-binds", "runs-in-loose"),
        (1.0, 4.0),
        "component note quoted on a forum (the female was parallel there)",
    ),
    Report(
        "5/16-18 UNC",
        "M8x1.25",
        "threads together a turn or two, then jams",
        ("starts-then-binds",),
        (1.0, 3.0),
        "supplier's guide",
    ),
    Report(
        "M8x1.25",
        "5/16-18 UNC",
        "threads together a turn or two, then jams",
        ("will-not-start", "starts-then-binds"),
        (1.0, 3.0),
        "supplier's guide, which does not say which is external",
    ),
    Report(
        "M10x1",
        "M10x1.25",
        "will not catch, or strips the casting",
        ("will-not-start",),
        (0.0, 2.0),
        "common practice, no source",
    ),
]


@pytest.mark.parametrize("report", REPORTS, ids=lambda report: f"{report.external} in {report.internal}")
def test_verdict_agrees_with_the_trade(report: Report) -> None:
    """The verdict is one that says what the trade reports, and free turns with the lead-in reach what it tells."""
    found = fit(parse(report.external), parse(report.internal))
    assert found.verdict in report.verdicts
    if report.turns is not None:
        least, most = report.turns
        assert least <= found.starts_on_chamfer + found.free_turns[1]
        assert found.free_turns[0] <= most


def test_the_pair_that_strips_is_dangerous_and_keeps_a_fraction() -> None:
    """3/8-24 in M10x1 "strips when tightened": called dangerous, with less than half its strength left."""
    found = fit(parse("3/8-24"), parse("M10x1"))
    assert dangerous(found)
    assert found.strip_share is not None
    assert found.strip_share[1] < 0.5


# Workshop manuals of vehicles that changed from inch to metric threads: colours of plugs tell sizes apart that must
# not be mixed, "thread size difference must not be relied on".
KEYED_APART = [
    ("3/8-24 UNF", "M10x1"),
    ("7/16-20 UNF", "M12x1"),
    ("1/2-20 UNF", "M12x1"),
    ("5/8-18 UNF", "M14x1.5"),
]


@pytest.mark.parametrize(("inch", "metric"), KEYED_APART)
def test_no_inch_thread_mates_with_the_metric_it_is_kept_from(inch: str, metric: str) -> None:
    """None of the sizes that workshop manuals keep apart mates with its neighbour, either way round."""
    for external, internal in ((inch, metric), (metric, inch)):
        assert fit(parse(external), parse(internal)).verdict != "mates"


def test_size_alone_does_not_protect() -> None:
    """As the manuals warn: at least one of the pairs kept apart goes together by hand."""
    assert parse("M10x1") in look_alikes(parse("3/8-24"))
    ways = [fit(parse(inch), parse(metric)) for inch, metric in KEYED_APART]
    assert any(dangerous(way) for way in ways)
