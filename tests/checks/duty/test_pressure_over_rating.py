"""`pressure-over-rating`: what each part sees against its rating, however that is known, and what is not compared."""

from math import pi
from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check
from tests.hydraulics.house import BAR, CATALOG, TANDEM

RULE = "pressure-over-rating"
PEDAL = "pedal: {force: 600 N, ratio: 5, balance: 0.6, share_left: 0.4}\nbrakes: {disc_l: {axle: front}}\n"
FRONT, REAR = 1800 / (pi / 4 * 16**2), 1200 / (pi / 4 * 19**2)
"""8.95 MPa in front, 4.23 MPa behind."""


def report_of(
    folder: Path, rest: str = PEDAL, *rated: tuple[str, str], disc: str = "disc-fixed", **swap: str
) -> Report:
    """Return the report of the car with a bar; `rated` are parts and what stands at the end of their entries."""
    catalog = CATALOG
    for part, more in rated:
        assert f"  {part}:\n" in catalog
        catalog = catalog.replace(f"  {part}:\n", f"  {part}:\n    {more}\n")
    text = BAR.replace("FRONT", "pump-16").replace("REAR", "pump-19").replace("DISC", disc)
    for old, new in ({"VALVE": "holder"} | swap).items():
        text = text.replace(old, new)
    (folder / "parts.yaml").write_text(catalog)
    (folder / "build.yaml").write_text(text + rest)
    return check(load(folder))


def found(report: Report) -> list[Finding]:
    """Return what the rule found."""
    return [one for one in report.findings if one.rule == RULE]


def told(report: Report) -> list[tuple[str, str]]:
    """Return level and message of what the rule found."""
    return [(one.level, one.message) for one in found(report)]


def unchecked(report: Report) -> dict[str, tuple[str, ...]]:
    """Return the places of what the rule could not look at, by the field that is missing."""
    return {one.missing: one.at for one in report.unchecked if one.rule == RULE}


def test_the_pressures() -> None:
    """The figures that the other tests rest on: force over area, by hand."""
    assert (round(FRONT, 2), round(REAR, 2)) == (8.95, 4.23)


def test_a_weak_caliper_is_an_error_wherever_it_is(tmp_path: Path) -> None:
    """Both calipers of one part see the front pressure; the drums' lower pressure is of no matter to their rating."""
    report = report_of(tmp_path, PEDAL, ("disc-fixed", "max_pressure: 8 MPa"), ("drum-20", "max_pressure: 8 MPa"))
    assert told(report) == [
        ("error", "disc_l sees 8.95 MPa at 600 N on the pedal, it is rated 8 MPa"),
        ("error", "disc_r sees 8.95 MPa at 600 N on the pedal, it is rated 8 MPa"),
    ]
    evidence = found(report)[0].evidence
    assert evidence["pressure_mpa"] == pytest.approx(FRONT)
    assert (evidence["outlet"], evidence["part"], evidence["panic_mpa"]) == ("mc_front.out", "disc-fixed", 15.0)


@pytest.mark.parametrize(("rated", "said"), [("9.9 MPa", True), ("9.96 MPa", False)])
def test_nine_tenths_of_a_rating_is_a_warning(tmp_path: Path, rated: str, said: bool) -> None:
    """8.95 MPa is more than nine tenths of 9.9 MPa and less than nine tenths of 9.96."""
    report = report_of(tmp_path, PEDAL, ("disc-fixed", f"max_pressure: {rated}"))
    message = "disc_l sees 8.95 MPa at 600 N on the pedal, 90 % of its rating of 9.9 MPa"
    assert told(report)[:1] == ([("warning", message)] if said else [])


def test_a_part_behind_a_valve_sees_what_that_lets_on(tmp_path: Path) -> None:
    """Behind 2 MPa and 0.4 the drums see 2 + 0.4 x 2.23 = 2.89 MPa: enough for 3.3 MPa, and the valve sees it all."""
    rated = (("drum-20", "max_pressure: 3.3 MPa"), ("limiter", "max_pressure: 4 MPa"))
    report = report_of(tmp_path, PEDAL, *rated, VALVE="limiter")
    assert told(report) == [("error", "valve sees 4.23 MPa at 600 N on the pedal, it is rated 4 MPa")]
    report = report_of(tmp_path, PEDAL, ("drum-20", "max_pressure: 2.8 MPa"), VALVE="limiter")
    assert [message for _, message in told(report)] == [
        "drum_l sees 2.89 MPa at 600 N on the pedal, it is rated 2.8 MPa",
        "drum_r sees 2.89 MPa at 600 N on the pedal, it is rated 2.8 MPa",
    ]


