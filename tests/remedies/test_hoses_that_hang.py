"""What puts a hose right that does not reach or bends too tight."""

from pathlib import Path

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.remedies.choose import with_remedies
from fitcheck.remedies.cure import cure
from fitcheck.reports.remedy_words import remedy_text
from tests.checks.place.hose_builds import HOUSE, build_of

FEED = """\
build: 1
components:
  tank: {part: reservoir-2-outlet, at: [0, 0, 700]}
  mc: {part: mc-m10x1-bubble, at: [0, 0, 500]}
hoses:
  feed: {part: feed-hose-8mm, from: tank.front, to: mc.feed, length: 190 mm}
"""


def context_of(text: str, folder: Path) -> Context:
    """Return the context of a build with its catalog."""
    (folder / "house.yaml").write_text(HOUSE, encoding="utf-8")
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    return Context(assemble(load(folder)))


def remedies_of(text: str, rule: str, folder: Path) -> list[str]:
    """Return the acts proposed for the finding of a rule."""
    context = context_of(text, folder)
    (finding,) = [each for each in with_remedies(context, check_context(context)).findings if each.rule == rule]
    return [remedy_text(proven) for proven in finding.remedies]


def test_the_shortest_hose_that_reaches_comes_first(tmp_path: Path) -> None:
    """Of the hoses with the same ends the shortest that has its slack in droop is proposed, never a shorter one."""
    found = remedies_of(build_of("[0, 250, 400]"), "hose-short", tmp_path)
    assert found[0] == "exchange jump for hose-340"
    assert "exchange jump for hose-plain" not in found


def test_a_hose_that_would_bend_too_tight_is_not_proposed(tmp_path: Path) -> None:
    """A hose of the right length whose own limit is wider than its curve there is left out."""
    found = remedies_of(build_of("[0, 285, 400]", "hose-340"), "hose-short", tmp_path)
    assert found == ["exchange jump for hose-400"]


def test_a_folded_hose_gets_more_room(tmp_path: Path) -> None:
    """A hose bent too tight over a short way is exchanged for one whose longer loop is wide enough."""
    found = remedies_of(build_of("[0, 10, 390]"), "hose-bend-tight", tmp_path)
    assert found[0] == "exchange jump for hose-340"


def test_the_exchange_is_written_and_checks(tmp_path: Path) -> None:
    """Cured and read again, the build has the longer hose and nothing left to say about it."""
    context = context_of(build_of("[0, 250, 400]"), tmp_path)
    done = cure(context, check_context(context))
    assert "part: hose-340" in done.text
    assert [finding.rule for finding in done.left if finding.rule.startswith("hose-")] == []


def test_feed_hose_is_cut_longer(tmp_path: Path) -> None:
    """Hose bought by length is not exchanged: its length in the file becomes what is needed."""
    assert remedies_of(FEED, "hose-short", tmp_path) == ["cut feed to 220 mm"]
