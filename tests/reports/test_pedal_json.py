"""The answer of `fitcheck pedal` as JSON, and two of them side by side."""

import json
from pathlib import Path

from fitcheck.hydraulics.change import changed
from fitcheck.hydraulics.record import Answer
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.pedal_beside import Sides, beside_json, beside_text
from fitcheck.reports.pedal_change import pedal_lines, pedal_value
from fitcheck.reports.pedal_json import answer_value, pedal_json
from tests.hydraulics import plumbed
from tests.hydraulics.test_answer import bar, trailer
from tests.reports.samples import CAUTION_LINES

SECTION = """\

PEDAL

  at the stated push          before    after
  ------------------------  --------  -------
  stroke used, mc.out           5 mm   5.8 mm
  stroke left, mc.out         83.2 %   80.6 %
  pedal travel, brake        30.2 mm  34.2 mm
  pedal travel left, brake    79.9 %   77.2 %"""
BESIDE = """\
Redshank: pedal to caliper, 400 N on the brake pedal
side by side: as it is, worn; * differs

                              as it is      worn
  ------------------------  ----------  --------  --
  pressure, mc.out            6.37 MPa  6.37 MPa
  stroke used, mc.out             5 mm    5.8 mm   *
  stroke left, mc.out           83.2 %    80.6 %   *
  pedal travel, brake          30.2 mm   34.2 mm   *
  pedal travel left, brake      79.9 %    77.2 %   *

as it is:

  warning: mc.out lost: nothing is left to brake with
  5 figures assumed, or known within limits: the answer for one lists them
  not computed for want of brakes.brake.axle, brakes.brake.friction,
    brakes.brake.radius, brakes.brake.tyre, car

worn:

  warning: mc.out lost: nothing is left to brake with
  5 figures assumed, or known within limits: the answer for one lists them
  not computed for want of brakes.brake.axle, brakes.brake.friction,
    brakes.brake.radius, brakes.brake.tyre, car

LIMITS: Quasi-static, one stop from cold: no heat, fade, wear or vacuum is
computed. What no standard gives of stiffness is assumed, each with its range.
"""
BARE = plumbed.TRAILER[: plumbed.TRAILER.index("pedal:")]


def test_every_field_of_the_answer_is_there(tmp_path: Path) -> None:
    """JSON holds all that the answer holds, by the same names, and is read back as it was written."""
    found = bar(tmp_path)
    value = json.loads(pedal_json(found))
    assert set(value) == (set(Answer._fields) - {"units"}) | {"concerns", "runs", "hard_line_saves", "caution"}
    assert json.loads(json.dumps(value)) == value
    assert value["caution"] == CAUTION


def test_figures_are_those_of_the_answer(tmp_path: Path) -> None:
    """Figures, takes, curves and gaps stand in JSON with their values, to four decimals, and nothing is left out."""
    found = bar(tmp_path)
    value = json.loads(pedal_json(found))
    assert [one["key"] for one in value["figures"]] == [one.key for one in found.figures]
    assert [gap["missing"] for gap in value["gaps"]] == [gap.missing for gap in found.gaps]
    stroke = found.strokes[0]
    assert value["strokes"][0]["used_mm"] == round(stroke.used_mm, 4)
    assert value["strokes"][0]["reserve"] == round(stroke.reserve or 0.0, 4)
    assert [take["mm3"] for take in value["strokes"][0]["takes"]] == [round(take.mm3, 4) for take in stroke.takes]
    points = found.curves["mc_front.out"]
    assert value["curves"]["mc_front.out"] == [[round(each, 4) for each in point] for point in points]


def test_same_answer_same_text(tmp_path: Path) -> None:
    """The build read twice gives the same JSON to the byte."""
    assert pedal_json(bar(tmp_path)) == pedal_json(bar(tmp_path))


def test_an_answer_that_lacks_all(tmp_path: Path) -> None:
    """Without a pedal the JSON has empty lists, no numbers made up, and the fields that are missing."""
    value = answer_value(trailer(tmp_path, BARE))
    assert (value["pushes"], value["strokes"], value["curves"], value["stop"]) == ([], [], {}, None)
    assert {"pedal.ratio", "pedal.force"} <= {gap["missing"] for gap in value["gaps"]}


def test_rows_of_an_exchange(tmp_path: Path) -> None:
    """A section of an exchange has only the rows that differ as shown; its JSON has all that differ."""
    before = trailer(tmp_path)
    after = trailer(tmp_path, plumbed.TRAILER.replace("gap: 0.1 mm", "gap: 0.2 mm"))
    found = changed(before, after)
    assert "\n".join(pedal_lines(found, 80)) == SECTION
    assert [row["what"] for row in pedal_value(found)["pedal"]] == [
        "stroke used",
        "stroke left",
        "pedal travel",
        "pedal travel left",
    ]
    assert pedal_value(found)["pedal"][0]["unit"] == "mm"


def test_an_exchange_that_changes_nothing_at_the_pedal(tmp_path: Path) -> None:
    """Where nothing differs one line says so; where the build has no pedal nothing is said."""
    found = trailer(tmp_path)
    same = ["", "PEDAL", "", "  pressure, stroke, travel and balance stay as they are"]
    assert list(pedal_lines(changed(found, found), 80)) == same
    assert (list(pedal_lines(None, 80)), pedal_value(None)) == ([], {})


def test_side_by_side(tmp_path: Path) -> None:
    """Both columns stand side by side, what differs is starred, and each says what it lacks."""
    before = trailer(tmp_path)
    after = trailer(tmp_path, plumbed.TRAILER.replace("gap: 0.1 mm", "gap: 0.2 mm"))
    text = beside_text(Sides("as it is", "worn", before, after))
    assert text == BESIDE + CAUTION_LINES


def test_side_by_side_as_json(tmp_path: Path) -> None:
    """JSON has every row with whether it differs, and both answers whole."""
    before = trailer(tmp_path)
    after = trailer(tmp_path, plumbed.TRAILER.replace("gap: 0.1 mm", "gap: 0.2 mm"))
    value = json.loads(beside_json(Sides("as it is", "worn", before, after)))
    assert value["names"] == ["as it is", "worn"]
    differing = [row["what"] for row in value["rows"] if row["differs"]]
    assert differing == ["stroke used", "stroke left", "pedal travel", "pedal travel left"]
    assert value["before"]["strokes"] != value["after"]["strokes"]
    assert "caution" not in value["before"]
    assert value["caution"] == CAUTION
