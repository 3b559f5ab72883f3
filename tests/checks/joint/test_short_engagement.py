"""Too little thread: what governs, the whole message, and the figures behind it."""

from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check

HOUSE = """\
catalog: 1
parts:
  block:
    kind: union
    material: steel
    ports:
      short: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm, depth: 5.2 mm}
      stub: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm, depth: 4 mm}
      flat: {thread: M10x1, gender: internal, seat: washer-face, depth: 5.2 mm}
      taper: {thread: 1/8-27 NPT, gender: internal, seat: taper, depth: 2 mm}
      unknown: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
    passages: []
  casting: {kind: union, ports: {deep: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm, depth: 7 mm},
    short: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm, depth: 5.6 mm}}, passages: []}
  strong: {kind: union, material: steel, max_pressure: 90 MPa, ports: {short: {thread: M10x1, gender: internal,
    seat: bubble, tube: 4.75 mm, depth: 5.2 mm}}}
  long-nut: {kind: nut, material: steel, ports: {nut: {thread: M10x1, gender: external, seat: bubble, tube: 4.75 mm,
    length: 9 mm}}}
  plug: {kind: plug, material: steel, ports: {end: {thread: M10x1, gender: external, seat: bubble, tube: 4.75 mm,
    length: 9 mm}}}
  taper-plug: {kind: plug, ports: {end: {thread: 1/8-27 NPT, gender: external, seat: taper, length: 2 mm}}}
  stud: {kind: plug, material: steel, ports: {end: {thread: M10x1, gender: external, seat: washer-face, length: 9 mm}}}
"""


def report_of(body: str, folder: Path) -> Report:
    """Return the report of a build with these sections."""
    (folder / "house.yaml").write_text(HOUSE, encoding="utf-8")
    (folder / "build.yaml").write_text(f"build: 1\ncatalogs: [house.yaml]\n{body}", encoding="utf-8")
    return check(load(folder))


def pair(part: str, port: str, plug: str = "plug") -> str:
    """Return a build in which a plug closes a port."""
    return f"components: {{b: {{part: {part}}}, p: {{part: {plug}}}}}\njoints: [[p.end, b.{port}]]\n"


def short(report: Report) -> list[Finding]:
    """Return what this rule finds."""
    return [finding for finding in report.findings if finding.rule == "short-engagement"]


FOUND = [
    ("block", "short", "plug", "error", "5.2 mm of thread engaged, 5.39 mm needed to stand 16 N m of tightening"),
    ("block", "stub", "plug", "error", "4 mm of thread engaged, 5.39 mm needed to stand 16 N m of tightening"),
    ("casting", "deep", "plug", "", ""),
    ("strong", "short", "plug", "error", "5.2 mm of thread engaged, 6.73 mm needed to hold 90 MPa"),
    ("block", "flat", "stud", "error", "5.2 mm of thread engaged, 5.53 mm needed to hold 20 MPa"),  # washer of 14 mm
]  # fmt: skip


@pytest.mark.parametrize(("part", "port", "plug", "level", "message"), FOUND)
def test_what_governs(part: str, port: str, plug: str, level: str, message: str, tmp_path: Path) -> None:
    """The greater of tightening and pressure governs, and the message gives engaged, needed and why."""
    found = short(report_of(pair(part, port, plug), tmp_path))
    assert [(finding.level, finding.message) for finding in found] == ([(level, message)] if message else [])


def test_figures_behind_it(tmp_path: Path) -> None:
    """The evidence holds every figure that the length follows from, with marks; the length follows by hand."""
    (finding,) = short(report_of(pair("block", "short"), tmp_path))
    evidence = finding.evidence
    assert (evidence["engaged_mm"], evidence["torque_n_m"], evidence["pressure_mpa"]) == (5.2, 16.0, 20.0)
    assert evidence["pressure_mark"] == "49 CFR 571.106, Table I, its highest test pressure, 2900 psi"
    # 16 N m / (0.2 x 10 mm) x 1.5 = 12000 N; 20 MPa inside the flare of 7.28 mm x 4 = 3330 N
    assert evidence["loads_with_factor_n"] == [3330, 12000]
    # per mm: external pi 9.153 [0.5 + tan 30 (9.212 - 9.153)] = 15.36 mm2, at half of 290 MPa
    assert evidence["required_mm"] == pytest.approx(12_000 / (15.36 * 145.0), abs=0.005)
    assert [entry["tensile_mpa"] for entry in evidence["metals"]] == [290.0, 290.0]


def test_unknown_metal_is_taken_for_soft_and_said(tmp_path: Path) -> None:
    """Between what steel needs and what the weakest casting needs it is a warning that names the doubt."""
    (finding,) = short(report_of(pair("casting", "short"), tmp_path))
    assert finding.level == "warning"
    assert finding.message == (
        "5.6 mm of thread engaged, 5.82 mm needed to stand 16 N m of tightening,"
        " if the metal that is not stated is soft"
    )
    assert [entry["metal"] for entry in finding.evidence["metals"]] == ["steel", "assumed"]


def line(port: str, tube: str = "tube-3-16-cuni") -> str:
    """Return a build in which a tube goes into a port; the one nut of the house catalog is chosen for it."""
    return (
        "components: {b: {part: block}, u: {part: union-m10x1-bubble}}\n"
        f"lines: {{r: {{from: b.{port}, to: u.a, tube: {tube}}}}}\n"
    )


def test_nut_of_a_tube(tmp_path: Path) -> None:
    """A tube's nut counts as the external side."""
    (finding,) = short(report_of(line("short"), tmp_path))
    assert finding.at == ("r.from", "b.short")
    assert finding.message == "5.2 mm of thread engaged, 5.39 mm needed to stand 16 N m of tightening"


def test_copper_is_tightened_less(tmp_path: Path) -> None:
    """A copper tube's nut is tightened to 8 N m, so that five pitches govern: 5.2 mm are enough, 4 are not."""
    assert short(report_of(line("short", "tube-3-16-copper"), tmp_path)) == []
    (finding,) = short(report_of(line("stub", "tube-3-16-copper"), tmp_path))
    assert finding.message == (
        "4 mm of thread engaged, 5 mm needed for 5 pitches, the least that limits of size hold for"
    )


def test_taper_threads_are_no_case_for_this_rule(tmp_path: Path) -> None:
    """Two millimetres of taper thread are neither found nor listed: it holds by taper."""
    report = report_of(pair("block", "taper", "taper-plug"), tmp_path)
    assert short(report) == []
    assert "short-engagement" not in {item.rule for item in report.unchecked}


def test_a_depth_that_is_not_in_the_catalog_is_listed(tmp_path: Path) -> None:
    """Without the depth of the port the joint is not passed but listed, with the field that is missing."""
    report = report_of(line("unknown"), tmp_path)
    missing = [item.missing for item in report.unchecked if item.rule == "short-engagement" and "b.unknown" in item.at]
    assert missing == ["parts.block.ports.unknown.depth"]
