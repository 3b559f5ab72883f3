"""Sheets of hoses and places of clips as text, JSON, pages to print and drawings, by the demo and small builds."""

import json
import re
from html import unescape
from math import dist
from pathlib import Path
from xml.etree import ElementTree

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.clip_places import clip_plan
from fitcheck.build.load import load
from fitcheck.build.runs import run_of
from fitcheck.cli.main import main
from fitcheck.making.make import sheets
from fitcheck.making.sheet import Sheets
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.make_clips import clips_text
from fitcheck.reports.make_json import make_value
from fitcheck.reports.make_page import EDGE_MM, SIZES, make_html
from fitcheck.reports.make_svg import make_svg
from fitcheck.reports.make_text import make_text
from tests.making.benches import graph_of, made, one_line
from tests.reports.drawn import groups, spots, words
from tests.reports.samples import CAUTION_LINES

DEMO = Path(__file__).parents[2] / "demo_vehicle"
SVG_PATH = "{http://www.w3.org/2000/svg}path"
ABOUT = """\
Hoses are taken to hang in the curve of least bending, their ends pointing where
they like. How to fit them: two diameters straight and no twist by an aircraft
maintenance text, in the plane of motion by a naval aviation course, the order
by common practice, no source.
"""
AXLE = """\
HOSE_AXLE: hose-axle-320 (Brake hose 320 mm, 3/8-24 inverted female to M10x1
  bubble male)
  `from` to rear_run.to, on the chassis: held still while it is screwed together
  `to` to tee_axle.top, on rear_axle: screws in and turns the hose with it
  Free length 320 mm (parts.hose-axle-320.length); under pressure down to 307 mm
    (4 % less: AC 43.13-1B, p 9-23).
  Order 290 mm or more: 5 % slack asks for it with rear_axle in droop, rounded
    up.
  It may bend to a radius of 40 mm (parts.hose-axle-320.bend_radius).
  Positions:
  - at rest: 235 mm apart, slack 85 mm (26.6 %), under pressure 72.5 mm, bends
    to 93.5 mm
  - with rear_axle in droop (farthest): 271 mm apart, slack 49 mm (15.4 %),
    under pressure 36.5 mm, bends to 126 mm
  - with rear_axle in bump (nearest): 228.5 mm apart, slack 91.5 mm (28.6 %),
    under pressure 78.5 mm, bends to 90 mm
  How to fit it:
   1. Fit end `to` first, to tee_axle.top, and tighten it: it turns the hose
      with it.
   2. Bring end `from` to rear_run.to and turn it until no twist is left in the
      hose: a line along it runs straight. Hold it so while you tighten it.
   3. It is to bend in the plane in which its ends move, and to run straight for
      two of its diameters behind each end fitting.
   4. Move what moves through all of its positions by hand, with rear_axle in
      droop and with rear_axle in bump above all: nothing pulls, kinks or rubs.
"""
FEED = """\
FEED_FRONT: feed-hose-8mm (Feed hose, 8 mm bore, for brake fluid; by length)
  `from` to tank.front, on the chassis: pushed on
  `to` to mc_front.feed, on the chassis: pushed on
  Free length 210 mm (hoses.feed_front.length); it is under no pressure.
  Cut 160 mm or more: 5 % slack asks for it at rest, rounded up, as far as is
    known.
  Positions:
  - at rest: 143.5 mm apart, slack 66.5 mm (31.7 %), bends to 55.5 mm
  How to fit it:
   1. Cut 210 mm of feed-hose-8mm square. Blow it out.
   2. Slide on a clip for each end: hose-clip-8mm.
   3. Push each end over the bead of its barb as far as it goes, and tighten its
      clip behind the bead.
   4. See that nothing pulls, kinks or rubs, whatever moves near it.
  Not known, and so not looked at: parts.feed-hose-8mm.bend_radius.
"""
TOO_SHORT = """\
  Order 450 mm or more: 5 % slack asks for it with axle in droop, rounded up.
  It may bend to a radius of 50.8 mm
    (parts.hose-braided-350-3-8-24-inverted-male-banjo-10mm.bend_radius).
  Will not do:
  - its ends are 424.5 mm apart with axle in droop, it is 336 mm long at its
    shortest
  Positions:
  - at rest (nearest): 300 mm apart, slack 50 mm (14.3 %), under pressure 36 mm,
    bends to 143.5 mm
  - with axle in droop (farthest): 424.5 mm apart, too short by 74.5 mm, under
    pressure too short by 88.5 mm

LOST: no-such-hose
  `from` to tee.right, on the chassis: how it is held is not known
  `to` goes to nothing known: how it is held is not known
  Will not do:
  - no catalog has the hose no-such-hose
"""
SHORT = """\
build: 1
name: Wren
bodies: {axle: {poses: {droop: {shift: [0, 0, -300]}}}}
components:
  tee: {part: tee-3-16-inverted, at: [0, 0, 300]}
  caliper: {part: caliper-m10x1-washer, on: axle, at: [0, 300, 300]}
hoses:
  jump: {part: hose-braided-350-3-8-24-inverted-male-banjo-10mm, from: tee.left, to: caliper.inlet}
  lost: {part: no-such-hose, from: tee.right}
"""


