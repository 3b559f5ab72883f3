"""Strokes, pedals and clutches that come to their end: what is an error, what a warning, and what is not known."""

from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.checks.duty.stroke_short import find
from fitcheck.checks.findings import Finding, Looked, Said, Unchecked
from tests.hydraulics.plumbed import CATALOG, CLUTCH, TANDEM, TRAILER, TWO


def said(folder: Path, text: str, catalog: str = CATALOG) -> list[Said]:
    """Return all that the rule says of a build."""
    (folder / "parts.yaml").write_text(catalog, encoding="utf-8")
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    return list(find(Context(assemble(load(folder / "build.yaml")))))


def findings(folder: Path, text: str, catalog: str = CATALOG) -> list[tuple[str, str, tuple[str, ...]]]:
    """Return level, message and places of the findings."""
    told = [each for each in said(folder, text, catalog) if isinstance(each, Finding)]
    return [(each.level, each.message, each.at) for each in told]


def unchecked(folder: Path, text: str, catalog: str = CATALOG) -> list[tuple[tuple[str, ...], str]]:
    """Return places and fields of what could not be looked at."""
    return [(each.at, each.missing) for each in said(folder, text, catalog) if isinstance(each, Unchecked)]


def test_what_is_long_enough_is_silent_and_counted(tmp_path: Path) -> None:
    """A sound trailer has nothing to say, and two places were looked at: the piston and the pedal."""
    told = said(tmp_path, TRAILER)
    assert told == [Looked(), Looked()]
    assert said(tmp_path, TWO) == [Looked(), Looked(), Looked()]
    assert said(tmp_path, TANDEM) == [Looked(), Looked(), Looked()]
    assert said(tmp_path, CLUTCH) == [Looked()]


def stroke(length: str) -> str:
    """Return the catalog with master cylinders of this stroke."""
    return CATALOG.replace("stroke: 30 mm", f"stroke: {length}")


def test_a_stroke_that_cannot_be_enough_is_an_error(tmp_path: Path) -> None:
    """Even at the kindest end of what is assumed the piston comes to its end."""
    assert findings(tmp_path, TRAILER, stroke("4 mm")) == [
        ("error", "the piston behind mc.out needs 4.9 mm, its stroke is 4 mm at 400 N on the pedal", ("mc.out",))
    ]


def test_only_the_worst_end_is_a_warning(tmp_path: Path) -> None:
    """A stroke that is enough unless what is assumed is at its worst is a warning that says so."""
    assert findings(tmp_path, TRAILER, stroke("5.5 mm")) == [
        (
            "warning",
            "the piston behind mc.out needs 4.9 mm, up to 5.8 mm by what is assumed; its stroke is 5.5 mm "
            "at 400 N on the pedal",
            ("mc.out",),
        )
    ]


def test_little_reserve_is_a_warning(tmp_path: Path) -> None:
    """More than four fifths of the stroke used is a warning, with the share and where the limit comes from."""
    assert findings(tmp_path, TRAILER, stroke("6.05 mm")) == [
        (
            "warning",
            "the piston behind mc.out uses 82 % of its stroke of 6.05 mm, at most 80 % (common practice, no source) "
            "at 400 N on the pedal",
            ("mc.out",),
        )
    ]


@pytest.mark.parametrize(
    ("floor", "level", "message"),
    [
        ("20 mm", "error", "the pedal needs 30.2 mm, its way to the floor is 20 mm at 400 N"),
        (
            "32 mm",
            "warning",
            "the pedal needs 30.2 mm, up to 35.4 mm by what is assumed; its way to the floor is 32 mm at 400 N",
        ),
        (
            "36 mm",
            "warning",
            "the pedal uses 84 % of its way to the floor of 36 mm, at most 80 % (49 CFR 570.55) at 400 N",
        ),
    ],
)
def test_a_pedal_that_reaches_its_floor(floor: str, level: str, message: str, tmp_path: Path) -> None:
    """The pedal is judged as pistons are, at its cylinders."""
    assert findings(tmp_path, TRAILER.replace("travel: 150 mm", f"travel: {floor}")) == [(level, message, ("mc",))]


