"""Every rule is listed, documented, fails on its failing sample and is silent on the repaired one."""

from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.checks.register import FAMILIES, NOT_YET, UnknownRuleError, finders, names, page, pages
from fitcheck.checks.run import check

DESIGNED = {
    "part-unknown, port-unknown, acceptance-stale",
    "thread-mismatch, gender-clash, seat-mismatch, tube-size-mismatch, flare-mismatch, nut-mismatch, "
    "fixing-missing, short-engagement",
    "dead-end, port-reused, circuit-not-fed, circuits-crossed, single-circuit, circuit-looped, one-way-reversed, "
    "no-bleeder, air-trap, reservoir-missing, reservoir-small",
    "pressure-over-rating, unpressurised-part, fluid-unsuitable, tube-material-refused, stroke-short",
    "rigid-across-bodies, hose-short, hose-bend-tight, near-heat, panel-unguarded, panel-misfit, bend-tight, "
    "bend-crowded, clip-sparse, fixing-trapped, length-disagrees",
}
ADDED = "lines-touching, line-dead-straight, residual-pressure"
"""Rules where the design is silent."""


def findings_of(text: str, catalog: str, folder: Path) -> list[tuple[str, str]]:
    """Return the rule and level of every finding of a sample, notes left out unless they are all there is."""
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    if catalog:
        (folder / "house.yaml").write_text(catalog, encoding="utf-8")
    return [(finding.rule, finding.level) for finding in check(load(folder)).findings]


@pytest.mark.parametrize("name", names())
def test_failing_sample_gives_exactly_its_rule(name: str, tmp_path: Path) -> None:
    """The failing sample on each rule's page is found by that rule and by no other."""
    shown = page(name)
    found = findings_of(shown.fails, shown.catalog, tmp_path)
    serious = {rule for rule, level in found if level != "note"}
    assert name in {rule for rule, _ in found}
    assert serious <= {name}


@pytest.mark.parametrize("name", names())
def test_repaired_sample_gives_nothing(name: str, tmp_path: Path) -> None:
    """The repaired sample on each rule's page has no error and no warning, and this rule is silent."""
    shown = page(name)
    found = findings_of(shown.passes, shown.catalog, tmp_path)
    assert name not in {rule for rule, _ in found}
    assert [rule for rule, level in found if level != "note"] == []


@pytest.mark.parametrize("name", names())
def test_page_has_every_heading(name: str) -> None:
    """Each page has a one-line summary under its own name, and the fixed headings in their order."""
    shown = page(name)
    assert shown.text.startswith(f"`{name}`: ")
    assert 10 < len(shown.short) < 100
    assert tuple(shown.sections) == ("What it finds", "Why it matters", "Example", "Source")
    assert all(len(section) > 20 for section in shown.sections.values())


def test_register_and_plan_agree_with_the_design() -> None:
    """Every rule of the design is registered or named as not written yet; others are those that were added to it."""
    designed = {name for family in (*DESIGNED, ADDED) for name in family.split(", ")}
    assert set(names()) | set(NOT_YET) == designed
    assert not set(names()) & set(NOT_YET)


def test_every_rule_file_is_registered() -> None:
    """No rule lies in a folder without being run."""
    folder = Path(__file__).parents[2] / "fitcheck" / "checks"
    families = {family if family != "acceptance" else "file" for family in FAMILIES}
    files = {
        path.stem.replace("_", "-")
        for family in families
        for path in (folder / family).glob("*.py")
        if path.stem not in ("__init__", "speak")
    }
    assert files == set(names())


def test_each_finder_belongs_to_its_name() -> None:
    """The function run under a name comes from the module of that name."""
    for name, find in finders():
        assert find.__module__.endswith("." + name.replace("-", "_"))


def test_rules_stay_small() -> None:
    """A rule with its page is one file of at most 190 lines."""
    folder = Path(__file__).parents[2] / "fitcheck" / "checks"
    for shown in pages():
        path = folder / shown.family / f"{shown.name.replace('-', '_')}.py"
        assert len(path.read_text(encoding="utf-8").splitlines()) <= 190, path


def test_unknown_rule_is_refused_with_the_nearest() -> None:
    """Asking for a page that does not exist names the rule that was probably meant."""
    with pytest.raises(UnknownRuleError) as caught:
        page("seat-mismtach")
    assert str(caught.value) == "no rule is called 'seat-mismtach'; nearest is 'seat-mismatch'"