def demo(*tags: str) -> Sheets:
    """Return sheets of the corrected demo."""
    return sheets(assemble(load(DEMO, "as_corrected")), tags or None)


def short(*tags: str) -> Sheets:
    """Return the sheets of a build whose hose is too short when its axle drops."""
    return sheets(graph_of(SHORT.removeprefix("build: 1\n")), tags or None)


def test_a_hose_that_moves_and_one_that_does_not() -> None:
    """Named alone, hoses are told without a word of lines: length, positions, how to fit, what is not known."""
    text = make_text(demo("hose_axle", "feed_front"))
    assert text == f"Dunlin: bench sheets, 2 hoses\n{ABOUT}\n{AXLE}\n{FEED}{CAUTION_LINES}"


def test_a_hose_that_will_not_do() -> None:
    """What is wrong is told, what it is too short by, no way to fit it; the end of the text names such hoses."""
    text = make_text(short())
    assert text.startswith("Wren: bench sheets, 2 hoses\n")
    assert text.endswith(f"{TOO_SHORT}\nWILL NOT DO (2): jump, lost\n{CAUTION_LINES}")


def test_of_very_many_positions_those_that_govern_are_told() -> None:
    """Of 24 positions four lines are told at the most, and how many there are besides."""
    poses = ", ".join(f"p{number}: {{shift: [0, 0, {-number}]}}" for number in range(1, 24))
    text = SHORT.removeprefix("build: 1\n").replace("droop: {shift: [0, 0, -300]}", poses)
    told = make_text(sheets(graph_of(text), ("jump",)))
    assert "  - at rest (nearest): 300 mm apart" in told
    assert "  - with axle in p23 (farthest): 301 mm apart" in told
    assert "  - 22 more positions, none of them nearer, farther or more twisted\n" in told


def test_json_has_every_position() -> None:
    """Hoses stand beside the lines, with exact figures; clips of a line from end A, exact and as on the tape."""
    answer = make_value(demo("hose_fl", "clutch_run"))
    (hose,), (line,) = answer["hoses"], answer["lines"]
    assert (hose["hose"], hose["part"], hose["will_do"], hose["first"]) == ("hose_fl", "hose-front-380", True, "from")
    assert (hose["length_mm"], hose["needed_mm"], hose["governs"]) == (380.0, 270.0, "reach")
    assert hose["governs_where"] == hose["farthest"]["where"] == "with upright_fl in droop and lock"
    assert len(hose["positions"]) == 9
    assert hose["positions"][0]["where"] == "at rest"
    assert hose["nearest"] == min(hose["positions"], key=lambda pose: pose["chord_mm"])
    assert [end["body"] for end in hose["ends"]] == ["chassis", "upright_fl"]
    assert (hose["missing"], hose["faults"], len(hose["steps"])) == ([], [], 4)
    places = line["clips"]["places"]
    assert [place["on_tape_mm"] for place in places] == [134.5, 404.0]
    assert [place["mm"] for place in places] == pytest.approx([line["run_mm"] / 4, line["run_mm"] * 3 / 4])
    json.dumps(answer, allow_nan=False)