def test_behind_an_unknown_valve_only_what_is_safe_anyway_passes(tmp_path: Path) -> None:
    """A valve without figures lets on no more than it gets: what stands that passes, all else waits for the figures."""
    safe = report_of(tmp_path, PEDAL, ("drum-20", "max_pressure: 5 MPa"), VALVE="limiter-bare")
    assert told(safe) == []
    assert "parts.limiter-bare.setting" not in unchecked(safe)
    weak = report_of(tmp_path, PEDAL, ("drum-20", "max_pressure: 4 MPa"), VALVE="limiter-bare")
    assert told(weak) == []
    assert {"parts.limiter-bare.setting", "parts.limiter-bare.slope"} <= unchecked(weak).keys()


def test_without_a_pedal_each_field_is_told_once(tmp_path: Path) -> None:
    """No pedal is said: its fields are missing for the outlets, and no part is listed besides."""
    brakes, clutch = ("mc_front.out", "mc_rear.out"), ("mc_clutch.out",)
    assert unchecked(report_of(tmp_path, "")) == {
        "pedal.force": brakes,
        "pedal.ratio": brakes,
        "clutch.force": clutch,
        "clutch.ratio": clutch,
    }


def test_without_a_bore_or_a_share_that_is_told(tmp_path: Path) -> None:
    """A piston of unknown size, a bar that nobody states, and one of which nobody knows the front rod."""
    report = report_of(tmp_path, PEDAL, **{"pump-19": "pump-bare"})
    assert unchecked(report)["parts.pump-bare.bore"] == ("mc_rear.out",)
    no_bar = report_of(tmp_path, PEDAL.replace(", balance: 0.6", ""))
    assert unchecked(no_bar)["pedal.balance or pedal.bar"] == ("mc_front.out", "mc_rear.out")
    no_axle = report_of(tmp_path, PEDAL.partition("brakes")[0])
    assert unchecked(no_axle)["brakes.disc_l.axle"] == ("mc_front.out", "mc_rear.out")


def test_a_part_without_a_rating_is_told_once_for_all_its_places(tmp_path: Path) -> None:
    """One field of the catalog, with everything that waits for it."""
    missing = unchecked(report_of(tmp_path))
    assert missing["parts.cross.max_pressure"] == ("tee_front", "tee_rear")
    assert missing["parts.disc-fixed.max_pressure"] == ("disc_l", "disc_r")
    assert not [field for field in missing if "tube" in field]


def test_more_of_the_push_with_a_circuit_lost_counts(tmp_path: Path) -> None:
    """The bar on its stop leaves 0.9 of 3000 N to either: 13.4 MPa in front; what is not stated is a note."""
    rated = ("disc-fixed", "max_pressure: 12 MPa")
    stated = report_of(tmp_path, PEDAL.replace("share_left: 0.4", "share_left: 0.9"), rated)
    words = "disc_l sees 13.4 MPa at 600 N on the pedal and mc_rear.out lost, it is rated 12 MPa"
    assert told(stated)[0] == ("error", words)
    assert found(stated)[0].evidence["pressure_mpa"] == pytest.approx(0.9 * 3000 / (pi / 4 * 16**2))
    open_ = report_of(tmp_path, PEDAL.replace(", share_left: 0.4", ""), rated)
    assert told(open_)[0] == (
        "note",
        "disc_l may see 14.9 MPa at 600 N on the pedal, the other circuit lost and all of the push left to it,"
        " it is rated 12 MPa",
    )
    assert told(report_of(tmp_path, PEDAL, rated)) == []


def test_more_of_the_push_behind_a_valve_is_metered(tmp_path: Path) -> None:
    """All of 3000 N on the rear's 19 mm is 10.58 MPa, of which the valve lets on 2 + 0.4 x 8.58 = 5.43."""
    report = report_of(
        tmp_path, PEDAL.replace(", share_left: 0.4", ""), ("drum-20", "max_pressure: 5 MPa"), VALVE="limiter"
    )
    told_of = [one.evidence["most_mpa"] for one in found(report) if one.at == ("drum_l",)]
    assert told_of == [pytest.approx(2 + 0.4 * (3000 / (pi / 4 * 19**2) - 2))]


