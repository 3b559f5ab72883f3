"""The hole schedule as text, JSON, CSV and a page: every figure in each of them, harmless text, nothing cut off."""

import csv
import io
import json

import pytest

from fitcheck.making.hole_sheet import HoleSchedule, Job, Spot
from fitcheck.making.holes import hole_schedule
from fitcheck.making.sheet import Remark
from fitcheck.reports import hole_words
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.make_holes import holes_text
from fitcheck.reports.make_holes_data import COLUMNS, holes_csv, holes_json
from fitcheck.reports.make_page import holes_html
from tests.making.benches import graph_of
from tests.reports.samples import CAUTION_LINES

BUILD = """\
name: Wren
coordinates: {unit}
components:
  a: {{part: union-3-16-inverted, at: [0, 0, 0]}}
  b: {{part: union-3-16-inverted, at: [20, 10, 0]}}
lines:
  run: {{from: a.b, to: b.a, tube: tube-3-16-cuni, route: [[5, 0, 0], {{at: [5, 5, 0], through: wall}}, [5, 10, 0]]}}
panels: {{wall: {{hole: 18 mm, thickness: 1.5 mm, grommet: grommet-3-16, material: "304"}}}}
tools: {{drills: {{kind: HSS, largest: 10 mm, speeds: [250, 900]}}}}
consumables: {{clips: {{fixed: {{thread: M5, material: mild steel, thickness: 3 mm}}}}}}
"""
TEXT = """\
Wren: hole schedule

HOLES (2)
  Centre-punch each hole, clamp the work, drill in the order given, deburr both
  sides, paint bare edges.
  Steps are common practice, no source: from 5 mm on a pilot hole a little wider
  than the web of the next drill; for more than 10 mm in sheet, up to 3 mm thick
  or of unknown thickness, a step drill or hole saw at the speed of the finished
  diameter.
  mild steel, HSS: 25 m/min at the edge of the drill, of 21 to 36 printed (trade
  articles on speeds and feeds of HSS drills; university tutorial table of
  drilling; trade tables of cutting speeds by metal and hardness (100 to 175
  HB); basic table of cutting speeds). Feed of twist drills: university tutorial
  table of drilling, for 6 mm; less in proportion below (derived).
  stainless steel, HSS: 12 m/min at the edge of the drill, of 6 to 17 printed
  (trade articles on speeds and feeds of HSS drills; university tutorial table
  of drilling; trade tables of cutting speeds by metal and hardness (cold-drawn,
  annealed); basic table of cutting speeds). Feed of twist drills: university
  tutorial table of drilling, for 6 mm; less in proportion below (derived).
  Turns a minute (rpm) are 1000 v / (pi d), v in m/min, d in mm; in brackets
  those of all that is printed.
  CAUTION: stainless steel hardens where a drill rubs. Drill slowly, with steady
  heavy feed, always cutting: never let the drill rub, do not stop mid-hole. A
  sharp cobalt drill, cutting oil (trade articles on drilling stainless steel).

  1. panel hole: 12 mm, 1 hole
     where: wall (run) at 50, 50, 0 mm
     why: needed by grommet-3-16; source: hole, outside diameter and grip: from
       memory; measure yours
     in: stainless steel, 1.5 mm thick
     - drill 4 mm: 955 rpm (477 to 1353), set 900; feed 0.09 mm a turn
     - step drill or hole saw 12 mm: 318 rpm (159 to 451), set 250; feed steady,
       by hand
     - deburr both sides; fit grommet-3-16
     caution: slow, steady heavy feed, keep the drill cutting, never let it rub,
       do not stop mid-hole; sharp cobalt drill, cutting oil
     WRONG: the build states 18 mm for wall, grommet-3-16 needs 12 mm

  2. clip: 4.2 mm, tapped M5x0.8, 1 hole
     where: run
     why: to be tapped M5x0.8; source: thread: the build; tap drill: tap and
       drill charts (three that agree)
     in: mild steel, 3 mm thick
     - drill 4.2 mm: 1895 rpm (1592 to 2728), set 900; feed 0.14 mm a turn
     - countersink lightly, tap M5x0.8; deburr both sides
"""


def made(unit: str = "cm", text: str = BUILD) -> HoleSchedule:
    """Return the schedule of the build above."""
    return hole_schedule(graph_of(text.format(unit=unit)))


def test_text():
    """Each kind of hole is told with place, reason, metal, drills, what comes after, the caution and what is wrong."""
    assert holes_text(made()) == f"{TEXT}{CAUTION_LINES}"


@pytest.mark.parametrize("width", [40, 60, 80])
def test_no_line_is_wider_than_asked(width):
    """Text keeps to the width that is asked for."""
    assert max(map(len, holes_text(made(), width=width).split("\n"))) <= width


def test_a_hole_of_a_fraction_of_an_inch_is_told_by_it():
    """A hole stated as 15/32 in is called so, not 11.91 mm, which no drill is; one of 12 mm stays one."""
    assert (hole_words.drilled(15 / 32 * 25.4, "in"), hole_words.drilled(12.0, "in")) == (
        "15/32 in",
        "12 mm (0.4724 in)",
    )
    assert (hole_words.drilled(15 / 32 * 25.4, "mm"), hole_words.drilled(25.4, "in")) == ("11.91 mm", "1 in")