def test_a_straight_hose_has_no_radius_in_json() -> None:
    """What is pulled straight is told as straight, and what does not reach has no curve: no figure that JSON lacks."""
    text = SHORT.removeprefix("build: 1\n").replace("[0, 300, 300]", "[0, 350, 300]")
    (hose,) = make_value(sheets(graph_of(text), ("jump",)))["hoses"]
    assert (hose["nearest"]["radius_mm"], hose["nearest"]["straight"]) == (None, True)
    assert (hose["farthest"]["radius_mm"], hose["farthest"]["straight"]) == (None, False)
    json.dumps(hose, allow_nan=False)


@pytest.mark.parametrize("paper", sorted(SIZES))
def test_each_hose_has_a_page(paper: str) -> None:
    """A page for each hose says what the text says, has the caution, the line to measure, and fits the paper."""
    told = demo("hose_axle", "feed_front")
    text = make_html(told, paper)  # type: ignore[arg-type]
    assert text.count('<section class="line">') == 2
    assert text.count(CAUTION) == 2
    assert "Dunlin, hose 1 of 2: <b>hose_axle</b>" in text
    items = [unescape(item) for item in re.findall(r"<li>(.*?)</li>", text)]
    assert items[0] == "at rest: 235 mm apart, slack 85 mm (26.6 %), under pressure 72.5 mm, bends to 93.5 mm"
    assert items[3].startswith("Fit end `to` first, to tee_axle.top")
    drawings = [ElementTree.fromstring(found) for found in re.findall(r"<svg.*?</svg>", text)]
    assert len(drawings) == 4
    assert all(float(each.get("height", "").removesuffix("mm")) < SIZES[paper][1] - 2.0 * EDGE_MM for each in drawings)


def drawn_hoses(text: str) -> list[list[tuple[float, float]]]:
    """Return the points of each hose in a drawing [mm on paper]."""
    root = ElementTree.fromstring(text)
    return [spots(next(group.iter(SVG_PATH)).get("d", "")) for group in groups(root, "hose")]


def test_a_hose_is_drawn_to_scale() -> None:
    """At 1 : 5 the ends of both curves are a fifth as far apart as they are, each curve a fifth as long as the hose."""
    told = demo("hose_axle")
    (sheet,) = told.hoses
    assert sheet.near is not None
    assert sheet.far is not None
    text = make_svg(told)
    near, far = drawn_hoses(text)
    assert any(line.startswith("1 : 5.") for line in words(ElementTree.fromstring(text)))
    for points, pose in ((near, sheet.near), (far, sheet.far)):
        assert dist(points[0], points[-1]) == pytest.approx(pose.chord_mm / 5.0, abs=1e-3)
        assert sum(map(dist, points, points[1:])) == pytest.approx(320.0 / 5.0, rel=1e-3)
        assert all(0.0 < x < 190.0 for x, _ in points)
    assert max(x for x, _ in near) < min(x for x, _ in far)


def test_what_is_not_known_is_not_drawn() -> None:
    """A hose that is nowhere says so; one that does not reach is drawn where it does."""
    text = make_svg(short())
    assert len(drawn_hoses(text)) == 1
    shown = words(ElementTree.fromstring(text))
    assert "How it hangs is not known: nothing is drawn." in shown
    assert "Will not do: no catalog has the hose no-such-hose." in shown


def test_hostile_words_stay_text() -> None:
    """A description that looks like markup or drives a terminal is shown, on the page and in the drawing."""
    (sheet,) = short("lost").hoses
    told = Sheets("Wren", "mm", (), (sheet._replace(description='"><script>alert(1)</script>\x1b[2J'),))
    assert "<script>" not in make_html(told)
    assert "\x1b" not in make_html(told) + make_text(told) + make_svg(told)
    ElementTree.fromstring(make_svg(told))


