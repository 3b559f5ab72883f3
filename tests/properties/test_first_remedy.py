"""The remedy that stands first under a finding puts it right: the edit is made in the text, and checked anew."""

from collections import Counter
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load_document
from fitcheck.changes import changed_document
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check_context
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.choose import proposals, with_remedies
from fitcheck.remedies.cures import CURES, UNCURED
from fitcheck.remedies.proof import Prover
from fitcheck.sources import parse
from tests.properties.defects import KINDS, Spoilt, spoilt
from tests.properties.recheck import harms, stands, state_of
from tests.properties.strategies import serious, text_of

NO_CURE = (
    "hump-in-a-line",
    "stub-above-the-outlet",
    "leg-shorter-than-its-bend",
    "length-less-than-the-way",
    "straight-line",
    "line-beside-the-exhaust",
    "lines-that-cross",
    "hole-for-another-grommet",
)
"""Kinds of defect that only the car can cure: something has to go lower, or elsewhere."""
CURABLE = tuple(kind for kind in KINDS if kind not in NO_CURE)
BRIEF, LONG = 1, 16
"""Examples of each kind: some 45 in all, and a thousand."""
SHARE = 0.98
"""How many of the builds with one defect the first remedy has to put right."""


class Tried(NamedTuple):
    """A spoilt build and what came of its first remedy: `reason` says why it is not cured, `worse` what it spoils."""

    kind: str
    text: str
    remedy: str
    reason: str | None
    worse: tuple[str, ...]


def tried(found: Spoilt, folder: Path) -> Tried:
    """Make the edit that the first remedy of the build's finding asks for, and check the new text."""
    (folder / "house.yaml").write_text(text_of({"catalog": 1, "parts": found.house}), encoding="utf-8")
    text = text_of(found.plan)
    document = parse(text, "build.yaml")
    context = Context(assemble(load_document(document, folder)))
    report = check_context(context)
    finding = serious(with_remedies(context, report))[0]
    if not finding.remedies:
        return Tried(found.kind, text, "none", _why_none(context, report, serious(report)[0]), ())
    remedy = finding.remedies[0].remedy
    before = state_of(text, folder, found.house)
    after = state_of(changed_document(document, remedy.changes).text, folder, found.house)
    worse = tuple(harms(before, after))
    reason = f"{finding.rule} still stands" if stands(finding, after) else worse[0] if worse else None
    return Tried(found.kind, text, f"{remedy.kind}: {remedy.changes}", reason, worse)


def _why_none(context: Context, report: Report, finding: Finding) -> str:
    bench = Bench(context, report)
    prover = Prover(bench)
    refused = [f"{each.kind}: {prover.witness([finding], [each]).refused}" for each in proposals(bench, finding)]
    return f"{finding.message} -- " + ("; ".join(refused) or "nothing of the catalog goes there")


def all_tried(kinds: tuple[str, ...], each: int, folder: Path) -> list[Tried]:
    """Return what came of so many builds of each kind of defect."""
    found: list[Tried] = []
    for kind in kinds:
        _tried_of(kind, each, folder, found)
    return found


def _tried_of(kind: str, each: int, folder: Path, found: list[Tried]) -> None:
    @given(st.data())
    @settings(settings.get_profile("long"), max_examples=each)
    def run(data: Any) -> None:
        found.append(tried(data.draw(spoilt(kind)), folder))

    run()


def listed(found: list[Tried]) -> str:
    """Return how many builds are cured, and of the rest the kind of defect and the reason."""
    left = [one for one in found if one.reason is not None]
    count = Counter(one.kind for one in left)
    lines = [f"{len(found) - len(left)} of {len(found)} builds with one defect are cured by their first remedy"]
    lines += [f"  {one.kind} ({count[one.kind]}): {one.reason}" for one in sorted(left, key=lambda one: one.kind)]
    return "\n".join(lines)


def judge(found: list[Tried]) -> None:
    """Fail if too few are cured, or if a single remedy does harm; print which are not cured, and why."""
    said = listed(found)
    print(said)  # pytest shows it with -rP, or when the test fails
    assert [(one.kind, one.remedy, one.worse, one.text) for one in found if one.worse] == []
    assert sum(one.reason is None for one in found) >= SHARE * len(found), said


def test_first_remedy_cures_one_defect(tmp_path: Path) -> None:
    """Of builds with one defect of each kind, the first remedy cures 98 in a hundred, and harms none."""
    found = all_tried(CURABLE, BRIEF, tmp_path)
    assert len(found) >= BRIEF * len(CURABLE)
    judge(found)


@pytest.mark.slow
def test_first_remedy_cures_one_defect_at_length(tmp_path: Path) -> None:
    """The same for a thousand builds; what is not cured is listed with the reason."""
    found = all_tried(CURABLE, LONG, tmp_path)
    assert len(found) >= 1000
    judge(found)


def test_no_remedy_where_only_the_car_can_tell(tmp_path: Path) -> None:
    """Where a part stands too high no edit of the file is offered, and every other rule has cures."""
    found = all_tried(NO_CURE, BRIEF, tmp_path)
    assert {(one.kind, one.remedy) for one in found} == {(kind, "none") for kind in NO_CURE}
    assert {rule for rule in UNCURED if rule in CURES} == set()


def test_every_rule_has_cures_or_a_reason_for_none() -> None:
    """Each rule that a defect brings to speak has something to try, or stands on the list of those without."""
    from fitcheck.checks.register import names

    assert set(names()) - set(CURES) == set(UNCURED)