def test_inches():
    """Who measures in inches reads diameters, places, feeds and surface speeds in inches and feet."""
    text = holes_text(made("in"))
    assert "wall (run) at 5, 5, 0 in\n" in text
    assert "panel hole: 12 mm (0.4724 in), 1 hole" in text
    assert "drill 5/32 in: 962 rpm (481 to 1363), set 900; feed 0.0034 in a turn" in text
    assert "mild steel, HSS: 82 ft/min at the edge of the drill, of 68.9 to 118.1 printed" in text
    assert "rpm) are 12 v / (pi d), v in ft/min" in text


def test_json():
    """JSON has the exact figures, each with its source, in mm and turns a minute."""
    answer = json.loads(holes_json(made()))
    assert (answer["build"], answer["unit"], answer["caution"]) == ("Wren", "mm", CAUTION)
    panel, clip = answer["holes"]["jobs"]
    assert (panel["what"], panel["count"], panel["diameter_mm"], panel["grommet"]) == ("panel", 1, 12.0, "grommet-3-16")
    assert panel["places"] == [{"name": "wall", "count": 1, "at_mm": [50.0, 50.0, 0.0], "lines": ["run"]}]
    assert [drill["tool"] for drill in panel["drills"]] == ["twist drill", "step drill or hole saw"]
    assert panel["drills"][1]["rpm"] == pytest.approx(12000 / (12 * 3.14159265), abs=0.001)
    assert panel["drills"][1]["rpm_set"] == 250
    assert panel["drills"][0]["rpm_source"].startswith("trade articles on speeds and feeds")
    assert [wrong["word"] for wrong in panel["wrong"]] == ["hole-disagrees"]
    assert "do not stop mid-hole" in panel["caution"]
    assert (clip["tap"], clip["caution"], clip["not_known"]) == ("M5x0.8", None, [])
    assert [metal["surface_m_min"] for metal in answer["holes"]["metals"]] == [25.0, 12.0]


def rows(text: str) -> list[dict[str, str]]:
    """Return the records of a CSV text by their columns."""
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_csv_has_a_drill_in_each_row():
    """CSV has one row for each drill of each kind of hole, under one row of names, ended with CR LF."""
    text = holes_csv(made())
    assert text.count("\r\n") == 4
    found = rows(text)
    assert tuple(found[0]) == COLUMNS
    assert [(row["hole"], row["step"], row["drill"], row["rpm_set"]) for row in found] == [
        ("panel", "1", "4 mm", "900"),
        ("panel", "2", "12 mm", "250"),
        ("clip", "1", "4.2 mm", "900"),
    ]
    assert found[1]["rpm"] == "318.3099"
    assert found[0]["wrong"] == "the build states 18 mm for wall, grommet-3-16 needs 12 mm"


def test_csv_of_a_hole_that_is_not_known():
    """A hole without a diameter has one row without a drill that says what is missing."""
    (row,) = rows(holes_csv(hole_schedule(graph_of("panels: {wall: {note: none}}\n"))))
    assert (row["step"], row["drill_mm"], row["why"]) == ("", "", "not known")
    assert row["not_known"] == "panels.wall.hole; panels.wall.thickness; panels.wall.material"


def test_no_cell_is_a_formula():
    """Text of the file that a spreadsheet could take for a formula is made harmless."""
    text = BUILD.replace('"304"', '"=1+1"')
    assert [row["material"] for row in rows(holes_csv(made(text=text)))][:1] == ["'=1+1"]


def test_page_tells_what_the_text_tells():
    """Every figure of the text stands on the page to print, with the caution and the drills in a table."""
    page = holes_html(made(), "letter")
    assert page.startswith("<!DOCTYPE html>")
    assert "size:letter" in page
    for words in ("<h2>1. panel hole: 12 mm, 1 hole</h2>", "<td>318</td><td>159 to 451</td><td>250</td>",
                  "the build states 18 mm for wall", "do not stop mid-hole", "deburr both sides; fit grommet-3-16",
                  CAUTION):  # fmt: skip
        assert words in page


def test_page_runs_nothing_of_the_file():
    """Text of the file cannot become markup of the page."""
    page = holes_html(made(text=BUILD.replace('"304"', '"<script>x</script>"')))
    assert "<script" not in page
    assert "&lt;script&gt;x&lt;/script&gt;" in page


def test_no_holes():
    """A build without holes says that there are none."""
    assert holes_text(hole_schedule(graph_of("name: Bare\n"))) == f"Bare: hole schedule\n\nHOLES (0)\n{CAUTION_LINES}"


def test_every_word_has_its_sentence():
    """No word of a remark stands in two tables, and one that is in none is an error and not an empty line."""
    tables = (hole_words.WRONG, hole_words.LOOK_AT, hole_words.REMARKS, hole_words.WHY)
    assert sum(map(len, tables)) == len(set().union(*tables))
    with pytest.raises(KeyError):
        hole_words.remark_text(Remark("no-such-word", {}), "mm")


def test_holes_of_unknown_number():
    """Holes whose number nobody knows are not counted as none."""
    job = Job("clip", (Spot("a", 2), Spot("b", None)), None, Remark("nobody", {}), "")
    holes = HoleSchedule("Wren", "mm", "HSS", True, (job,))
    assert hole_words.total(holes) == "2 and more"
    assert hole_words.title(job, "mm") == "clip: diameter not known, holes, number not known"