def test_one_fault_is_told_once(tmp_path: Path) -> None:
    """Where the piston comes to its end the pedal's way says nothing new."""
    told = findings(tmp_path, TRAILER.replace("travel: 150 mm", "travel: 20 mm"), stroke("4 mm"))
    assert [level for level, _, _ in told] == ["error"]


def test_a_clutch_that_is_not_freed(tmp_path: Path) -> None:
    """A slave that travels too little is an error; one that may, a warning; one that pushes too little, an error."""
    assert findings(tmp_path, CLUTCH.replace("needs_travel: 12 mm", "needs_travel: 20 mm")) == [
        ("error", "slave travels 13.9 mm, the clutch needs 20.0 mm", ("slave",))
    ]
    assert findings(tmp_path, CLUTCH.replace("needs_travel: 12 mm", "needs_travel: 13.9 mm")) == [
        ("warning", "slave travels 13.9 mm, down to 13.7 mm by what is assumed; the clutch needs 13.9 mm", ("slave",))
    ]
    assert findings(tmp_path, CLUTCH.replace("force: 150 N", "force: 100 N")) == [
        ("error", "slave pushes with 781 N, the clutch needs 900 N", ("slave",))
    ]


def test_without_the_pedal_its_fields_are_told_alone(tmp_path: Path) -> None:
    """A build that says nothing of its pedal is told the pedal's three fields, at the master cylinder."""
    bare = TRAILER[: TRAILER.index("pedal:")]
    assert unchecked(tmp_path, bare) == [(("mc",), "pedal.ratio"), (("mc",), "pedal.force"), (("mc",), "pedal.travel")]
    assert findings(tmp_path, bare) == []


def test_every_missing_field_is_told_by_its_place(tmp_path: Path) -> None:
    """With the pedal known, what the plumbing lacks is told, each where it lacks."""
    text = TRAILER.replace(", length: 2000 mm", "").replace("travel: 150 mm, ", "")
    catalog = CATALOG.replace("    stroke: 30 mm\n", "").replace("    pistons: [40 mm, 40 mm]\n", "")
    assert unchecked(tmp_path, text, catalog) == [
        (("mc",), "pedal.travel"),
        (("brake",), "parts.disc.pistons"),
        (("run",), "lines.run.route or lines.run.length"),
        (("mc",), "parts.pump.stroke"),
    ]


def test_an_error_holds_without_what_is_missing(tmp_path: Path) -> None:
    """What is missing could only take more: a stroke too short for the rest is an error, beside the missing field."""
    text = TRAILER.replace(", length: 2000 mm", "")
    levels = [level for level, _, _ in findings(tmp_path, text, stroke("3 mm"))]
    assert levels == ["error"]
    assert unchecked(tmp_path, text, stroke("3 mm")) == [(("run",), "lines.run.route or lines.run.length")]


def test_the_clutch_pedal_answers_for_its_own(tmp_path: Path) -> None:
    """A clutch without needs is told so at its slave; what brakes lack is not its business."""
    assert unchecked(tmp_path, CLUTCH[: CLUTCH.index("clutch:")]) == [
        (("mc",), "clutch.ratio"),
        (("mc",), "clutch.force"),
        (("mc",), "clutch.travel"),
    ]
    assert unchecked(tmp_path, CLUTCH.replace("needs_travel: 12 mm,", "")) == [(("slave",), "clutch.needs_travel")]


def test_evidence_adds_up(tmp_path: Path) -> None:
    """The finding carries every take: their sum over the piston's area is the stroke it tells."""
    (found,) = [each for each in said(tmp_path, TRAILER, stroke("4 mm")) if isinstance(each, Finding)]
    total = sum(take["mm3"] for take in found.evidence["takes"])
    assert round(total / (3.141592653589793 / 4.0 * 20.0**2), 6) == round(found.evidence["way_mm"]["used"], 6)