def test_clips_in_words() -> None:
    """Their number, their places as on a tape, why so many; a short line has none; a doubtful place is marked."""
    route = "[[150, 0, 0], [150, 200, 0], [150, 200, -90]]"
    long = made(route, end="[250, 275, -90]")
    assert clips_text(long.clips, "mm") == (
        "Clips: 2, at 125 mm and 402 mm from end A (one for each 300 mm: common practice, no source)."
    )
    stated = made(route, end="[250, 275, -90]", more="consumables: {clips: {spacing: 600 mm}}")
    assert clips_text(stated.clips, "in") == (
        "Clips: 1, at 12 17/32 in from end A (one for each 23 5/8 in: consumables.clips.spacing)."
    )
    assert clips_text(made("[[60, 0, 0]]", end="[60, 60, 0]").clips, "mm") == "Clips: none, its fittings hold it."
    crowded = made("[[45, 0, 0], [45, 45, 0], [90, 45, 0]]", end="[90, 90, 0]", tools="").clips
    assert clips_text(crowded, "mm") == (
        "Clips: 1, at 81 mm* from end A (one for each 300 mm: common practice, no source)."
        " * Move it to the nearest straight, clear of bends, nut and panels."
    )
    assert clips_text(None, "mm") is None


def test_clips_are_counted_from_end_a() -> None:
    """A line worked from its end `to` has its clips from there: they lie where the plan, from `from`, has them."""
    graph = one_line("[[200, 0, 0], [200, 400, 0]]", end="[230, 400, 0]")
    (line,) = sheets(graph).sheets
    assert line.ends is not None
    assert line.ends[0].name == "to"
    assert line.clips is not None
    assert line.run_mm is not None
    plan = clip_plan(graph, run_of(graph, "run"))
    assert plan is not None
    there = [line.run_mm - clip.mm for clip in line.clips.clips[::-1]]
    assert there == pytest.approx([place.mm for place in plan.proposed])


def test_clips_are_on_the_ruler() -> None:
    """Each clip is a diamond at its place on the ruler, and the words say what diamonds are."""
    line = made("[[150, 0, 0], [150, 200, 0], [150, 200, -90]]", end="[250, 275, -90]")
    text = make_svg(Sheets("Wren", "mm", (line,)))
    root = ElementTree.fromstring(text)
    diamonds = [spots(each.get("d", "")) for each in groups(root, "clip")]
    assert len(diamonds) == 2
    marks = [spots(next(group.iter(SVG_PATH)).get("d", "")) for group in groups(root, "mark")]
    scale = (marks[1][0][0] - marks[0][0][0]) / (line.bends[1].mark_mm - line.bends[0].mark_mm)
    assert line.clips is not None
    for diamond, clip, bend in zip(diamonds, line.clips.clips, (0, 2), strict=True):  # each with a mark of its row
        apart = diamond[0][0] - marks[bend][0][0]
        assert apart == pytest.approx((clip.mm - line.bends[bend].mark_mm) * scale, abs=1e-3)
    assert "Black diamonds: clips." in " ".join(words(root))


def test_the_verb_takes_hoses(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A hose that will not do makes the exit code 1; a slip in its name is answered; CSV says it has no hoses."""
    (tmp_path / "build.yaml").write_text(SHORT)
    assert main(("make", str(tmp_path), "jump")) == 1
    assert "\n\nWILL NOT DO (1): jump\n" in capsys.readouterr().out
    assert main(("make", str(DEMO), "hose_fl", "--variant", "as_corrected")) == 0
    capsys.readouterr()
    assert main(("make", str(tmp_path), "jumo")) == 2
    assert capsys.readouterr().err == "fitcheck: no line or hose is called 'jumo'; nearest is 'jump'\n"
    assert main(("make", str(tmp_path), "jump", "--format", "csv")) == 1
    assert capsys.readouterr().err == "no hoses in csv: jump\n"
