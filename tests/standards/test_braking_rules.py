"""Published rules of braking: names, what distances mean, and refusals with their place."""

from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.sources import InputError
from fitcheck.standards.braking_rules import UnknownBrakingRuleError, braking_rule, braking_rules


def test_distances_and_decelerations_of_the_rules_are_one() -> None:
    """S = 0.10 V + 0.0060 V2 and 6.43 m/s2 are one requirement, and so are 0.0158 and 2.44: V2 / 25.92 / c.

    The formulas stand side by side in 49 CFR 571.135 and UN Regulation No. 13-H (from memory); 70 m is seen.
    """
    by_name = {
        name: {clause.case: clause.deceleration_mm_s2 for clause in rule.clauses}
        for name, rule in braking_rules().items()
    }
    assert by_name["fmvss-135"]["service"] == pytest.approx(1000 / (25.92 * 0.0060), rel=1e-4)
    assert by_name["fmvss-135"]["secondary"] == pytest.approx(1000 / (25.92 * 0.0158), rel=1e-4)
    assert by_name["ece-r13h"]["service"] == pytest.approx(by_name["fmvss-135"]["service"], rel=1e-3)
    assert by_name["ece-r13h"]["secondary"] == pytest.approx(by_name["fmvss-135"]["secondary"], rel=1e-3)


def test_old_rule_for_passenger_cars() -> None:
    """UN Regulation No. 13, Annex 4, 2.2.1: 2.9 m/s2, which it prints beside 2 v2 / 150, at 50 daN of the foot."""
    (clause,) = braking_rule("R13").asks("secondary")
    assert (clause.deceleration_mm_s2, clause.pedal_n) == (2900.0, 500.0)
    assert clause.deceleration_mm_s2 == pytest.approx(1000 * (150 / 2) / 25.92, rel=3e-3)


def test_a_rule_is_found_by_other_names() -> None:
    """Case, spaces and signs do not count."""
    assert braking_rule("UN R13-H").name == "ece-r13h"
    assert braking_rule("49 CFR 571.135").name == "fmvss-135"


def test_an_unknown_rule_is_refused_with_the_nearest() -> None:
    """The message gives the nearest name and all that are known."""
    with pytest.raises(UnknownBrakingRuleError) as caught:
        braking_rule("ece-r13g")
    assert str(caught.value) == (
        "'ece-r13g' is no published rule of braking; nearest is 'ece-r13'; known: ece-r13h, ece-r13, fmvss-135"
    )


def test_a_build_with_an_unknown_rule_is_refused_at_its_place(tmp_path: Path) -> None:
    """One problem, at the file, line and column of the name."""
    path = tmp_path / "build.yaml"
    path.write_text("build: 1\ncar:\n  rules: [ece-r13h, fmvs-135]\n")
    with pytest.raises(InputError) as caught:
        load(path)
    (problem,) = caught.value.problems
    assert (problem.line, problem.column) == (3, 21)
    assert problem.message.startswith("'fmvs-135' is no published rule of braking; nearest is 'fmvss-135'; known: ")


def test_a_brake_without_component_is_refused_at_its_place(tmp_path: Path) -> None:
    """A brake by a tag that nothing has would brake nothing without a word."""
    path = tmp_path / "build.yaml"
    path.write_text("build: 1\ncomponents:\n  caliper_fl: {part: x}\nbrakes:\n  caliper_fi: {axle: front}\n")
    with pytest.raises(InputError) as caught:
        load(path)
    (problem,) = caught.value.problems
    assert problem[1:] == (5, 3, "no component is called 'caliper_fi'; nearest is 'caliper_fl'")