def test_tube_is_rated_by_its_formula(tmp_path: Path) -> None:
    """Plain copper 4.76 x 0.71 mm holds 2 x 200 x 0.7112 / 4.7625 / 4 = 14.9 MPa; the finding says how."""
    hard = PEDAL.replace("600 N", "1100 N") + "accept: [{rule: tube-material-refused, at: l2, why: law allows it}]\n"
    report = report_of(
        tmp_path, hard, **{"to: disc_l.in, tube: tube-3-16-cuni": "to: disc_l.in, tube: tube-3-16-copper"}
    )
    (finding,) = found(report)
    assert finding.message == (
        "l2 sees 16.4 MPa at 1100 N on the pedal, it is rated 14.9 MPa (copper 4.76 x 0.71 mm by Barlow, burst over 4)"
    )
    evidence = finding.evidence
    assert evidence["formula"] == "Barlow on the outside diameter, 2 S t / D"
    assert evidence["burst_mpa"] == pytest.approx(2 * 200 * 0.7112 / 4.7625)
    assert (evidence["strength_mpa"], evidence["design_factor"], evidence["wall_source"]) == (200.0, 4.0, "nominal")
    assert evidence["rating_mpa"] == pytest.approx(14.93, abs=0.01)


def test_a_feed_hose_is_not_compared(tmp_path: Path) -> None:
    """A reservoir's hose under brake pressure is another rule's finding, and one finding is enough."""
    weak = "{kind: feed hose, max_pressure: 0.5 MPa, ports: {from: {seat: push-on}, to: {seat: push-on}}}"
    (tmp_path / "extra.yaml").write_text(f"catalog: 1\nparts:\n  weak: {weak}\n")
    swap = {
        "[parts.yaml]": "[parts.yaml, extra.yaml]",
        "  l3: {from: tee_front.c, to: disc_r.in, tube: tube-3-16-cuni}\n": "",
    }
    report = report_of(tmp_path, PEDAL + "hoses: {mend: {part: weak, from: tee_front.c, to: disc_r.in}}\n", **swap)
    assert told(report) == []
    assert [one.at for one in report.findings if one.rule == "unpressurised-part"] == [("mend",)]


def test_a_nut_counts_if_its_rating_is_stated(tmp_path: Path) -> None:
    """A nut of 5 MPa at the front tee is found at its joint; nuts without a rating are not asked for."""
    nut = (
        "{kind: nut, ports: {nut: {thread: M10x1, gender: external, seat: bubble, tube: 4.75 mm}}, max_pressure: 5 MPa}"
    )
    (tmp_path / "extra.yaml").write_text(f"catalog: 1\nparts:\n  soft: {nut}\n")
    line = "from: tee_front.b, to: disc_l.in, tube: tube-3-16-cuni"
    swap = {"[parts.yaml]": "[parts.yaml, extra.yaml]", line: f"{line}, ends: {{from: {{nut: soft}}}}"}
    report = report_of(tmp_path, PEDAL, **swap)
    at = [one.at for one in found(report) if "soft at tee_front.b sees 8.95 MPa" in one.message]
    assert at == [("tee_front.b",)]
    assert not [field for field in unchecked(report) if "nut" in field]


def test_a_tandem_cylinder_sees_the_whole_push(tmp_path: Path) -> None:
    """Both chambers of a tandem make 600 x 5 over 20 mm, 9.55 MPa, and its body is held against that once."""
    catalog = CATALOG.replace("  tandem-20:\n", "  tandem-20:\n    max_pressure: 9 MPa\n")
    text = TANDEM.replace("DISC", "disc-fixed")
    for name, end in zip(("ONE_B", "ONE_C", "TWO_B", "TWO_C"), ("fl.in", "fr.in", "rl.in", "rr.in"), strict=True):
        text = text.replace(name, end)
    (tmp_path / "parts.yaml").write_text(catalog)
    (tmp_path / "build.yaml").write_text(text + "pedal: {force: 600 N, ratio: 5}\n")
    assert told(check(load(tmp_path))) == [("error", "mc sees 9.55 MPa at 600 N on the pedal, it is rated 9 MPa")]


def test_the_demo_is_strong_enough() -> None:
    """No part of the demo sees more than nine tenths of its rating, and all with a rating have been compared."""
    report = check(load(Path(__file__).parents[3] / "demo_vehicle"))
    assert found(report) == []
    assert report.checked[RULE] == 24
