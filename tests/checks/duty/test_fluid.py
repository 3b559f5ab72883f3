"""`fluid-unsuitable` by rubber, by duty, and where fluids meet in chambers that are or are not one."""

from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check
from tests.checks.duty.test_duty import CLUTCH, TWO

SEALED = """\
catalog: 1
parts:
  sealed:
    kind: slave cylinder
    ports: {inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
    bleeder: M8x1.25
    %s
"""


def report(folder: Path, keys: str, fluid: str = "DOT 4", more: str = "") -> Report:
    """Return the report of a clutch whose slave cylinder states these keys."""
    (folder / "house.yaml").write_text(SEALED % keys, encoding="utf-8")
    text = CLUTCH.replace("build: 1", "build: 1\ncatalogs: [house.yaml]").replace("slave-m10x1-bubble", "sealed")
    (folder / "build.yaml").write_text(text.replace("DOT 4", fluid) + more, encoding="utf-8")
    return check(load(folder))


def at_slave(found: Report) -> list[Finding]:
    """Return the findings of the rule that name the slave cylinder."""
    return [one for one in found.findings if one.rule == "fluid-unsuitable" and "slave" in one.at]


def open_fields(found: Report) -> list[str]:
    """Return what the rule lacks for the slave cylinder."""
    return [one.missing for one in found.unchecked if one.rule == "fluid-unsuitable" and one.at == ("slave",)]


def test_rubber_that_stands_the_fluid_is_enough(tmp_path: Path) -> None:
    """Seals and liner that the table judges suitable need no families beside them."""
    found = report(tmp_path, "rubber: [EPDM, PTFE]")
    assert (at_slave(found), open_fields(found)) == ([], [])


def test_rubber_that_the_fluid_attacks_is_found_with_its_source(tmp_path: Path) -> None:
    """Nitrile in glycol fluid is an error, and the witness says which rubber and who says so."""
    (found,) = at_slave(report(tmp_path, "rubber: [PTFE, nitrile]"))
    assert (found.level, found.message) == ("error", "DOT 4 (glycol) attacks the rubber of slave")
    assert found.evidence["suited"] == {"slave": {"nitrile": "from memory"}}


def test_rubber_speaks_against_families(tmp_path: Path) -> None:
    """Families that say the fluid suits do not hide a seal that does not stand it."""
    keys = "rubber: [FKM]\n    fluid_families: [glycol]"
    assert [one.message for one in at_slave(report(tmp_path, keys))] == ["DOT 4 (glycol) attacks the rubber of slave"]


def test_a_pair_that_no_source_judges_is_not_checked(tmp_path: Path) -> None:
    """Silicone rubber in glycol fluid stands in no table: it is listed, unless the families say that it suits."""
    assert open_fields(report(tmp_path, "rubber: [VMQ]")) == ["whether VMQ stands glycol fluid"]
    assert open_fields(report(tmp_path, "rubber: [VMQ]\n    fluid_families: [glycol]")) == []
    assert open_fields(report(tmp_path, "bore: 20 mm")) == ["parts.sealed.fluid_families"]


def test_an_unknown_rubber_is_refused_with_the_nearest(tmp_path: Path) -> None:
    """A slip in a rubber's name is told where it stands."""
    with pytest.raises(Exception, match="EPDN"):
        report(tmp_path, "rubber: [EPDN]")


@pytest.mark.parametrize(("fluid", "notes"), [("DOT 3", 1), ("DOT 4", 0), ("DOT 5.1", 0)])
def test_a_fluid_that_boils_on_a_track_is_a_note(fluid: str, notes: int, tmp_path: Path) -> None:
    """DOT 3 may boil at 205 degC, too near the 200 degC of a track; nothing is said of the road."""
    more = "car: {duty: track}\n"
    found = [one for one in report(tmp_path, "rubber: [EPDM]", fluid, more).findings if one.at == ("car",)]
    assert len(found) == notes
    for one in found:
        assert one.level == "note"
        assert one.message == "DOT 3 may boil at 205 degC fresh; on a track brake fluid gets to 200 degC"
        assert one.evidence["margin_k"] == 20.0
    road = report(tmp_path, "rubber: [EPDM]", fluid, "car: {duty: road}\n")
    assert [one for one in road.findings if one.at == ("car",)] == []


def test_mineral_oil_on_a_track_is_not_checked(tmp_path: Path) -> None:
    """A fluid whose standard states no boiling point here cannot be held against one."""
    found = report(tmp_path, "fluid_families: [mineral]", "mineral oil", "car: {duty: track}\n")
    assert ("car",) in [one.at for one in found.unchecked if one.missing == "the boiling point of mineral oil"]


def test_chambers_of_a_divided_reservoir_are_judged_by_each_fluid(tmp_path: Path) -> None:
    """A reservoir with a chamber for each fluid is held against both of them."""
    house = """\
catalog: 1
parts:
  tank:
    kind: reservoir
    ports: {front: {seat: push-on, gender: external, hose: 8 mm}, rear: {same as: front}}
    passages: [[front], [rear]]
    fluid_families: [glycol]
"""
    (tmp_path / "house.yaml").write_text(house, encoding="utf-8")
    text = TWO.replace("TANK", "tank").replace("build: 1", "build: 1\ncatalogs: [house.yaml]")
    (tmp_path / "build.yaml").write_text(text.replace("fluid: DOT 5}", "fluid: mineral oil}"), encoding="utf-8")
    (found,) = [one for one in check(load(tmp_path)).findings if one.rule == "fluid-unsuitable"]
    assert found.message == "mineral oil (mineral) attacks the rubber of feed_2, mc_2 and 2 more"
    assert found.at == ("feed_2", "mc_2", "slave_2", "tank")
