"""The order in which a file says things changes nothing in the answer."""

import re
from collections import Counter
from collections.abc import Set
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.bom.take_off import take_off
from fitcheck.build.assemble import assemble
from tests.properties.defects import KINDS, Spoilt, damaged, spoilt
from tests.properties.editing import renamed
from tests.properties.growing import Draw, Plan
from tests.properties.strategies import read, report_of, text_of

_END = re.compile(r"\b([\w-]+)\.(ends\.)?(from|to)\b")


def turned(plan: Plan, draw: Draw) -> tuple[Plan, set[str]]:
    """Return the same build in another order, and the lines of it that now run the other way."""
    other = {key: _mixed(plan[key], draw) for key in draw(st.permutations(list(plan)))}
    other["joints"] = [_joint(joint, draw) for joint in draw(st.permutations(plan.get("joints", [])))]
    back = {tag for tag in plan["lines"] if draw(st.booleans())}
    swap = {f"{tag}.{a}": f"{tag}.{b}" for tag in back for a, b in (("from", "to"), ("to", "from"))}
    other = renamed(other, swap)
    for tag in back:
        line = other["lines"][tag]
        line["from"], line["to"] = line["to"], line["from"]
        if "ends" in line:
            line["ends"] = {{"from": "to", "to": "from"}[name]: end for name, end in line["ends"].items()}
        if "route" in line:
            line["route"].reverse()
    for circuit in other.get("circuits", {}).values():
        circuit["feeds"] = draw(st.permutations(circuit["feeds"]))
    return other, back


def _mixed(section: Any, draw: Draw) -> Any:
    """Return a section with its entries in another order; joints are turned by themselves."""
    if not isinstance(section, dict):
        return section
    return {key: section[key] for key in draw(st.permutations(list(section)))}


def _joint(joint: Any, draw: Draw) -> Any:
    if isinstance(joint, list):
        return draw(st.permutations(joint))
    if "ports" in joint:
        return joint | {"ports": draw(st.permutations(joint["ports"]))}
    return joint | {"eyes": draw(st.permutations(joint["eyes"]))}


def answer(plan: Plan, folder: Path, back: Set[str] = frozenset()) -> dict[str, Any]:
    """Return what is said of a build without its order, ends named as in the build before lines were turned."""

    def named(text: str) -> str:
        turn = {"from": "to", "to": "from"}
        return _END.sub(lambda at: f"{at[1]}.{at[2] or ''}{turn[at[3]] if at[1] in back else at[3]}", text)

    report = report_of(plan, folder)
    findings = (*report.findings, *report.accepted)
    bom = take_off(assemble(read(plan, folder)))
    return {
        "findings": {(f.rule, f.level, named(f.message), frozenset(map(named, f.at)), f.accepted) for f in findings},
        "unchecked": Counter((one.rule, frozenset(map(named, one.at)), named(one.missing)) for one in report.unchecked),
        "checked": report.checked,
        "bom": {(*row.key, _rounded(row.quantity), row.unknown, frozenset(map(named, row.places))) for row in bom.rows},
        "not counted": Counter((frozenset(map(named, one.at)), named(one.reason)) for one in bom.not_counted),
    }


def _rounded(quantity: float | None) -> float | None:
    return None if quantity is None else round(quantity, 6)  # sums of lengths in another order


def same_in_any_order(found: Spoilt, draw: Draw, folder: Path) -> None:
    """Fail unless the build in another order is answered alike."""
    house = {"catalog": 1, "parts": found.house}
    (folder / "house.yaml").write_text(text_of(house), encoding="utf-8")
    before = answer(found.plan, folder)
    plan, back = turned(found.plan, draw)
    house["parts"] = _mixed(found.house, draw)
    (folder / "house.yaml").write_text(text_of(house), encoding="utf-8")
    assert answer(plan, folder, back) == before


@pytest.mark.parametrize("kind", KINDS)
def test_order_changes_nothing(kind: str, tmp_path: Path) -> None:
    """A build with a defect is answered alike however its file is ordered, and its lines and joints are turned."""

    @given(st.data())
    @settings(settings.get_profile("brief"), max_examples=1)
    def run(data: Any) -> None:
        same_in_any_order(data.draw(spoilt(kind)), data.draw, tmp_path)

    run()


@given(st.data())
@settings(settings.get_profile("brief"), max_examples=25)
def test_order_changes_nothing_on_damaged_builds(data: Any) -> None:
    """Builds with several defects, of which one may account for another, are answered alike in any order."""
    plan = data.draw(damaged())
    other, back = turned(plan, data.draw)
    assert answer(other, Path(), back) == answer(plan, Path())


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_order_changes_nothing_at_length(kind: str, tmp_path: Path) -> None:
    """The same for many new builds of each kind of defect."""

    @given(st.data())
    @settings(settings.get_profile("long"), max_examples=10)
    def run(data: Any) -> None:
        same_in_any_order(data.draw(spoilt(kind)), data.draw, tmp_path)

    run()


@pytest.mark.slow
@given(st.data())
@settings(settings.get_profile("long"), max_examples=300)
def test_order_changes_nothing_on_damaged_builds_at_length(data: Any) -> None:
    """Many new builds with several defects are answered alike in any order."""
    plan = data.draw(damaged())
    other, back = turned(plan, data.draw)
    assert answer(other, Path(), back) == answer(plan, Path())
